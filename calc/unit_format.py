"""SI values written in the person's system, rounded to what is known: lengths to 1/8 in or 5 mm, levels to 1 dB, money to the unit."""

from __future__ import annotations

import math
import re
from functools import lru_cache

from calc.unit_dates import format_date, with_weekday
from calc.units import IMPERIAL, METRIC, Measure, from_base

EIGHTHS = ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
# A size named in both systems, as texts hold them.
_NUMBER = r"\d[\d.,/-]*(?: \d+/\d+)?"
_METRIC = rf"(?:{_NUMBER} (?:x|by) )*{_NUMBER} (?:mm|m2|m3|m²|m³|mL|kg|m|L|L/s|N|kPa|MPa|kW|°C)(?! x)"
_IMPERIAL_UNIT = r"(?:in|ft2|ft3|sq ft|cu ft|ft|gal|fl oz|mil|lb|cfm|psf|psi|BTU/h|°F)"
_IMPERIAL = rf"(?:\d+x\d+|\d+ ft {_NUMBER} in|(?:{_NUMBER} (?:x|by) )*{_NUMBER} {_IMPERIAL_UNIT})"
_OTHER_FIRST = {
    IMPERIAL: re.compile(rf"({_METRIC}) \(({_IMPERIAL})\)"),
    METRIC: re.compile(rf"({_IMPERIAL}) \(({_METRIC})\)"),
}


def format_length(metres: float, system: str, step_mm: float = 5.0) -> str:
    """``7 ft 2 1/2 in`` or ``2.195 m``; under 2 ft in inches, under 1 m in mm.

    ``step_mm`` is the rounding of metric lengths, never more than 1 mm under 300 mm.
    """
    if system == IMPERIAL:
        return _feet_and_inches(metres)
    step_mm = min(step_mm, 1.0) if abs(metres) < 0.3 else step_mm  # 5 mm would falsify the thickness of a joist or a wall
    millimetres = round(round(metres * 1000.0 / step_mm) * step_mm, 3)
    if abs(millimetres) < 1000.0:
        return f"{millimetres:g} mm"
    return f"{millimetres / 1000.0:.3f}".rstrip("0").rstrip(".") + " m"


def own_first(text: str, system: str) -> str:
    """A text in which each size that is named in both systems stands in the person's, the other in brackets behind it."""
    return _OTHER_FIRST[system].sub(r"\2 (\1)", text) if "(" in text else text


def format_nominal(metres: float, system: str) -> str:
    """A size as goods are sold in: whole inches, or as ``format_length``. The other system's goods are a few per cent larger or smaller.

    Source: common practice, no source.
    """
    inches = round(from_base(metres, "in", "length"))
    return f"{inches} in" if system == IMPERIAL and inches else format_length(metres, system)


def format_spacing(metres: float, system: str) -> str:
    """A greatest spacing, a lap or a distance from an edge, to which nothing is cut: metric ones of 100 mm and more to the 50 mm below, as
    a builder has them on the tape.

    Source: common practice, no source.
    """
    whole = math.floor(metres / 0.05 + 1e-6) * 0.05
    return format_length(metres if system == IMPERIAL or metres < 0.1 else whole, system)


def format_area(square_metres: float, system: str) -> str:
    return f"{from_base(square_metres, 'sqft', 'area'):,.0f} sq ft" if system == IMPERIAL else f"{square_metres:.1f} m²"


def format_volume(cubic_metres: float, system: str) -> str:
    return f"{from_base(cubic_metres, 'cuft', 'volume'):,.0f} cu ft" if system == IMPERIAL else f"{cubic_metres:.1f} m³"


def format_flow(cubic_metres_per_second: float, system: str) -> str:
    unit = "cfm" if system == IMPERIAL else "L/s"
    return f"{from_base(cubic_metres_per_second, unit, 'flow'):.0f} {unit}"


def format_power(watts: float) -> str:
    return f"{watts / 1000.0:g} kW" if abs(watts) >= 10_000.0 else f"{watts:,.0f} W"


