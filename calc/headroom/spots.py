"""Height over the floor plan where corners and middle were measured: a slab that falls, joists that sag."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.brief import Brief
from calc.headroom.limits import TOLERANCE, code_limit
from calc.scheme import FloorOption, LidOption
from calc.site import Site

STEPS = 81  # points each way over the plan
NAMES = ("corner of sides 1 and 2", "corner of sides 2 and 3", "corner of sides 3 and 4", "corner of sides 4 and 1", "middle")


@dataclass(frozen=True)
class Spot:
    """Finished height at one measured place [m], the slab left as it is there; ``found`` as measured, with nothing built."""

    name: str
    found: float
    height: float


@dataclass(frozen=True)
class HeightMap:
    """``share_full`` 0..1 of the plan has the model code's full height. ``lowest`` is the lowest spot."""

    spots: tuple[Spot, ...]
    share_full: float

    @property
    def lowest(self) -> Spot:
        return min(self.spots, key=lambda spot: spot.height)

    @property
    def spread(self) -> float:
        """Highest less lowest found height [m]."""
        return max(spot.found for spot in self.spots) - min(spot.found for spot in self.spots)


def surface(heights: tuple[float, ...]) -> NDArray[np.float64]:
    """Heights [m] over the plan, (STEPS, STEPS): straight along each side, through the four corners and, where given, the middle.

    Raises ValueError unless there are four or five heights. Source: bilinear interpolation, a pyramid added for the middle.
    """
    if len(heights) not in (4, 5):
        raise ValueError(f"four corners, or four corners and the middle, not {len(heights)} heights")
    along, across = np.meshgrid(np.linspace(0.0, 1.0, STEPS), np.linspace(0.0, 1.0, STEPS))
    first, second, third, fourth = heights[:4]
    plane = (1 - across) * ((1 - along) * fourth + along * first) + across * ((1 - along) * third + along * second)
    if len(heights) == 4:
        return np.asarray(plane)
    tent = 1.0 - np.maximum(np.abs(2 * along - 1), np.abs(2 * across - 1))
    return np.asarray(plane + (heights[4] - np.mean(heights[:4])) * tent)


def height_map(brief: Brief, lid: LidOption, floor: FloorOption, site: Site) -> HeightMap | None:
    """Finished heights spot by spot where a ceiling follows the joists and a floor the slab; None where no corner was measured.

    Source: geometry; the owner's measurements; full height by ``code_limit``.
    """
    if not site.corner_heights:
        return None
    taken = lid.height_taken + floor.height_taken
    full = code_limit(brief.code, brief.habitable, False).height
    share = float(np.mean(surface(site.corner_heights) - taken >= full - TOLERANCE))
    spots = tuple(Spot(name, found, found - taken) for name, found in zip(NAMES, site.corner_heights, strict=False))
    return HeightMap(spots, share)
