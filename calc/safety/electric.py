"""Electrical panel, boxes and circuits."""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note
from calc.scheme import Scheme
from calc.unit_format import format_length

ELECTRICIAN = "electrician"


def panel(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A panel must keep its clear working space and its door."""
    if brief.shell.panel in ("none", "elsewhere"):
        return None
    known, rule = brief.shell.panel == "in the area", limits("panel")
    deep = format_length(float(rule["depth"]), brief.units)
    return caution(
        "panel" if known else "panel-unknown",
        "The electrical panel is in the area: it cannot vanish behind the new wall"
        if known
        else "Nobody has said where the electrical panel is",
        f"Keep {deep} clear in front of it, 30 in (760 mm) wide and 6 ft 6 in (1.98 m) high, its door swinging a right angle, no "
        "storage; "
        "leave it outside the room or have an electrician move it."
        if known
        else f"Find the panel; it needs {deep} clear in front of it, so it decides where the wall may stand.",
        source=str(rule["source"]),
        decides=ELECTRICIAN,
        task="survey",
    )


def boxes(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Every box is a hole in the boards."""
    return note(
        "boxes",
        "Electrical boxes: surface-mounted, or sealed all round; never back to back; every cable hole sealed; no lights cut into the lid",
        "Putty pads or a sealed backer box on each recessed box, sealant at its edge and at cables; keep boxes on opposite faces two "
        "stud bays apart.",
        decides=ELECTRICIAN,
        task="rough_electric",
    )


def circuits(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Protection of circuits in a finished basement."""
    return note(
        "circuits",
        "Circuits of a finished basement: outlets within 6 ft (1.8 m) of any point of the wall, arc-fault and ground-fault protection by "
        "edition",
        "Have an electrician wire it by the adopted edition. Never lift a safety earth to cure hum. Power off and tested dead before any "
        "work on it.",
        source="NEC 210.52(A), 210.12(A), 210.8(A)(5) (2020), second hand",
        decides=ELECTRICIAN,
        task="rough_electric",
    )


RULES: tuple[Rule, ...] = (panel, boxes, circuits)
