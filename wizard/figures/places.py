"""Where door, escape window, ducts and obstructions are drawn: the answers give sizes and sides, not places, so places are suggestions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calc.acoustics.layout import KIT, Layout, Opening, layout
from calc.acoustics.reflections import keep_free, reflections
from calc.assess import Assessment
from calc.brief import Obstruction, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.duct_way import Box, DuctSize, box, duct_size
from calc.materials.fittings import DOOR_HEIGHT

STEP = 0.05  # m; openings are tried this far apart
FROM_CORNER = 0.15  # m from an inner corner to the edge of a door
DOOR_ORDER = (SideKind.OPEN, SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW, SideKind.PARTY)
AIR_ORDER = DOOR_ORDER
OUT_ORDER = (SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW, SideKind.OPEN, SideKind.PARTY)
SWING = 1.0  # of the width of a door, kept free before it

Span = tuple[float, float]


@dataclass(frozen=True)
class Duct:
    """One way through the shell: its middle [m] along the inner wall of ``side``; supply or extract."""

    name: str
    side: int
    middle: float


@dataclass(frozen=True)
class Overhead:
    """An obstruction over the shell: a rectangle in shell coordinates [m]."""

    thing: Obstruction
    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True)
class Places:
    """``offset``: the inner room's corner of sides 4 and 1 in the shell [m]; ``lost`` thickness by side."""

    room: Room
    lost: dict[int, float]
    layout: Layout
    door: Opening
    escape: Opening | None
    ducts: tuple[Duct, ...]
    size: DuctSize
    silencer: Box | None
    overhead: tuple[Overhead, ...]

    @property
    def offset(self) -> tuple[float, float]:
        return self.lost[4], self.lost[1]


def places(a: Assessment) -> Places:
    """Everything that the plan and the sections draw at a place of its own."""
    shell, room = a.brief.shell, a.room
    lost = {side.number: a.scheme.wall(side.kind).thickness for side in shell.sides}
    placed = layout(a.brief, room)
    for _ in range(2):  # a window may turn the wall to face, and that the place of the door
        door = _door(a, placed)
        escape = _escape(a, placed, door)
        openings = (door,) if escape is None else (door, escape)
        placed = layout(a.brief, room, openings)
    size = duct_size(a.brief, a.scheme.air_path)
    made = box(size, a.scheme.air_path)
    ducts = _ducts(a, size, made, openings)
    return Places(room, lost, placed, door, escape, ducts, size, made, _overhead(a, lost))


def _sides(a: Assessment, order: tuple[SideKind, ...], front: int) -> list[int]:
    """Side numbers, the best kind first, the wall faced last of its kind, the longer before the shorter."""
    return [
        side.number for side in sorted(a.brief.shell.sides, key=lambda s: (order.index(s.kind), s.number == front, -s.length, s.number))
    ]


def _door(a: Assessment, placed: Layout) -> Opening:
    """At the end of an open side that lies away from the wall faced, clear of the first reflections."""
    side = _sides(a, DOOR_ORDER, placed.front)[0]
    wide, long = a.scheme.door.area / DOOR_HEIGHT, a.room.side_length(side)
    taken = [*_reflecting(a.room, placed, side), *_occupied(a.room, placed, side, wide)]
    return Opening("door", side, _start(long, wide, taken, _from_far_end(placed.front, side)), wide)


def _escape(a: Assessment, placed: Layout, door: Opening) -> Opening | None:
    shell = a.brief.shell
    if shell.escape not in ("window", "door") or shell.escape_width <= 0.0:
        return None
    kinds = {side.number: side.kind for side in shell.sides}
    sides = [n for n in _sides(a, OUT_ORDER, placed.front) if kinds[n] not in (SideKind.OPEN, SideKind.PARTY)]
    if not sides:
        return None
    side, wide = sides[0], shell.escape_width
    long = a.room.side_length(side)
    taken = [*_reflecting(a.room, placed, side), *([(door.start, door.end)] if door.side == side else [])]
    middle = (long - wide) / 2.0
    tries = sorted(
        (FROM_CORNER + STEP * n for n in range(int(max(long - wide - 2.0 * FROM_CORNER, 0.0) / STEP) + 1)), key=lambda s: abs(s - middle)
    )
    start = next((s for s in tries if not _hits((s, s + wide), taken)), max(middle, 0.0))
    return Opening(shell.escape, side, start, min(wide, long))


