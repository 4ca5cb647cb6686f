"""Fire that runs in hidden spaces, and the membrane under the floor above."""

from __future__ import annotations

from calc.brief import Brief
from calc.codes import cited
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note
from calc.scheme import Scheme
from calc.unit_format import format_area, format_length, format_spacing

OFFICIAL = "building official"


def fireblocking(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """The gap of a separate frame is a chimney; block it without tying the frames together."""
    if not any(option.gap > 0.0 or option.two_rows for _, option in scheme.walls):
        return None
    rule = code_rule(brief.code, "fireblocking")
    return caution(
        "fireblocking",
        f"Block the gap behind the inner frame at floor, ceiling and every {format_spacing(float(rule['horizontal']), brief.units)} "
        "along the wall, without tying the frames together",
        "Close the top to the joist bays. Use mineral wool pressed in, or gypsum fixed to one frame only and sealed to the other with "
        "non-hardening "
        "sealant; agree it with the inspector before framing and show it before cover.",
        source=str(rule["source"]),
        decides=OFFICIAL,
        task="fireblock",
    )


def floor_membrane(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Light joists need a board under the floor; 2x10 or larger solid lumber is exempt."""
    joists, rule = brief.shell.joists, code_rule(brief.code, "floor_membrane")
    if joists.kind == "sawn" and joists.depth >= rule["joist_depth"] - 0.003:  # 3 mm: lumber shrinks
        return None
    return (note if joists.kind == "sawn" else caution)(
        "floor-membrane",
        f"The joists above are not solid lumber of {format_length(float(rule['joist_depth']), brief.units)} or deeper: the code may want "
        "half-inch gypsum (or thicker wood panel) under the whole floor, not only over this room",
        "The lid covers its own area; do not leave the joists bare around it where they were boarded before. Ask the official.",
        source=str(rule["source"]),
        decides=OFFICIAL,
        task="permits",
    )


def draftstopping(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A ceiling hung below the joists, or an open-web floor, joins bays into one large space that fire runs through."""
    open_web = brief.shell.joists.kind in ("truss", "unknown")
    hung = scheme.lid.height_taken - sum(ply.thickness for ply in scheme.lid.plies) > 0.0
    if not (open_web or hung):
        return None
    rule = limits("draftstopping")
    large = room.floor_area > float(rule["area"])
    area = format_area(float(rule["area"]), brief.units)
    return (caution if large or open_web else note)(
        "draftstopping",
        "A hung ceiling or an open-web floor joins joist bays into one concealed space that fire runs through: "
        + (f"over this room alone it is more than {area}" if large else f"the model code parts it at each {area}"),
        "Close the bays over the room's own walls with gypsum board or panel, sealed, fixed to the floor's framing alone so that it does "
        "not bridge the room's: the same closure keeps sound in. Ask the official where the floor is open-web.",
        source=cited(brief.code, str(rule["source"])),
        decides=OFFICIAL,
        task="fireblock",
    )


RULES: tuple[Rule, ...] = (fireblocking, draftstopping, floor_membrane)
