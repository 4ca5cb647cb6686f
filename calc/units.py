"""What people type about a length, a power, a sum of money, read into SI; and SI written in the person's system.

Our own anchored grammar reads the text; nothing may be left over. Pint never sees what a person typed (it reads ``7' 2 1/2"`` as 7
without a word): it only holds the definitions of unit_tables.py and gives the factors. Formatting stands in calc/unit_format.py.
"""

from __future__ import annotations

import math
import re
from functools import cache, lru_cache
from typing import Any

from calc.unit_dates import parse_date
from calc.unit_tables import (
    ALIASES,
    AREA,
    BASE,
    CO2,
    COUNT,
    CURRENCY_SIGNS,
    DATE,
    DEFINITIONS,
    DURATION,
    EXAMPLES,
    FLOW,
    FORCE,
    FRACTIONS,
    HEAT_INPUT,
    IMPERIAL,
    IMPERIAL_UNITS,
    LEVEL,
    METRIC,
    MONEY,
    PLAIN_SUFFIXES,
    POWER,
    PRESSURE,
    ROOM_LENGTH,
    SHARE,
    SMALL_LENGTH,
    TEMPERATURE,
    VOLUME,
    YEAR,
    Measure,
    example,
)

__all__ = [
    "AREA",
    "CO2",
    "COUNT",
    "DATE",
    "DURATION",
    "EXAMPLES",
    "FLOW",
    "FORCE",
    "HEAT_INPUT",
    "IMPERIAL",
    "LEVEL",
    "METRIC",
    "MONEY",
    "POWER",
    "PRESSURE",
    "ROOM_LENGTH",
    "SHARE",
    "SMALL_LENGTH",
    "TEMPERATURE",
    "VOLUME",
    "YEAR",
    "Measure",
    "UnitError",
    "currency_of",
    "from_base",
    "has_unit",
    "parse",
    "parse_length",
    "parse_money",
    "registry",
    "tidy",
    "to_base",
    "without_thousands",
]

LONGEST_TEXT = 80  # characters; longer than any reading needs, short enough to refuse pasted pages at once


class UnitError(ValueError):
    """One sentence that says what could not be read and what can."""


_NUMBER = r"(?:[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
_FRACTION = r"[0-9]{1,4}/[0-9]{1,4}"
_MIXED = rf"(?:[0-9]+[ -]+{_FRACTION}|{_FRACTION}|{_NUMBER})"
_FEET_INCHES = re.compile(
    rf"(?P<feet>{_NUMBER}) ?(?:'|ft\.?|feet|foot) ?[-,]? ?(?P<inches>{_MIXED}) ?(?:\"|in\.?|inch|inches)?$", re.IGNORECASE
)
_DASHED = re.compile(rf"(?P<feet>[0-9]+)-(?P<inches>[0-9]+(?: {_FRACTION}|\.[0-9]+)?) ?(?:\"|in\.?|inch|inches)?$", re.IGNORECASE)
_PLAIN = re.compile(rf"(?P<sign>-?) ?(?P<number>{_MIXED})(?P<unit>[^0-9].*|)$", re.DOTALL)
_HOURS_MINUTES = re.compile(rf"(?P<h>{_NUMBER}) ?(?:h|hrs?|hours?|:) ?(?P<min>[0-9]{{1,2}}) ?(?:m|min|mins|minutes?)?$", re.IGNORECASE)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?$")
_SPACED = re.compile(r"(?<![0-9.,/])([0-9]{1,3})((?: [0-9]{3})+)(?![0-9/])")
# Nobody states these to a thousandth, and we write them with a comma between thousands: what we write must be read again.
WHOLE, WATTS = frozenset({"concentration", "count", "year"}), frozenset({"w", "watt", "watts"})
_CODE = r"[A-Z]{3}|(?i:usd|cad|eur|gbp|aud|nzd)"
_MONEY = re.compile(
    rf"(?P<before>[A-Z]{{0,3}}[$€£¥]|{_CODE})? ?(?P<number>[0-9][0-9., ']*?) ?(?P<k>[kK])?"
    rf"(?: ?(?P<after>{_CODE}|[$€£¥]|(?i:euros?|dollars?|pounds?)))?$"
)  # a currency is a sign, three letters or one of these words: "900 ft" is no sum of money


@cache
def registry() -> Any:
    """The small pint registry. Imported late: pint costs 0.2 s, and the first screen needs none of it."""
    import pint

    return pint.UnitRegistry(DEFINITIONS.strip().splitlines())


