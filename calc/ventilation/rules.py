"""Findings about air: each rule one small function of the brief and the air result."""

from __future__ import annotations

import math

from calc.brief import Brief
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.unit_format import format_duration, format_flow, format_length, format_power, format_share, format_temperature
from calc.ventilation import climate, words
from calc.ventilation.air import HOLDS_CO2, ROOM_62_1, AirResult

HVAC = "HVAC designer"


def findings(brief: Brief, result: AirResult) -> tuple[Finding, ...]:
    """All findings about air, in the order of the rules."""
    rules = (
        fresh_air, minimum_too_little, with_breaks, sealed_room, cooling, heating, damp_summer, dry_winter, cold_wall, cold_duct,
        house_system, outdoors_unknown, duct_space,
    )  # fmt: skip
    return tuple(found for rule in rules if (found := rule(brief, result)) is not None)


def fresh_air(brief: Brief, result: AirResult) -> Finding | None:
    """A tight room always needs its own fresh air. Source: ASHRAE 62.1; mass balance of CO2."""
    return Finding(
        rule="air-fresh",
        severity=Severity.NOTE,
        title=f"A sealed room needs fresh air of its own, {format_flow(result.fresh_air, brief.units)}; what sets the flow: {result.basis}",
        measured=None,
        limit=None,
        unit="",
        source=f"{load('air')['ashrae_62_1']['source']}; CO2 balance with Persily & de Jonge 2017",
        remedy="Supply and return through two lined paths of equal flow; run the air whenever people are in the room.",
        decides=HVAC,
        task="air_design",
    )


def minimum_too_little(brief: Brief, result: AirResult) -> Finding | None:
    """The 62.1 minimum does not hold the chosen CO2 level when people are active."""
    if result.co2_steady_at_62_1 <= brief.air.co2_limit:
        return None
    return Finding(
        rule="air-62-1-minimum",
        severity=Severity.NOTE,
        title="The standard's minimum for music rooms would not hold the CO2 level you chose, with these people",
        measured=result.co2_steady_at_62_1,
        limit=brief.air.co2_limit,
        unit="ppm",
        source=f"{load('air')['ashrae_62_1']['source']}; CO2 balance. The level is a yardstick of ventilation, not a health limit",
        remedy=f"Size the air for {format_flow(result.rates[HOLDS_CO2], brief.units)}, "
        f"not for the standard's {format_flow(result.rates[ROOM_62_1], brief.units)}.",
        decides=HVAC,
        task="air_design",
    )


def with_breaks(brief: Brief, result: AirResult) -> Finding | None:
    """Breaks and late arrivals let a session do with less air; the room is not sized for them."""
    if brief.air.breaks == "none" and brief.air.arrivals == "together":
        return None
    return Finding(
        rule="air-breaks",
        severity=Severity.NOTE,
        title=f"With your breaks and arrivals CO2 peaks at {result.co2_peak:,.0f} ppm; this very session would do with "
        f"{format_flow(result.fresh_air_for_session, brief.units)}",
        measured=result.co2_peak,
        limit=brief.air.co2_limit,
        unit="ppm",
        source="CO2 balance solved exactly from one change of people to the next; Persily & de Jonge 2017",
        remedy=f"Keep {format_flow(result.fresh_air, brief.units)}: it holds the level however long a session grows.",
        decides="owner",
        task="rough_hvac",
    )


def sealed_room(brief: Brief, result: AirResult) -> Finding | None:
    """How soon the air is stale when the fan stops."""
    people = "1 person" if brief.use.people == 1 else f"{brief.use.people} people"
    sooner = result.co2_sealed_minutes < 60.0 * brief.use.session
    return Finding(
        rule="air-sealed",
        severity=Severity.CAUTION if sooner else Severity.NOTE,
        title=f"With the air off and {people} inside, the room passes the CO2 level you chose "
        f"after {format_duration(result.co2_sealed_minutes / 60.0)}"
        + (f"; a session lasts {format_duration(brief.use.session)}" if sooner else ""),
        measured=None,
        limit=None,
        unit="",
        source="CO2 balance of a closed, well-mixed room; Persily & de Jonge 2017",
        remedy="Switch the air with the lights; hang a CO2 meter; with the air off, open the doors at each break.",
        decides="owner",
        task="air_start",
    )


