"""Where desk, loudspeakers, ears, kit or player stand in the room."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice
from typing import Any

from calc.acoustics.clearance import Shape, clear_places, strip, walkable
from calc.acoustics.reverberation import is_control_room
from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Opening:
    """A door or window in the inner wall: ``start`` [m] from the corner of sides 4 and 1 (or the end of that wall nearest to it)."""

    kind: str  # door | window
    side: int
    start: float
    width: float

    @property
    def end(self) -> float:
        return self.start + self.width

    @property
    def clear(self) -> float:
        """How far into the room the floor before it stays free [m]: a door wants its swing at least."""
        return max(float(load("acoustics")["layout"]["clear_before"]), self.width if self.kind == "door" else 0.0)

    def strip(self, room: Room) -> Shape:
        """The floor before it that stays free."""
        return strip(room, self.side, self.start, self.end, self.clear)


@dataclass(frozen=True)
class Place:
    """Something that stands in the room: x along side 1 and y along side 4 from their corner, z above the floor [m].

    Sides go clockwise seen from above, as the interview numbers them: drawn with side 1 on top, x runs right and y down.
    """

    name: str
    point: Point
    note: str


@dataclass(frozen=True)
class Layout:
    """``front`` is the number of the wall faced; ``places`` in the order to set them up; ``fits`` False where the room is too small.

    ``clear`` False where the room has no place for all of it off the floor that must stay free before door and way out.
    """

    front: int
    why: str
    places: tuple[Place, ...]
    fits: bool
    clear: bool = True

    def point(self, name: str) -> Point:
        """Where a place is. Raises KeyError for a name that is not there."""
        return {place.name: place.point for place in self.places}[name]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(place.name for place in self.places)


KIT = "middle of the drum kit"
PLAYER = "player"
DESK = "desk"
LISTENER = "ears at the desk"
LOUDSPEAKERS = ("left loudspeaker", "right loudspeaker")
TRIES = 12  # places of kit or player looked at for a free way
LEAST_BASE = 1.0  # m between two loudspeakers that still make a stereo picture. Common practice, no source
TRIANGLE = math.sqrt(3.0) / 2.0  # height of an equal-sided triangle to its side


_Set = tuple[tuple[Place, ...], bool, bool]  # places, whether they fit, whether they keep clear
_Judged = tuple[tuple[bool, bool], Layout]  # whether it is not clear, whether no way is found


@lru_cache(maxsize=64)
def layout(brief: Brief, room: Room, openings: tuple[Opening, ...] = (), walk: bool = True) -> Layout:
    """Places for the use: desk and loudspeakers for mixing, and beside the player where the room records; else kit or player alone.

    ``openings``: the room's own door, then the way out. Nothing stands on the floor before them that must stay free, and one walks from
    one to the other: the set-up is moved along its wall or turned to another side, that of the way out last. Without ``walk`` nobody looks
    for the way between, which is quicker. Source: data/acoustics.toml, layout (mostly common practice, no source).
    """
    fronts = _fronts(brief, room, openings)
    last_the_way_out = sorted(fronts, key=lambda each: each == _way_out(openings))
    lacks, found = _best(_arranged(brief, room, front, openings, walk) for front in last_the_way_out)
    return found if not lacks[0] else _arranged(brief, room, fronts[0], openings, walk)[1]


def shapes(placed: Layout) -> tuple[tuple[Place, Shape], ...]:
    """What each place takes of the floor. Source: data/acoustics.toml, layout."""
    return tuple((place, _shape(place, placed.front)) for place in placed.places)


def in_the_way(room: Room, placed: Layout, openings: tuple[Opening, ...]) -> tuple[tuple[str, Opening], ...]:
    """What stands on the floor that must stay free, by name, with the opening that it stands before."""
    return tuple(
        (place.name, opening) for opening in openings for place, shape in shapes(placed) if not shape.clear_of((opening.strip(room),))
    )


def way_is_free(room: Room, placed: Layout, openings: tuple[Opening, ...]) -> bool:
    """Whether one walks from the room's own door, the first opening, to each of the others between what stands in the room."""
    things, passage = [shape for _, shape in shapes(placed)], float(load("acoustics")["layout"]["passage"])
    return all(walkable(room, openings[0].strip(room), other.strip(room), things, passage) for other in openings[1:])


def front_side(brief: Brief, room: Room, openings: tuple[Opening, ...] = ()) -> int:
    """Number of the wall to face: the shorter pair, so that sound goes the long way; of the two the one without door or window, then the
    more solid. Source: common practice, no source (data/acoustics.toml, front_order)."""
    return _fronts(brief, room, openings)[0]


