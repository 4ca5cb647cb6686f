"""Template filters: numbers in the person's units, rounded to what is known."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from calc import unit_format as uf
from calc.scheme import Layer, Ply
from calc.task_facts import SPACINGS
from calc.unit_dates import WEEKDAYS
from calc.units import IMPERIAL, registry
from calc.ventilation import words
from wizard.likelihood import in_words
from wizard.markdown import anchor, cell

# A plain metric size: catalogue texts hold them, and pairs as ``unit_format.own_first`` turns.
METRIC_SIZE = re.compile(r"(?<![(\d.])(\d+(?:\.\d+)?) (mm|kg/m2|m2|m|kg)\b(?! ?[(/])")


@dataclass(frozen=True)
class PlyGroup:
    """Equal boards that follow one another."""

    count: int
    material: str
    thickness: float


@dataclass(frozen=True)
class Step:
    """One layer of the height stack and what is left below it."""

    name: str
    thickness: float
    left: float


def convert(value: float, unit: str, to: str) -> float:
    """A value in another unit of the registry."""
    return float(registry().Quantity(value, unit).to(to).magnitude)


def whole(value: float) -> str:
    return f"{value:,.0f}"


def level(value: float) -> str:
    """A level to 1 dB. Below 0 dB nobody hears anything, and more digits would claim that the prediction reaches there."""
    return f"{round(value)}" if round(value) >= 0 else "below 0"


def as_sure_as(rungs: Iterable[Any], likelihood: float) -> int:
    """Place of the first rung of a ladder that keeps every target with a likelihood; -1 for none, or where none was asked."""
    return next((place for place, rung in enumerate(rungs) if 0.0 < likelihood <= min(rung.likelihoods)), -1)


def plural(count: int, word: str, many: str = "") -> str:
    return f"{count} {word}" if count == 1 else f"{count} {many or word + 's'}"


def in_a_row(words: Sequence[str]) -> str:
    """Words as a list in a sentence: a, b and c."""
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """A clause of ours as a sentence: a capital in front, one full stop behind."""
    return capital(text).rstrip(".") + "."


def at_least_one(value: float) -> str:
    """A shortage in whole dB that is never told as none."""
    return f"{max(1, round(value))}"


def signed(value: float) -> str:
    rounded = round(value)
    return "0" if rounded == 0 else f"{rounded:+d}"


def ply_groups(plies: Iterable[Ply]) -> list[PlyGroup]:
    return [
        PlyGroup(len(list(group)), material, thickness)
        for (material, thickness), group in groupby(plies, key=lambda ply: (ply.material, ply.thickness))
    ]


def mass_of(plies: Iterable[Ply]) -> float:
    """Surface mass of boards together [kg/m2]."""
    return sum(ply.surface_mass for ply in plies)


def groups(rows: Iterable[Any], attribute: str) -> list[tuple[str, list[Any]]]:
    """Rows that share an attribute, the groups in the order of their first row."""
    found: dict[str, list[Any]] = {}
    for row in rows:
        found.setdefault(getattr(row, attribute), []).append(row)
    return list(found.items())


def running(stack: Iterable[Layer], start: float) -> Iterator[Step]:
    """The stack with the height that is left below each layer."""
    left = start
    for layer in stack:
        left -= layer.thickness
        yield Step(layer.name, layer.thickness, left)


def sampled(curve: Any, rows: int = 9) -> list[tuple[int, float]]:
    """About ``rows`` evenly spaced points of a (hours, ppm) curve, first and last included, as minutes and ppm."""
    times, ppm = curve
    picked = sorted({round(i * (len(times) - 1) / (rows - 1)) for i in range(rows)})
    return [(round(float(times[i]) * 60), float(ppm[i])) for i in picked]


def flow_of(value: float, system: str) -> str:
    """A flow of air as fans are sold: cfm, or L/s and m³/h."""
    if system == IMPERIAL:
        return uf.format_flow(value, system)
    return f"{uf.format_flow(value, system)}, {round(value * 3600.0)} m³/h"


def bracketed(text: str) -> str:
    """A reading as it was repeated to the person, ``21 ft = 6.401 m``, with the other system in brackets."""
    own, _, other = text.partition(" = ")
    return f"{own} ({other})" if other else text


def unbracketed(text: str) -> str:
    """A catalogue text without the size in the other system, where it is told elsewhere."""
    return re.sub(r" \([^()]*\)", "", text)


def hours(value: float) -> str:
    """A working time: whole hours, under one hour quarters, as estimates are no better."""
    return f"{round(value)} h" if value >= 1.0 else f"{max(15, round(value * 4.0) * 15)} min"


def day(value: datetime.date) -> str:
    """A day with its weekday: Mon 2026-03-09."""
    return f"{WEEKDAYS[value.weekday()][:3]} {value.isoformat()}"


def weeks(value: float) -> str:
    count = max(1, round(value))
    return f"{count} week{'s' if count > 1 else ''}"


def filters(units: str, currency: str) -> dict[str, Callable[..., str | Any]]:
    """All filters, bound to one system of units and one currency."""
    imperial = units == IMPERIAL

    def length(value: float) -> str:
        return uf.format_length(value, units)

    def thin(value: float) -> str:
        return uf.format_length(value, units, step_mm=1.0)

    def board(value: float) -> str:
        return uf.format_length(value, units, step_mm=0.1)

    def own(text: str) -> str:
        """Catalogue text with its metric sizes in the person's units; of a size that names both, theirs comes first."""
        if not imperial:
            return uf.own_first(text, units)

        def rewrite(match: re.Match[str]) -> str:
            value = float(match.group(1))
            match match.group(2):
                case "mm":
                    return uf.format_length(value / 1000.0, units)
                case "m2":
                    return uf.format_area(value, units)
                case "kg/m2":
                    return surface_mass(value)
                case "kg":
                    return f"{convert(value, 'kg', 'lb'):.0f} lb"
                case _:
                    return uf.format_length(value, units)

        return uf.own_first(METRIC_SIZE.sub(rewrite, text), units)

    def load(pascals: float) -> str:
        return uf.format_pressure(pascals, units)

    other = "metric" if imperial else IMPERIAL

    def both(write: Callable[[float, str], str]) -> Callable[[float], str]:
        """The person's units, and in brackets what a supplier or an engineer may count in."""
        return lambda value: f"{write(value, units)} ({write(value, other)})"

    def surface_mass(value: float) -> str:
        return f"{convert(value, 'kg/m**2', 'lb/ft**2'):.1f} lb per sq ft" if imperial else f"{value:.1f} kg/m²"

    def velocity(value: float) -> str:
        return f"{convert(value, 'm/s', 'ft/min'):.0f} ft/min" if imperial else f"{value:.1f} m/s"

    def moisture(value: float) -> str:
        return f"{value * 1000:.0f} g/h" if not imperial else f"{convert(value, 'kg', 'lb'):.1f} lb/h"

    def amount(value: float, unit: str) -> str:
        """A quantity of the shopping list, in the unit it is bought in."""
        match unit:
            case "m" if imperial and value >= 3.0:  # a sum of many pieces: eighths of an inch would feign a knowledge that nobody has
                return f"{convert(value, 'm', 'ft'):,.0f} ft"
            case "m":
                return length(value)
            case "m2":
                return uf.format_area(value, units)
            case "m3":
                return uf.format_volume(value, units)
            case "L":
                return f"{convert(value / 1000.0, 'm**3', 'in**3') / 231.0:.1f} gal" if imperial else f"{value:.1f} L"  # US gallon: 231 in3
            case _:
                number = f"{value:,.0f}" if abs(value - round(value)) < 0.05 else f"{value:,.1f}"
                return f"{number} {unit}s" if unit in ("piece", "day") and number != "1" else f"{number} {unit}"

    def quantity(value: float, unit: str) -> str:
        """The measured value or limit of a finding."""
        match unit:
            case "m":
                return thin(value)  # a millimetre may part what was found from its limit
            case "m2":
                return f"{convert(value, 'm**2', 'ft**2'):.1f} sq ft" if imperial else f"{value:.2f} m²"
            case "m3":
                return uf.format_volume(value, units)
            case "m3/s":
                return uf.format_flow(value, units)
            case "Pa":
                return load(value)
            case "kPa":
                return load(value * 1000.0)
            case "h":
                return uf.format_duration(value)
            case "min":
                return uf.format_duration(value / 60.0)
            case "kg":
                return f"{convert(value, 'kg', 'lb'):.0f} lb" if imperial else f"{value:.0f} kg"
            case "N":
                return f"{convert(value, 'N', 'lbf'):.0f} lb" if imperial else f"{value:.0f} N"
            case "N/m":
                return f"{convert(value, 'N/m', 'lbf/ft'):.0f} lb/ft" if imperial else f"{value / 1000.0:.2f} kN/m"
            case "year":
                return f"{value:.0f}"
            case "ug/m3":
                return f"{value:.0f} µg/m³"
            case "Bq/m3":
                return f"{value:.0f} Bq/m³"
            case "W":
                return uf.format_power(value)
            case "degC":
                return uf.format_temperature(value, units)
            case "1":
                return f"{value * 100.0:.0f} %"
            case "m/s":
                return velocity(value)
            case "s":
                return f"{value:.2f} s"
            case "NC" | "NR":
                return f"{unit} {value:.0f}"
            case _:
                return f"{value:,.0f} {unit}".strip()

    def fill(text: str, task: Any) -> str:
        """Task texts name lengths as {length:key}; the task holds them in metres."""

        def write(match: re.Match[str]) -> str:
            name, value = match.group(1), task.lengths[match.group(1)]
            return uf.format_spacing(value, units) if name in SPACINGS else thin(value)

        return re.sub(r"\{length:(\w+)\}", write, text)

    return {
        "anchor": anchor,
        "at_least_one": at_least_one,
        "as_sure_as": as_sure_as,
        "area": lambda v: uf.format_area(v, units),
        "amount": amount,
        "board": board,
        "burner": lambda v: uf.format_heat_input(v, units),
        "capital": capital,
        "cell": cell,
        "duct_area": lambda v: words.duct_area(v, units),
        "fill": fill,
        "finite": math.isfinite,
        "flow": lambda v: uf.format_flow(v, units),
        "flow_both": both(flow_of),
        "duration": uf.format_duration,
        "groupby_in_order": groups,
        "hours": hours,
        "hundredth": lambda v: f"{v:.2f}",
        "day": day,
        "dim": length,
        "draught": lambda v: words.draught(v, units),
        "draught_both": both(words.draught),
        "force": lambda v: words.force(v, units),
        "level": level,
        "load": load,
        "load_both": both(uf.format_pressure),
        "moisture": moisture,
        "mass_of": mass_of,
        "nominal": lambda v: uf.format_nominal(v, units),
        "money": lambda v: uf.format_money(v, currency),
        "money_exact": lambda v: f"{v:,.2f}",
        "odds": in_words,
        "own": own,
        "ply_groups": ply_groups,
        "plural": plural,
        "power": uf.format_power,
        "quantity": quantity,
        "ratio": lambda v: f"{v:.2f}",
        "running": running,
        "sampled": sampled,
        "sentence": sentence,
        "share": uf.format_share,
        "signed": signed,
        "surface_mass": surface_mass,
        "tens": lambda v: f"{round(v, -1):.0f}",
        "tenth": lambda v: f"{v:.1f}",
        "temperature": lambda v: uf.format_temperature(v, units),
        "thin": thin,
        "velocity": velocity,
        "bracketed": bracketed,
        "unbracketed": unbracketed,
        "volume": lambda v: uf.format_volume(v, units),
        "weeks": weeks,
        "whole": whole,
    }
