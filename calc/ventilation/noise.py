"""Noise of the air system in the room: the fan through its ducts, and the air in elbows, against an NC curve."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES, energy_sum
from calc.catalogue import load
from calc.isolation import duct_path
from calc.ratings import NC_CURVES, NC_NUMBERS, nc

Spectrum = NDArray[np.float64]
FOOT = 0.3048


@dataclass(frozen=True)
class Noise:
    """Octave levels 63 to 4000 Hz (7,) [dB] in the room of the fan, the air, and both; NC and RC of both; the NC wanted.

    ``short`` (7,) [dB]: what each band still has over the curve wanted, 0 within it. ``hiss`` and ``rumble`` as RC judges.
    """

    fan: Spectrum
    air: Spectrum
    both: Spectrum
    nc: float
    rc: float
    rumble: bool
    hiss: bool
    target: float
    short: Spectrum

    @property
    def quiet(self) -> bool:
        """Within the curve wanted in every octave."""
        return bool(np.all(self.short <= 0.0))


def fan_power(flow: float, pressure: float, kind: str) -> Spectrum:
    """Sound power (7,) [dB re 1 pW] of a fan: flow m3/s, total pressure Pa, a kind of data/duct_flow.toml.

    40 + 10 lg Q + 20 lg P and a spectrum by kind, with the tone of the blades on every octave, as nobody knows yet on which it falls.

    Raises KeyError for another kind. Source: data/duct_flow.toml.
    """
    row = load("duct_flow")["fan_kind"]
    total = float(row["total"]) + 10.0 * math.log10(flow) + 20.0 * math.log10(pressure)
    return np.asarray(total + np.array(row[kind]) + float(row["tone"]), dtype=np.float64)


def room_effect(volume: float, distance: float) -> Spectrum:
    """Sound pressure over the sound power of one grille (7,) [dB] at a distance [m] in a furnished room [m3].

    Source: Schultz (1985) as ASHRAE gives it, Lp = Lw - 10 lg r - 5 lg V - 3 lg f + 25 in feet.
    """
    feet, cubic = distance / FOOT, volume / FOOT**3
    return np.asarray(25.0 - 10.0 * math.log10(feet) - 5.0 * math.log10(cubic) - 3.0 * np.log10(OCTAVES), dtype=np.float64)


def nc_curve(number: float) -> Spectrum:
    """Octave levels 63 to 4000 Hz (7,) [dB] of an NC curve, straight between the printed ones. Source: ANSI/ASA S12.2 Table 1."""
    return np.array([np.interp(number, NC_NUMBERS, NC_CURVES[:, band]) for band in range(OCTAVES.size)])


def rc(levels: Spectrum) -> tuple[float, bool, bool]:
    """RC of octave levels 63 to 4000 Hz (7,) [dB]: its number, whether it rumbles, whether it hisses.

    The mean of 500, 1000 and 2000 Hz; a line of 5 dB an octave through it at 1 kHz; rumble over it by more than 5 dB below 500 Hz, hiss by
    more than 3 dB from 1 kHz on. Source: Blazier 1981, as ASHRAE gives it; from memory.
    """
    number = float(levels[3:6].mean())
    over = levels - (number - 5.0 * np.log2(OCTAVES / 1000.0))
    return number, bool(np.any(over[:3] > 5.0)), bool(np.any(over[4:] > 3.0))


def air_power(flow: float, ducts: int, side: float, elbows: int) -> Spectrum:
    """Sound power (7,) [dB re 1 pW] that the air makes in the elbows of equal square ducts: flow m3/s of all, free side m.

    Without elbows one stands for the turn into the grille. Source: duct_path.elbow_noise.
    """
    power = duct_path.elbow_noise(flow / ducts / side**2, side**2, side)
    return np.asarray(power + 10.0 * math.log10(ducts * max(elbows, 1)), dtype=np.float64)


def judge(fan: Spectrum, air: Spectrum, target: float) -> Noise:
    """Levels of fan and air (7,) [dB] in the room against an NC number. Source: energy sum; ANSI/ASA S12.2."""
    both = energy_sum(np.stack([fan, air]), axis=0)
    number = float(nc(np.append(both, both[-1] - 10.0)))  # 8 kHz is not computed; it never governs so far under 4 kHz
    mean, rumble, hiss = rc(both)
    return Noise(fan, air, both, number, mean, rumble, hiss, target, np.maximum(both - nc_curve(target), 0.0))


def in_room(power: Spectrum, loss: Spectrum, diameter: float, volume: float, share: float = 1.0, distance: float | None = None) -> Spectrum:
    """Level (7,) [dB] in a room of a fan at the far end of its ducts: power and loss along one duct (7,) [dB]; equivalent diameter of
    its mouth [m]; volume m3; ``share`` of the fan's power that enters these ducts; distance m, that of data/duct_flow.toml unless given.

    Power that splits over several mouths is heard from all of them. Source: end reflection by duct_path; ``room_effect``; power shares by
    area of branches.
    """
    near = float(load("duct_flow")["room"]["distance"]) if distance is None else distance
    end = duct_path.end_reflection(diameter, OCTAVES)
    return np.asarray(power + 10.0 * math.log10(share) - loss - end + room_effect(volume, near), dtype=np.float64)
