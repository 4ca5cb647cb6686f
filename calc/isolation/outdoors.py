"""Sound that leaves the house: level in a neighbour's room behind its window. Data: data/outdoors.toml.

The element radiates by EN 12354-4, the way is ISO 9613-2 with the air of ISO 9613-1, the neighbour's facade EN 12354-3.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, EXACT_BANDS, OCTAVES
from calc.brief import Listener
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds, room_absorption
from calc.isolation.parameters import SPEED_OF_SOUND

Spectrum = NDArray[np.float64]
NORMAL_AREA = 10.0  # m2, reference absorption of Dn,e. Source: EN 12354-3:2000
REFERENCE_TIME = 0.5  # s, reverberation time of a furnished room. Source: EN 12354-3:2000, T0


def _data() -> dict[str, Any]:
    return load("outdoors")


# ---- air: ISO 9613-1


def air_absorption(frequencies: Spectrum, temperature: float, humidity: float) -> Spectrum:
    """Attenuation by air [dB/m] at frequencies [Hz], temperature [degC], relative humidity [%], 101.325 kPa.

    Source: ISO 9613-1:1993 eqs. (3) to (5) and Annex B.
    """
    kelvin = temperature + 273.15
    relative = kelvin / 293.15
    vapour = humidity * 10.0 ** (-6.8346 * (273.16 / kelvin) ** 1.261 + 4.6151)  # molar concentration, %
    oxygen = 24.0 + 4.04e4 * vapour * (0.02 + vapour) / (0.391 + vapour)
    nitrogen = relative**-0.5 * (9.0 + 280.0 * vapour * np.exp(-4.170 * (relative ** (-1.0 / 3.0) - 1.0)))
    square = frequencies**2
    relaxing = 0.01275 * np.exp(-2239.1 / kelvin) / (oxygen + square / oxygen)
    relaxing = relaxing + 0.1068 * np.exp(-3352.0 / kelvin) / (nitrogen + square / nitrogen)
    return np.asarray(8.686 * square * (1.84e-11 * relative**0.5 + relative**-2.5 * relaxing), dtype=np.float64)


# ---- the way: ISO 9613-2


def divergence(distance: float) -> float:
    """Spreading of a point source [dB] at a distance [m]. Source: ISO 9613-2:1996 eq. (7)."""
    return float(20.0 * np.log10(distance) + 11.0)


def _near_ground(height: float, distance: float, factor: float) -> Spectrum:
    """Ground about source or receiver (7,) [dB] for its height [m]. Source: ISO 9613-2:1996 Table 3, As and Ar."""
    near = 1.0 - np.exp(-distance / 50.0)
    far = 1.0 - np.exp(-2.8e-6 * distance**2)
    shapes = [
        1.5 + 3.0 * np.exp(-0.12 * (height - 5.0) ** 2) * near + 5.7 * np.exp(-0.09 * height**2) * far,
        1.5 + 8.6 * np.exp(-0.09 * height**2) * near,
        1.5 + 14.0 * np.exp(-0.46 * height**2) * near,
        1.5 + 5.0 * np.exp(-0.9 * height**2) * near,
    ]
    return np.array([-1.5, *(factor * shape - 1.5 for shape in shapes), -1.5 * (1.0 - factor), -1.5 * (1.0 - factor)])


def ground(source_height: float, receiver_height: float, distance: float, factor: float) -> Spectrum:
    """Attenuation by the ground (7,) [dB], octaves 63 to 4000 Hz; heights and horizontal distance m, ground factor 0 hard to 1 porous.

    Negative where the reflection adds. Source: ISO 9613-2:1996 7.3.1, Table 3, one factor for all three regions.
    """
    both = 30.0 * (source_height + receiver_height)
    share = 0.0 if distance <= both else 1.0 - both / distance
    middle = np.where(OCTAVES < 100.0, -3.0 * share, -3.0 * share * (1.0 - factor))
    return np.asarray(_near_ground(source_height, distance, factor) + _near_ground(receiver_height, distance, factor) + middle)


def screening(detour: float, legs: tuple[float, float], distance: float, double: bool = False) -> Spectrum:
    """Screening Dz (21,) [dB] of a barrier: detour of the sound [m] (negative where the eye sees over), source to edge and edge to receiver
    [m], straight distance [m]. At most 20 dB, 25 dB over two edges; never negative.

    Source: ISO 9613-2:1996 eqs. (14) to (18), C3 = 1 also for two edges, which is the careful side.
    """
    barrier = _data()["barrier"]
    weather = float(np.exp(-np.sqrt(legs[0] * legs[1] * distance / (2.0 * detour)) / 2000.0)) if detour > 0.0 else 1.0
    inner = 3.0 + barrier["ground_reflections"] * EXACT_BANDS / SPEED_OF_SOUND * detour * weather
    return np.asarray(np.clip(10.0 * np.log10(np.maximum(inner, 1.0)), 0.0, barrier["cap_double" if double else "cap_single"]))


def barrier(listener: Listener) -> Spectrum:
    """Screening (21,) [dB] of the listener's wall or fence; nothing where it does not stand between.

    Source: ISO 9613-2:1996 7.4; heights of data/outdoors.toml.
    """
    data, across = _data(), max(listener.distance, float(_data()["least_distance"]))
    if listener.barrier_height <= 0.0 or not 0.0 < listener.barrier_distance < across:
        return np.zeros(BANDS.size)
    low, high, edge = data["source_height"], data["receiver_height"], listener.barrier_height
    legs = (float(np.hypot(listener.barrier_distance, edge - low)), float(np.hypot(across - listener.barrier_distance, high - edge)))
    straight = float(np.hypot(across, high - low))
    sight = low + (high - low) * listener.barrier_distance / across
    detour = legs[0] + legs[1] - straight
    return screening(detour if edge >= sight else -detour, legs, straight)


# ---- the neighbour's facade: EN 12354-3


def facade_reduction(area: float, areas: Sequence[float], reductions: Spectrum, inlets: Spectrum | None = None) -> NDArray[np.float64]:
    """Apparent reduction R' (bands,) [dB] of a facade [m2]: elements' areas (n,) [m2] and reductions (n, bands), inlets' Dn,e (m, bands).

    Source: EN 12354-3:2000 clause 4, areas and transmission coefficients.
    """
    through = np.tensordot(np.asarray(areas) / area, 10.0 ** (-reductions / 10.0), axes=(0, 0))
    if inlets is not None:
        through = through + NORMAL_AREA / area * np.sum(10.0 ** (-inlets / 10.0), axis=0)
    return np.asarray(-10.0 * np.log10(through), dtype=np.float64)


def facade_level_difference(reduction: Spectrum, area: float, volume: float) -> Spectrum:
    """D2m,nT [dB] from R' [dB] of a plane facade [m2] before a room [m3].

    Source: EN 12354-3:2000 clause 4, R' + 10 lg(V / (6 T0 S)), shape term of a plane facade 0.
    """
    return np.asarray(reduction + 10.0 * np.log10(volume / (6.0 * REFERENCE_TIME * area)), dtype=np.float64)


def neighbour_facade(window: str) -> Spectrum:
    """Apparent reduction R' (21,) [dB] of a neighbour's facade, window ``open`` or ``closed``. Raises KeyError for another word.

    Source: data/outdoors.toml (EN 12354-3:2000 Annex F).
    """
    facade = _data()["facade"]
    opened = {"open": facade["open_area"], "closed": 0.0}[window]
    areas = [*(element["area"] for element in facade["element"]), opened]
    losses = np.array([*(element["reduction"] for element in facade["element"]), [0.0] * OCTAVES.size], dtype=np.float64)
    reduction = facade_reduction(facade["area"], areas, losses, np.array([facade["inlet"]["reduction"]], dtype=np.float64))
    return octaves_to_thirds(facade["octaves"], list(reduction))


def house_window() -> Spectrum:
    """Reduction (21,) [dB] of the house's own windows, shut. Source: the window of EN 12354-3:2000 Annex F (data/outdoors.toml)."""
    facade = _data()["facade"]
    window = next(element for element in facade["element"] if element["name"] == "window")
    return octaves_to_thirds(facade["octaves"], window["reduction"])


