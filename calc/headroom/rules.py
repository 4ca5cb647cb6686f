"""Findings about height: each zone that fails a limit, what lies under a low place, doors, sloped area, and what to ask."""

from __future__ import annotations

from collections.abc import Iterator

from calc.brief import Brief
from calc.catalogue import load
from calc.codes import ELSEWHERE, country
from calc.finding import Finding, Severity
from calc.headroom.limits import TOLERANCE, code_limit, door_head, slope_rule
from calc.headroom.spots import HeightMap
from calc.headroom.zones import HeadroomResult, ZoneHeight
from calc.unit_format import format_area, format_length, format_share

OFFICIAL = "building official"


def there(zone: ZoneHeight) -> str:
    """Where a zone is, in a sentence: in the open field, under the duct."""
    return zone.name if zone.obstruction else f"in the {zone.name}"


def findings(brief: Brief, result: HeadroomResult, heights: HeightMap | None = None) -> tuple[Finding, ...]:
    """Every finding about height; ``heights`` adds what the measured corners show. Sources: each finding names its own."""
    found = [finding for zone in result.zones for finding in _zone_findings(brief, result, zone)]
    found += [finding for zone in result.zones for finding in _tight(brief, zone)]
    found += _places(brief, result)
    found += _doors(brief, result)
    found += _areas(brief, result)
    found += _spots(brief, heights)
    found += _asked(brief)
    return tuple(found)


def _zone_findings(brief: Brief, result: HeadroomResult, zone: ZoneHeight) -> Iterator[Finding]:
    walked = float(load("rules")["ceiling_rules"]["walked_minimum"])
    said = " (assumed: measure first)" if zone.assumed else ""
    if not zone.ok_code:
        passable = zone.place in ("desk", "side") or zone.sloped
        stop = brief.habitable == "yes" or (zone.height < walked - TOLERANCE and not passable)
        yield Finding(
            rule=f"headroom-code-{zone.name.replace(' ', '-')}",
            severity=Severity.STOP if stop else Severity.CAUTION,
            title=f"Finished height {there(zone)} is below the model-code minimum{said}",
            measured=zone.height,
            limit=zone.limit,
            unit="m",
            source=zone.limit_source,
            remedy=_remedy(brief, result, zone, zone.limit) + _other_editions(brief, zone),
            decides=OFFICIAL,
            task="survey",
        )
    if not zone.ok_own:
        yield Finding(
            rule=f"headroom-own-{zone.name.replace(' ', '-')}",
            severity=Severity.CAUTION,
            title=f"Finished height {there(zone)} is below the lowest ceiling you accept{said}",
            measured=zone.height,
            limit=zone.own_limit,
            unit="m",
            source="your own limit",
            remedy=_remedy(brief, result, zone, zone.own_limit or 0.0),
            decides="owner",
            task="survey",
        )


def _tight(brief: Brief, zone: ZoneHeight) -> Iterator[Finding]:
    """A zone that passes by less than tape and framing may differ by."""
    tolerance = float(load("rules")["ceiling_rules"]["tolerance"])
    if zone.ok_code and zone.ok_own and zone.margin < tolerance - TOLERANCE:
        yield Finding(
            rule=f"headroom-tight-{zone.name.replace(' ', '-')}",
            severity=Severity.CAUTION,
            title=f"Finished height {there(zone)} passes by less than tape and framing may err, {format_length(tolerance, brief.units)}",
            measured=zone.height,
            limit=zone.asked,
            unit="m",
            source=f"{zone.limit_source if zone.asked == zone.limit else 'your own limit'}; tolerance: common practice, no source",
            remedy="Measure again with a laser level at the lowest joist and the highest spot of the slab, and show the height to the "
            "inspector before the boards go up.",
            decides="owner",
            task="survey",
        )


