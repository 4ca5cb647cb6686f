"""The faces that get boards: their size, what they are screwed to, and the openings in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.acoustics.layout import Opening
from calc.brief import Brief, Side
from calc.geometry import Room, lid_extent
from calc.materials import quantities as q
from calc.materials.fittings import DOOR_HEIGHT
from calc.materials.screws import BETWEEN
from calc.materials.soffit import soffit_boards, soffits
from calc.materials.surface import BASE_PLY_SCREWS, LID_SCREWS, WALL_SCREWS
from calc.placing import placing
from calc.scheme import LidOption, Ply, Scheme, WallOption
from calc.structure.clip import INCH_GRIDS, inch_grid

ROUGH = 0.025  # m at head and jambs between a door leaf's own size and the hole in the boards. Common practice, no source


@dataclass(frozen=True)
class Hole:
    """An opening in a face: ``x`` from the face's left end, ``y`` from its foot [m]."""

    kind: str  # door | window | joist
    x: float
    y: float
    width: float
    height: float

    def shared(self, other: Hole) -> float:
        """Area that two rectangles share [m2]."""
        wide = min(self.x + self.width, other.x + other.width) - max(self.x, other.x)
        high = min(self.y + self.height, other.y + other.height) - max(self.y, other.y)
        return max(0.0, wide) * max(0.0, high)


@dataclass(frozen=True)
class Face:
    """One surface seen from the side that the boards are put on, ``width`` along x and ``height`` along y [m].

    A wall: x from the corner with side 4 (on sides 2 and 4: with side 1), y up from the slab. The lid: x along side 1, y along side 4
    from its corner there, over the wall boards. ``framing`` [m] is the spacing of what carries the boards (0: a subfloor, anywhere),
    ``members`` how it runs: "upright" (along y) or "level". ``screws`` [m] along the framing in the last ply.
    """

    name: str
    width: float
    height: float
    framing: float
    members: str
    screws: float
    plies: tuple[Ply, ...]
    holes: tuple[Hole, ...] = ()
    turned: bool = True  # boards may also run along the framing where one reaches from end to end
    side: int = 0  # of the shell; 0 for lid and soffits

    def screw_step(self, ply: int) -> float:
        """Screw spacing [m] of a ply, counted from 1."""
        return self.screws if ply == len(self.plies) or self.framing <= 0.0 else BASE_PLY_SCREWS


def holes(brief: Brief, room: Room, scheme: Scheme, side: int, openings: Sequence[Opening]) -> tuple[Hole, ...]:
    """Openings in the inner face of a side [m]: the room's own door (the first of them), the escape by its own sizes."""
    length, top = room.side_length(side), _boarded_height(room, scheme)
    found: list[Hole] = []
    for number, opening in enumerate(openings):
        if opening.side != side:
            continue
        start, end = max(0.0, opening.start - ROUGH), min(length, opening.end + ROUGH)
        if number == 0:
            foot, high = 0.0, DOOR_HEIGHT + ROUGH + scheme.floor.height_taken
        else:
            foot = 0.0 if opening.kind == "door" else min(brief.shell.escape_sill, top)
            high = foot + brief.shell.escape_height
        if end - start > 0.01 and min(high, top) - foot > 0.01:
            found.append(Hole(opening.kind, start, foot, end - start, min(high, top) - foot))
    return tuple(found)


def _boarded_height(room: Room, scheme: Scheme) -> float:
    """Boards stand on the slab (an edge bead apart), before the floor is laid [m]."""
    return room.height + scheme.floor.height_taken


def faces(brief: Brief, room: Room, scheme: Scheme, openings: Sequence[Opening] | None = None) -> tuple[Face, ...]:
    """All faces with boards in the order they are built; those without size or boards left out. ``room`` is that of the scheme.

    ``openings``: the room's own door, then the escape, where they are to be; None takes those of calc.placing.
    """
    cut_out = placing(brief, room, scheme).openings if openings is None else openings
    found = [lid_face(brief, lid_extent(brief, scheme), scheme.lid), *soffit_faces(brief, room, scheme.lid)]
    for side in brief.shell.sides:
        found += wall_faces(brief, room, scheme, side, cut_out)
    return tuple(face for face in found if face.plies and min(face.width, face.height) > 0.01)


def lid_face(brief: Brief, extent: Room, option: LidOption) -> Face:
    """The lid, ``extent`` as large as it (geometry.lid_extent). Joists span the shorter side, channel runs along the longer one."""
    longer_is_x = extent.length >= extent.width
    along_longer = option.support in ("resilient channel", "isolation clip", "furring channel")
    spacing = option.support_spacing if option.support != "absent" else brief.shell.joists.spacing
    members = "level" if along_longer == longer_is_x else "upright"
    return Face("lid", extent.length, extent.width, inch_grid(spacing), members, LID_SCREWS, option.plies, turned=False)


def soffit_faces(brief: Brief, room: Room, option: LidOption) -> list[Face]:
    """Two sides and the bottom of each box round what hangs below the lid, laid out along it, and its end where it stops short."""
    found = []
    for soffit in soffits(brief, room, option):
        long, wide, side = soffit.length, soffit.width, soffit.side
        parts = [("side", long, side), ("bottom", long, wide), ("side", long, side), *[("end", wide, side)] * soffit.ends]
        for part, width, height in parts:
            found.append(Face(f"{soffit.where}, {part}", width, height, inch_grid(soffit.step), "upright", LID_SCREWS, soffit_boards()))
    return found


def wall_faces(brief: Brief, room: Room, scheme: Scheme, side: Side, openings: Sequence[Opening]) -> list[Face]:
    """The inner face of a side, and the outer one where the wall has boards there."""
    option = scheme.wall(side.kind)
    name, cut_out = f"wall on side {side.number}", holes(brief, room, scheme, side.number, openings)
    channel = option.support in ("resilient channel", "isolation clip")
    spacing = option.support_spacing if channel else _studs(option)
    members = "level" if channel else "upright"
    inner = Face(
        name, room.side_length(side.number), _boarded_height(room, scheme), inch_grid(spacing), members, WALL_SCREWS, option.inner_plies,
        cut_out, side=side.number,
    )  # fmt: skip
    if not option.outer_plies:
        return [inner]
    shift = (side.length - inner.width) / 2.0
    outer = Face(
        f"outer face of the {name}", side.length, brief.shell.height, inch_grid(_studs(option)), "upright", WALL_SCREWS, option.outer_plies,
        tuple(replace(hole, x=hole.x + shift) for hole in cut_out if hole.y <= 0.0), side=side.number,
    )  # fmt: skip
    return [inner, outer]


def _studs(option: WallOption) -> float:
    return option.stud_spacing if option.stud_spacing > 0.0 else INCH_GRIDS[0]


def bay_face(brief: Brief, option: LidOption) -> Face:
    """The subfloor seen from below: boards between the joists, the joists as holes. x runs along the joists."""
    joists, (short, long) = brief.shell.joists, sorted((brief.shell.length, brief.shell.width))
    bays = q.whole(long / joists.spacing)
    clear = joists.spacing - joists.breadth
    holes = tuple(Hole("joist", 0.0, n * joists.spacing + clear, short, joists.breadth) for n in range(bays))
    return Face(BETWEEN, short, bays * joists.spacing, 0.0, "level", LID_SCREWS, option.between_joists, holes)