# ---- joined


@lru_cache(maxsize=256)
def transfer(listener: Listener) -> Spectrum:
    """Level in the neighbour's room, or before its window where the listener stands ``outside``, less the sound power of an element in the
    house's wall (21,) [dB]; read-only.

    Source: ISO 9613-2:1996 eq. (3), the barrier taking the place of soft ground but not of hard (ISO/TR 17534-3, from memory);
    EN 12354-3:2000, with the volume and reverberation time of data/criteria.toml.
    """
    data = _data()
    across, rise = max(listener.distance, data["least_distance"]), data["receiver_height"] - data["source_height"]
    way = float(np.hypot(across, rise))
    soil = octaves_to_thirds(list(OCTAVES), list(ground(data["source_height"], data["receiver_height"], across, data["ground_factor"])))
    screened = np.maximum(barrier(listener), np.maximum(soil, 0.0)) + np.minimum(soil, 0.0)
    air = air_absorption(EXACT_BANDS, data["temperature"], data["humidity"]) * way
    outside = data["in_front"] - divergence(way) - air - screened
    facade = data["facade"]
    found = np.asarray(outside + facade["reflection"], dtype=np.float64)
    if listener.window != "outside":
        found = found - neighbour_facade(listener.window) + 10.0 * np.log10(facade["area"] / room_absorption(listener.kind))
    found.setflags(write=False)
    return found


def outdoor_level(inside: Spectrum, loss: Spectrum, area: float | Spectrum, listener: Listener) -> Spectrum:
    """Level (..., 21) [dB] in a neighbour's room from an element that radiates outdoors: level before it in the house (21,) [dB], its
    transmission loss (21,) [dB], its area [m2]. Raises KeyError for an unknown listener kind or window word.

    Source: EN 12354-4:2000, Lw = Lp - Cd - R + 10 lg S; ``transfer``.
    """
    power = inside - _data()["diffuse_to_free"] - loss + 10.0 * np.log10(area)
    return np.asarray(power + transfer(listener), dtype=np.float64)


def outdoor_uncertainty(listener: Listener) -> Spectrum:
    """Standard uncertainty (21,) [dB] of the way outdoors and the neighbour's facade, the element's own left out.

    Source: ISO 9613-2:1996 Table 5; data/outdoors.toml.
    """
    parts = _data()["uncertainty"]
    screened = parts["barrier"] if np.any(barrier(listener) > 0.0) else 0.0
    entering = parts[listener.window] if listener.window != "outside" else 0.0
    return np.full(BANDS.size, float(np.sqrt(parts["propagation"] ** 2 + screened**2 + entering**2)))
