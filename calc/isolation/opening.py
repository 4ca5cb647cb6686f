"""Doors, windows, and elements side by side. Data: data/doors.toml. What leaks elsewhere: calc.isolation.leaks."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.bands import BANDS
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds
from calc.isolation.parameters import SPEED_OF_SOUND
from calc.isolation.path import Loss
from calc.isolation.slit import TIGHT, slit_loss
from calc.scheme import DoorOption

Spectrum = NDArray[np.float64]


def composite(areas: ArrayLike, losses: ArrayLike) -> NDArray[np.float64]:
    """Transmission loss [dB] of elements side by side: areas (n,) [m2], losses (n,) or (n, bands) [dB] -> scalar or (bands,).

    A bare opening has a loss of 0 dB. Raises ValueError when the areas do not sum above zero.
    Source: area-weighted transmission coefficients, Crocker & Arenas 2021, chapter 12.
    """
    area = np.asarray(areas, dtype=np.float64)
    if not area.sum() > 0.0:
        raise ValueError("a composite needs some area")
    tau = 10.0 ** (-np.asarray(losses, dtype=np.float64) / 10.0)
    return np.asarray(-10.0 * np.log10(np.tensordot(area, tau, axes=(0, 0)) / area.sum()))


def air_lock_gain(depth: float, lined: bool = True) -> Spectrum:
    """What the space between two doors adds to the sum of their losses (21,) [dB]: 20 lg(2kd), at most 6 dB where it is lined.

    ``depth`` m. Without lining at most what its own absorption leaves, data/doors.toml. Source: double leaf above its resonance, Vigran
    2008 p. 280-296 (Sharp's regions).
    """
    wave_number = 2.0 * np.pi * BANDS / SPEED_OF_SOUND
    most = 20.0 * np.log10(2.0) if lined else float(load("doors")["air_lock"]["bare"])
    return np.asarray(np.minimum(20.0 * np.log10(2.0 * wave_number * depth), most), dtype=np.float64)


def series(first: Spectrum, second: Spectrum, depth: float, lined: bool = True) -> Spectrum:
    """Two leaves one behind the other, ``depth`` [m] apart (21,) [dB]; never under the better of the two.

    Source: Vigran 2008 p. 280-296.
    """
    return np.asarray(np.maximum(first + second + air_lock_gain(depth, lined), np.maximum(first, second)), dtype=np.float64)


def _share(loss: Spectrum) -> Spectrum:
    return np.asarray(10.0 ** (-loss / 10.0), dtype=np.float64)


def leaf_in_frame(panel: Spectrum, thickness: float, area: float, stop: float, foot: float) -> tuple[Spectrum, Spectrum]:
    """Loss (21,) [dB] of one leaf as hung and the share (21,) of the sound that comes through its gaps.

    ``panel``: loss of the leaf with its edges tight; thickness [m] is the depth of the gaps, ``stop`` their width on three sides and
    ``foot`` under the leaf [m], under 0.01 mm tight; area m2. The foot lies along the floor. Source: calc.isolation.slit.
    """
    height = float(load("doors")["height"])
    width = area / height
    leaf = area * _share(panel)
    gaps = np.zeros_like(leaf)
    if stop >= TIGHT:
        gaps = gaps + stop * (2.0 * height + width) * _share(slit_loss(stop, thickness, length=2.0 * height + width))
    if foot >= TIGHT:
        gaps = gaps + foot * width * _share(slit_loss(foot, thickness, edge=True, length=width))
    return -10.0 * np.log10((leaf + gaps) / area), gaps / (leaf + gaps)


def open_gaps(door: DoorOption) -> float:
    """Area [m2] of the gap at the foot of a door, 0 where it is sealed; of two in series that of one over the root of two.

    Source: the slits of data/doors.toml, fitted to published losses of doors as hung; orifices of equal size in series.
    """
    if door.sealed:
        return 0.0
    data = load("doors")
    return float(data["edge"]["perimeter"]["foot"]) * door.area / float(data["height"]) / math.sqrt(door.leaves)


def _octaves(values: list[float]) -> Spectrum:
    return octaves_to_thirds(load("doors")["octaves"], values)


def _build(panel_id: str, edge_id: str, lock_id: str, area: float) -> Loss:
    data = load("doors")
    panel, edge, spread = data["panel"][panel_id], data["edge"][edge_id], data["uncertainty"]
    loss, gaps = leaf_in_frame(_octaves(panel["loss"]), panel["thickness"], area, edge["stop"], edge["foot"])
    doubt = np.hypot((1.0 - gaps) * spread["leaf"], gaps * spread["gap"])
    if not lock_id:
        return Loss(loss, doubt)
    lock = data["air_lock"][lock_id]
    both = series(loss, loss, lock["depth"], lock["lined"])
    whole = -10.0 * np.log10(_share(both) + _share(np.full_like(both, lock["ceiling"])))
    round_it = _share(lock["ceiling"] - whole)
    # Two leaves of one kind by one hand err together.
    return Loss(whole, np.hypot((1.0 - round_it) * 2.0 * doubt, round_it * spread["ceiling"]))


@cache
def door_set(door_id: str) -> Loss:
    """Transmission loss and its standard uncertainty, each (21,) [dB] and read-only, of a door set as hung.

    Raises KeyError for an unknown id. Source: data/doors.toml.
    """
    row = load("doors")["door"][door_id]
    found = _build(row["panel"], row["edge"], row.get("air_lock", ""), row["area"])
    found.tl.setflags(write=False)
    found.uncertainty.setflags(write=False)
    return found


def door_loss(door_id: str) -> Spectrum:
    """Transmission loss (21,) [dB] of a door set as hung. Raises KeyError for an unknown id. Source: data/doors.toml."""
    return door_set(door_id).tl


@cache
def window_loss(window_id: str = "second_sash") -> Spectrum:
    """Transmission loss (21,) [dB], read-only, of an escape window: ``second_sash``, or ``existing`` as it is.

    Raises KeyError for another word. Source: data/doors.toml."""
    loss = _octaves(load("doors")["window"][window_id]["loss"])
    loss.setflags(write=False)
    return loss


def door_source(door_id: str) -> str:
    """Where the loss of a door's leaf was published. Raises KeyError for an unknown id. Source: data/doors.toml."""
    data = load("doors")
    return str(data["panel"][data["door"][door_id]["panel"]]["source"])


def window_source(window_id: str = "second_sash") -> str:
    """Where the loss of a window was published. Raises KeyError for another word. Source: data/doors.toml."""
    return str(load("doors")["window"][window_id]["source"])


def door_uncertainty() -> float:
    """Standard uncertainty of a window's loss in a band [dB]; a door has its own, see ``door_set``. Source: data/doors.toml."""
    return float(load("doors")["uncertainty"]["leaf"])