def _reflecting(room: Room, placed: Layout, side: int) -> list[Span]:
    return [(s.start, s.end) for s in keep_free(room, reflections(room, placed)) if s.side == side]


def _occupied(room: Room, placed: Layout, side: int, wide: float) -> list[Span]:
    """Stretches of a wall before which something stands nearer than a door swings."""
    data = load("acoustics")["layout"]
    spans: list[Span] = []
    for place in placed.places:
        radius = float(data["kit_radius"]) if place.name == KIT else 0.5
        along = place.point[0] if side in (1, 3) else place.point[1]
        away = {1: place.point[1], 2: room.length - place.point[0], 3: room.width - place.point[1], 4: place.point[0]}[side]
        if away < wide * SWING + radius:
            spans.append((along - radius, along + radius))
    return spans


def _from_far_end(front: int, side: int) -> bool:
    """Whether a wall is tried from its far end: x and y grow away from sides 4 and 1, and a door lies away from the wall faced."""
    return front in (4, 1) if front != side else True


def _start(long: float, wide: float, taken: list[Span], far: bool) -> float:
    """The first free start from one end; the nearest to that end where none is free."""
    last = max(long - wide - FROM_CORNER, 0.0)
    tries = [FROM_CORNER + STEP * n for n in range(int((last - FROM_CORNER) / STEP) + 1)] if last > FROM_CORNER else []
    tries = [*reversed([*tries, last])] if far else tries or [0.0]
    return next((start for start in tries if not _hits((start, start + wide), taken)), tries[0])


def _hits(span: Span, taken: Iterable[Span]) -> bool:
    return any(span[0] < end and start < span[1] for start, end in taken)


def _ducts(a: Assessment, size: DuctSize, made: Box | None, openings: tuple[Opening, ...]) -> tuple[Duct, ...]:
    """Supply at one end of a wall and extract at the other, clear of door, window and each other's boxes.

    Boxes stand in the rest of the basement where there is one, whatever the ducts lead to; on the next such side where one is full.
    """
    sides = _sides(a, AIR_ORDER, 0)
    best = next(side.kind for side in a.brief.shell.sides if side.number == sides[0])
    sides = [n for n in sides if any(side.number == n and side.kind is best for side in a.brief.shell.sides)]
    need = (made.outside[0] if made else size.casing) + 0.05
    taken = {n: [(o.start - 0.1, o.end + 0.1) for o in openings if o.side == n] for n in sides}
    found: list[Duct] = []
    for n in range(size.runs):
        for name, far in (("supply", False), ("extract", True)):
            starts = {side: _start(a.room.side_length(side), need, taken[side], far) for side in sides}
            free = [side for side, start in starts.items() if not _hits((start, start + need), taken[side])]
            side = (free or sides)[0]
            taken[side].append((starts[side], starts[side] + need))
            found.append(Duct(name if size.runs == 1 else f"{name} {n + 1}", side, starts[side] + need / 2.0))
    return tuple(found)


def _overhead(a: Assessment, lost: dict[int, float]) -> tuple[Overhead, ...]:
    """Beams, ducts and pipes along the longer way, side by side; one at the side lies along side 1 or 4."""
    shell = a.brief.shell
    along_x = shell.length >= shell.width
    low, high = (lost[1], shell.width - lost[3]) if along_x else (lost[4], shell.length - lost[2])
    loose = [thing for thing in shell.obstructions if thing.place != "side"]
    found, edge = [], low
    for thing in shell.obstructions:
        if thing.place == "side":
            start, edge = edge, edge + thing.width
        else:
            start = low + (high - low) * (loose.index(thing) + 1) / (len(loose) + 1) - thing.width / 2.0
        long = min(thing.length or 99.0, shell.length if along_x else shell.width)
        found.append(
            Overhead(thing, 0.0, start, long, start + thing.width) if along_x else Overhead(thing, start, 0.0, start + thing.width, long)
        )
    return tuple(found)
