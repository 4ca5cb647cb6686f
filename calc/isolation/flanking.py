"""Sound that light structure carries past the lid and the walls: published and stated losses. Data and sources: data/flanking.toml."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, OCTAVES
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds
from calc.scheme import LidOption, WallOption

Spectrum = NDArray[np.float64]


def _data() -> dict[str, Any]:
    return load("flanking")


@cache
def _spectrum(at_500: float) -> Spectrum:
    found = octaves_to_thirds(list(OCTAVES), [at_500 + step for step in _data()["shape"]["octaves"]])
    found.setflags(write=False)
    return found


def lid_flanking(lid: LidOption) -> Spectrum:
    """Flanking loss (21,) [dB] of a lid into the room above, referred to its area, by what carries its boards. Source: flanking.toml."""
    return _spectrum(_data()["lid"][lid.support])


def wall_flanking(wall: WallOption, on_wood: bool = False) -> Spectrum:
    """Flanking loss (21,) [dB] of a wall's boards into the room above, referred to the lid's area if all walls were such.

    ``on_wood``: strapping stands on a wood foundation, which touches the joists as studs do. Raises KeyError for a frame that has no
    entry. Source: data/flanking.toml."""
    frame = "wood stud" if on_wood and wall.frame == "wood strapping" else wall.frame
    more, at_500 = _data()["more_plies"], _data()["wall"][wall.support][frame]
    if wall.support == "absent" and frame in more["frames"]:
        at_500 += more["each"] * (len(wall.inner_plies) - 1)
    return _spectrum(at_500)


def subfloor_flanking() -> Spectrum:
    """Loss (21,) [dB] of a bare subfloor that runs on over a wall, referred to the wall's area. Source: data/flanking.toml."""
    return _spectrum(_data()["subfloor"]["at_500"])


def flanking_uncertainty() -> float:
    """Standard uncertainty of a light flanking loss in a band [dB]. Source: data/flanking.toml (common practice, no source)."""
    return float(_data()["uncertainty"]["light"])


def massive_uncertainty(soil: bool) -> Spectrum:
    """Standard uncertainty (21,) [dB] of a path through heavy elements, ``soil`` behind one of them. Source: data/flanking.toml."""
    row = _data()["uncertainty"]
    plain = np.where(row["low_below"] > BANDS, row["massive_low"], row["massive"])
    return np.asarray(np.hypot(plain, row["soil"] if soil else 0.0))


def flanking_to_neighbour() -> float:
    """What flanking loses on its way to a neighbour where no party wall is stated [dB]. Source: common practice, no source."""
    return float(_data()["far"]["more"])
