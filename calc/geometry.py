"""The inner room that a scheme leaves inside the shell."""

from __future__ import annotations

from dataclasses import dataclass

from calc.brief import Brief, SideKind
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


def side_kinds(brief: Brief) -> tuple[SideKind, ...]:
    """The kinds of side this shell has, in a fixed order."""
    present = {side.kind for side in brief.shell.sides}
    return tuple(kind for kind in SideKind if kind in present)
