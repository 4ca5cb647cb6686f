"""Doors, windows, leaks, and elements side by side. Data: data/doors.toml."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.bands import BANDS
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds
from calc.isolation.parameters import SPEED_OF_SOUND

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


def air_lock_gain(depth: float) -> Spectrum:
    """What the lined space between two doors adds to the sum of their losses (21,) [dB]: 20 lg(2kd), at most 6 dB.

    ``depth`` m. Source: double leaf above its resonance, Vigran 2008 p. 280-296 (Sharp's regions).
    """
    wave_number = 2.0 * np.pi * BANDS / SPEED_OF_SOUND
    return np.asarray(np.minimum(20.0 * np.log10(2.0 * wave_number * depth), 20.0 * np.log10(2.0)), dtype=np.float64)


def series(first: Spectrum, second: Spectrum, depth: float) -> Spectrum:
    """Two leaves one behind the other, ``depth`` [m] apart with a lined space (21,) [dB]; never under the better of the two.

    Source: Vigran 2008 p. 280-296.
    """
    return np.asarray(np.maximum(first + second + air_lock_gain(depth), np.maximum(first, second)), dtype=np.float64)


def _row(row: dict[str, Any]) -> Spectrum:
    loss = octaves_to_thirds(load("doors")["octaves"], row["panel"])
    if "air_lock" in row:
        loss = series(loss, loss, row["air_lock"])
    if "leak" in row:
        loss = composite([1.0, 1.0], np.stack([loss, np.full_like(loss, row["leak"])])) - 10.0 * np.log10(2.0)
    loss.setflags(write=False)
    return loss


@cache
def door_loss(door_id: str) -> Spectrum:
    """Transmission loss (21,) [dB] of a door set as hung. Raises KeyError for an unknown id. Source: data/doors.toml."""
    return _row(load("doors")["door"][door_id])


@cache
def window_loss() -> Spectrum:
    """Transmission loss (21,) [dB] of an escape window with its second sash. Source: data/doors.toml."""
    return _row(load("doors")["window"]["second_sash"])


def door_uncertainty() -> float:
    """Standard uncertainty of a door's or window's loss in a band [dB]. Source: data/doors.toml."""
    return float(load("doors")["std_uncertainty"])
