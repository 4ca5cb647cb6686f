"""The range of a number as it is told: round ends in the person's units, never outside of what is taken."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from calc.unit_format import format_value
from calc.units import IMPERIAL, MONEY, from_base, has_unit, parse, to_base
from wizard.interview.question import Kind, Question, Value

# What rounding in the person's units may leave outside a bound: an end as told must be accepted when it is typed.
ROUNDING = {"length": 0.0026, "area": 0.06, "temperature": 0.6, "power": 51.0, "force": 2.3, "duration": 0.01, "share": 0.001}
SLACK = {"length": 0.0017, "temperature": 0.6}  # so that 2.44 m is told as 8 ft and 32 °C as 90 °F
# Steps of a told length: up to this many inches, or metres, to this step. Common practice, no source.
INCHES = ((12.0, 0.25), (36.0, 1.0), (math.inf, 6.0))
METRES = ((0.1, 0.001), (1.0, 0.01), (math.inf, 0.1))
WORDS = {
    "ft": "feet", "in": "inches", "m": "metres", "ft2": "square feet", "m2": "m²", "lb": "pounds", "N": "newtons", "h": "hours",
    "%": "percent", "cm": "centimetres", "mm": "millimetres",
}  # fmt: skip
OTHER = {"m": ("cm", "mm"), "ft": ("in",), "mm": ("cm", "m"), "in": ("ft",)}  # in what a bare number may have been meant


def span(question: Question, units: str) -> str:
    """The unit of a bare number and the range, in one line."""
    if question.kind is Kind.DATE:
        return "Year, month and day, for example 2027-03-01."
    unit = question.unit.unit(units) if question.unit is not None else ""
    bare = f"In {WORDS.get(unit, unit)} unless you write a unit" if unit else "A number"
    low, high = ends(question, units)
    bounds = f"; {low} to {high}" if low and high else f"; at least {low}" if low else f"; at most {high}" if high else ""
    return f"{bare}{bounds}."


def ends(question: Question, units: str) -> tuple[str, str]:
    """The least and the most that is taken, as text; empty where it is open."""
    return _end(question, question.low, units, math.ceil), _end(question, question.high, units, math.floor)


def usual(question: Question, units: str, currency: str = "") -> str:
    """What is usual, as half a sentence with round numbers in the person's units; empty where nothing is said."""
    if question.typical is None or question.unit is None:
        return question.usual
    measure = question.unit
    numbers = (_round(number, units) if measure.dimension == "length" else number for number in question.typical)
    return question.usual.format(*(format_value(number, measure, units, currency if measure is MONEY else "") for number in numbers))


def unusual(question: Question, value: Value, units: str) -> str:
    """What is usual, where the value is not: a slip in the unit, or a room like few others. Empty else."""
    if question.typical is None or not isinstance(value, float) or question.typical[0] <= value <= question.typical[1]:
        return ""
    return usual(question, units)


def meant_instead(question: Question, text: str, units: str) -> str:
    """How the bare number would be taken in another unit of length, as half a sentence; empty where it would not, or has a unit."""
    measure = question.unit
    if measure is None or measure.dimension != "length" or has_unit(text, measure):
        return ""
    for unit in OTHER.get(measure.unit(units), ()):
        value = parse(f"{text} {unit}", measure, units)
        if (question.low is None or value >= question.low) and (question.high is None or value <= question.high):
            return f"if {WORDS.get(unit, unit)} were meant, write {' '.join(text.split())} {unit}"
    return ""


def _end(question: Question, bound: float | None, units: str, inwards: Callable[[float], int]) -> str:
    """``inwards`` rounds towards the middle of the range. Money stands without its currency: that may not have been asked yet."""
    measure = question.unit
    if bound is None or measure is None:
        return ""
    if units != IMPERIAL or measure.imperial == measure.metric:
        return re.sub(r"\.0(?= )", "", format_value(bound, measure, units))
    unit = "in" if measure.dimension == "length" else measure.imperial
    slack = SLACK.get(measure.dimension, 0.0)
    shown = from_base(bound + (-slack if inwards is math.ceil else slack), unit, measure.dimension)
    step = next(step for most, step in INCHES if abs(shown) <= most) if unit == "in" else 10.0 ** max(0, len(f"{abs(shown):.0f}") - 2)
    return format_value(to_base(inwards(round(shown / step, 6)) * step, unit, measure.dimension), measure, units)


def _round(metres: float, units: str) -> float:
    """A usual length as people say it; one that was set in inches keeps them."""
    inches = from_base(metres, "in", "length")
    if units == IMPERIAL:
        step = next(step for most, step in INCHES if inches <= most)
        return metres if abs(inches * 4.0 - round(inches * 4.0)) < 1e-3 else to_base(round(inches / step) * step, "in", "length")
    step = next(step for most, step in METRES if metres <= most)
    return round(metres / step) * step
