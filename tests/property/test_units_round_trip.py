"""Whatever is written in feet and inches, or formatted by us, reads back as the same length."""

from __future__ import annotations

import contextlib
import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.unit_format import format_length, format_value
from calc.units import UnitError, parse, parse_length

QUICK = settings(max_examples=50, deadline=None)


@QUICK
@given(
    feet=st.integers(0, 60),
    inches=st.integers(0, 11),
    sixteenths=st.integers(0, 15),
    form=st.sampled_from(["{f}' {i}\"", "{f} ft {i} in", "{f}'{i}\"", "{f} feet {i} inches", "{f}’ {i}”", "{f}-{i}", "{f} ft, {i}"]),
)
def test_typed_feet_and_inches(feet: int, inches: int, sixteenths: int, form: str) -> None:
    part = Fraction(sixteenths, 16)
    text = form.format(f=feet, i=f"{inches} {part}" if part else inches)
    assert parse_length(text, "imperial") == pytest.approx(float(feet * 12 + inches + part) * 0.0254, abs=1e-9)


@QUICK
@given(eighths=st.integers(0, 12 * 8 * 60), system=st.sampled_from(["imperial", "metric"]))
def test_formatted_lengths_read_back(eighths: int, system: str) -> None:
    metres = eighths * 0.0254 / 8
    step = 0.0254 / 16 if system == "imperial" else 0.0025
    assert parse_length(format_length(metres, system), system) == pytest.approx(metres, abs=step + 1e-9)


@QUICK
@given(
    value=st.floats(0.05, 1.0),
    measure=st.sampled_from(
        [units.AREA, units.POWER, units.HEAT_INPUT, units.TEMPERATURE, units.DURATION, units.SHARE, units.LEVEL, units.MONEY]
    ),
    system=st.sampled_from(["imperial", "metric"]),
)
def test_what_we_write_we_can_read(value: float, measure: units.Measure, system: str) -> None:
    scale = {"area": 900.0, "power": 60_000.0, "temperature": 30.0, "duration": 20.0, "share": 1.0, "level": 120.0, "money": 90_000.0}
    exact = value * scale[measure.dimension]
    rounding = {"area": 0.06, "power": 51.0, "temperature": 0.6, "duration": 0.01, "share": 0.001, "level": 0.6, "money": 0.6}
    assert parse(format_value(exact, measure, system, "USD"), measure, system) == pytest.approx(exact, abs=rounding[measure.dimension])


@QUICK
@given(text=st.text(max_size=40), system=st.sampled_from(["imperial", "metric"]))
def test_any_text_is_read_or_refused(text: str, system: str) -> None:
    for measure in (units.ROOM_LENGTH, units.MONEY, units.DURATION, units.TEMPERATURE, units.COUNT, units.SHARE):
        with contextlib.suppress(UnitError):
            assert math.isfinite(parse(text, measure, system))


@QUICK
@given(text=st.text(alphabet="0123456789 .,'\"/-½ftinmck$€h:%", max_size=20))
def test_near_numbers_are_read_or_refused(text: str) -> None:
    for measure in (units.ROOM_LENGTH, units.MONEY, units.DURATION, units.HEAT_INPUT):
        with contextlib.suppress(UnitError):
            assert parse(text, measure, "imperial") >= 0.0
