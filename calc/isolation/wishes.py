"""What is wished for and will not be enough: targets against the hours of playing, and numbers of by-laws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calc.brief import Brief, Listener
from calc.finding import Finding, Severity
from calc.isolation.criteria import listener_kinds, target_kinds
from calc.isolation.path import where

if TYPE_CHECKING:
    from calc.isolation.listener import IsolationResult

HOPELESS = -10.0  # dB of margin: about twice as loud as wanted. That no room is worth its money then: common practice, no source
HOURS = {"evening": "into the evening", "night": "at night too"}


def findings(brief: Brief) -> tuple[Finding, ...]:
    """Cautions and notes on the targets of a brief. Source: data/criteria.toml, a source beside each target."""
    found: list[Finding] = []
    for listener in brief.listeners:
        target = target_kinds()[listener.target]
        if target.get("day_only") and _sleeps_then(brief, listener):
            found.append(_by_day_only(brief, listener))
        if target["rule"] == "limit":
            found.append(_by_law(listener))
        if where(listener) == "inside" and brief.house.walking != "nobody":
            found.append(_steps(listener))
    return tuple(found)


def out_of_reach(heard: IsolationResult) -> Finding | None:
    """A stop where the place that decides stays about twice as loud as was asked, or worse: nobody is served by such a room.

    Source: 10 dB sound about twice as loud, Stevens 1955, from memory; that this is the limit is common practice, no source.
    """
    if heard.most_critical is None:
        return None
    worst = heard.listeners[heard.most_critical]
    if worst.margin > HOPELESS:
        return None
    return Finding(
        rule="out_of_reach",
        severity=Severity.STOP,
        title=f"{worst.listener.label}: {-worst.margin:.0f} dB too loud with the constructions of this plan; 10 dB are about twice as loud",
        measured=worst.level_dba,
        limit=worst.needed_dba,
        unit="dBA",
        source="10 dB sound about twice as loud: Stevens 1955, from memory; the limit: common practice, no source",
        remedy="Do not build them for this use here. Look for another place, an earlier hour, a quieter instrument or a lower level, or "
        "ask for less quiet there; the plan says what is in the way, and what other ceilings and more money would do.",
        decides="owner",
    )


def _sleeps_then(brief: Brief, listener: Listener) -> bool:
    """Somebody may sleep there while it is played: anywhere at night, in the evening where the catalogue's own target is for sleep."""
    if brief.use.hours == "evening":
        return str(listener_kinds()[listener.kind]["target"]) == "quiet_for_sleep"
    return brief.use.hours == "night"


def _by_day_only(brief: Brief, listener: Listener) -> Finding:
    sleep, chosen = target_kinds()["quiet_for_sleep"], target_kinds()[listener.target]
    return Finding(
        rule=f"day_target_{listener.kind}",
        severity=Severity.CAUTION,
        title=f"{listener.label}: “{chosen['label']}”, {chosen['level']:.0f} dBA, is a target for the day, and it is played "
        f"{HOURS[brief.use.hours]}; sleep asks for {sleep['level']:.0f} dBA",
        measured=float(chosen["level"]),
        limit=float(sleep["level"]),
        unit="dBA",
        source=str(sleep["source"]),
        remedy="Ask whoever sleeps there, and agree on the hours; or choose “quiet enough to sleep” and see what that costs.",
        decides="owner",
    )


def _by_law(listener: Listener) -> Finding:
    spot = "outdoors at the window" if listener.window == "outside" else "inside the room"
    return Finding(
        rule=f"by_law_{listener.kind}",
        severity=Severity.NOTE,
        title=f"{listener.label}: {listener.limit:.0f} dBA is taken to hold {spot}, for the level while playing",
        measured=None,
        limit=listener.limit,
        unit="dBA",
        source=str(target_kinds()["by_law"]["source"]),
        remedy="Read where and how the by-law or contract measures: some take a mean of many minutes, some take off 5 dB for music, "
        "some forbid whatever is plainly heard. A number in dBA hardly counts deep bass: it can be kept and still be heard.",
        decides="local by-law officer, or whoever signed the contract",
    )


def _steps(listener: Listener) -> Finding:
    """Said wherever somebody walks overhead: no other number here is as unsure, and the best remedy is not for sale."""
    return Finding(
        rule="steps_overhead",
        severity=Severity.NOTE,
        title=f"{listener.label}: somebody walks overhead while you record or mix; a step's deep thud comes through almost any ceiling",
        measured=None,
        limit=None,
        unit="",
        source="a step by its momentum and length, from memory; no published spectrum of a walker was found",
        remedy="Agree with the house on still half hours, and lay a thick carpet with pad on the floor above: that takes the click off "
        "hard shoes, not the thud. This is the least sure of all levels: have somebody walk there and listen below before you pay for it.",
        decides="owner",
    )
