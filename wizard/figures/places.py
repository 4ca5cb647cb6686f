"""Where ducts and obstructions are drawn, beside door and escape (calc.placing): the answers give no places, so they are suggestions."""

from __future__ import annotations

from dataclasses import dataclass

from calc.acoustics.layout import Layout, Opening
from calc.assess import Assessment
from calc.brief import Obstruction
from calc.geometry import Room
from calc.headroom import soffit_layers
from calc.isolation.duct_way import Box, DuctSize, box, duct_size
from calc.placing import DOOR_ORDER, first_free, meets, placing, sides_in_order

AIR_ORDER = DOOR_ORDER  # boxes too want the rest of the basement


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
    placed = placing(a.brief, room, a.scheme)
    size = duct_size(a.brief, a.scheme.air_path)
    made = box(size, a.scheme.air_path)
    ducts = _ducts(a, size, made, placed.openings)
    return Places(room, lost, placed.layout, placed.door, placed.escape, ducts, size, made, _overhead(a, lost))


def boxed(a: Assessment) -> list[Obstruction]:
    """What hangs so low that a soffit is built round it; a slope needs none."""
    down, lid = sum(layer.thickness for layer in soffit_layers()), a.brief.shell.height - a.scheme.lid.height_taken
    return [thing for thing in a.brief.shell.obstructions if thing.underside - down < lid and thing.kind != "slope"]


def _ducts(a: Assessment, size: DuctSize, made: Box | None, openings: tuple[Opening, ...]) -> tuple[Duct, ...]:
    """Supply at one end of a wall and extract at the other, clear of door, window and each other's boxes.

    Boxes stand in the rest of the basement where there is one, whatever the ducts lead to; on the next such side where one is full.
    """
    sides = sides_in_order(a.brief, AIR_ORDER, 0)
    best = next(side.kind for side in a.brief.shell.sides if side.number == sides[0])
    sides = [n for n in sides if any(side.number == n and side.kind is best for side in a.brief.shell.sides)]
    need = (made.outside[0] if made else size.casing) + 0.05
    taken = {n: [(o.start - 0.1, o.end + 0.1) for o in openings if o.side == n] for n in sides}
    found: list[Duct] = []
    for n in range(size.runs):
        for name, far in (("supply", False), ("extract", True)):
            starts = {side: first_free(a.room.side_length(side), need, taken[side], far) for side in sides}
            free = [side for side, start in starts.items() if not meets((start, start + need), taken[side])]
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
        long = thing.run(shell.length if along_x else shell.width)
        found.append(
            Overhead(thing, 0.0, start, long, start + thing.width) if along_x else Overhead(thing, start, 0.0, start + thing.width, long)
        )
    return tuple(found)
