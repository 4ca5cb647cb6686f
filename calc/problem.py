"""A brief as numbers for the search: cost, received energy, height and load of every option.

Quantities and radiating areas are taken at the shell's own size: walls of any thickness fit inside it, so both are on the careful side.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, partial
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from calc import headroom, schedule, structure
from calc.bands import A_WEIGHTING, BANDS
from calc.breathing import breathable
from calc.brief import Brief, Listener, SideKind
from calc.geometry import Room, inner_room, side_kinds
from calc.isolation import paths as ways
from calc.isolation.assembly import Assembly
from calc.isolation.criteria import target_dba, target_spectrum
from calc.isolation.listener import predicted
from calc.isolation.path import Loss, Path, Together
from calc.kept import Kept, as_costed, as_heard, as_priced
from calc.materials import takeoff
from calc.materials.cost import Bill, bill, unit_cost
from calc.options import air_paths, doors, floors, lid_assembly, lids, needs_joists, wall_assembly, walls
from calc.safety.framing import in_the_way
from calc.scheme import AirPathOption, DoorOption, FloorOption, LidOption, Scheme, WallOption
from calc.search import Group, group

Array = NDArray[np.float64]
Part = LidOption | tuple[SideKind, WallOption] | DoorOption | AirPathOption | FloorOption | None
PartCost = Callable[[Brief, Room, Part], float]
Pruned = tuple[Group, NDArray[np.intp]]
Billed = Callable[[Brief, Scheme], float]
ROWS = BANDS.size + 1  # a listener's rows: each band, then the A-weighted total
Item = TypeVar("Item")
_BILLS: Kept[Bill] = Kept(64)
_COSTS: Kept[tuple[float, ...]] = Kept(64)
_ENERGIES: Kept[Array] = Kept(256)  # an array of a few tens of kilobytes each
_LOSSES: Kept[Loss] = Kept(32)
_SHORT: Kept[Array] = Kept(16)
_LOADS: Kept[NDArray[np.bool_]] = Kept(16)


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
    return bill_of(brief, scheme).total


def bill_of(brief: Brief, scheme: Scheme) -> Bill:
    """The bill of a scheme. Raises as its parts. Source: as ``billed_total``."""

    quantities = takeoff.lines(brief, inner_room(brief, scheme), scheme)
    hours = schedule.labour_hours(brief, scheme, quantities)
    return _BILLS.get((as_priced(brief), brief.means, scheme, hours), lambda: bill(brief, quantities, hours))


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
    """``short`` (lids, floors): height missing under the limits [m], 0 where it fits. ``load_ok`` (lids,): the joists are not a stop;
    ``clear`` (lids,): its own joists, if it has any, pass over or beside all that hangs there.

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
    clear: NDArray[np.bool_]
    base: Array
    common: float
    money: float

    @cached_property
    def pairs(self) -> dict[object, Group]:
        """Groups of lids and floors that calc.solve made before."""
        return {}

    @cached_property
    def least_costs(self) -> dict[object, list[tuple[float, float]]]:
        """Of lids that calc.solve looked through before: by how many dB harder, and a cost that nothing is under."""
        return {}

    @cached_property
    def taken(self) -> Array:
        """Height (lids,) [m] that each lid takes."""
        return np.array([lid.height_taken if isinstance(lid, LidOption) else 0.0 for lid in self.lids.items])

    @cached_property
    def independent(self) -> NDArray[np.bool_]:
        """Which lids (lids,) stand on the inner walls."""
        return np.array([isinstance(lid, LidOption) and lid.support == "independent joists" for lid in self.lids.items])

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


def _rows(brief: Brief, part: Hashable, ids: tuple[str, ...], found: Callable[[Listener], Iterable[Path]]) -> Array:
    """Rows (ids, listeners x 22) of the options of a part: energy of their paths over the allowed energy, in each band and A-weighted in
    all. The energy does not depend on the target, so it is kept without."""
    heard, count = as_heard(brief, by_air=part == "air"), len(ids)
    energy = np.zeros((count, len(brief.listeners), BANDS.size))
    for place, listener in enumerate(brief.listeners):
        who = replace(listener, target="", limit=0.0)
        energy[:, place] = _ENERGIES.get((heard, part, ids, who), partial(_energy, count, found, listener))
    weighted = energy @ 10.0 ** (A_WEIGHTING / 10.0)
    shares = np.concatenate([energy, weighted[..., None]], axis=2) / _allowed(brief.listeners)
    return np.asarray(shares.reshape(count, len(brief.listeners) * ROWS))


def _energy(count: int, found: Callable[[Listener], Iterable[Path]], listener: Listener) -> Array:
    """Energy (count, 21) of the paths of some options to a listener."""
    energy = np.zeros((count, BANDS.size))
    for path in found(listener):
        energy += 10.0 ** (path.levels / 10.0)
    return energy


def _ids(items: Iterable[LidOption | WallOption | DoorOption | AirPathOption | FloorOption]) -> tuple[str, ...]:
    return tuple(item.id for item in items)


def _air_rows(brief: Brief, items: Sequence[AirPathOption]) -> Array:
    """Rows of air paths, those with one kind of end together."""
    rows = np.zeros((len(items), len(brief.listeners) * ROWS))
    ends = [(item.house_ducts, item.fan_unit) for item in items]
    for end in dict.fromkeys(ends):
        mine = [number for number, each in enumerate(ends) if each == end]
        together = Together(tuple(items[number] for number in mine))
        rows[mine] = _rows(brief, "air", _ids(together.items), partial(ways.air_paths, brief, option=together))
    return rows


def _losses(assemblies: Sequence[Assembly]) -> Loss:
    """Losses and uncertainties (n, 21) of assemblies."""
    found = predicted(assemblies)
    return Loss(np.stack([each.tl for each in found]), np.stack([each.std_uncertainty for each in found]))