def _fronts(brief: Brief, room: Room, openings: tuple[Opening, ...]) -> list[int]:
    """All four walls, the best to face first."""
    kinds = {side.number: side.kind.value for side in brief.shell.sides}
    order: list[str] = load("acoustics")["layout"]["front_order"]
    pairs = ((4, 2), (1, 3)) if room.length >= room.width else ((1, 3), (4, 2))
    return [
        side
        for pair in pairs
        for side in sorted(pair, key=lambda side: (sum(opening.side == side for opening in openings), order.index(kinds[side])))
    ]


def _way_out(openings: tuple[Opening, ...]) -> int:
    """Number of the side of the way out, 0 without one."""
    return openings[1].side if len(openings) > 1 else 0


def to_room(room: Room, front: int, ahead: float, across: float, height: float) -> Point:
    """Room coordinates [m] of a point ``ahead`` from the front wall and ``across`` from the wall at the left hand of who faces it."""
    places = {
        1: (across, ahead),
        2: (room.length - ahead, across),
        3: (room.length - across, room.width - ahead),
        4: (ahead, room.width - across),
    }
    return (*places[front], height)


def depth_and_breadth(room: Room, front: int) -> tuple[float, float]:
    """The room [m] away from and along the front wall."""
    return (room.length, room.width) if front in (2, 4) else (room.width, room.length)


def _arranged(brief: Brief, room: Room, front: int, openings: tuple[Opening, ...], walk: bool) -> _Judged:
    """The set-up before one wall, off the floor to keep free and out of the way to the way out as far as that goes."""
    use, keep = brief.use, tuple(opening.strip(room) for opening in openings)
    alone, why = ((), True, True), _why(brief, room, front, openings)

    def tried() -> Iterator[_Judged]:
        for places, fits, clear in _desks(room, front, keep) if is_control_room(use) or use.recording else (alone,):
            for player, there, free in (alone,) if is_control_room(use) else _players(use.source, room, front, places, keep):
                found = Layout(front, why, (*places, *player), fits and there, clear and free)
                yield (not found.clear, walk and not way_is_free(room, found, openings)), found

    return _best(tried())


def _best(judged: Iterable[_Judged]) -> _Judged:
    """The first that lacks nothing, else the first that lacks least."""
    best: _Judged | None = None
    for each in judged:
        if best is None or each[0] < best[0]:
            best = each
        if not any(each[0]):
            break
    assert best is not None
    return best


def _shape(place: Place, front: int) -> Shape:
    data: dict[str, Any] = load("acoustics")["layout"]
    x, y, _ = place.point
    if place.name == DESK:
        deep, wide = data["desk_depth"] / 2.0, data["desk_width"] / 2.0
        return Shape(x, y, deep, wide) if front in (2, 4) else Shape(x, y, wide, deep)
    if place.name in LOUDSPEAKERS:
        return Shape(x, y, data["loudspeaker"] / 2.0, data["loudspeaker"] / 2.0)
    radii = {KIT: data["kit_radius"], PLAYER: data["kit_radius"] / 2.0, LISTENER: data["chair_radius"]}
    return Shape(x, y, radius=radii[place.name])


def _desks(room: Room, front: int, keep: tuple[Shape, ...]) -> Iterator[_Set]:
    """Desk, loudspeakers and ears on the centre line; where floor to keep free is in the way, as near to that as is clear of it. Then the
    furthest to either hand. Where nothing is clear, the first all the same.
    """
    data = load("acoustics")["layout"]
    depth, breadth = depth_and_breadth(room, front)
    ears = data["listening_share"] * depth
    widest = min(data["base"], (ears - data["front_clearance"]) / TRIANGLE, breadth - 2.0 * data["side_clearance"])
    deep = ears - data["desk_reach"] >= data["desk_depth"]
    found = []
    for base, shift in _moves(widest, breadth):
        places = _set_up(room, front, base, shift)
        if all(_shape(place, front).clear_of(keep) for place in places):
            found.append((shift, (places, bool(base >= LEAST_BASE and deep), True)))
            if len(found) == 1:
                yield found[0][1]
    if not found:
        yield _set_up(room, front, widest, 0.0), bool(widest >= LEAST_BASE and deep), False
        return
    for shift, each in (min(found, key=lambda one: one[0]), max(found, key=lambda one: one[0])):
        if shift != found[0][0]:
            yield each


