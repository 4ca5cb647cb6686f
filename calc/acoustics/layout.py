"""Where desk, loudspeakers, ears, kit or player stand in the room."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

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
    """``front`` is the number of the wall faced; ``places`` in the order to set them up; ``fits`` False where the room is too small."""

    front: int
    why: str
    places: tuple[Place, ...]
    fits: bool

    def point(self, name: str) -> Point:
        """Where a place is. Raises KeyError for a name that is not there."""
        return {place.name: place.point for place in self.places}[name]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(place.name for place in self.places)


KIT = "middle of the drum kit"
LISTENER = "ears at the desk"
LOUDSPEAKERS = ("left loudspeaker", "right loudspeaker")


def layout(brief: Brief, room: Room, openings: tuple[Opening, ...] = ()) -> Layout:
    """Places for the use: desk and loudspeakers for mixing, and beside the player where the room records; else kit or player alone.

    Source: data/acoustics.toml, layout (mostly common practice, no source).
    """
    front = front_side(brief, room, openings)
    desk = is_control_room(brief.use) or brief.use.recording
    places: tuple[Place, ...] = ()
    fits = True
    if desk:
        places, fits = _desk(room, front)
    if not is_control_room(brief.use):
        player, there = _player(brief.use.source, room, front, behind_desk=desk)
        places, fits = (*places, player), fits and there
    return Layout(front, _why(brief, room, front, openings), places, fits)


def front_side(brief: Brief, room: Room, openings: tuple[Opening, ...] = ()) -> int:
    """Number of the wall to face: the shorter pair, so that sound goes the long way; of the two the one without door or window, then the
    more solid. Source: common practice, no source (data/acoustics.toml, front_order)."""
    kinds = {side.number: side.kind.value for side in brief.shell.sides}
    order: list[str] = load("acoustics")["layout"]["front_order"]
    pair = (4, 2) if room.length >= room.width else (1, 3)
    return min(pair, key=lambda side: (sum(opening.side == side for opening in openings), order.index(kinds[side])))


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


def _desk(room: Room, front: int) -> tuple[tuple[Place, ...], bool]:
    data = load("acoustics")["layout"]
    depth, breadth = depth_and_breadth(room, front)
    ears, height = data["listening_share"] * depth, min(data["ear_height"], room.height)
    triangle = float(np.sqrt(3.0) / 2.0)
    base = min(data["base"], (ears - data["front_clearance"]) / triangle, breadth - 2.0 * data["side_clearance"])
    desk = ears - data["desk_reach"] - data["desk_depth"] / 2.0
    places = [Place(LISTENER, to_room(room, front, ears, breadth / 2.0, height), data["source_listening"])]
    for name, off in zip(LOUDSPEAKERS, (-0.5, 0.5), strict=True):
        point = to_room(room, front, ears - base * triangle, breadth / 2.0 + off * base, height)
        places.append(Place(name, point, "equal sides: loudspeaker to loudspeaker as loudspeaker to ears; tweeters at ear height"))
    places.append(Place("desk", to_room(room, front, desk, breadth / 2.0, 0.0), "middle of the desk, on the room's centre line"))
    return tuple(places), bool(base >= 1.0 and desk >= data["desk_depth"] / 2.0)


def _player(source: str, room: Room, front: int, behind_desk: bool) -> tuple[Place, bool]:
    """Kit or player, facing the front wall's way; in the far part of the room where a desk takes the near one."""
    data = load("acoustics")["layout"]
    depth, breadth = depth_and_breadth(room, front)
    kit = source in data["kits"]
    share = data["kit_share"] if kit else data["player_share"]
    radius = data["kit_radius"] if kit else data["kit_radius"] / 2.0
    ahead = min(max(share * depth, radius), depth - radius)
    if behind_desk:
        ahead = depth - ahead
    across = min(max(data["kit_width_share"] * breadth, radius), breadth - radius)
    clear = not behind_desk or ahead - radius >= data["listening_share"] * depth + 0.5 * radius
    fits = depth >= 2.0 * radius and breadth >= 2.0 * radius and clear
    name = KIT if kit else "player"
    return Place(name, to_room(room, front, ahead, across, 0.0), "clear of the walls, of the middle and of the centre line"), fits


def _why(brief: Brief, room: Room, front: int, openings: tuple[Opening, ...]) -> str:
    kind = next(side.kind.value for side in brief.shell.sides if side.number == front)
    shorter = "one of the shorter walls" if room.length != room.width else "one of two equal pairs of walls"
    free = ", without door or window" if openings and not any(opening.side == front for opening in openings) else ""
    return f"side {front} is {shorter}{free} ({kind}): sound goes the long way of the room"
