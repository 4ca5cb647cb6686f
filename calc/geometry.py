"""The inner room that a scheme leaves inside the shell."""

from __future__ import annotations

from dataclasses import dataclass

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.option_parts import layers_of
from calc.scheme import Scheme


@dataclass(frozen=True)
class Room:
    """Inner dimensions m, areas m2, volume m3.

    ``height`` is finished floor to finished ceiling in the open field, over the highest spot of the slab.
    """

    length: float
    width: float
    height: float

    @property
    def floor_area(self) -> float:
        return self.length * self.width

    @property
    def volume(self) -> float:
        return self.floor_area * self.height

    @property
    def perimeter(self) -> float:
        return 2.0 * (self.length + self.width)

    @property
    def wall_area(self) -> float:
        """All four walls, doors not deducted."""
        return self.perimeter * self.height

    def side_length(self, number: int) -> float:
        """Inner length of side 1..4; 1 and 3 run along the length."""
        return self.length if number in (1, 3) else self.width

    def side_area(self, number: int) -> float:
        return self.side_length(number) * self.height


def inner_room(brief: Brief, scheme: Scheme) -> Room:
    """Room left inside the shell by the walls, lid and floor of a scheme.

    On an open side the shell's length and width include the new wall, so its whole thickness is lost to the room.
    Source: geometry; the owner's measurements.
    """
    lost = {side.number: scheme.wall(side.kind).thickness for side in brief.shell.sides}
    return Room(
        length=brief.shell.length - lost[2] - lost[4],
        width=brief.shell.width - lost[1] - lost[3],
        height=brief.shell.height - brief.shell.slab_unevenness - scheme.lid.height_taken - scheme.floor.height_taken,
    )


def lid_over(brief: Brief, scheme: Scheme) -> dict[int, float]:
    """How far the lid runs over the walls, by side [m]: to what their boards are fixed to, as these are hung after it and meet it from
    below; to the frames where they carry joists of its own. Source: geometry; the order of work in data/tasks.toml.
    """
    own, found = scheme.lid.own_joist_depth > 0.0, {}
    for side in brief.shell.sides:
        wall = scheme.wall(side.kind)
        boards = sum(layer.thickness for layer in layers_of(wall.inner_plies, wall.damped))
        found[side.number] = boards + (float(load("options")["wall"]["support"][wall.support]) if own else 0.0)
    return found


def lid_extent(brief: Brief, scheme: Scheme) -> Room:
    """The room as large as its lid. Source: as ``lid_over``."""
    room, over = inner_room(brief, scheme), lid_over(brief, scheme)
    return Room(room.length + over[2] + over[4], room.width + over[1] + over[3], room.height)


@dataclass(frozen=True)
class FrameRuns:
    """Lengths [m] of a side's frame between its ends: of the row next to the room and, where there are two rows, of the one behind."""

    near: float
    far: float


def frame_runs(brief: Brief, scheme: Scheme) -> dict[int, FrameRuns]:
    """How long the frame of each side is. Those of sides 1 and 3 run past the others, up to what stands behind these; those of sides 2 and
    4 stand between them, up to what their boards are fixed to. Source: geometry; the detail of the corner.
    """
    behind, row, depth = {}, {}, {}
    for side in brief.shell.sides:
        wall = scheme.wall(side.kind)
        row[side.number] = sum(ply.thickness for ply in wall.outer_plies) + (wall.stud_depth if wall.two_rows else 0.0)
        behind[side.number] = row[side.number] + wall.gap
        depth[side.number] = wall.thickness - sum(layer.thickness for layer in layers_of(wall.inner_plies, wall.damped))
    through = FrameRuns(brief.shell.length - behind[2] - behind[4], brief.shell.length)
    between = FrameRuns(brief.shell.width - depth[1] - depth[3], brief.shell.width - row[1] - row[3])
    return {1: through, 2: between, 3: through, 4: between}


def side_kinds(brief: Brief) -> tuple[SideKind, ...]:
    """The kinds of side this shell has, in a fixed order."""
    present = {side.kind for side in brief.shell.sides}
    return tuple(kind for kind in SideKind if kind in present)