@lru_cache(maxsize=16)
def _allowed(listeners: tuple[Listener, ...]) -> Array:
    """Allowed energy (listeners, 22), each band and the total A-weighted; kept, callers must not change it."""
    rows = [np.append(target_spectrum(listener), target_dba(listener)) for listener in listeners]
    return np.asarray(10.0 ** (np.array(rows).reshape(len(rows), ROWS) / 10.0))


def _options(brief: Brief, room: Room, items: Sequence[Item], parts: Sequence[Part], cost: PartCost, rows: Array) -> Options:
    def work() -> tuple[float, ...]:
        return tuple(cost(brief, room, part) for part in parts)

    each = _COSTS.get((as_costed(brief, room, parts[0]), tuple(parts)), work) if cost is part_cost else work()
    return Options(tuple(items), np.array(each, dtype=np.float64), rows)


def _lids(brief: Brief, room: Room, cost: PartCost) -> Options:
    items = lids(brief)
    together, ids = Together(items), _ids(items)
    losses = _LOSSES.get((as_heard(brief, by_air=False), "lid", ids), lambda: _losses([lid_assembly(item, brief) for item in items]))
    rows = _rows(brief, ("lid", room), ids, lambda who: ways.lid_paths(brief, room, who, together, losses))
    return _options(brief, room, items, items, cost, rows)


def _walls(brief: Brief, room: Room, kind: SideKind, cost: PartCost) -> Options:
    items = walls(brief, kind)
    together, ids = Together(items), _ids(items)
    losses = _LOSSES.get((as_heard(brief, by_air=False), kind, ids), lambda: _losses([wall_assembly(item, kind, brief) for item in items]))
    rows = _rows(brief, (kind, room), ids, lambda who: ways.wall_paths(brief, room, who, kind, together, losses))
    return _options(brief, room, items, [(kind, item) for item in items], cost, rows)


def height_short(brief: Brief, lid: LidOption, floor: FloorOption) -> float:
    """Height missing [m] in the worst zone under the model-code and own limits; 0 where all fit. Source: calc.headroom."""
    return max(0.0, -headroom.tightest(brief, lid, floor).margin)


def _short(brief: Brief, lid_items: Sequence[LidOption], floor_items: Sequence[FloorOption]) -> Array:
    """Height missing (lids, floors) [m]; lids that take the same height are looked at once."""
    shell = brief.shell
    asked = (brief.code, brief.habitable, brief.limits.lowest_ceiling)
    found = (shell.length, shell.width, shell.height, shell.slab_unevenness, shell.obstructions)
    key = (asked, found, tuple(lid.height_taken for lid in lid_items), _ids(floor_items))
    return _SHORT.get(key, partial(_shorts, replace(brief, assumptions=()), lid_items, floor_items))  # an assumption names no height


def _shorts(brief: Brief, lid_items: Sequence[LidOption], floor_items: Sequence[FloorOption]) -> Array:
    known: dict[object, float] = {}

    def short(lid: LidOption, floor: FloorOption) -> float:
        key = (lid.height_taken, floor.id)
        if key not in known:
            known[key] = height_short(brief, lid, floor)
        return known[key]

    return np.array([[short(lid, floor) for floor in floor_items] for lid in lid_items])


def _load_ok(brief: Brief, items: Sequence[LidOption]) -> NDArray[np.bool_]:
    """Lids that the joist screen does not stop; one screening a hung mass."""
    shell, masses = brief.shell, [lid.hung_mass for lid in items]
    above = (shell.joists, shell.subfloor, shell.floor_above, shell.room_above, *(who.kind for who in brief.listeners))
    assumed = tuple(each.question for each in brief.assumptions if each.question in structure.SIZE_QUESTIONS)

    def work() -> NDArray[np.bool_]:
        known = {lid.hung_mass: lid for lid in items}
        good = {mass: structure.screen(brief, lid, brief.site).verdict != "stop" for mass, lid in known.items()}
        return np.array([good[mass] for mass in masses], dtype=np.bool_)

    return _LOADS.get((above, assumed, brief.site.point_loads, tuple(masses)), work)


def problem(brief: Brief, cost: PartCost = part_cost) -> Problem:
    """All numbers of a brief. Raises as the modules it asks."""
    room = Room(brief.shell.length, brief.shell.width, brief.shell.height)
    door_items, air_items, floor_items = doors(brief), breathable(brief, air_paths(brief)), floors(brief)
    lid_options = _lids(brief, room, cost)
    door_rows = _rows(brief, "door", _ids(door_items), lambda who: ways.door_paths(brief, who, Together(door_items)))
    floor_rows = _rows(brief, ("floor", room), _ids(floor_items), lambda who: ways.floor_paths(brief, room, who, Together(floor_items)))
    lid_items = [item for item in lid_options.items if isinstance(item, LidOption)]
    return Problem(
        brief=brief,
        room=room,
        lids=lid_options,
        floors=_options(brief, room, floor_items, floor_items, cost, floor_rows),
        walls=tuple((kind, _walls(brief, room, kind, cost)) for kind in side_kinds(brief)),
        doors=_options(brief, room, door_items, door_items, cost, door_rows),
        airs=_options(brief, room, air_items, air_items, cost, _air_rows(brief, air_items)),
        short=_short(brief, lid_items, floor_items),
        load_ok=_load_ok(brief, lid_items),
        clear=np.array([not in_the_way(brief, lid) for lid in lid_items], dtype=np.bool_),
        base=_rows(brief, "fixed", ("",), partial(ways.fixed_paths, brief))[0],
        common=float(_options(brief, room, (None,), (None,), cost, np.zeros((1, 0))).cost[0]),
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