def _moves(widest: float, breadth: float) -> Iterator[tuple[float, float]]:
    """Loudspeaker bases and shifts of the set-up along its wall [m] to try, the least change first."""
    data = load("acoustics")["layout"]
    step = float(data["shift"])
    yield widest, 0.0
    found = []
    for n in range(max(0, math.floor((widest - LEAST_BASE) / step + 1e-9)) + 1):
        base = widest - n * step
        room = breadth / 2.0 - max(base / 2.0 + data["side_clearance"], data["desk_width"] / 2.0)
        found += [(n + abs(m), abs(m), -m, base) for m in range(-math.floor(max(room, 0.0) / step), math.floor(max(room, 0.0) / step) + 1)]
    for _, _, back, base in sorted(found):
        yield base, -back * step


def _set_up(room: Room, front: int, base: float, shift: float) -> tuple[Place, ...]:
    """Ears, two loudspeakers and desk, ``shift`` [m] off the centre line to the right of who faces the wall."""
    data = load("acoustics")["layout"]
    depth, breadth = depth_and_breadth(room, front)
    ears, height, line = data["listening_share"] * depth, min(data["ear_height"], room.height), breadth / 2.0 + shift
    places = [Place(LISTENER, to_room(room, front, ears, line, height), data["source_listening"])]
    for name, off in zip(LOUDSPEAKERS, (-0.5, 0.5), strict=True):
        point = to_room(room, front, ears - base * TRIANGLE, line + off * base, height)
        places.append(Place(name, point, "equal sides: loudspeaker to loudspeaker as loudspeaker to ears; tweeters at ear height"))
    where = "on the room's centre line" if not shift else "beside the room's centre line: off the floor to keep free"
    desk = ears - data["desk_reach"] - data["desk_depth"] / 2.0
    places.append(Place(DESK, to_room(room, front, desk, line, 0.0), f"middle of the desk, {where}"))
    return tuple(places)


def _players(source: str, room: Room, front: int, desk: tuple[Place, ...], keep: tuple[Shape, ...]) -> Iterator[_Set]:
    """Kit or player, facing the front wall's way; in the far part of the room where a desk takes the near one.

    Then places clear of the floor to keep free, and of the desk if that goes, the nearest first. Where nothing is clear, the first.
    """
    data = load("acoustics")["layout"]
    depth, breadth = depth_and_breadth(room, front)
    kit = source in data["kits"]
    share = data["kit_share"] if kit else data["player_share"]
    radius = float(data["kit_radius"] if kit else data["kit_radius"] / 2.0)
    ahead = min(max(share * depth, radius), depth - radius)
    if desk:
        ahead = depth - ahead
    across = min(max(data["kit_width_share"] * breadth, radius), breadth - radius)
    behind = not desk or ahead - radius >= data["listening_share"] * depth + 0.5 * radius
    fits = depth >= 2.0 * radius and breadth >= 2.0 * radius and behind
    name = KIT if kit else PLAYER
    usual = Place(name, to_room(room, front, ahead, across, 0.0), "clear of the walls, of the middle and of the centre line")
    clear = _shape(usual, front).clear_of(keep)
    if clear:
        yield (usual,), bool(fits), True
    # The ears keep the distance to the kit that they have on the centre line.
    things = [replace(_shape(place, front), **({"radius": 0.5 * radius} if place.name == LISTENER else {})) for place in desk]
    apart = clear_places(room, usual.point, radius, (*keep, *things))
    moved = apart or clear_places(room, usual.point, radius, keep)
    for at in islice(moved, 0, None, max(1, len(moved) // TRIES)):
        yield (Place(name, (*at, 0.0), "clear of the walls and of the floor to keep free"),), bool(apart), True
    if not clear and not moved:
        yield (usual,), bool(fits), False


def _why(brief: Brief, room: Room, front: int, openings: tuple[Opening, ...]) -> str:
    kind = next(side.kind.value for side in brief.shell.sides if side.number == front)
    if front not in ((4, 2) if room.length >= room.width else (1, 3)):
        longer = "one of the longer walls" if room.length != room.width else "one of two equal pairs of walls"
        return f"side {front} is {longer} ({kind}): before the other pair, door or way out would not stay free"
    shorter = "one of the shorter walls" if room.length != room.width else "one of two equal pairs of walls"
    free = ", without door or window" if openings and not any(opening.side == front for opening in openings) else ""
    return f"side {front} is {shorter}{free} ({kind}): sound goes the long way of the room"
