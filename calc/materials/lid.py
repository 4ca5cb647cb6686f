"""Take-off of the ceiling: boards between the joists, fill, channel or own joists, plies, soffits."""

from __future__ import annotations

from calc.brief import Brief, Obstruction
from calc.geometry import Room
from calc.materials import quantities as q
from calc.materials.items import board_item, lumber_item, screw_item
from calc.materials.line import Line, cut, line, run
from calc.materials.surface import (
    LID_EFFORT,
    LID_SCREWS,
    bead,
    board_lines,
    fill_lines,
    support_lines,
)
from calc.scheme import LidOption

SUBFLOOR_PENETRATION = 0.0095  # m, 3/8 in: must end inside a subfloor of 15 mm. Common practice, no source
BAY_EFFORT = 2.0  # boards cut to fit a bay take twice the work of whole sheets. Common practice, no source
BEARING = 0.1  # m, of an own joist on a wall: the depth of a stud


def lid_lines(brief: Brief, room: Room, option: LidOption) -> tuple[Line, ...]:
    """Everything of a ceiling, soffits round obstructions included. Raises ValueError when the catalogue lacks a part.

    Joists are taken to span the shorter side; channel then runs along the longer one.
    """
    joists = brief.shell.joists
    area = room.floor_area
    own = option.support == "independent joists"
    steel = option.support in ("resilient channel", "isolation clip")
    framing = option.support_spacing if option.support != "absent" else joists.spacing
    found = _between_joists(brief, option)
    if own:
        found += _own_joists(room, option)
    short, long = sorted((room.length, room.width))
    found += support_lines(option.support, "lid", short, long, option.support_spacing, option.clip_spacing, joists.spacing)
    bay = option.support_spacing if own else joists.spacing
    found += fill_lines(option.fill, option.fill_thickness, "between the joists of the lid", area, bay)
    found += board_lines(option.plies, "lid", area, room.perimeter, framing, LID_SCREWS, steel, option.damped, LID_EFFORT)
    for obstruction in brief.shell.obstructions:
        found += _soffit(brief, room, option, obstruction)
    if option.plies:
        found.append(line("board_lift_hire", "lid", 1 + len(option.plies), "boards_last"))
    return tuple(found)


def _between_joists(brief: Brief, option: LidOption) -> list[Line]:
    """Boards cut to fit the bays, against the subfloor; each ply sealed round each bay and screwed on a 12 in grid (common practice)."""
    joists, (short, long) = brief.shell.joists, sorted((brief.shell.length, brief.shell.width))
    clear = joists.spacing - joists.breadth
    bays = q.whole(long / joists.spacing)
    area = bays * clear * short
    found: list[Line] = []
    buried = 0.0
    for number, ply in enumerate(option.between_joists, start=1):
        where = f"between the joists, against the subfloor, ply {number}"
        buried += ply.thickness
        screw = screw_item(buried, SUBFLOOR_PENETRATION)
        found.append(line(board_item(ply), where, area, "between_joists", effort=BAY_EFFORT))
        found.append(line(screw, where, q.whole(area / LID_SCREWS**2), "between_joists"))
        found.append(bead(where, bays * 2.0 * (clear + short), "between_joists"))
    return found


def _own_joists(room: Room, option: LidOption) -> list[Line]:
    """Ceiling joists that stand on the inner walls, across the shorter side, with a hanger at each end and a rim on both longer sides."""
    short, long = sorted((room.length, room.width))
    count = q.rows(long, option.support_spacing)
    lumber = lumber_item(option.own_joist_depth, "wood")
    where = "own joists of the lid"
    return [
        cut(lumber, where, count, short + 2.0 * BEARING, "own_ceiling"),
        run(lumber, "rim of the lid", 2.0 * long, "own_ceiling"),
        line("joist_hanger", where, 2 * count),
        line("wood_screw", where, 8 * count, "own_ceiling"),
    ]


def _soffit(brief: Brief, room: Room, option: LidOption, obstruction: Obstruction) -> list[Line]:
    """A box round a beam, duct or pipe along the room: two sides and a bottom with the plies of the lid.

    Movable obstructions are moved instead.
    """
    drop = brief.shell.height - obstruction.underside
    if obstruction.movable or drop <= 0.0 or not option.plies:
        return []
    where = f"soffit round a {obstruction.kind}"
    area = (obstruction.width + 2.0 * drop) * room.length
    frame = lumber_item(0.064, "wood")
    found = [
        run(frame, where, 4.0 * room.length + q.rows(room.length, 0.6096) * (obstruction.width + 2.0 * drop), "frame"),
        line("wood_screw", where, 6 * q.rows(room.length, 0.6096), "frame"),
    ]
    found += fill_lines("glass fibre", 0.064, where, area, 0.6096)
    return found + board_lines(option.plies, where, area, 2.0 * room.length, 0.6096, LID_SCREWS, False, option.damped, 2.0)
