"""The way out when the stairs burn, the alarms that say so, and the least size of a room."""

from __future__ import annotations

from typing import Any

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.unit_format import format_length

OFFICIAL = "building official"
SECOND_SASH = (
    "The plan fits a second sash on the inner frame. Both open without a key or tool, and the clear opening is measured through both, so "
    "choose sashes that do not foul each other: two that swing inward do. Close the opening with a sealed plug for the leak test, which "
    "comes before the sash; ask the official to accept the pair."
)
SAME = 1e-6  # m, m2; less than any tape shows, more than inches lose when turned into metres


def escape_limits(code: str) -> dict[str, Any]:
    """Least opening [m2, m] and sill of the escape rules that go with a ceiling-height case: Canada's, else the IRC's.

    Source: IRC 2024 R319 (2018, 2021: R310); National Building Code of Canada 9.9.10.1.
    """
    table: dict[str, Any] = limits("escape")["nbc" if code.startswith("nbc") else "irc"]
    return table


def opening_shortfall(width: float, height: float, sill: float, code: str) -> tuple[str, float, float, str] | None:
    """First measure of an escape opening [m] that fails, as (what, measured, limit, unit); None when it is large and low enough.

    Source: as ``escape_limits``. Least width times least height is less than the least area: all must hold.
    """
    rule = escape_limits(code)
    checks = (
        ("clear area", width * height, rule["area"], "m2", width * height >= rule["area"] - SAME),
        ("clear width", width, rule["width"], "m", width >= rule["width"] - SAME),
        ("clear height", height, rule["height"], "m", height >= rule["height"] - SAME),
        ("sill above the floor", sill, rule["sill"], "m", sill <= rule["sill"] + SAME),
    )
    return next(((what, measured, limit, unit) for what, measured, limit, unit, holds in checks if not holds), None)


def escape_opening(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """An opening to climb out of: stop where people sleep and there is none that serves; else the official decides."""
    shell, sleeping = brief.shell, brief.use.sleeping
    facts: dict[str, Any] = {"source": escape_limits(brief.code)["source"], "decides": OFFICIAL, "task": "permits"}
    grade = stop if sleeping else caution
    if shell.escape == "none":
        return grade(
            "escape-none",
            "No emergency escape opening" + (" in a room where people sleep" if sleeping else " from this part of the basement"),
            "Ask the building official before anything is bought: finishing a basement can call for an escape window or door; cutting "
            "one is structural.",
            **facts,
        )
    if shell.escape not in ("window", "door"):
        return grade(
            "escape-unknown",
            "Nobody has checked whether there is an emergency escape opening",
            "Find a window or door to the outside that one person can open from inside without a tool, and measure its clear opening and "
            "sill.",
            **facts,
        )
    short = None
    if shell.escape == "window":
        short = opening_shortfall(shell.escape_width, shell.escape_height, shell.escape_sill - scheme.floor.height_taken, brief.code)
    if short is None:
        return note(
            "escape-kept",
            f"The escape {shell.escape} stays: never cover it, never let it need a key or a tool",
            SECOND_SASH
            if shell.escape == "window"
            else "Frame the inner wall around it; any second door there opens in the dark in seconds, without a key.",
            **{**facts, "task": "frame"},
        )
    what, measured, limit, unit = short
    return grade(
        "escape-small",
        f"The escape window's {what} is outside the model code's limit",
        "Enlarge it (a second sash inside can only make the clear opening smaller), fit a larger sash or a fixed step the official "
        "accepts, or find another opening; a larger hole in the wall is an engineer's matter.",
        measured=measured,
        limit=limit,
        unit=unit,
        **facts,
    )


def escape_well(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A window below ground needs a well to climb out of. The answers do not tell its size, so the finding asks."""
    if brief.shell.escape != "window":
        return None
    rule = escape_limits(brief.code)
    return note(
        "escape-well",
        "If the escape window's sill is below ground, measure its well: each side at least "
        f"{format_length(float(rule['well_side']), brief.units)}, clear, ladder if deep",
        "Keep the well drained and free; nothing stored on its cover.",
        source=rule["source"],
        decides=OFFICIAL,
        task="survey",
    )


def alarms(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Nobody inside hears the house's alarm, nobody in the house hears the room's. Sleeping or fuel makes it a caution."""
    grade = note if brief.shell.appliance == "none" and not brief.use.sleeping else caution
    return grade(
        "alarms",
        "Smoke and carbon monoxide alarms inside and outside the room, interconnected, with a strobe inside: nobody hears through these "
        "walls",
        "Fit interconnected smoke alarms on every storey and in the room, a carbon monoxide alarm where fuel burns or a garage joins, "
        "and a light "
        "inside that flashes with them; test them with the door shut and music playing.",
        source=limits("alarms")["source"],
        decides=OFFICIAL,
        task="rough_electric",
    )


def sleeping_use(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Sleeping changes the rules."""
    if not brief.use.sleeping:
        return None
    return caution(
        "sleeping",
        "People will sleep in the room: bedroom rules for escape, alarms, light and air apply",
        "Tell the building official that it is a bedroom; do not sleep there until escape, alarms and fresh air are passed.",
        source=f"{escape_limits(brief.code)['source']}; {limits('alarms')['source']}",
        decides=OFFICIAL,
        task="permits",
    )


def room_size(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Least floor area and least side of a habitable room."""
    rule = limits("room_size")
    if brief.habitable == "no":
        return None
    shortest = min(room.length, room.width)
    if shortest < rule["side"]:
        measured, limit, unit, what = shortest, rule["side"], "m", "shorter side"
    elif room.floor_area < rule["area"]:
        measured, limit, unit, what = room.floor_area, rule["area"], "m2", "floor area"
    else:
        return None
    return caution(
        "room-size",
        f"The finished room's {what} is below the model code's least for a habitable room",
        "Choose thinner walls or a larger place, or ask the official whether the room need count as habitable.",
        measured=measured,
        limit=limit,
        unit=unit,
        source=rule["source"],
        decides=OFFICIAL,
        task="survey",
    )


RULES: tuple[Rule, ...] = (escape_opening, escape_well, sleeping_use, alarms, room_size)
