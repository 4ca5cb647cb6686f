"""The faces that get boards: their size, what they are screwed to, and the openings in them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.brief import Brief, Side, SideKind
from calc.geometry import Room
from calc.materials import quantities as q
from calc.materials.fittings import DOOR_HEIGHT
from calc.materials.lid import soffit_boards, soffits
from calc.materials.surface import BASE_PLY_SCREWS, LID_SCREWS, WALL_SCREWS
from calc.scheme import LidOption, Ply, Scheme, WallOption

FROM_CORNER = 0.6  # m between a corner and the door's rough opening: leaves room for furniture or an absorber. Common practice, no source
ROUGH = 0.025  # m at head and jambs between a door leaf's own size and the hole in the boards. Common practice, no source
# A 16, 24 or 48 in grid, which metric tables round to the millimetre: sheets of 4 x 8 ft land on it.
INCH_GRIDS = (0.4064, 0.6096, 1.2192)

OPEN_FIRST = (SideKind.OPEN, SideKind.PARTY, SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW)
WINDOW_FIRST = (SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW, SideKind.OPEN, SideKind.PARTY)


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
    from their corner. ``framing`` [m] is the spacing of what carries the boards (0: a subfloor, anywhere), ``members`` how it runs:
    "upright" (along y) or "level". ``screws`` [m] along the framing in the last ply.
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


def grid(spacing: float) -> float:
    """A spacing [m] with the rounding of metric tables taken back."""
    return next((each for each in INCH_GRIDS if abs(each - spacing) < 0.001), spacing)


def door_side(brief: Brief) -> Side:
    """The side that gets the door, assumed as nobody says: the longest open one, else the next best kind."""
    return min(brief.shell.sides, key=lambda side: (OPEN_FIRST.index(side.kind), -side.length, side.number))


def window_side(brief: Brief) -> Side | None:
    """The side with the escape window, assumed as nobody says: the longest one that rises above ground; None without a window."""
    if brief.shell.escape != "window" or brief.shell.escape_width <= 0.0 or brief.shell.escape_height <= 0.0:
        return None
    return min(brief.shell.sides, key=lambda side: (WINDOW_FIRST.index(side.kind), -side.length, side.number))


def openings(brief: Brief, room: Room, scheme: Scheme, side: int) -> tuple[Hole, ...]:
    """Openings in the inner face of a side [m]: the door near the first corner, the escape window in the middle of what is left."""
    length, top = room.side_length(side), _boarded_height(room, scheme)
    found: list[Hole] = []
    free_from = 0.0
    if door_side(brief).number == side:
        width = min(scheme.door.area / DOOR_HEIGHT + 2.0 * ROUGH, length)
        start = min(FROM_CORNER, max(0.0, (length - width) / 2.0))
        found.append(Hole("door", start, 0.0, width, min(DOOR_HEIGHT + ROUGH + scheme.floor.height_taken, top)))
        free_from = start + width
    window = window_side(brief)
    if window is not None and window.number == side:
        width = min(brief.shell.escape_width, max(0.0, length - free_from))
        sill = min(brief.shell.escape_sill, top)
        height = min(brief.shell.escape_height, top - sill)
        if width > 0.0 and height > 0.0:
            found.append(Hole("window", (free_from + length - width) / 2.0, sill, width, height))
    return tuple(found)


def _boarded_height(room: Room, scheme: Scheme) -> float:
    """Boards stand on the slab (an edge bead apart), before the floor is laid [m]."""
    return room.height + scheme.floor.height_taken


def faces(brief: Brief, room: Room, scheme: Scheme) -> tuple[Face, ...]:
    """All faces with boards in the order they are built; those without size or boards left out. ``room`` is that of the scheme."""
    found = [lid_face(brief, room, scheme.lid), *soffit_faces(brief, room, scheme.lid)]
    for side in brief.shell.sides:
        found += wall_faces(brief, room, scheme, side)
    return tuple(face for face in found if face.plies and min(face.width, face.height) > 0.01)


def lid_face(brief: Brief, room: Room, option: LidOption) -> Face:
    """The lid. Joists span the shorter side, channel runs along the longer one."""
    longer_is_x = room.length >= room.width
    along_longer = option.support in ("resilient channel", "isolation clip", "furring channel")
    spacing = option.support_spacing if option.support != "absent" else brief.shell.joists.spacing
    members = "level" if along_longer == longer_is_x else "upright"
    return Face("lid", room.length, room.width, grid(spacing), members, LID_SCREWS, option.plies, turned=False)


def soffit_faces(brief: Brief, room: Room, option: LidOption) -> list[Face]:
    """Two sides and the bottom of each box round what hangs below the lid, laid out along the room."""
    found = []
    for soffit in soffits(brief, option):
        for part, height in (("side", soffit.side), ("bottom", soffit.width), ("side", soffit.side)):
            found.append(Face(f"{soffit.where}, {part}", room.length, height, grid(soffit.step), "upright", LID_SCREWS, soffit_boards()))
    return found


def wall_faces(brief: Brief, room: Room, scheme: Scheme, side: Side) -> list[Face]:
    """The inner face of a side, and the outer one where the wall has boards there."""
    option = scheme.wall(side.kind)
    name, holes = f"wall on side {side.number}", openings(brief, room, scheme, side.number)
    channel = option.support in ("resilient channel", "isolation clip")
    spacing = option.support_spacing if channel else _studs(option)
    members = "level" if channel else "upright"
    inner = Face(
        name, room.side_length(side.number), _boarded_height(room, scheme), grid(spacing), members, WALL_SCREWS, option.inner_plies, holes,
        side=side.number,
    )  # fmt: skip
    if not option.outer_plies:
        return [inner]
    shift = (side.length - inner.width) / 2.0
    outer = Face(
        f"outer face of the {name}", side.length, brief.shell.height, grid(_studs(option)), "upright", WALL_SCREWS, option.outer_plies,
        tuple(replace(hole, x=hole.x + shift) for hole in holes if hole.kind == "door"), side=side.number,
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
    name = "between the joists, against the subfloor"
    return Face(name, short, bays * joists.spacing, 0.0, "level", LID_SCREWS, option.between_joists, holes)
