"""Fuel-burning appliances that lose their air to the room, and gas pipes behind its walls."""

from __future__ import annotations

from typing import Any

from calc.brief import Brief
from calc.codes import cited
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_length, format_volume

HVAC = "HVAC contractor"
SAME = 1e-6  # m; less than any tape shows
SQUARE_INCH = 0.0254**2
QUESTIONS = ("Input of the appliances", "Rest of the basement")  # titles in the interview, by which Brief.assumptions names them


def combustion_volume(power: float) -> float:
    """Least volume [m3] of the space an appliance of an input [W] takes its air from; below it the space is confined.

    Source: International Fuel Gas Code 304 / NFPA 54: 50 ft3 per 1,000 Btu/h.
    """
    return float(limits("combustion_air")["volume_per_power"]) * power


def indoor_opening(power: float) -> float:
    """Free area [m2] of each of two openings that join a confined space to another room of the same storey, input W.

    Source: International Fuel Gas Code 304: 1 in2 per 1,000 Btu/h, at least 100 in2.
    """
    rule = limits("combustion_air")
    return max(float(rule["opening_per_power"]) * power, float(rule["opening_min_area"]))


def outdoor_opening(power: float, way: str) -> float:
    """Free area [m2] of an outdoor combustion-air opening, input W; ``way`` is horizontal | single | vertical. Raises KeyError for others.

    Source: International Fuel Gas Code 304: 1 in2 per 2,000, 3,000 or 4,000 Btu/h.
    """
    return float(limits("combustion_air")[f"outdoor_{way}"]) * power


def known_rate_volume(power: float, air_changes: float, fan_assisted: bool) -> float:
    """Least volume [m3] where the infiltration is known: input W, air changes an hour of the space. Raises ValueError for none at all.

    Source: International Fuel Gas Code 304 / NFPA 54, known air infiltration rate: 21 ft3 (fan-assisted 15) per 1,000 Btu/h over the air
    changes, no more than 0.60 counted; the constants from memory.
    """
    if air_changes <= 0.0:
        raise ValueError("no infiltration feeds no flame")
    rule = limits("combustion_air")
    rate = float(rule["known_rate_fan" if fan_assisted else "known_rate_natural"])
    return rate * power / min(air_changes, float(rule["infiltration_cap"]))


