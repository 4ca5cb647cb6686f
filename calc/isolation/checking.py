"""What a measurement after the build should find: pink noise in the room against what arrives at a listener."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.bands import BANDS, a_weighted, energy_sum, octave_loss


@dataclass(frozen=True)
class NoiseCheck:
    """Level in the room less level at the listener, for pink noise played in the room.

    ``octaves``: (7,) [dB], octaves 63 Hz to 4 kHz; ``hidden``: (7,), true where the noise arrives under the background of that octave;
    ``readable``: (7,) [dB], the room's level less that background, all that can be shown there. ``a_``: the same for the A-weighted total.
    """

    octaves: NDArray[np.float64]
    hidden: NDArray[np.bool_]
    readable: NDArray[np.float64]
    a_weighted: float
    a_hidden: bool
    a_readable: float


def noise_check(source: ArrayLike, arriving: ArrayLike, background: ArrayLike, room_dba: float) -> NoiseCheck:
    """What pink noise of ``room_dba`` [dBA] should show where music of band levels ``source`` arrives as ``arriving``; all (21,) [dB].

    The difference of each third octave is a property of the building, so it holds for any steady sound. Pink noise has equal energy in each
    third, by its definition, so an octave is the mean of three transmission coefficients. Raises ValueError for another number of bands.
    Source: level difference as in ISO 16283-1:2014 clause 3 (from memory); energy sums.
    """
    difference = np.asarray(source, dtype=np.float64) - np.asarray(arriving, dtype=np.float64)
    floor = np.asarray(background, dtype=np.float64)
    if difference.shape != BANDS.shape or floor.shape != BANDS.shape:
        raise ValueError(f"noise_check takes {BANDS.size} bands, not {difference.shape} and {floor.shape}")
    played = np.zeros_like(BANDS)
    played += room_dba - a_weighted(played)
    octaves = octave_loss(difference)
    readable = _octaves(played) - _octaves(floor)
    total = room_dba - a_weighted(played - difference)
    a_readable = room_dba - a_weighted(floor)
    return NoiseCheck(octaves, octaves > readable, readable, total, total > a_readable, a_readable)


def _octaves(levels: NDArray[np.float64]) -> NDArray[np.float64]:
    return energy_sum(levels.reshape(7, 3))
