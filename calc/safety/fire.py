"""Fire that runs in hidden spaces, and the membrane under the floor above."""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note
from calc.scheme import Scheme
from calc.unit_format import format_length

OFFICIAL = "building official"


def fireblocking(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """The gap of a separate frame is a chimney; block it without tying the frames together."""
    if not any(option.gap > 0.0 or option.frame.startswith("separate rows") for _, option in scheme.walls):
        return None
    rule = limits("fireblocking")
    return caution(
        "fireblocking",
        f"Block the gap behind the inner frame at floor, ceiling and every {format_length(float(rule['horizontal']), brief.units)} "
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
    joists, rule = brief.shell.joists, limits("floor_membrane")
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


RULES: tuple[Rule, ...] = (fireblocking, floor_membrane)
