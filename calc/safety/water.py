"""Water first: nothing is built over a leak, a wet wall or the drain that would save the room."""

from __future__ import annotations

from typing import Any

from calc.brief import Brief, SideKind
from calc.codes import cited
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_area, format_temperature
from calc.ventilation.air import air

OFFICIAL = "building official"

TEST = (
    "Tape a clear plastic sheet, about 2 ft (600 mm) square, to wall and slab in several places for 48 hours: drops under it come from "
    "the "
    "ground, drops on it from the air. Repeat in the wet season."
)
WETTEST = "after heavy rain or in the wet season, before any frame stands"


def water_signs(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Standing water stops the project; stains and damp are tested first; none seen is still tested."""
    facts = {"source": "US EPA, moisture control guidance, from memory; sheet test is common practice", "task": "water"}
    if site.wall_test == "wet":
        return stop(
            "water-test-wet",
            "The sheet test was wet: build nothing until wall and slab test dry",
            "Drops behind the sheet come from the ground: gutters, grading, drains, then wall and slab, by a waterproofing contractor. "
            "Drops on its face come from the air: dry it. Test again, in the wet season too.",
            decides="waterproofing contractor",
            **facts,
        )
    match brief.shell.water:
        case "standing":
            return stop(
                "water-standing",
                "Water stands in the basement: build nothing until it stays out for a wet season",
                "Gutters, grading, cracks, drains and sump first, by a waterproofing contractor; then watch it through the wettest months.",
                decides="waterproofing contractor",
                **facts,
            )
        case "stains" | "damp" if site.wall_test == "dry":
            return caution(
                "water-signs",
                "Stains or damp, though the sheet test was dry: find out where the water came from before a wall hides it",
                "A dry test speaks for its two days. Look outside: gutters, downspouts, soil that falls towards the house. Repeat the "
                f"test once, {WETTEST}.",
                decides="waterproofing contractor",
                **facts,
            )
        case "stains" | "damp":
            return caution(
                "water-signs",
                "Stains or damp: find out where the water comes from before a wall hides it",
                f"{TEST} Look outside first: gutters, downspouts, soil that falls towards the house.",
                decides="waterproofing contractor",
                **facts,
            )
        case "none" if site.wall_test == "dry":
            return note("water-dry", "No water seen and the sheet test was dry", f"Repeat it once, {WETTEST}.", decides="owner", **facts)
        case "none":
            return note("water-test", "No water seen: prove it before the walls are closed", TEST, decides="owner", **facts)
        case _:
            dry = site.wall_test == "dry"
            return caution(
                "water-unknown",
                f"Nobody has looked for water signs{'; the sheet test was dry' if dry else ''}",
                f"Look for stains, white bloom, rust at posts. {f'Repeat the test once, {WETTEST}.' if dry else TEST}",
                decides="owner",
                **facts,
            )


def mould(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Mould grows where it was wet; how much decides who cleans it."""
    area = format_area(float(limits("moisture")["mould_area"]), brief.units)
    facts: dict[str, Any] = {"source": "US EPA, mould clean-up guidance, from memory", "task": "hazards_test"}
    if site.mould == "large":
        return stop(
            "mould-large",
            f"There is mould on more than {area}: a professional removes it before anything else",
            "Keep out, keep the door shut and fans off; find the water that feeds it.",
            decides="mould remediation contractor",
            **facts,
        )
    if site.mould == "no" or (site.mould == "unknown" and brief.shell.water == "none"):
        return None
    return caution(
        "mould",
        "There is mould: clean it off before anything is covered"
        if site.mould == "small"
        else "Where it was wet, look for mould before anything is covered",
        f"Dry wet materials within 24-48 hours; beyond {area} call a professional; wear a P100 or N95 mask, gloves and goggles below it. "
        "Never seal mould behind a wall.",
        decides="owner",
        **facts,
    )


def drains(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A sump, floor drain or clean-out under the new floor must stay reachable."""
    if brief.shell.drains == "no":
        return None
    known = brief.shell.drains == "yes"
    return caution(
        "drains" if known else "drains-unknown",
        "A sump, floor drain or clean-out is inside the area"
        if known
        else "Nobody has checked for a sump, floor drain or clean-out inside the area",
        "Keep it reachable through a sealed hatch, keep its trap wet, fit an alarm to a sump; or have a plumber move it first."
        if known
        else "Lift rugs and shelves and look at the slab and the foot of the walls; find where the sewer leaves the house.",
        source=cited(brief.code, "International Plumbing Code, access to clean-outs, from memory"),
        decides="licensed plumber",
        task="survey",
    )


def vapour(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Where no vapour retarder belongs, and what the planned air does at the cold foundation wall."""
    found = air(brief, room, scheme.air_path)
    surface, humidity = found.wall_surface_temperature, found.wall_surface_humidity
    if surface is None or humidity is None:
        return None
    rule, units = code_rule(brief.code, "vapour"), brief.units
    if humidity >= 1.0:
        then = "water forms where that air reaches it"
    elif humidity >= float(limits("moisture")["surface_humidity"]):
        then = "no water forms there, yet it is damp enough for mould"
    else:
        then = "no water forms there"
    above = any(side.kind is SideKind.FOUNDATION_ABOVE for side in brief.shell.sides)
    climate = (
        "mild winters ask for none there" if brief.air.winter_design > rule["mild_winter"] else "ask the official which class it needs"
    )
    return note(
        "vapour",
        f"At {format_temperature(found.damp_winter.outdoor, units)} outdoors, with the room in use at dew point "
        f"{format_temperature(found.damp_winter.dew_point, units)}, the foundation wall's face is at "
        f"{format_temperature(surface, units)}: {then}",
        "No plastic sheet, foil or other vapour barrier on the room side below ground: it traps what comes through the wall. Keep room air "
        "off the cold wall: an airtight inner wall, and insulation against the foundation that vapour passes slowly, as the official asks. "
        + (f"The part above ground is another matter: {climate}." if above else ""),
        source=str(rule["source"]) + "; dew point by ASHRAE Handbook Fundamentals 2017 chapter 1",
        decides=OFFICIAL,
        task="permits",
    )


RULES: tuple[Rule, ...] = (vapour, drains)
SITE_RULES: tuple[SiteRule, ...] = (water_signs, mould)