@cache
def _line(unit: str, base: str) -> tuple[float, float]:
    """(offset, factor) so that base = offset + factor * unit, read from the registry once a unit."""
    ureg = registry()
    if unit.startswith("degree_"):
        zero = float(ureg.Quantity(0.0, unit).to(base).magnitude)
        return zero, float(ureg.Quantity(1.0, unit).to(base).magnitude) - zero
    return 0.0, float(ureg.parse_expression(unit).to(base).magnitude)


def to_base(value: float, unit: str, dimension: str) -> float:
    """A value in one of the written units of a dimension, in the unit calc uses. Raises UnitError for an unknown unit."""
    key = unit.lower().replace(" ", "").replace("²", "2").replace("³", "3").rstrip(".")
    name = ALIASES[dimension].get(key) or ALIASES[dimension].get(key.replace(".", ""))
    if name is None:
        raise UnitError(f"“{unit.strip()}” is not a unit of {dimension} that can be read here; write for example {EXAMPLES[dimension]}.")
    offset, factor = _line(name, BASE[dimension])
    # Twelve digits, so that 7 ft is 2.1336 m and not a hair under a limit of 2.1336 m.
    return float(f"{offset + factor * value:.12g}")


def from_base(value: float, unit: str, dimension: str) -> float:
    """The reverse of to_base."""
    offset, factor = _line(ALIASES[dimension][unit.lower()], BASE[dimension])
    return (value - offset) / factor


def tidy(text: str) -> str:
    """Typed text with quotes, dashes, blanks and fractions in one form; case kept. Raises UnitError when it is empty or too long."""
    if len(text) > LONGEST_TEXT:
        raise UnitError(f"That is longer than {LONGEST_TEXT} characters; write only the number and its unit.")
    for sign, plain in FRACTIONS.items():
        text = re.sub(rf"(?<=[0-9]) *{sign}", f" {plain}", text).replace(sign, plain)
    for signs, plain in (("’‘′´`", "'"), ("”“″", '"'), ("–—−‐‑", "-"), ("⁄", "/")):
        text = re.sub(f"[{signs}]", plain, text)
    text = " ".join(text.replace("''", '"').split())
    if not text:
        raise UnitError("Nothing is written there.")
    return text


@lru_cache(maxsize=1024)
def parse(text: str, measure: Measure, system: str) -> float:
    """Read a typed quantity into the unit calc uses (BASE; dBA, ppm, share 0..1, money and counts as numbers).

    A bare number has the measure's unit in the person's system. Raises UnitError with one sentence.
    """
    tidied = tidy(text)
    if measure.dimension == "money":
        return _finite(_parse_money(tidied), text)
    if measure.dimension == "date":
        return _parse_date(tidied)
    if measure.dimension == "length":
        value = _parse_feet_inches(tidied, system)
        if value is not None:
            return value
    if measure.dimension == "duration":
        clock = _HOURS_MINUTES.match(tidied)
        if clock:
            return _parse_clock(clock, system)
    return _finite(_parse_plain(tidied, measure, system), text)


def parse_length(text: str, system: str, unit: str | None = None) -> float:
    """A length in m; ``unit`` is the unit of a bare number (ft or m when absent). Raises UnitError."""
    return parse(text, Measure("length", unit, unit) if unit else ROOM_LENGTH, system)


def parse_money(text: str) -> float:
    """A sum of money; thousands may be grouped with commas, dots or blanks, and k means thousand. Raises UnitError."""
    return parse(text, MONEY, IMPERIAL)


def has_unit(text: str, measure: Measure) -> bool:
    """Whether a readable text names its own unit, so that it means the same in both systems."""
    if measure.dimension not in BASE or measure.imperial == measure.metric:
        return True
    tidied = tidy(text)
    if measure.dimension == "length" and (_FEET_INCHES.match(tidied) or _DASHED.match(tidied)):
        return True
    plain = _PLAIN.match(_SPACED.sub(lambda m: m[0].replace(" ", ""), tidied))
    return bool(plain and plain["unit"].strip())


def without_thousands(text: str) -> str:
    """The text with the commas between thousands left out, so that it reads the same in both systems."""
    return re.sub(r"(?<![0-9.,])[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,])", lambda match: match[0].replace(",", ""), text)


def _parse_feet_inches(text: str, system: str) -> float | None:
    match = _FEET_INCHES.match(text) or _DASHED.match(text)
    if match is None:
        return None
    feet = _number(match["feet"], system)
    if feet != int(feet):
        raise UnitError(f"“{text}” has decimals in the feet and inches after them; write either 7.2 ft or 7 ft 2 1/2 in.")
    inches = _mixed(match["inches"], system)
    if inches >= 12.0:
        raise UnitError(f"“{text}” has {match['inches']} inches after the feet; inches after feet stay under 12.")
    return to_base(12.0 * feet + inches, "in", "length")


