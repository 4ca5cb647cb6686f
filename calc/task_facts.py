"""What the texts of data/tasks.toml need to know about one brief and scheme: which conditions hold, which values and lengths they name."""

from __future__ import annotations

from collections.abc import Sequence

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.codes import rule
from calc.geometry import Room, inner_room, lid_extent
from calc.isolation.duct_way import box, duct_size
from calc.materials import support, surface
from calc.materials.air import AT_FAN, LINING_PANEL
from calc.materials.fittings import may_hold_hazards
from calc.materials.items import item, screw_lengths
from calc.materials.lid import lies_between
from calc.materials.line import Line
from calc.materials.screws import RESILIENT, longest_on_channel, on_channel
from calc.materials.soffit import HANGING, OVER, SoffitRows, soffit_rows
from calc.materials.wall import FRAME_TOP_GAP
from calc.safety.framing import in_the_way
from calc.scheme import Scheme
from calc.structure import clip_joists, clip_load, inch_grid
from calc.ventilation.words import distance

POUND_FORCE = 4.4482216152605  # N

# Tolerances and clearances that a builder works to. Common practice, no source, unless said otherwise.
WORKING_LENGTHS = {
    "survey_tolerance": 0.010,
    "edge_gap": 0.006,  # 1/4 in at every edge of an isolated surface, filled with sealant
    "bay_gap": 0.012,
    "screw_grid": surface.LID_SCREWS,
    "stagger": 0.406,  # joints of two plies at least one stud bay apart
    "plane_tolerance": 0.003,
    "frame_top_gap": FRAME_TOP_GAP,
    "own_clearance": 0.013,
    "row_edge": support.ROW_EDGE,
    "row_first": support.FIRST_ROW,
    "channel_lap": support.LAP,
    "floor_gap": 0.006,
    "base_screws": surface.BASE_PLY_SCREWS,
    "lid_screws": surface.LID_SCREWS,
    "wall_screws": surface.WALL_SCREWS,
}
# What nothing is cut to: written in steps of a tape.
SPACINGS = frozenset({"fireblock_step", *(name for name, length in WORKING_LENGTHS.items() if length >= 0.1)})
SCREWS = {f"screw_{length * 1000.0:.0f}": length for length in screw_lengths()}


