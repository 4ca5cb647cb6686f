"""What people type, read into SI."""

from __future__ import annotations

import pytest

from calc.units import (
    CO2,
    COUNT,
    DURATION,
    FORCE,
    HEAT_INPUT,
    IMPERIAL,
    LEVEL,
    METRIC,
    MONEY,
    POWER,
    PRESSURE,
    ROOM_LENGTH,
    SHARE,
    SMALL_LENGTH,
    TEMPERATURE,
    YEAR,
    UnitError,
    currency_of,
    has_unit,
    parse,
    parse_length,
    parse_money,
)

INCH = 0.0254  # m, exact: international inch, NIST SP 811 B.6


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("7' 2 1/2\"", 86.5),
        ("86 1/2 in", 86.5),
        ("86-1/2 in", 86.5),
        ("7.2 ft", 86.4),
        ("7-2", 86),
        ("7-2 1/2", 86.5),
        ("7 ft 2", 86),
        ("7ft 2in", 86),
        ("7 ft. 2 in.", 86),
        ("7 feet, 2 inches", 86),
        ("7'2½\"", 86.5),
        ("7’ 2½”", 86.5),
        ("7′2″", 86),
        ("7' 2''", 86),
        ("7'", 84),
        ("7 1/2 ft", 90),
        ("½ in", 0.5),
        ('1/2"', 0.5),
        ("20", 240),
        ("  20  feet ", 240),
        ("7\u00a0ft\u00a02", 86),
    ],
)
def test_feet_and_inches(text: str, inches: float) -> None:
    assert parse_length(text, IMPERIAL) == pytest.approx(inches * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "metres"), [("2.18 m", 2.18), ("218 cm", 2.18), ("2180mm", 2.18), ("2,18 m", 2.18), ("2.18", 2.18), ("1 200 mm", 1.2)]
)
def test_metric_lengths(text: str, metres: float) -> None:
    assert parse_length(text, METRIC) == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    ["", "abc", "7' 2\" x", "7 2", "-3", "7 ft 14 in", "7.5 ft 2 in", "1/0 in", "2 m 18", "1e5 m", "7 ftt", "3 3/2 in",
     "٣ m", "9" * 200, "7..2",
     "2.2.2 m", "[b]7[/b]", "nan", "inf", "7 ft 2 in 3"],
)  # fmt: skip
@pytest.mark.parametrize("system", [IMPERIAL, METRIC])
def test_what_cannot_be_read_is_refused_in_one_sentence(text: str, system: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_length(text, system)
    assert str(caught.value).endswith(".")
    assert "\n" not in str(caught.value)


def test_a_comma_that_can_be_read_two_ways_is_asked_about() -> None:
    with pytest.raises(UnitError, match="two ways"):
        parse_length("2,180 m", METRIC)
    assert parse("80,000 BTU/h", HEAT_INPUT, METRIC) == parse("80,000 BTU/h", HEAT_INPUT, IMPERIAL)  # no decimal comma in that unit
    for text, measure in (("1,500 ppm", CO2), ("1,500", CO2), ("1,500 W", POWER), ("1,500", POWER)):  # nobody states these to a thousandth
        assert parse(text, measure, METRIC) == 1_500.0
    assert parse("80 000 BTU/h", HEAT_INPUT, METRIC) == pytest.approx(23_445.7, abs=0.1)


@pytest.mark.parametrize(
    ("text", "measure", "value"),
    [
        ("80,000 BTU/h", HEAT_INPUT, 23_445.686),  # 1 Btu/h = 0.29307107 W, NIST SP 811 B.8
        ("24 kW", HEAT_INPUT, 24_000.0),
        ("1,500 W", POWER, 1_500.0),
        ("23 °F", TEMPERATURE, -5.0),
        ("-5 C", TEMPERATURE, -5.0),
        ("-5 °C", TEMPERATURE, -5.0),
        ("32", TEMPERATURE, 0.0),
        ("15%", SHARE, 0.15),
        ("15", SHARE, 0.15),
        ("1:30", DURATION, 1.5),
        ("1 h 30", DURATION, 1.5),
        ("90 min", DURATION, 1.5),
        ("2 1/2 h", DURATION, 2.5),
        ("105 dB(A)", LEVEL, 105.0),
        ("4 people", COUNT, 4.0),
        ("1962", YEAR, 1962.0),
        ("10 psf", PRESSURE, 478.803),  # 1 psf = 47.88026 Pa, NIST SP 811 B.8
        ("36", FORCE, 160.136),  # 1 lbf = 4.448222 N, NIST SP 811 B.8
        ("36 lbf", FORCE, 160.136),
        ("150 N", FORCE, 150.0),
        ("0.15 kN", FORCE, 150.0),
        ("15 kg", FORCE, 147.1),  # 1 kgf = 9.80665 N, NIST SP 811 B.8
        ("9 1/4", SMALL_LENGTH, 0.23495),
        ("$12,000", MONEY, 12_000.0),
        ("12k", MONEY, 12_000.0),
        ("12.5k", MONEY, 12_500.0),
        ("12.000", MONEY, 12_000.0),
        ("1.234,56 €", MONEY, 1_234.56),
        ("USD 12 000", MONEY, 12_000.0),
        ("12,000 USD", MONEY, 12_000.0),
    ],
)
def test_other_quantities(text: str, measure: object, value: float) -> None:
    assert parse(text, measure, IMPERIAL) == pytest.approx(value, rel=1e-5)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "measure"), [("4.5", COUNT), ("60 hz", POWER), ("-4", COUNT), ("12,00,0", MONEY), ("about 5", MONEY), ("1:75", DURATION)]
)
def test_other_quantities_refuse(text: str, measure: object) -> None:
    with pytest.raises(UnitError):
        parse(text, measure, IMPERIAL)  # type: ignore[arg-type]


def test_seven_feet_are_the_metre_value_that_codes_print() -> None:
    assert parse_length("7 ft", IMPERIAL) == 2.1336
    assert parse_length("6 ft 8 in", IMPERIAL) == 2.032


def test_has_unit_tells_bare_numbers_from_those_that_mean_the_same_in_both_systems() -> None:
    assert not has_unit("7 1/2", ROOM_LENGTH)
    assert not has_unit("20", ROOM_LENGTH)
    assert has_unit("20 ft", ROOM_LENGTH)
    assert has_unit("7-2", ROOM_LENGTH)
    assert has_unit("7' 2", ROOM_LENGTH)
    assert has_unit("300", POWER)  # watts in both systems


@pytest.mark.parametrize(
    ("text", "sum", "code"),
    [
        ("25k", 25_000.0, ""),
        ("$25k", 25_000.0, "USD"),
        ("€25,000", 25_000.0, "EUR"),
        ("25 000 eur", 25_000.0, "EUR"),
        ("A$ 25,000", 25_000.0, "AUD"),
        ("25.000 Pounds", 25_000.0, "GBP"),
        ("CHF 25'000", 25_000.0, "CHF"),
        ("¥ 25000", 25_000.0, ""),  # the money of two countries
        ("900 ft", None, ""),
    ],
)
def test_a_sum_tells_the_currency_that_stands_beside_it(text: str, sum: float | None, code: str) -> None:
    assert currency_of(text) == code
    if sum is None:
        with pytest.raises(UnitError):
            parse_money(text)
    else:
        assert parse_money(text) == sum
