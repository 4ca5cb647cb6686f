"""Where door and escape stand: the answers give sizes and sides, not places. One suggestion for the figures, the boards and the sound."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.acoustics.layout import KIT, Layout, Opening, layout
from calc.acoustics.reflections import keep_free, reflections
from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.materials.fittings import DOOR_HEIGHT
from calc.scheme import Scheme

# All common practice, no source.
STEP = 0.05  # m; openings are tried this far apart
FROM_CORNER = 0.15  # m from an inner corner to the edge of an opening, and between two: the studs that carry its header
SWING = 1.0  # of the width of a door, kept free before it
PLAYER = 0.5  # m about whoever sits or plays, and about a loudspeaker
DOOR_ORDER = (SideKind.OPEN, SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW, SideKind.PARTY)
ESCAPE_ORDER = (SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW)

Span = tuple[float, float]


@dataclass(frozen=True)
class Placing:
    """The door, the escape where the room has one, and what stands in the room between them."""

    door: Opening
    escape: Opening | None
    brief: Brief
    room: Room

    @property
    def openings(self) -> tuple[Opening, ...]:
        """The room's own door, then the escape."""
        return (self.door,) if self.escape is None else (self.door, self.escape)

    @property
    def layout(self) -> Layout:
        """Worked out when asked, as the boards need the openings alone."""
        return layout(self.brief, self.room, self.openings)


def placing(brief: Brief, room: Room, scheme: Scheme) -> Placing:
    """Door and escape in the inner room of a scheme, where they are best put. Source: geometry; common practice, no source."""
    return _placing(brief, room, scheme.door.area / DOOR_HEIGHT)


def sides_in_order(brief: Brief, order: Sequence[SideKind], front: int) -> list[int]:
    """Numbers of the sides of these kinds, the best kind first, the wall faced last of its kind, the longer before the shorter."""
    sides = [side for side in brief.shell.sides if side.kind in order]
    return [side.number for side in sorted(sides, key=lambda s: (order.index(s.kind), s.number == front, -s.length, s.number))]


def first_free(long: float, wide: float, taken: Sequence[Span], far: bool) -> float:
    """The first free start [m] from one end of a wall; the nearest to that end where none is free, the middle where the wall is short."""
    last = long - wide - FROM_CORNER
    if last <= FROM_CORNER:
        return max((long - wide) / 2.0, 0.0)
    tries = [FROM_CORNER + STEP * n for n in range(int((last - FROM_CORNER) / STEP) + 1)]
    tries = [*reversed([*tries, last])] if far else tries
    return next((start for start in tries if not meets((start, start + wide), taken)), tries[0])


def meets(span: Span, taken: Iterable[Span]) -> bool:
    """Whether a stretch of a wall shares a part with any other."""
    return any(span[0] < end and start < span[1] for start, end in taken)


@lru_cache(maxsize=256)
def _placing(brief: Brief, room: Room, wide: float) -> Placing:
    placed = layout(brief, room, walk=False)
    for _ in range(2):  # a window may turn the wall to face, and that the place of the door
        front = placed.front
        clear = _reflecting(room, placed)
        door = _door(brief, room, wide, placed, clear)
        escape = _escape(brief, room, door, front, clear)
        placed = layout(brief, room, (door,) if escape is None else (door, escape), walk=False)
        if placed.front == front:
            break
    return Placing(door, escape, brief, room)


def _reflecting(room: Room, placed: Layout) -> dict[int, list[Span]]:
    """Stretches of each wall that sound from the loudspeakers strikes first."""
    found: dict[int, list[Span]] = {1: [], 2: [], 3: [], 4: []}
    if min(room.length, room.width, room.height) > 0.0:
        for stretch in keep_free(room, reflections(room, placed)):
            found[stretch.side].append((stretch.start, stretch.end))
    return found


def _door(brief: Brief, room: Room, wide: float, placed: Layout, clear: dict[int, list[Span]]) -> Opening:
    """At the end of an open side that lies away from the wall faced, clear of the first reflections and of what stands in the room."""
    side = sides_in_order(brief, DOOR_ORDER, placed.front)[0]
    long = max(room.side_length(side), 0.0)
    wide = min(wide, long)
    taken = [*clear[side], *_occupied(room, placed, side, wide)]
    return Opening("door", side, first_free(long, wide, taken, _from_far_end(placed.front, side)), wide)


def _occupied(room: Room, placed: Layout, side: int, wide: float) -> list[Span]:
    """Stretches of a wall before which something stands nearer than a door swings."""
    spans: list[Span] = []
    for place in placed.places:
        radius = float(load("acoustics")["layout"]["kit_radius"]) if place.name == KIT else PLAYER
        along = place.point[0] if side in (1, 3) else place.point[1]
        away = {1: place.point[1], 2: room.length - place.point[0], 3: room.width - place.point[1], 4: place.point[0]}[side]
        if away < wide * SWING + radius:
            spans.append((along - radius, along + radius))
    return spans


def _from_far_end(front: int, side: int) -> bool:
    """Whether a wall is tried from its far end: x and y grow away from sides 4 and 1, and a door lies away from the wall faced."""
    return front in (4, 1) if front != side else True


def _escape(brief: Brief, room: Room, door: Opening, front: int, clear: dict[int, list[Span]]) -> Opening | None:
    """As near the middle of a side that rises above ground as the first reflections let it; on the next one where it does not fit."""
    shell, sides = brief.shell, sides_in_order(brief, ESCAPE_ORDER, front)
    if shell.escape not in ("window", "door") or shell.escape_width <= 0.0:
        return None
    for side in sides:
        beside = _beside(door, side)
        for taken in ([*clear[side], *beside], beside):
            start = _near_middle(room.side_length(side), shell.escape_width, taken)
            if start is not None:
                return Opening(shell.escape, side, start, shell.escape_width)
    return _what_is_left(shell.escape, room, door, sides)


def _beside(door: Opening, side: int) -> list[Span]:
    return [(door.start - FROM_CORNER, door.end + FROM_CORNER)] if door.side == side else []


def _near_middle(long: float, wide: float, taken: Sequence[Span]) -> float | None:
    """The free start nearest to the middle of a wall [m]; None where there is none."""
    middle = (long - wide) / 2.0
    if middle < 0.0:
        return None
    low = min(FROM_CORNER, middle)
    tries = [middle, *(low + STEP * n for n in range(int((long - wide - 2.0 * low) / STEP) + 1))]
    return next((s for s in sorted(tries, key=lambda s: abs(s - middle)) if not meets((s, s + wide), taken)), None)


def _what_is_left(kind: str, room: Room, door: Opening, sides: Sequence[int]) -> Opening | None:
    """An escape wider than any wall has room for, as wide as it can be drawn beside the door; None where nothing is left."""
    gaps: list[tuple[float, float, int]] = []
    for side in sides:
        long, beside = room.side_length(side), _beside(door, side)
        ends = [(0.0, beside[0][0]), (beside[0][1], long)] if beside else [(0.0, long)]
        gaps += [(end - start, start, side) for start, end in ends if end > start]
    if not gaps:
        return None
    wide, start, side = max(gaps, key=lambda gap: gap[0])
    return Opening(kind, side, start, wide)
