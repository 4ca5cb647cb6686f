"""Take-off of the ceiling: boards between the joists, fill, channel or own joists, plies, soffits."""

from __future__ import annotations

from functools import lru_cache

from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.materials import quantities as q
from calc.materials.items import board_item, item, lumber_item, screw_item
from calc.materials.line import Line, cut, line, run
from calc.materials.screws import BETWEEN
from calc.materials.soffit import box_lines
from calc.materials.support import room_behind
from calc.materials.surface import (
    LID_EFFORT,
    LID_SCREWS,
    bead,
    board_lines,
    fill_lines,
    support_lines,
)
from calc.scheme import LidOption, Ply

SUBFLOOR_PENETRATION = 0.0095  # m, 3/8 in: must end inside a subfloor of 15 mm. Common practice, no source
BAY_EFFORT = 2.0  # boards cut to fit a bay take twice the work of whole sheets. Common practice, no source
BEARING = 0.1  # m, of an own joist on a wall: the depth of a stud
CLEAT = 0.019  # m, thickness of a cleat on the side of a joist
CLEAT_BITE = 0.030  # m into a joist 38 mm wide: it must not come out on the other side. Common practice, no source
HANGER_STEP = 0.4064  # m along a bay between wires that hold the fill. Common practice, no source
END_BLOCK = 0.15  # m, beside an own joist, clear of the existing one in the next half bay. Common practice, no source


def lid_lines(brief: Brief, room: Room, option: LidOption, extent: Room | None = None) -> tuple[Line, ...]:
    """Everything of a ceiling, soffits round obstructions included. Raises ValueError when the catalogue lacks a part.

    Joists are taken to span the shorter side; channel then runs along the longer one. ``extent`` is as large as the lid
    (geometry.lid_extent); None takes the room's own size, for want of the walls.
    """
    joists, over = brief.shell.joists, extent or room
    area = over.floor_area
    own = option.support == "independent joists"
    steel = option.support in ("resilient channel", "isolation clip")
    framing = option.support_spacing if option.support != "absent" else joists.spacing
    found = list(_between_joists(joists.spacing, joists.breadth, *sorted((brief.shell.length, brief.shell.width)), option.between_joists))
    if own:
        found += _own_joists(over, option)
    across, along = sorted((over.length, over.width))  # rows are set out where the boards are
    found += support_lines(option.support, "lid", across, along, option.support_spacing, option.clip_spacing, joists.spacing)
    bay = option.support_spacing if own else joists.spacing
    found += fill_lines(option.fill, option.fill_thickness, "between the joists of the lid", area, bay)
    if option.fill != "none" and option.fill_thickness > 0.0:
        # A wire that springs between an old joist and a new one would tie the two.
        held = ("fill_netting", area) if lies_between(option) else ("fill_hanger", q.whole(area / (bay * HANGER_STEP)))
        found.append(line(held[0], "between the joists of the lid", held[1]))
    found += board_lines(
        option.plies, "lid", area, over.perimeter, framing, LID_SCREWS, steel, option.damped, LID_EFFORT, room_behind(option.support)
    )
    found += box_lines(brief, room, option)
    return (*found, *_lift_lines(len(option.plies)))


def _lift_lines(plies: int) -> list[Line]:
    """A hire of the board lift for each task that hangs lid: a day a ply, and one to fetch and return it. Common practice, no source."""
    first = [line("board_lift_hire", "lid, first plies", plies, "boards_first")] if plies > 1 else []
    return [*first, line("board_lift_hire", "lid, last ply", 2, "boards_last")] if plies else []


@lru_cache(maxsize=64)
def _between_joists(spacing: float, breadth: float, short: float, long: float, plies: tuple[Ply, ...]) -> tuple[Line, ...]:
    """Boards cut to fit the bays, against the subfloor; each ply sealed round each bay and screwed on a 12 in grid (common practice)."""
    clear = spacing - breadth
    bays = q.whole(long / spacing)
    area = bays * clear * short
    found: list[Line] = []
    buried = 0.0
    for number, ply in enumerate(plies, start=1):
        where = f"{BETWEEN}, ply {number}"
        buried += ply.thickness
        screw = screw_item(buried, SUBFLOOR_PENETRATION)
        found.append(line(board_item(ply), where, area, "between_joists", effort=BAY_EFFORT))
        found.append(line(screw, where, q.whole(area / LID_SCREWS**2), "between_joists"))
        found.append(bead(where, bays * 2.0 * (clear + short), "between_joists"))
    if found:
        # The subfloor alone is too thin to hang boards from: cleats on the joists carry the edges.
        edge = bays * 2.0 * short
        found.append(run(item("cleat"), "under the boards between the joists", 2 * bays, short, "between_joists"))
        screw = screw_item(CLEAT, CLEAT_BITE)
        found.append(line(screw, "cleats under the boards between the joists", q.whole(edge / LID_SCREWS), "between_joists"))
    return tuple(found)


def lies_between(option: LidOption) -> bool:
    """Whether own joists lie between the existing ones: their framing takes less height than they are deep."""
    boards = sum(ply.thickness for ply in option.plies)
    return option.support == "independent joists" and option.height_taken - boards < option.own_joist_depth


def _own_joists(extent: Room, option: LidOption) -> list[Line]:
    """Ceiling joists that stand on the inner walls, across the shorter side.

    They bear on the top plates. Wholly under the existing ones, a block from joist to joist holds the ends on both longer sides. Between
    the existing ones, which cross there, a short block on both faces of each end does. Common practice, no source.
    """
    short, long = sorted((extent.length, extent.width))
    count = q.rows(long, option.support_spacing)
    lumber = lumber_item(option.own_joist_depth, "wood")
    where = "own joists of the lid"
    joists = cut(lumber, where, count, short + 2.0 * BEARING, "own_ceiling")
    if lies_between(option):
        blocks = cut(lumber, "end blocks of the own joists", 4 * count, END_BLOCK, "own_ceiling")
        return [joists, blocks, line("wood_screw", where, 24 * count, "own_ceiling")]
    gap = option.support_spacing - load("options")["lid"]["own_joist_breadth"]
    blocks = cut(lumber, "blocks between the own joists", 2 * (count - 1), gap, "own_ceiling")
    return [joists, blocks, line("wood_screw", where, 16 * count, "own_ceiling")]
