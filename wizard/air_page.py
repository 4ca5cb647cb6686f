"""The page "Air" as lines of text for any width: CO2 over a session, what sets the fresh air, heat, moisture; with
air_design_page.py the ducts and the other ways to bring air in. No Textual here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING

from calc.finding import Finding, Severity
from calc.unit_format import format_flow, format_power, format_temperature
from calc.units import IMPERIAL
from calc.ventilation.words import winter_air
from wizard.air_design_page import design_lines
from wizard.lines import Line, Part, hung, section, text_width
from wizard.plots import LEAST_HEIGHT, LEAST_WIDTH, bars, co2_plot
from wizard.present import filters

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.brief import Brief

TALLEST = 18
FAHRENHEIT = 1.8  # degrees to a kelvin


@dataclass(frozen=True)
class AirPage:
    """A wizard.lines.Page of one piece."""

    assessment: Assessment
    start: int = 0

    def rows(self, width: int) -> tuple[str, ...]:
        return ()

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        found, room = self.assessment, text_width(width)
        plot = max(LEAST_WIDTH, width)
        return [
            *section("CO2 over one session", [_chart(found, plot, height, unicode)], Part.CHART, first=True),
            *(Line(Part.TEXT, line) for text in _session(found) for line in hung("", text, room)),
            *section("What asks for how much fresh air", [_rates(found, plot, unicode)], Part.CHART),
            *section("Heat in the room", [_heat(found, plot, unicode)], Part.CHART),
            *(Line(Part.TEXT, line) for text in _cooling(found) for line in hung("", text, room)),
            *design_lines(found, room),
            *section("Moisture", [hung("", text, room) for text in _moisture(found)]),
            *to_look_at(found.brief, (*(each for each in found.findings if each.rule.startswith("air-")), *found.air_findings), room),
        ]


def to_look_at(brief: Brief, findings: Iterable[Finding], room: int) -> list[Line]:
    """Stops and cautions, each with its remedy."""
    own = filters(brief.units, brief.means.currency)["own"]
    told = [finding for finding in findings if finding.severity is not Severity.NOTE]
    return section("To look at", [hung("- ", str(own(f"{each.severity.value}: {each.title}. {each.remedy}")), room) for each in told])


def _chart(found: Assessment, width: int, height: int, unicode: bool) -> list[str]:
    air = found.air
    tall = max(LEAST_HEIGHT, min(TALLEST, height - 2))  # the heading above it, a sentence below it
    return co2_plot(air.co2_curve, air.co2_off, found.brief.air.co2_limit, width, tall, unicode)


def _session(found: Assessment) -> list[str]:
    air, limit = found.air, found.brief.air.co2_limit
    shut = (
        f"With the air off and all inside the room passes it after {air.co2_sealed_minutes:.0f} minutes."
        if isfinite(air.co2_sealed_minutes)
        else "With the air off it is never passed."
    )
    return [
        f"At the most {air.co2_peak:,.0f} ppm, {air.co2_final:,.0f} ppm at the end; your limit is {limit:,.0f} ppm. {shut} "
        "CO2 shows how stale the air is; the limit is one of comfort."
    ]


def _rates(found: Assessment, width: int, unicode: bool) -> list[str]:
    air, units = found.air, found.brief.units
    rows = sorted(air.rates.items(), key=lambda pair: -pair[1])
    return bars([(_named(name, air.basis), rate, format_flow(rate, units)) for name, rate in rows], width, unicode)


def _named(name: str, basis: str) -> str:
    return f"{name} (decides)" if name == basis else name


def _heat(found: Assessment, width: int, unicode: bool) -> list[str]:
    return bars([(name, watts, format_power(watts)) for name, watts in found.air.heat_parts.items()], width, unicode)


def _cooling(found: Assessment) -> list[str]:
    air, units = found.air, found.brief.units
    rise = f"{air.temperature_rise * FAHRENHEIT:.0f} °F" if units == IMPERIAL else f"{air.temperature_rise:.0f} °C"
    cooled = (
        f"A unit that takes out {format_power(air.cooling_W)}, moist heat and summer's fresh air included, is needed."
        if air.cooling_needed
        else "Fresh air carries it away; no cooling unit is needed."
    )
    return [
        f"Together {format_power(air.heat_sensible)}. With fresh air alone the room grows {rise} warmer than what it is supplied with. "
        f"{cooled}",
        f"On the coldest day it takes {format_power(air.heating_size)} to keep warm with nobody in it.",
    ]


def _moisture(found: Assessment) -> list[str]:
    air, units = found.air, found.brief.units
    given = filters(units, found.brief.means.currency)["moisture"](air.moisture)
    wall = ""
    if air.wall_surface_humidity is not None:
        told = "there water runs" if air.wall_surface_humidity >= 1.0 else f"there the air is {air.wall_surface_humidity:.0%} humid"
        cold = f" at {format_temperature(air.wall_surface_temperature, units)}" if air.wall_surface_temperature is not None else ""
        wall = f" If that air finds the foundation wall behind the inner wall{cold}, {told}; mould needs about 80%."
    return [f"People give off {given} of water. {winter_air(air.damp_winter, units)}.{wall}"]
