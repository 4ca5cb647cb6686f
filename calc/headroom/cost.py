"""What each lid and each floor finish costs in height."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from calc.brief import Brief
from calc.headroom.zones import ZoneHeight, open_field
from calc.kept import Kept
from calc.scheme import FloorOption, LidOption


@dataclass(frozen=True)
class LidCost:
    """A lid by the height it takes below the joists [m] and the finished height [m] it leaves in the open field.

    ``margin`` [m] is what is left over the higher limit there, negative where it fails.
    """

    option: LidOption
    taken: float
    height: float
    margin: float


@dataclass(frozen=True)
class FloorCost:
    """A floor finish by the height it takes [m]: every zone loses that much."""

    option: FloorOption
    taken: float


_LID_COSTS: Kept[tuple[LidCost, ...]] = Kept(16)


def lid_costs(brief: Brief, lids: Sequence[LidOption], floor: FloorOption) -> tuple[LidCost, ...]:
    """Each lid's cost in height over one floor finish, the thinnest first. Source: geometry; limits as in ``headroom``."""
    shell, asked = brief.shell, (brief.code, brief.habitable, brief.limits.lowest_ceiling)
    key = (asked, shell.height, shell.slab_unevenness, tuple(lids), floor)
    return _LID_COSTS.get(key, partial(_lid_costs, brief, lids, floor))


def _lid_costs(brief: Brief, lids: Sequence[LidOption], floor: FloorOption) -> tuple[LidCost, ...]:
    fields: dict[float, ZoneHeight] = {}  # lids that take the same height leave the same
    found = []
    for lid in sorted(lids, key=lambda each: each.height_taken):
        taken = lid.height_taken
        if taken not in fields:
            fields[taken] = open_field(brief, lid, floor)
        found.append(LidCost(lid, taken, fields[taken].height, fields[taken].margin))
    return tuple(found)


def floor_costs(floors: Iterable[FloorOption]) -> tuple[FloorCost, ...]:
    """Each floor finish's cost in height, the thinnest first. Source: geometry."""
    return tuple(FloorCost(floor, floor.height_taken) for floor in sorted(floors, key=lambda each: each.height_taken))