def cooling(brief: Brief, result: AirResult) -> Finding | None:
    """Fresh air alone cannot carry the heat away."""
    if not result.cooling_needed:
        return None
    return Finding(
        rule="air-cooling",
        severity=Severity.CAUTION,
        title="Fresh air alone cannot cool this room: people, equipment and lights give off more heat than it carries",
        measured=result.heat_sensible,
        limit=result.heat_sensible * float(load("air")["heat"]["temperature_rise"]) / result.temperature_rise,
        unit="W",
        source="ASHRAE Handbook Fundamentals 2013 chapter 18 Table 1; 1.21 W per L/s and K; ISO 13370 and ISO 6946; "
        "a rise of 3 K is common practice, no source",
        remedy=f"Plan cooling for about {format_power(result.cooling_W)} that recirculates inside the room, beside the fresh air: "
        f"{format_power(result.heat_sensible)} of heat, {format_power(result.heat_latent)} for the water that people give off, "
        f"{format_power(result.summer.fresh_sensible + result.summer.fresh_latent)} for the warmth and damp of summer's fresh air.",
        decides=HVAC,
        task="air_design",
    )


def heating(brief: Brief, result: AirResult) -> Finding | None:
    """Fresh air comes in cold in winter; a unit that recovers heat pays for itself in comfort."""
    if result.heating_W <= 0.0:
        return None
    return Finding(
        rule="air-heating",
        severity=Severity.NOTE,
        title=f"On the coldest design day, warming the fresh air takes {format_power(result.heating_W)}, in the room or the house",
        measured=None,
        limit=None,
        unit="",
        source="1.21 W per L/s and K; heat recovery of 70 % where the air path has such a unit (common practice, no source)",
        remedy=f"Let the HVAC designer add it to the heat load: with what walls and floor lose, about {format_power(result.heating_size)} "
        "in all while nobody is there. Never duct raw winter air into the room.",
        decides=HVAC,
        task="air_design",
    )


def damp_summer(brief: Brief, result: AirResult) -> Finding | None:
    """On a muggy day people and fresh air make a cool basement room damp; not knowing the summers asks."""
    limit, unknown = float(load("air")["humidity"]["high"]), brief.air.summer_damp == "unknown"
    if result.summer.humidity <= limit and not unknown:
        return None
    reached = format_share(round(min(result.summer.humidity, 1.0), 2))
    by_coil = "The cooling takes it out where it runs dry enough; " if result.cooling_needed else "Plan a dehumidifier; "
    kept = climate.season(brief, climate.SUMMER, result.fresh_air, result.moisture, result.end == "outdoors", keeps_moisture=True).take_out
    less = f"(about {words.water(kept, brief.units)} with a unit that recovers moisture too) " if kept < result.summer.take_out else ""
    return Finding(
        rule="air-damp-summer",
        severity=Severity.CAUTION,
        title=f"On a summer day with people in it, the room settles near {reached} relative humidity unless water is taken out"
        + (" (muggy summers assumed: nobody knew)" if unknown else ""),
        measured=min(result.summer.humidity, 1.0),
        limit=limit,
        unit="1",
        source="water balance of a well-mixed room, ASHRAE Handbook Fundamentals 2017 chapter 1; the limit is common practice, no source",
        remedy=f"About {words.water(result.summer.take_out, brief.units)} of water an hour {less}have to go while people are there. "
        f"{by_coil}look up the summer dew point in the weather record of your town" + (" before anything is bought." if unknown else "."),
        decides=HVAC,
        task="air_design",
    )


def dry_winter(brief: Brief, result: AirResult) -> Finding | None:
    """Winter air from outdoors dries wooden instruments."""
    limit = float(load("air")["humidity"]["low"])
    if result.winter.humidity >= limit:
        return None
    return Finding(
        rule="air-dry-winter",
        severity=Severity.NOTE,
        title=f"On the coldest design day the room settles near {format_share(round(result.winter.humidity, 2))} relative humidity: "
        "too dry for wooden instruments",
        measured=result.winter.humidity,
        limit=limit,
        unit="1",
        source="water balance of a well-mixed room, ASHRAE Handbook Fundamentals 2017 chapter 1; the limit is common practice, no source",
        remedy=f"A unit that also recovers moisture, or {words.water(result.winter.add, brief.units)} of water an hour from a humidifier "
        "while the air runs; turn the air down when nobody is there. No more than the cold foundation wall bears.",
        decides=HVAC,
        task="air_design",
    )


