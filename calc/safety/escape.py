"""The way out when the stairs burn, and the least size of a room."""

from __future__ import annotations

from typing import Any

from calc.brief import Brief
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, note, stop
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_length

OFFICIAL = "building official"
# Titles of the interview's questions, by which Brief.assumptions names them.
SIZE_QUESTIONS = ("Clear width of the way out", "Clear height of the way out", "Sill of the way out")
SECOND_SASH = (
    "The plan fits a second sash on the inner frame. Both open without a key or tool, and the clear opening is measured through both, so "
    "choose sashes that do not foul each other: two that swing inward do. Close the opening with a sealed plug for the leak test, which "
    "comes before the sash; ask the official to accept the pair."
)
SASH_FRAME = 0.025  # m that the frame of an inner sash may take on each side; common practice, no source
SAME = 1e-6  # m, m2; less than any tape shows, more than inches lose when turned into metres


def escape_limits(code: str) -> dict[str, Any]:
    """Least opening [m2, m] and sill of the escape rules that go with a ceiling-height case: Canada's, else the IRC's.

    Source: IRC 2024 R319 (2018, 2021: R310); Ontario and National Building Code of Canada 9.9.10.1.
    """
    return code_rule(code, "escape")


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


def barely_large(width: float, height: float, code: str) -> bool:
    """Whether the frame of a second sash, 25 mm a side, would take an escape opening [m] that is large enough below its least.

    Source: as ``escape_limits``; the frame's width is common practice, no source.
    """
    return opening_shortfall(width - 2.0 * SASH_FRAME, height - 2.0 * SASH_FRAME, 0.0, code) is not None


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
    short = opening_shortfall(shell.escape_width, shell.escape_height, shell.escape_sill - scheme.floor.height_taken, brief.code)
    if short is None and shell.escape == "window" and barely_large(shell.escape_width, shell.escape_height, brief.code):
        return caution(
            "escape-bare",
            "The escape window's clear area only just meets the model code's least: a second sash inside may take it below",
            f"{SECOND_SASH} Buy the inner sash by its clear opening, no smaller than the outer one's, or fit a larger window first.",
            measured=shell.escape_width * shell.escape_height,
            limit=escape_limits(brief.code)["area"],
            unit="m2",
            **facts,
        )
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
    assumed = " (assumed: measure first)" if any(each.question in SIZE_QUESTIONS for each in brief.assumptions) else ""
    return grade(
        "escape-small",
        f"The escape {shell.escape}'s {what} is outside the model code's limit{assumed}",
        "Enlarge it (a second sash inside can only make the clear opening smaller), fit a larger sash or a fixed step the official "
        "accepts, or find another opening; a larger hole in the wall is an engineer's matter.",
        measured=measured,
        limit=limit,
        unit=unit,
        **facts,
    )


def escape_well(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A window below ground needs a well large enough to climb out of."""
    if brief.shell.escape != "window" or site.well == "none":
        return None
    rule = escape_limits(brief.code)
    side = format_length(float(rule["well_side"]), brief.units)
    facts: dict[str, Any] = {"source": rule["source"], "decides": OFFICIAL, "task": "survey"}
    if site.well != "yes" or site.well_projection is None or (rule["well_area"] > 0.0 and site.well_width is None):
        return caution(
            "escape-well-unknown",
            "Nobody has measured the escape window's well, or said that its sill is above ground: a well needs at least "
            f"{side} clear out from the wall",
            "Look from outside. In a well, measure clear width and clear projection with the sash open, and its depth below ground.",
            **facts,
        )
    short = well_shortfall(site, rule)
    if short is not None:
        what, measured, limit, unit = short
        return (stop if brief.use.sleeping else caution)(
            "escape-well-small",
            f"The {what} of the escape window's well is under the model code's limit",
            "Have a larger well dug and drained before the room is framed; no cover that needs a key, a tool or strength to lift.",
            measured=measured,
            limit=limit,
            unit=unit,
            **facts,
        )
    deep = site.well_depth is None or site.well_depth > rule["well_ladder_depth"]
    return note(
        "escape-well",
        "The escape window's well is large enough: keep it drained and free" + (", with a ladder or steps fixed in it" if deep else ""),
        "Nothing stored in it or on its cover; the cover opens from below without a key or tool.",
        **facts,
    )


def well_shortfall(site: Site, rule: dict[str, Any]) -> tuple[str, float, float, str] | None:
    """First measure of a window well [m] that is too small, as (what, measured, limit, unit); None when all known ones serve.

    A well whose width is not asked for is judged by its projection alone. Source: as ``escape_limits``.
    """
    projection, width = site.well_projection or 0.0, site.well_width
    checks = [("clear projection", projection, float(rule["well_side"]), "m")]
    if rule["well_area"] > 0.0 and width is not None:
        checks += [("width", width, float(rule["well_side"]), "m"), ("area", projection * width, float(rule["well_area"]), "m2")]
    return next(((what, measured, limit, unit) for what, measured, limit, unit in checks if measured < limit - SAME), None)


def sleeping_use(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Sleeping changes the rules."""
    if not brief.use.sleeping:
        return None
    return caution(
        "sleeping",
        "People will sleep in the room: bedroom rules for escape, alarms, light and air apply",
        "Tell the building official that it is a bedroom; do not sleep there until escape, alarms and fresh air are passed.",
        source=f"{escape_limits(brief.code)['source']}; {code_rule(brief.code, 'alarms')['source']}",
        decides=OFFICIAL,
        task="permits",
    )


def room_size(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Least floor area and least side of a habitable room."""
    rule = code_rule(brief.code, "room_size")
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


RULES: tuple[Rule, ...] = (escape_opening, sleeping_use, room_size)
SITE_RULES: tuple[SiteRule, ...] = (escape_well,)
