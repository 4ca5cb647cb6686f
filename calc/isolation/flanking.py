"""Sound that the structure carries past the lid and the walls: stated ceilings on what a construction reaches. Data: data/options.toml."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds
from calc.scheme import LidOption, WallOption

Spectrum = NDArray[np.float64]


def _data() -> dict[str, Any]:
    return dict(load("options")["flanking"])


@cache
def _spectrum(at_500: float) -> Spectrum:
    return octaves_to_thirds(list(OCTAVES), [at_500 + step for step in _data()["shape"]])


def lid_flanking(lid: LidOption) -> Spectrum:
    """Flanking loss (21,) [dB] of a lid by what carries its boards, referred to the lid's area. Source: common practice, no source."""
    return _spectrum(_data()["lid"][lid.support])


def wall_flanking(wall: WallOption) -> Spectrum:
    """Flanking loss (21,) [dB] of a wall by its frame and support, referred to the lid's area if all walls were such.

    Raises KeyError for a frame that has no entry. Source: common practice, no source.
    """
    return _spectrum(_data()["wall"][wall.support][wall.frame])


def flanking_uncertainty() -> float:
    """Standard uncertainty of a flanking loss in a band [dB]. Source: common practice, no source."""
    return float(_data()["std_uncertainty"])


def flanking_to_neighbour() -> float:
    """What flanking loses on its way over the party wall into the neighbour's structure [dB]. Source: common practice, no source."""
    return float(_data()["to_neighbour"])
