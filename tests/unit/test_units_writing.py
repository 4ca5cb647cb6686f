"""SI written in the person's system."""

from __future__ import annotations

import pytest

from calc import units
from calc.unit_format import (
    format_area,
    format_duration,
    format_echo,
    format_flow,
    format_heat_input,
    format_length,
    format_level,
    format_money,
    format_nominal,
    format_share,
    format_temperature,
)


@pytest.mark.parametrize(
    ("metres", "imperial", "metric"),
    [
        (2.1971, "7 ft 2 1/2 in", "2.195 m"),
        (2.1336, "7 ft", "2.135 m"),
        (0.23495, "9 1/4 in", "235 mm"),
        (0.0127, "1/2 in", "13 mm"),  # a board: 1 mm steps under 300 mm
        (0.0, "0 in", "0 mm"),
        (0.6096, "2 ft", "610 mm"),
        (-0.0254, "-1 in", "-25 mm"),
    ],
)
def test_lengths_to_an_eighth_of_an_inch_or_five_millimetres(metres: float, imperial: str, metric: str) -> None:
    assert format_length(metres, "imperial") == imperial
    assert format_length(metres, "metric") == metric


@pytest.mark.parametrize(
    ("metres", "imperial", "metric"),
    [(0.10, "4 in", "100 mm"), (0.30, "12 in", "300 mm"), (0.75, "30 in", "750 mm"), (0.012, "1/2 in", "12 mm")],
)
def test_goods_are_sold_in_whole_inches_or_round_millimetres(metres: float, imperial: str, metric: str) -> None:
    assert format_nominal(metres, "imperial") == imperial
    assert format_nominal(metres, "metric") == metric


def test_the_reading_is_repeated_in_both_systems() -> None:
    value = units.parse_length("7' 2 1/2\"", "imperial")
    assert format_echo(value, units.ROOM_LENGTH, "imperial") == "7 ft 2 1/2 in = 2.197 m"
    assert format_echo(2.18, units.ROOM_LENGTH, "metric") == "2.18 m = 7 ft 1 7/8 in"
    assert format_echo(160.0, units.FORCE, "imperial") == "36 lb = 160 N"
    assert format_echo(160.0, units.FORCE, "metric") == "160 N = 36 lb"
    assert format_echo(105.0, units.LEVEL, "imperial") == "105 dBA"


def test_the_rest() -> None:
    assert format_area(28.0, "metric") == "28.0 m²"
    assert format_area(28.0, "imperial") == "301 sq ft"
    assert format_flow(0.02832, "imperial") == "60 cfm"  # 1 cfm = 0.4719 L/s
    assert format_flow(0.02832, "metric") == "28 L/s"
    assert format_heat_input(23_445.7, "imperial") == "80,000 BTU/h"
    assert format_temperature(-5.0, "imperial") == "23 °F"
    assert format_money(12_345.6, "USD") == "12,346 USD"
    assert format_share(0.125) == "12.5 %"
    assert format_level(41.4) == "41 dBA"
    assert [format_duration(hours) for hours in (2.0, 2.5, 0.75, 0.0)] == ["2 h", "2 h 30 min", "45 min", "0 h"]
