"""Electrical panel, boxes and circuits."""

from __future__ import annotations

import math
from typing import Any

from calc.brief import Brief
from calc.codes import cited
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_length

ELECTRICIAN = "electrician"
SAME = 1e-6  # m; less than any tape shows


def panel(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A panel must keep its clear working space and its door."""
    where, rule = brief.shell.panel, code_rule(brief.code, "panel")
    deep = format_length(float(rule["depth"]), brief.units)
    facts: dict[str, Any] = {"source": str(rule["source"]), "decides": ELECTRICIAN, "task": "survey"}
    if where != "none" and site.panel_clear is not None and site.panel_clear < rule["depth"] - SAME:
        return stop(
            "panel-clearance",
            "The new wall would leave too little clear space before the electrical panel",
            "Move the wall, or have an electrician move the panel, before anything is framed.",
            measured=site.panel_clear,
            limit=float(rule["depth"]),
            unit="m",
            **facts,
        )
    if where in ("none", "elsewhere"):
        return None
    known = where == "in the area"
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
        **facts,
    )


def wiring(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Old wiring is dealt with before boards and fill cover it; not knowing is judged by the year built."""
    kind, year, rule = site.wiring, brief.shell.year_built, limits("wiring")
    facts: dict[str, Any] = {"source": str(rule["source"]), "decides": ELECTRICIAN, "task": "hazards_test"}
    if kind == "modern":
        return None
    if kind in ("knob and tube", "aluminium"):
        return caution(
            "wiring-old",
            f"There is {kind.replace(' and ', '-and-')} wiring: it is put right before boards and fill cover it",
            "Have an electrician look before demolition: no fill may lie on open knob-and-tube wires, and aluminium branch wires need "
            "joints made for them.",
            **facts,
        )
    first, last = rule["aluminium"]
    old = year is None or year < rule["knob_and_tube"] or first <= year <= last
    return (caution if old else note)(
        "wiring-unknown",
        "Nobody has said what the wiring over the area is" + (", and at the house's age it may be dangerous to cover" if old else ""),
        "Power off, look up between the joists: single wires on porcelain knobs, or grey cable stamped AL or ALUMINUM, are for an "
        "electrician before anything else.",
        **facts,
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


def receptacles(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """How many outlets the model code wants along the walls: each is a hole to seal."""
    rule = code_rule(brief.code, "receptacles")
    count = receptacle_count(room)
    return note(
        "receptacles",
        f"At least {count} outlets along the walls: no point of the floor line more than "
        f"{format_length(float(rule['reach']), brief.units)} from one",
        "Surface boxes fed from one sealed hole save holes in the boards; add what the equipment needs on circuits of its own.",
        source=str(rule["source"]),
        decides=ELECTRICIAN,
        task="rough_electric",
    )


def receptacle_count(room: Room) -> int:
    """Fewest outlets round a room of that perimeter, no point of the floor line beyond reach of one; a door only shortens the line.

    Source: NEC 210.52(A): 6 ft (1.8 m) reach, so one each 12 ft.
    """
    return math.ceil(room.perimeter / (2.0 * float(limits("receptacles")["reach"])) - SAME)


def circuits(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Protection of circuits in a finished basement."""
    return note(
        "circuits",
        "Circuits of a finished basement: arc-fault protection in a room to be in, ground-fault protection of every basement outlet by "
        "recent editions",
        "Have an electrician wire it by the adopted edition. Never lift a safety earth to cure hum. Power off and tested dead before any "
        "work on it.",
        source=cited(brief.code, "NEC 210.12(A), arc fault; 210.8(A)(5), ground fault, all of a basement from 2020, second hand"),
        decides=ELECTRICIAN,
        task="rough_electric",
    )


RULES: tuple[Rule, ...] = (boxes, receptacles, circuits)
SITE_RULES: tuple[SiteRule, ...] = (panel, wiring)