def cold_duct(brief: Brief, result: AirResult) -> Finding | None:
    """A duct of winter air sweats in a warm basement."""
    if result.end != "outdoors":
        return None
    around, humidity = brief.air.room_temperature, brief.air.room_humidity
    needed = climate.insulation_against_sweat(around, humidity, brief.air.winter_design)
    if needed <= 0.0:
        return None
    thick = (
        f"at least {format_length(needed, brief.units)}" if math.isfinite(needed) else "and drier basement air: no thickness alone helps"
    )
    return Finding(
        rule="air-duct-sweat",
        severity=Severity.NOTE,
        title=f"The ducts between unit and outdoors carry air of {format_temperature(brief.air.winter_design, brief.units)}: "
        "bare, they drip",
        measured=None,
        limit=None,
        unit="",
        source="dew point by ASHRAE Handbook Fundamentals 2017 chapter 1; resistances in series, ISO 6946",
        remedy=f"Insulate them, {thick}, inside a vapour-tight jacket sealed at every joint, up to the hood.",
        decides=HVAC,
        task="rough_hvac",
    )


def outdoors_unknown(brief: Brief, result: AirResult) -> Finding | None:
    """A path that ends outdoors, while nobody knows whether two ducts get there, asks."""
    if brief.air.duct_outdoors != "unknown":
        return None
    return Finding(
        rule="air-outdoors",
        severity=Severity.CAUTION,
        title="Nobody knows yet whether two ducts can reach the outdoors"
        + (": the air path chosen ends there" if result.end == "outdoors" else ""),
        measured=None,
        limit=None,
        unit="",
        source="common practice, no source",
        remedy="Before the air is designed, look along the top of the outer walls for two places "
        f"{words.distance(brief.units)} apart, away from flues, and answer the question again.",
        decides="owner",
        task="permits",
    )


def cold_wall(brief: Brief, result: AirResult) -> Finding | None:
    """Room air that reaches the foundation wall meets a surface near or below its dew point."""
    limit = float(load("rules")["moisture"]["surface_humidity"])
    surface = result.wall_surface_temperature
    if surface is None or result.wall_surface_humidity is None or result.wall_surface_humidity < limit:
        return None
    return Finding(
        rule="air-cold-wall",
        severity=Severity.CAUTION,
        title="Hold before framing: relative humidity at the cold foundation wall behind the inner wall is high enough for mould, or water",
        measured=result.wall_surface_humidity,
        limit=limit,
        unit="1",
        source=f"{load('rules')['moisture']['source']}; saturation pressures by ASHRAE Handbook Fundamentals 2017 chapter 1",
        remedy="Decide with the building official, before framing, how the foundation wall is insulated: the constructions here leave it "
        "bare, and its cost is not in the bill. The room shrinks by the insulation's thickness on each such side, by twice that where two "
        "face each other. "
        f"{words.winter_air(result.damp_winter, brief.units)}, and the wall's face is at {format_temperature(surface, brief.units)}. "
        "Besides: drier room air, an airtight inner wall, no plastic sheet on the room side below ground.",
        decides="building official",
        task="permits",
    )


def house_system(brief: Brief, result: AirResult) -> Finding | None:
    """What the house's heating means for the room's air; not knowing asks."""
    advice = {
        "forced air": "If you tie into it: only through lined supply and return of equal flow, with a fan that runs whenever people "
        "play, not only to heat.",
        "unknown": "Find out how the house is heated and whether ducts reach the basement before the air is designed.",
    }.get(brief.air.system, "No ducts to tie into: plan a small heat-recovery unit with lined runs, and heating of its own.")
    return Finding(
        rule="air-house-system",
        severity=Severity.CAUTION if brief.air.system == "unknown" else Severity.NOTE,
        title=f"How the room's air joins the house: {brief.air.system}",
        measured=None,
        limit=None,
        unit="",
        source="common practice, no source",
        remedy=advice,
        decides=HVAC,
        task="air_design",
    )


def duct_space(brief: Brief, result: AirResult) -> Finding | None:
    """Quiet air is slow air, and slow air needs a wide duct; the lining inside takes twice its thickness from it."""
    free, outside = (format_length(each, brief.units) for each in (result.duct_diameter, result.duct_outside))
    lined = result.duct_outside > result.duct_diameter
    return Finding(
        rule="air-duct-size",
        severity=Severity.NOTE,
        title=f"Quiet air is slow air: for NC {result.noise_target}, supply and return each need "
        f"{words.duct_area(result.duct_area, brief.units)} free" + (" after lining" if lined else ""),
        measured=None,
        limit=None,
        unit="",
        source=str(load("air")["noise_target"]["source"]),
        remedy=f"That NC is {result.noise_reason}. The square ducts of this plan leave as much free, or more. If round instead: "
        f"{free} of free diameter" + (f", in a casing of {outside} or more before the lining goes in" if lined else "") + ". "
        "Two smaller runs of the same free area together serve as well as one; keep the size to the grille; no damper at the grille.",
        decides=HVAC,
        task="air_design",
    )