def _remedy(brief: Brief, result: HeadroomResult, zone: ZoneHeight, limit: float) -> str:
    """What helps where a zone is under a limit [m]; a lid helps only over the open field, and not where the bare height already fails."""
    first = "This height was not measured: measure it at the lowest spot before anything else. " if zone.assumed else ""
    hung = zone.name.removeprefix("under ") if zone.obstruction else "the joists"
    if zone.bare < limit - TOLERANCE:
        first += f"No lid and no floor cure it: with nothing built, {hung} and the highest spot of the slab are only "
        first += (
            f"{format_length(zone.bare, brief.units)} apart. Choose another place for the room, or ask a structural engineer what can move"
        )
    elif zone.obstruction:
        mover = "an engineer" if hung == "the beam" else "its own trade"
        first += f"A thinner lid does not help here: {hung} sets this height. A thinner floor may, where one is laid; else ask {mover} "
        first += "whether it can move, or choose another place for the room"
    else:
        first += "Choose a thinner lid or another place for the room"
    gain = "; ".join(result.win_back) if zone is result.binding else ""
    return f"{first}. Height to win back: {gain}." if gain else f"{first}."


def _other_editions(brief: Brief, zone: ZoneHeight) -> str:
    """Editions that would let this height pass: any, where the edition is not known, else others of the same country, by which an office
    may be willing to judge a basement that already exists."""
    cases = load("rules")["ceiling"]
    asked = cases[brief.code]
    if zone.sloped or country(brief.code) == ELSEWHERE:
        return ""
    known = [key for key, case in cases.items() if not case.get("careful") and key != brief.code]
    if not asked.get("careful"):
        known = [key for key in known if cases[key]["country"] == asked["country"]]
    passing = [cases[key]["label"] for key in known if zone.height >= code_limit(key, brief.habitable, zone.obstruction).height]
    if not passing:
        return ""
    which = "which edition is in force" if asked.get("careful") else "whether the office would judge by it"
    return f" This height would pass under {'; '.join(passing)}: ask {which}."


def _places(brief: Brief, result: HeadroomResult) -> Iterator[Finding]:
    """Where a low place stands against the ways people take. One that nobody has placed is asked about when a tall head could meet it."""
    tall = max(door_head(), brief.limits.lowest_ceiling)
    low = [zone for zone in result.zones if zone.obstruction and zone.height < tall - TOLERANCE]
    asked = [zone for zone in low if zone.place == "unknown"]
    if asked:
        named = ", ".join(f"{zone.name} {format_length(zone.height, brief.units)}" for zone in asked)
        yield Finding(
            rule="headroom-place-unknown",
            severity=Severity.CAUTION,
            title=f"Nobody has said whether people walk, open a door or sit at a desk under the low places: {named}",
            measured=None,
            limit=None,
            unit="",
            source="common practice, no source",
            remedy="Mark the low strips on the floor with tape before the room is laid out. Keep the door and the way to it clear of "
            "them; put shelves, racks or the desk there.",
            decides="owner",
            task="survey",
        )
    for zone in low:
        if zone.place == "desk" and zone.ok_code:
            yield Finding(
                rule=f"headroom-desk-{zone.name.replace(' ', '-')}",
                severity=Severity.NOTE,
                title=f"Finished height {there(zone)}, where the desk stands, is {format_length(zone.height, brief.units)}: enough to sit",
                measured=None,
                limit=None,
                unit="",
                source="common practice, no source",
                remedy="Put the chair and not the way past it under the low strip, and pad its edge.",
                decides="owner",
                task="survey",
            )


def _doors(brief: Brief, result: HeadroomResult) -> Iterator[Finding]:
    """A door of the usual height needs more than a low ceiling, or a low soffit over it, leaves."""
    for zone in (result.open_field, *(zone for zone in result.zones if zone.place == "door")):
        if zone.height < door_head() - TOLERANCE:
            yield Finding(
                rule=f"headroom-door-{zone.name.replace(' ', '-')}",
                severity=Severity.CAUTION,
                title=f"A door of the usual height and its frame do not fit in the finished height {there(zone)}",
                measured=zone.height,
                limit=door_head(),
                unit="m",
                source=str(load("rules")["door_head"]["source"]),
                remedy="Order a shorter leaf and frame before the wall is framed, or put the door where it is higher. Ask the official "
                "about the least clear height if it is the way out, and cut a sound door only as its maker allows.",
                decides="owner",
                task="order_materials",
            )