def format_heat_input(watts: float, system: str) -> str:
    """The input of a burner: BTU/h (to 100) or kW."""
    if system == IMPERIAL:
        return f"{round(from_base(watts, 'btu/h', 'power'), -2):,.0f} BTU/h"
    return f"{watts / 1000.0:.1f} kW"


def format_pressure(pascals: float, system: str) -> str:
    return f"{from_base(pascals, 'psf', 'pressure'):.1f} psf" if system == IMPERIAL else f"{pascals / 1000.0:.2f} kPa"


def format_force(newtons: float, system: str) -> str:
    """A weight that hangs: pounds or newtons."""
    return f"{from_base(newtons, 'lb', 'force'):.0f} lb" if system == IMPERIAL else f"{newtons:.0f} N"


def format_temperature(celsius: float, system: str) -> str:
    return f"{from_base(celsius, '°f', 'temperature'):.0f} °F" if system == IMPERIAL else f"{celsius:.0f} °C"


def format_money(amount: float, currency: str = "") -> str:
    return f"{amount:,.0f} {currency}".strip()


def format_share(share: float) -> str:
    return f"{round(share * 100.0, 1):g} %"


def format_level(decibels: float, unit: str = "dBA") -> str:
    return f"{decibels:.0f} {unit}"


def format_duration(hours: float) -> str:
    minutes = round(hours * 60.0)
    whole, rest = divmod(minutes, 60)
    if whole == 0 and rest:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


@lru_cache(maxsize=1024)
def format_value(value: float, measure: Measure, system: str, currency: str = "") -> str:
    """Any value that parse() returns, written in the person's system; parse() reads it back to the same within the rounding."""
    match measure.dimension:
        case "length":
            return format_length(value, system)
        case "area":
            return format_area(value, system)
        case "volume":
            return format_volume(value, system)
        case "flow":
            return format_flow(value, system)
        case "power":
            return format_heat_input(value, system) if measure.imperial == "BTU/h" else format_power(value)
        case "pressure":
            return format_pressure(value, system)
        case "force":
            return format_force(value, system)
        case "temperature":
            return format_temperature(value, system)
        case "duration":
            return format_duration(value)
        case "share":
            return format_share(value)
        case "money":
            return format_money(value, currency)
        case "level":
            return format_level(value)
        case "date":
            return format_date(value)
        case "concentration":
            return f"{value:.0f} ppm"
        case _:
            return f"{value:.0f}"


@lru_cache(maxsize=1024)
def format_echo(value: float, measure: Measure, system: str, currency: str = "") -> str:
    """How a reading is repeated to the person: their system first, then the other where it differs (``7 ft 2 1/2 in = 2.197 m``)."""
    if measure.dimension == "length":
        metric = format_length(value, "metric", step_mm=1.0)
        imperial = format_length(value, IMPERIAL)
        return f"{imperial} = {metric}" if system == IMPERIAL else f"{metric} = {imperial}"
    if measure.dimension == "date":
        return with_weekday(value)
    own = format_value(value, measure, system, currency)
    other = format_value(value, measure, "metric" if system == IMPERIAL else IMPERIAL, currency)
    return own if own == other else f"{own} = {other}"


def _feet_and_inches(metres: float) -> str:
    if not math.isfinite(metres):
        raise ValueError("a length must be a finite number")
    eighths = round(from_base(abs(metres), "in", "length") * 8.0)
    sign = "-" if metres < 0.0 and eighths else ""
    inches, eighth = divmod(eighths, 8)
    feet, inches = divmod(inches, 12) if inches >= 24 else (0, inches)
    parts = [str(inches)] if inches or not eighth else []
    parts += [EIGHTHS[eighth]] if eighth else []
    small = f"{' '.join(parts)} in"
    if not feet:
        return sign + small
    return sign + (f"{feet} ft" if inches == 0 and eighth == 0 else f"{feet} ft {small}")