def _parse_date(text: str) -> float:
    try:
        return parse_date(text)
    except ValueError as error:
        raise UnitError(str(error)) from None


def _parse_clock(match: re.Match[str], system: str) -> float:
    hours, minutes = _number(match["h"], system), int(match["min"])
    if hours != int(hours) or minutes >= 60:
        raise UnitError(f"“{match[0]}” is not a time that can be read; write for example {EXAMPLES['duration']}.")
    return _finite(hours + minutes / 60.0, match[0])


def _parse_plain(text: str, measure: Measure, system: str) -> float:
    dimension = measure.dimension
    match = _PLAIN.match(_SPACED.sub(lambda m: m[0].replace(" ", ""), text))
    if match is None:
        raise UnitError(f"“{text}” cannot be read; write for example {example(dimension, system)}.")
    unit = match["unit"].strip()
    counted = dimension in WHOLE or (unit or measure.unit(system)).lower() in WATTS
    value = _mixed(match["number"], IMPERIAL if counted or unit.lower() in IMPERIAL_UNITS else system)
    if match["sign"]:
        if dimension != "temperature":
            raise UnitError(f"“{text}” is below zero; write for example {example(dimension, system)}.")
        value = -value
    if dimension in BASE:
        return to_base(value, unit or measure.unit(system), dimension)
    if unit and unit.lower().replace(" ", "") not in PLAIN_SUFFIXES[dimension]:
        raise UnitError(f"“{text}” cannot be read because of “{unit}”; write for example {example(dimension, system)}.")
    if dimension in ("count", "year") and value != int(value):
        raise UnitError(f"“{text}” is not a whole number.")
    return value / 100.0 if dimension == "share" else value


def _parse_money(text: str) -> float:
    match = _MONEY.match(text)
    if match is None:
        raise UnitError(f"“{text}” cannot be read as a sum of money; write for example {EXAMPLES['money']}.")
    digits = re.sub(r"[ ']", "", match["number"])
    # A group of exactly three digits after a separator counts thousands: nobody states a budget to a thousandth.
    digits = re.sub(r"[.,](?=[0-9]{3}(?:[.,]|$))", "", digits).replace(",", ".")
    if not re.fullmatch(r"[0-9]+(?:\.[0-9]*)?", digits):
        raise UnitError(f"“{text}” cannot be read as a sum of money; write for example {EXAMPLES['money']}.")
    return float(digits) * (1000.0 if match["k"] else 1.0)


def currency_of(text: str) -> str:
    """The currency typed beside a sum of money, as a code of three letters; "" where none is, or one that several may be."""
    match = _MONEY.match(" ".join(text.split())) if len(text) <= LONGEST_TEXT else None
    typed = (match["before"] or match["after"] or "") if match else ""
    return CURRENCY_SIGNS.get(typed.lower(), typed.upper() if len(typed) == 3 and typed.isalpha() else "")


def _mixed(text: str, system: str) -> float:
    """A number, a vulgar fraction, or a whole number and a fraction (2 1/2, 2-1/2)."""
    whole, _, fraction = re.sub(r"[ -]+", " ", text).rpartition(" ")
    if "/" not in fraction:
        return _number(text, system)
    over, under = fraction.split("/")
    if int(under) == 0:
        raise UnitError(f"“{fraction}” divides by nought.")
    if whole and int(over) >= int(under):
        raise UnitError(f"“{text}” has a fraction of one or more after a whole number; write it as one number.")
    return (float(whole) if whole else 0.0) + int(over) / int(under)


def _number(text: str, system: str) -> float:
    """Digits with a decimal point or comma. A comma before three digits counts thousands in the imperial system, and is refused in the
    metric one, where it may be meant as a decimal sign."""
    if _THOUSANDS.match(text):
        if system == METRIC and text.count(",") == 1 and "." not in text:
            raise UnitError(f"“{text}” can be read two ways; write {text.replace(',', '')} or {text.replace(',', '.')}.")
        text = text.replace(",", "")
    if text.count(",") + text.count(".") > 1:
        raise UnitError(f"“{text}” has more than one decimal sign.")
    return float(text.replace(",", "."))


def _finite(value: float, text: str) -> float:
    if not math.isfinite(value):
        raise UnitError(f"“{text}” is too large to be meant.")
    return value
