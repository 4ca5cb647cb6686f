"""Take-off of the walls of one kind of side: frame, fireblocks, channel, fill, plies of both faces."""

from __future__ import annotations

from collections.abc import Mapping

from calc.brief import Brief, Side, SideKind
from calc.codes import rule
from calc.geometry import FrameRuns, Room
from calc.materials import quantities as q
from calc.materials.items import board_item, item, lumber_item
from calc.materials.line import Line, cut, line, run, runs
from calc.materials.support import room_behind
from calc.materials.surface import WALL_SCREWS, bead, board_lines, fill_lines, support_lines
from calc.scheme import WallOption

PLATE = 0.038  # m, thickness of framing lumber
FRAME_TOP_GAP = 0.025  # m, between a free-standing frame and the joists. Common practice, no source
ANCHOR_STEP = 0.6096  # m along strapping, twice that along a plate. Common practice, no source
HALF_BATT = 0.0445  # m: a batt is split flat, so that it fills a narrow gap and stays soft. Common practice, no source
FIREBLOCK_WIDTH = 0.4064  # m, batts 16 in wide as the block. Source: IRC R302.11.1.2 (from memory)


def wall_lines(
    brief: Brief, room: Room, kind: SideKind, option: WallOption, frames: Mapping[int, FrameRuns] | None = None
) -> tuple[Line, ...]:
    """All sides of one kind, built as ``option``. Raises ValueError when the catalogue lacks a part.

    ``frames``: how long the frame of each side is (geometry.frame_runs); None takes the room's own size, for want of the other walls.
    """
    found: list[Line] = []
    for side in brief.shell.sides:
        if side.kind is kind:
            own = room.side_length(side.number)
            found += _one_wall(brief, room, side, option, frames[side.number] if frames else FrameRuns(own, own))
    return tuple(found)


def _one_wall(brief: Brief, room: Room, side: Side, option: WallOption, frame: FrameRuns) -> list[Line]:
    where = f"wall on side {side.number}"
    length, height = room.side_length(side.number), room.height
    area = length * height
    steel = "steel" in option.frame or option.support in ("resilient channel", "isolation clip")
    spacing = option.stud_spacing if option.stud_spacing > 0.0 else 0.4064
    framing = option.support_spacing if option.support not in ("absent", "") and option.support_spacing > 0.0 else spacing
    edges = 2.0 * length + height  # each corner is sealed once: it belongs to one of its two walls
    found = _wall_frame(brief, option, where, length, frame) + _bays_over(brief, side.length, option, where)
    if option.support not in ("absent", ""):
        found += support_lines(option.support, where, height, length, option.support_spacing, option.clip_spacing, spacing)
    found += fill_lines(option.fill, option.fill_thickness, where, length * brief.shell.height, 0.0 if option.gap > 0.0 else spacing)
    behind = room_behind(option.support)
    found += board_lines(option.inner_plies, where, area, edges, framing, WALL_SCREWS, steel, option.damped, behind=behind)
    if option.outer_plies:
        outer = f"outer face of the {where}"
        outer_area = side.length * brief.shell.height
        outer_steel = "steel" in option.frame
        found += board_lines(
            option.outer_plies, outer, outer_area, 2.0 * side.length + brief.shell.height, spacing, WALL_SCREWS, outer_steel, False
        )
    return found


def _wall_frame(brief: Brief, option: WallOption, where: str, length: float, frame: FrameRuns) -> list[Line]:
    """Studs and plates (three runs where the lid stands on them, else two), anchors to the slab, fireblocks behind a gap."""
    height = brief.shell.height
    if option.frame == "none":
        return []
    if option.frame == "wood strapping":
        pieces = q.rows(frame.near, option.stud_spacing)
        anchors = pieces * q.rows(height, ANCHOR_STEP) + 2 * q.rows(frame.near, ANCHOR_STEP)
        # A piece along top and foot holds the edges of the boards and closes the space behind them. Source: IRC R302.11 (from memory)
        level = run(item("strapping"), f"along top and foot, {where}", 2, frame.near)
        return [cut(item("strapping"), where, pieces, height), level, line("anchor", where, anchors)]
    kind = "steel" if "steel" in option.frame else "wood"
    rows = (frame.near, frame.far) if option.two_rows else (frame.near,)
    # Staggered studs share a plate one size deeper than themselves.
    staggered = "staggered" in option.frame
    stud = lumber_item(option.stud_depth, kind)
    plate = lumber_item(option.stud_depth + 0.045, kind) if staggered else stud
    plates = 3 if option.carries_lid else 2  # runs in each row
    stud_length = height - (plates * PLATE if kind == "wood" else 0.0) - (FRAME_TOP_GAP if option.gap > 0.0 else 0.0)
    studs = (2 if staggered else 1) * sum(q.rows(each, option.stud_spacing) for each in rows)
    found = [
        cut(stud, f"studs, {where}", studs, stud_length),
        runs(plate, f"plates, {where}", plates - (kind == "wood"), rows),
        line("wood_screw", where, 4 * studs),
        line("anchor", where, sum(q.rows(each, 2.0 * ANCHOR_STEP) for each in rows)),
        bead(f"under the plates, {where}", 2.0 * sum(rows), "frame"),
    ]
    if kind == "wood":  # wood on concrete is treated. Source: IRC R317.1 (from memory)
        found.append(runs(lumber_item(float(plate.facts["depth"]), "treated"), f"sole plates, {where}", 1, rows))
    if option.gap > 0.0:
        step = float(rule(brief.code, "fireblocking")["horizontal"])
        found.append(
            line(
                "mineral_wool_89",
                f"fireblocks, {where}",
                0.5 * q.whole(option.gap / HALF_BATT) * FIREBLOCK_WIDTH * (2.0 * length + q.rows(length, step) * height),
                "fireblock",
            )
        )
    return found


def _bays_over(brief: Brief, length: float, option: WallOption, where: str) -> list[Line]:
    """What closes the joist bays over a wall against fire, fixed to the floor's framing alone. Source: IRC R302.12 (second hand)."""
    depth = brief.shell.joists.depth
    if not option.inner_plies or option.frame == "none":
        return []
    return [
        line(board_item(option.inner_plies[0]), f"joist bays over the {where}", length * depth, "fireblock", effort=2.0),
        bead(f"joist bays over the {where}", 2.0 * length, "fireblock"),
        line("fire_sealant", f"services through blocks, {where}", 1),
    ]