def conditions(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> frozenset[str]:
    """The conditions of data/tasks.toml that hold, "used" apart (it depends on the task)."""
    return frozenset(name for name, holds in truths(brief, scheme, lines).items() if holds)


def truths(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> dict[str, bool]:
    """Every condition that data/tasks.toml may name, and whether it holds."""
    shell, lid = brief.shell, scheme.lid
    walls = [wall for _, wall in scheme.walls]
    filled = lid.fill != "none" and lid.fill_thickness > 0.0
    bought, tasks, places = {line.item for line in lines}, {line.task for line in lines}, {line.where for line in lines}
    damping = {line.task for line in lines if line.item == "damping_compound"}
    return {
        "old_house": may_hold_hazards(brief),
        "radon_untested": shell.radon in ("untested", "unknown"),
        "sheet_dry": brief.site.wall_test == "dry",
        "sheet_wet": brief.site.wall_test == "wet",
        "sheet_open": brief.site.wall_test not in ("dry", "wet"),
        "radon": shell.radon in ("untested", "unknown", "above"),
        "radon_above": shell.radon == "above",
        "foundation": any(side.kind in (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE) for side in shell.sides),
        "damp": shell.water != "none",
        "gas_known": shell.gas_line == "yes",
        "gas_maybe": shell.gas_line == "unknown",
        "fuel": shell.appliance in ("natural draft", "unknown"),
        "burner": shell.appliance != "none",
        "boarded": shell.ceiling_texture != "bare",
        "outer": any(wall.outer_plies for wall in walls),
        "outer_first": any(len(wall.outer_plies) > 1 for wall in walls),
        "bays": bool(lid.between_joists) or lies_between(lid),
        "between_two": len(lid.between_joists) > 1,
        "own_ceiling": lid.support == "independent joists",
        "own_between": lies_between(lid),
        "own_meets": bool(in_the_way(brief, scheme.lid)),
        "own_below": lid.support == "independent joists" and not lies_between(lid),
        "inner_lid": any(wall.gap > 0.0 for wall in walls),
        "gap": any(wall.gap > 0.0 for wall in walls),
        "strapping": any(wall.frame == "wood strapping" for wall in walls),
        "soffit": any(place.startswith("soffit") for place in places),
        "soffit_hung": lid.support in HANGING and any(place.startswith("soffit") for place in places),
        "soffit_framed": lid.support not in HANGING and any(place.startswith("soffit") for place in places),
        "silencer": scheme.air_path.silencer_box,
        "boxes": "silencer_panel" in bought,
        "fan_box": AT_FAN in places,
        "boxed_in": scheme.air_path.enclosed,
        "house_ducts": scheme.air_path.house_ducts,
        "recovery": scheme.air_path.fan_unit,
        "not_recovery": not scheme.air_path.fan_unit,
        "fans": "inline_fan" in bought,
        "cooling": "cooling_unit" in bought,
        "lined": scheme.air_path.lined_length > 0.0,
        "fill": "insulate" in tasks,
        "lid_fill_wires": filled and not lies_between(lid),
        "lid_fill_net": filled and lies_between(lid),
        "lid_clips": lid.support == "isolation clip",
        "wall_clips": any(wall.support == "isolation clip" for wall in walls),
        "soffit_clips": lid.support == "isolation clip" and _clips(lines, "soffit") > 0.0,
        "clip_grid_assumed": lid.support == "isolation clip" and any(each.question == "Joist spacing" for each in brief.assumptions),
        "lid_channel": lid.support == "resilient channel",
        "wall_resilient": any(wall.support in RESILIENT for wall in walls),
        "lid_first": len(lid.plies) > 1,
        "lid_single": len(lid.plies) == 1,
        "lid_free": lid.support != "absent",
        "resilient": lid.support in RESILIENT or any(wall.support in RESILIENT for wall in walls),
        "walls_first": any(len(wall.inner_plies) > 1 for wall in walls),
        "walls_single": any(len(wall.inner_plies) == 1 for wall in walls),
        "far_row": scheme.door.leaves == 1 and any(wall.two_rows for wall in walls),
        "tied_frame": any(wall.gap == 0.0 and wall.frame not in ("none", "wood strapping") for wall in walls),
        "two_doors": scheme.door.leaves > 1,
        "several_plies": "boards_first" in tasks,
        "damped_early": "boards_first" in damping,
        "damped": lid.damped or any(wall.damped for wall in walls),
        "laid_floor": scheme.floor.height_taken > 0.0,
        "painted_floor": bool(scheme.floor.layers) and scheme.floor.height_taken == 0.0,
        "window": shell.escape == "window",
        "escape_door": shell.escape == "door",
        "sealed_door": scheme.door.sealed and not scheme.door.complete,
        "perimeter_door": not scheme.door.sealed,
        "complete_door": scheme.door.complete,
        "foot_sealed": scheme.door.sealed,
        "not_foot_sealed": not scheme.door.sealed,
    }


def values(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> dict[str, str]:
    """What replaces {NAME} in a text."""
    carried, over = clip_load(scheme.lid), lid_extent(brief, scheme)
    soffits = dict.fromkeys(line.where.removeprefix("soffit round a ").split(",")[0] for line in lines if line.where.startswith("soffit"))
    found = {
        "hanging": " and ".join(f"the {kind}" for kind in soffits),
        "in_the_way": " and ".join(f"the {kind}" for kind in in_the_way(brief, scheme.lid)),
        "lid_clips": f"{_clips(lines, 'lid'):.0f}",
        "wall_clips": f"{_clips(lines, 'wall'):.0f}",
        "soffit_clips": f"{_clips(lines, 'soffit'):.0f}",
        "soffit_rows": _row_words(brief, soffit_rows(brief, inner_room(brief, scheme), scheme.lid), scheme.lid.support, lines),
        "clip_joists": clip_joists(scheme.lid.clip_spacing, brief.shell.joists.spacing),
        "clip_load": _force(carried),
        "lid_begins": f"side {1 if over.length >= over.width else 4}",
        "channel_screws": _channel_screws(brief, scheme, lines),
        "hood_distance": distance(brief.units),
        "boxes": f"{sum(line.quantity for line in lines if line.item == 'outlet_box'):.0f}",
        "lights": f"{sum(line.quantity for line in lines if line.item == 'light'):.0f}",
        "lid_fill_kind": scheme.lid.fill,
        "chambers": {1: "one chamber", 2: "two chambers in a row"}.get(
            scheme.air_path.chambers, f"{scheme.air_path.chambers} chambers in a row"
        ),
        "first_goods": _goods(lines, "deliver_first"),
        "second_goods": _goods(lines, "deliver_boards"),
        "floor_layers": ", then ".join(layer.name for layer in scheme.floor.layers),
    }
    for side in brief.shell.sides:
        found[f"side_{side.number}_wall"] = scheme.wall(side.kind).label
    return found


def _force(newtons: float) -> str:
    return f"{newtons:.0f} N ({newtons / POUND_FORCE:.0f} lb)"


def _row_words(brief: Brief, rows: Sequence[SoffitRows], support: str, lines: Sequence[Line]) -> str:
    """Sentences, one for each kind of soffit: how many clips or screws hold its two rows, where, and the most that one carries."""
    held = HANGING.get(support, "")
    things, found = "clips" if held == "isolation_clip" else "screws", []
    for where, alike in {each.where: [one for one in rows if one.where == each.where] for each in rows}.items():
        count = sum(line.quantity for line in lines if line.item == held and line.where == where)
        joists = clip_joists(min(each.step for each in alike), brief.shell.joists.spacing)
        most = _force(max(each.load for each in alike))
        name = where.removeprefix(OVER).replace("round a ", "round the ")
        found.append(f"Over the {name}: {count:.0f} {things} on {joists}, at most {most} each")
    return ". ".join(found)


def _channel_screws(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> str:
    """The longest screw of each face on channel, where a longer one would touch the framing; its length is one of ``lengths``."""
    longest = longest_on_channel(lines, on_channel(brief, scheme))
    names = {length: name for name, length in SCREWS.items()}
    return "; ".join(f"{', '.join(faces)}, {{length:{names[length]}}}" for length, faces in longest.items())


def _clips(lines: Sequence[Line], place: str) -> float:
    """Isolation clips of the lid, of the walls or of the soffits."""
    return sum(line.quantity for line in lines if line.item == "isolation_clip" and line.where.startswith(place))


def _goods(lines: Sequence[Line], delivery: str) -> str:
    """What a delivery brings, in words: the shop groups of all that its tasks use, in the order of the table of words."""
    words = load("tasks")["goods"]
    tasks = {row["id"] for row in load("tasks")["task"] if row.get("supply") == delivery}
    groups = {item(line.item).group for line in lines if line.task in tasks}
    return ", ".join(words[group] for group in words if group in groups)


def lengths(brief: Brief, scheme: Scheme, room: Room) -> dict[str, float]:
    """What {length:NAME} stands for in a text [m]."""
    lid, walls = scheme.lid, [wall for _, wall in scheme.walls]
    gaps = [wall.gap for wall in walls if wall.gap > 0.0]
    framing = lid.height_taken - sum(ply.thickness for ply in lid.plies)  # what the lid's own joists take under the existing ones
    found = (
        WORKING_LENGTHS
        | SCREWS
        | {
            "fireblock_step": float(rule(brief.code, "fireblocking")["horizontal"]),
            "inner_drop": framing - FRAME_TOP_GAP,
            "inner_top_gap": max(FRAME_TOP_GAP, framing if lid.own_joist_depth > 0.0 else 0.0),
            "room_length": room.length,
            "room_width": room.width,
            "gap": min(gaps, default=0.0),
            "row_spacing": inch_grid(lid.support_spacing),
            "wall_row_spacing": inch_grid(max((wall.support_spacing for wall in walls if wall.support in RESILIENT), default=0.0)),
            "clip_spacing": lid.clip_spacing,
            "clip_overhang": brief.shell.joists.spacing / 2.0,  # of a row: the clip at its end then carries no more than one within
            "lid_fill": lid.fill_thickness,
            "lining": scheme.air_path.lining,
            "lining_layer": LINING_PANEL,
        }
    )
    made = box(duct_size(brief, scheme.air_path), scheme.air_path)
    if made is not None:
        found |= zip(("box_length", "box_width", "box_height"), made.outside, strict=True)
        found |= zip(("chamber_length", "chamber_width", "chamber_height"), (made.length, made.width, made.height), strict=True)
        found |= {"box_lining": made.lining, "box_wall": made.panel}
    for side in brief.shell.sides:
        found[f"side_{side.number}_spacing"] = scheme.wall(side.kind).stud_spacing
    return found