def appliance(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A natural-draft appliance breathes the basement's air; a tight room takes volume away. Too little is a stop, not knowing asks."""
    kind, power, left = brief.shell.appliance, brief.shell.appliance_power, brief.shell.basement_volume_left
    if kind == "none":
        return None
    source = str(code_rule(brief.code, "combustion_air")["source"])
    if kind == "sealed":
        return note(
            "appliance-sealed",
            "A sealed (direct-vent) appliance takes its air from outside, but still needs working space and a door to be reached",
            "Keep 30 in (760 mm) level working space at its control side and the way wide enough to take it out; leave both pipes "
            "untouched.",
            source=str(code_rule(brief.code, "appliance_access")["source"]),
            decides=HVAC,
            task="permits",
        )
    needed = combustion_volume(power)
    ways = _air_for(power, left, brief.units, tight=site.tight_house == "yes")
    name = "A natural-draft appliance" if kind == "natural draft" else "An appliance of unknown kind"
    short = power > 0.0 and left < needed
    kept = f"{name} keeps {format_volume(left, brief.units)} of basement air"
    asked = f" and needs {format_volume(needed, brief.units)}: a confined space, too little; carbon monoxide kills" if short else ""
    asked += " (assumed: measure first)" if any(each.question in QUESTIONS for each in brief.assumptions) else ""
    return (stop if short and kind == "natural draft" else caution)(
        "appliance-air",
        kept + asked,
        f"Ask an HVAC contractor before the permit, and order nothing before the answer. {ways}"
        "Have any appliance that still burns the basement's air tested for draft once the boards are up and before first use, every fan "
        "running and the room's air balanced, with a carbon monoxide alarm beside it.",
        source=source,
        decides=HVAC,
        task="hazards_test",
    )


def _air_for(power: float, left: float, units: str, tight: bool) -> str:
    """Where the appliance's air can come from: openings for its input [W], only to the outside in a tight house; nothing to open into where
    no volume [m3] is left."""
    if left <= 0.0:
        return (
            "Nothing of the basement is left for openings to lead to: the appliance must be replaced by a sealed one or moved, or this "
            "area is not used. "
        )
    if power <= 0.0:
        return "Read the input in Btu/h or kW off its label. "
    outside = f"two horizontal ducts of {_opening(outdoor_opening(power, 'horizontal'), units)} each to the outside. "
    if tight:
        return f"In a house made tight no opening to other rooms serves: {outside}Better: replace it by a sealed one. "
    return (
        f"Openings for that input: two of {_opening(indoor_opening(power), units)} each where a wall parts it from more space on the same "
        f"storey, one within 12 in (300 mm) of the ceiling, one of the floor, no side under "
        f"3 in (76 mm). Or {outside}"
        "Better: replace it by a sealed one. "
    )


def gas_line(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Gas pipe, union or shut-off that the room would enclose."""
    if brief.shell.gas_line == "no":
        return None
    known = brief.shell.gas_line == "yes"
    return caution(
        "gas-line" if known else "gas-line-unknown",
        "A gas pipe or shut-off is inside the area" if known else "Nobody has checked for a gas pipe or shut-off inside the area",
        "No joint or valve may end up sealed in: have a licensed gas fitter move it or keep it reachable, then pressure-test; "
        "clips and screws stay clear of the pipe. Smell gas: leave, ring from outside."
        if known
        else "Follow the gas pipe from the meter with your eyes through every joist bay over the area before anything is bought.",
        source=cited(brief.code, "International Fuel Gas Code 404 (concealed piping) and 409 (shut-off access), from memory"),
        decides="licensed gas fitter",
        task="survey",
    )


def _opening(area: float, units: str) -> str:
    return f"{area / SQUARE_INCH:.0f} sq in" if units == "imperial" else f"{area * 1e4:.0f} cm²"


def tight_house(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A flame that breathes the house's air starves, or spills, in a house made tight: no volume rule holds there."""
    kind = brief.shell.appliance
    if kind not in ("natural draft", "unknown") or site.tight_house == "no":
        return None
    rule = code_rule(brief.code, "combustion_air")
    facts: dict[str, Any] = {"source": str(rule["source"]), "decides": HVAC, "task": "hazards_test"}
    if site.tight_house == "yes":
        return (stop if kind == "natural draft" else caution)(
            "tight-house",
            "The house was made tight and an appliance may breathe its air: no volume of basement is known to be enough. Stop and ask",
            f"Under {rule['infiltration_least']:.2f} air changes an hour the volume rule does not hold. Have an HVAC contractor measure "
            "draft and spillage with every fan and the dryer running; a sealed appliance ends the question. Until then, a carbon monoxide "
            "alarm beside it and no new fan.",
            **facts,
        )
    return caution(
        "tight-house-unknown",
        "Nobody has said whether the house was made tight: new windows, spray foam, air sealing or a strong kitchen fan can starve a flame",
        "Say what was done in the last twenty years; if anything was, have draft and spillage tested before the room is built.",
        **facts,
    )


def appliance_access(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Whoever services or replaces the appliance must get to it once the walls stand."""
    if brief.shell.appliance == "none":
        return None
    rule, clear = code_rule(brief.code, "appliance_access"), site.appliance_clear
    space = format_length(float(rule["space"]), brief.units)
    facts: dict[str, Any] = {"source": str(rule["source"]), "decides": HVAC, "task": "survey"}
    if clear is not None and clear >= rule["space"] - SAME:
        return None
    if clear is not None:
        return caution(
            "appliance-space",
            "Too little level space is left before the controls of the appliance",
            "Move the wall, or have the contractor say in writing how it is serviced and taken out.",
            measured=clear,
            limit=float(rule["space"]),
            unit="m",
            **facts,
        )
    return caution(
        "appliance-space-unknown",
        f"Nobody has measured what space the walls leave before the appliances: {space} square and level at the controls is the least",
        f"Mark the new wall on the floor and measure to the side with the burner and filter; the way out to the stairs stays at least "
        f"{format_length(float(rule['passage']), brief.units)} wide, and wide enough for the largest of them.",
        **facts,
    )


RULES: tuple[Rule, ...] = (gas_line,)
SITE_RULES: tuple[SiteRule, ...] = (appliance, tight_house, appliance_access)