def _areas(brief: Brief, result: HeadroomResult) -> Iterator[Finding]:
    """Sloped and boxed-in parts count less, or not at all, towards the least area of a habitable room."""
    low = [zone for zone in result.zones if zone.obstruction and zone.area > 0.0]
    full = code_limit(brief.code, brief.habitable, False).height
    if brief.habitable == "no" or not low:
        return
    rule = slope_rule(brief.code)
    whole = brief.shell.length * brief.shell.width
    at_full = max(whole - sum(zone.area for zone in low if zone.height < full - TOLERANCE and (zone.sloped or rule.required_area)), 0.0)
    asked = rule.share * (whole if rule.required_area is None else rule.required_area)
    slopes = any(zone.sloped for zone in low)
    if slopes and at_full < asked - TOLERANCE:
        yield _area(
            "headroom-slope-area",
            f"With a sloped part, too little of the floor has full height: {format_share(rule.share)} of the area that counts",
            at_full,
            asked,
            rule.source,
        )
    if rule.required_area is not None:
        counted = at_full + sum(zone.area for zone in low if zone.sloped and rule.lowest - TOLERANCE <= zone.height < full)
        if counted < rule.required_area - TOLERANCE:
            yield _area(
                "headroom-counted-area",
                "Low boxed-in and sloped parts do not count, and the floor left over is less than "
                f"{format_area(rule.required_area, brief.units)}",
                counted,
                rule.required_area,
                rule.source,
            )


def _area(rule: str, title: str, measured: float, limit: float, source: str) -> Finding:
    return Finding(
        rule=rule,
        severity=Severity.CAUTION,
        title=title,
        measured=measured,
        limit=limit,
        unit="m2",
        source=source,
        remedy="Choose a larger place, move what hangs low, or ask the official whether the room need count as habitable.",
        decides=OFFICIAL,
        task="survey",
    )


def _spots(brief: Brief, heights: HeightMap | None) -> Iterator[Finding]:
    """What the measured corners show: a smaller height than was given, or more difference than the slab's."""
    if heights is None:
        return
    lowest = heights.lowest
    if lowest.found < brief.shell.height - TOLERANCE:
        yield Finding(
            rule="headroom-lower-spot",
            severity=Severity.CAUTION,
            title=f"At one spot, the {lowest.name}, the joists are lower over the slab than the height the plan counts with",
            measured=lowest.found,
            limit=brief.shell.height,
            unit="m",
            source="your own measurements",
            remedy="Measure it again, then give the smallest height of all spots as the height to the joists: every height here falls by "
            "the difference.",
            decides="owner",
            task="survey",
        )
    said = max(brief.shell.slab_unevenness, 0.0)
    if heights.spread > said + float(load("rules")["ceiling_rules"]["tolerance"]):
        yield Finding(
            rule="headroom-spread",
            severity=Severity.CAUTION,
            title="Heights from spot to spot differ by more than the slab is out of level: the joists sag or slope, too",
            measured=heights.spread,
            limit=said,
            unit="m",
            source="your own measurements",
            remedy="Find the lowest joist and the highest spot of the slab with a laser level; a joist that sags more than its neighbours "
            f"is for the structural engineer. {format_share(heights.share_full)} of the plan has full height if ceiling and floor follow "
            "what is there.",
            decides="owner",
            task="survey",
        )


def _asked(brief: Brief) -> list[Finding]:
    asked, office = [], "building department"
    if brief.habitable == "unknown":
        asked.append(("headroom-habitable-unknown", "Ask whether the room counts as habitable space; it is planned as if it does"))
    height = format_length(code_limit(brief.code, brief.habitable, obstruction=False).height, brief.units)
    if country(brief.code) == ELSEWHERE:
        title = f"Ask what the law is where the house stands: no limit here is; the strictest of North America, {height}, is a yardstick"
        office = "office that grants building permits where the house stands"
        asked.append(("headroom-code-elsewhere", title))
    elif load("rules")["ceiling"][brief.code].get("careful"):
        title = f"Ask which code edition is in force; the highest limit of the known editions is used, {height}"
        asked.append(("headroom-edition-unknown", title))
    return [
        Finding(
            rule=rule,
            severity=Severity.CAUTION,
            title=title,
            measured=None,
            limit=None,
            unit="",
            source=code_limit(brief.code, brief.habitable, obstruction=False).source,
            remedy=f"Ring the {office} before anything is bought: one call, and it can change the ceiling you may build.",
            decides=OFFICIAL,
            task="permits",
        )
        for rule, title in asked
    ]
