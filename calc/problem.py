"""A brief as numbers for the search: cost, received energy, height and load of every option.

Quantities and radiating areas are taken at the shell's own size: walls of any thickness fit inside it, so both are on the careful side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from calc import headroom, schedule, structure
from calc.bands import A_WEIGHTING, BANDS
from calc.brief import Brief, Listener, SideKind
from calc.geometry import Room, inner_room, side_kinds
from calc.isolation import paths as ways
from calc.isolation.criteria import target_dba, target_spectrum
from calc.isolation.listener import loss, predicted
from calc.isolation.path import Path
from calc.materials import takeoff
from calc.materials.cost import bill, unit_cost
from calc.options import air_paths, doors, floors, lid_assembly, lids, needs_joists, wall_assembly, walls
from calc.scheme import AirPathOption, DoorOption, FloorOption, LidOption, Scheme, WallOption
from calc.search import Group, group

Array = NDArray[np.float64]
Part = LidOption | tuple[SideKind, WallOption] | DoorOption | AirPathOption | FloorOption | None
PartCost = Callable[[Brief, Room, Part], float]
Pruned = tuple[Group, NDArray[np.intp]]
Billed = Callable[[Brief, Scheme], float]
ROWS = BANDS.size + 1  # a listener's rows: each band, then the A-weighted total
Item = TypeVar("Item")


def part_cost(brief: Brief, room: Room, part: Part) -> float:
    """Cost of one part [currency], linear, no contingency; None stands for what every scheme needs. Source: calc.materials."""
    if part is None:
        return unit_cost(brief, takeoff.common_lines(brief, room))
    if isinstance(part, LidOption):
        return unit_cost(brief, takeoff.lid_lines(brief, room, part))
    if isinstance(part, tuple):
        return unit_cost(brief, takeoff.wall_lines(brief, room, *part))
    if isinstance(part, DoorOption):
        return unit_cost(brief, takeoff.door_lines(brief, part))
    if isinstance(part, AirPathOption):
        return unit_cost(brief, takeoff.air_lines(brief, part))
    return unit_cost(brief, takeoff.floor_lines(brief, room, part))


def billed_total(brief: Brief, scheme: Scheme) -> float:
    """What a scheme costs in whole packages, with labour, fees and contingency [currency]. Source: calc.materials, calc.schedule."""
    quantities = takeoff.lines(brief, inner_room(brief, scheme), scheme)
    return bill(brief, quantities, schedule.labour_hours(brief, scheme, quantities)).total


@dataclass(frozen=True)
class Options:
    """Options of one part with costs (n,) and rows (n, listeners x 22): received energy as a share of what the target allows."""

    items: tuple[object, ...]
    cost: Array
    rows: Array


def only(options: Options, keep: NDArray[np.bool_]) -> Pruned:
    """A group of the options kept, and their numbers in the full list."""
    numbers = np.flatnonzero(keep)
    found = group(list(options.cost[numbers]), options.rows[numbers])
    return found, numbers[found.index]


@dataclass(frozen=True)
class Problem:
    """``short`` (lids, floors): height missing under the limits [m], 0 where it fits. ``load_ok`` (lids,): the joists are not a stop.

    ``base`` (rows,): energy that no choice changes, as a share. ``common`` is what every scheme costs. ``money`` is the budget less
    contingency."""

    brief: Brief
    room: Room
    lids: Options
    floors: Options
    walls: tuple[tuple[SideKind, Options], ...]
    doors: Options
    airs: Options
    short: Array
    load_ok: NDArray[np.bool_]
    base: Array
    common: float
    money: float

    @cached_property
    def joists_needed(self) -> bool:
        """Every lid hangs from joists that may not be touched."""
        return all(isinstance(lid, LidOption) and needs_joists(self.brief, lid) for lid in self.lids.items)

    @cached_property
    def all_walls(self) -> list[Pruned]:
        """Walls of each kind, for lids that hang from the joists."""
        return [only(options, np.ones(len(options.items), dtype=np.bool_)) for _, options in self.walls]

    @cached_property
    def carrying(self) -> list[Pruned] | None:
        """Walls of each kind that carry a lid; None where a side has no such wall."""
        keeps = [np.array([isinstance(w, WallOption) and w.carries_lid for w in options.items]) for _, options in self.walls]
        if not all(keep.any() for keep in keeps):
            return None
        return [only(options, keep) for (_, options), keep in zip(self.walls, keeps, strict=True)]

    @cached_property
    def openings(self) -> list[Pruned]:
        """Doors and air paths."""
        return [only(each, np.ones(len(each.items), dtype=np.bool_)) for each in (self.doors, self.airs)]


def _rows(brief: Brief, items: Sequence[Item], found: Callable[[Listener, Item], Iterable[Path]]) -> Array:
    """Rows (items, listeners x 22): energy of each item's paths over the allowed energy, in each band and A-weighted in all."""
    count = len(brief.listeners)
    levels, owners = [], []
    for number, item in enumerate(items):
        for place, listener in enumerate(brief.listeners):
            for path in found(listener, item):
                levels.append(path.levels)
                owners.append(number * count + place)
    energy = np.zeros((len(items) * count, BANDS.size))
    if levels:
        np.add.at(energy, owners, 10.0 ** (np.array(levels) / 10.0))
    weighted = energy @ 10.0 ** (A_WEIGHTING / 10.0)
    allowed = _allowed(brief)
    return np.asarray((np.column_stack([energy, weighted]).reshape(len(items), count, ROWS) / allowed).reshape(len(items), count * ROWS))


def _allowed(brief: Brief) -> Array:
    """Allowed energy (listeners, 22), each band and the total A-weighted."""
    rows = [np.append(target_spectrum(listener), target_dba(listener)) for listener in brief.listeners]
    return 10.0 ** (np.array(rows).reshape(len(rows), ROWS) / 10.0)


def _options(brief: Brief, room: Room, items: Sequence[Item], parts: Sequence[Part], cost: PartCost, rows: Array) -> Options:
    return Options(tuple(items), np.array([cost(brief, room, part) for part in parts], dtype=np.float64), rows)


def _lids(brief: Brief, room: Room, cost: PartCost) -> Options:
    items = lids(brief)
    losses = dict(zip((item.id for item in items), predicted([lid_assembly(item, brief) for item in items]), strict=True))
    rows = _rows(brief, items, lambda who, item: ways.lid_paths(brief, room, who, item, loss(losses[item.id])))
    return _options(brief, room, items, items, cost, rows)


def _walls(brief: Brief, room: Room, kind: SideKind, cost: PartCost) -> Options:
    items = walls(brief, kind)
    losses = dict(zip((item.id for item in items), predicted([wall_assembly(item, kind, brief) for item in items]), strict=True))
    rows = _rows(brief, items, lambda who, item: ways.wall_paths(brief, room, who, kind, item, loss(losses[item.id])))
    return _options(brief, room, items, [(kind, item) for item in items], cost, rows)


def height_short(brief: Brief, lid: LidOption, floor: FloorOption) -> float:
    """Height missing [m] in the worst zone under the model-code and own limits; 0 where all fit. Source: calc.headroom."""
    return max(0.0, -headroom.headroom(brief, lid, floor).binding.margin)


def _short(brief: Brief, lid_items: Sequence[LidOption], floor_items: Sequence[FloorOption]) -> Array:
    """Height missing (lids, floors) [m]; lids that take the same height in the same way are looked at once."""
    known: dict[object, float] = {}

    def short(lid: LidOption, floor: FloorOption) -> float:
        key = (lid.layers, lid.plies, lid.support, lid.own_joist_depth, bool(lid.between_joists), floor.layers)
        if key not in known:
            known[key] = height_short(brief, lid, floor)
        return known[key]

    return np.array([[short(lid, floor) for floor in floor_items] for lid in lid_items])


def _load_ok(brief: Brief, items: Sequence[LidOption]) -> NDArray[np.bool_]:
    """Lids that the joist screen does not stop; one screening a hung mass."""
    known: dict[float, bool] = {}
    for lid in items:
        if lid.hung_mass not in known:
            known[lid.hung_mass] = structure.screen(brief, lid, brief.site).verdict != "stop"
    return np.array([known[lid.hung_mass] for lid in items], dtype=np.bool_)


def problem(brief: Brief, cost: PartCost = part_cost) -> Problem:
    """All numbers of a brief. Raises as the modules it asks."""
    room = Room(brief.shell.length, brief.shell.width, brief.shell.height)
    door_items, air_items, floor_items = doors(brief), air_paths(brief), floors(brief)
    lid_options = _lids(brief, room, cost)
    lid_items = [item for item in lid_options.items if isinstance(item, LidOption)]
    return Problem(
        brief=brief,
        room=room,
        lids=lid_options,
        floors=_options(brief, room, floor_items, floor_items, cost, _rows(brief, floor_items, partial(ways.floor_paths, brief, room))),
        walls=tuple((kind, _walls(brief, room, kind, cost)) for kind in side_kinds(brief)),
        doors=_options(
            brief, room, door_items, door_items, cost, _rows(brief, door_items, lambda who, item: ways.door_paths(brief, who, item))
        ),
        airs=_options(brief, room, air_items, air_items, cost, _rows(brief, air_items, lambda who, item: ways.air_paths(brief, who, item))),
        short=_short(brief, lid_items, floor_items),
        load_ok=_load_ok(brief, lid_items),
        base=_rows(brief, (None,), lambda who, _: ways.fixed_paths(brief, who))[0],
        common=cost(brief, room, None),
        money=brief.means.budget / (1.0 + brief.means.contingency),
    )


def scheme_of(p: Problem, picks: Sequence[int]) -> Scheme:
    """The scheme of option numbers (lid, floor, each wall kind in order, door, air path). Raises TypeError for a wrong kind of option."""
    lid, floor = p.lids.items[picks[0]], p.floors.items[picks[1]]
    door, air = p.doors.items[picks[-2]], p.airs.items[picks[-1]]
    chosen: list[tuple[SideKind, WallOption]] = []
    for (kind, options), pick in zip(p.walls, picks[2:-2], strict=True):
        wall = options.items[pick]
        if isinstance(wall, WallOption):
            chosen.append((kind, wall))
    if not (isinstance(lid, LidOption) and isinstance(floor, FloorOption)):
        raise TypeError("lid or floor of the wrong kind")
    if not (isinstance(door, DoorOption) and isinstance(air, AirPathOption)):
        raise TypeError("door or air path of the wrong kind")
    return Scheme(lid, tuple(chosen), door, air, floor)
