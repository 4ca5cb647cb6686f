"""The day on which the work begins: how it is read, refused, shown, and what stands in where nobody knows."""

from __future__ import annotations

import datetime

import pytest

from calc.unit_dates import format_date, parse_date
from calc.units import DATE, METRIC, UnitError, parse
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.interview.first_day import first_day

TODAY = datetime.date(2026, 11, 25)  # a Wednesday


@pytest.mark.parametrize("text", ["2027-03-01", " 2027-3-1 ", "2027/03/01", "2027.3.1", "2027 03 01", "2027–03–01"])
def test_a_day_is_read_year_first(text: str) -> None:
    assert parse(text, DATE, METRIC) == datetime.date(2027, 3, 1).toordinal()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("03/01/2027", "two ways"),
        ("1.3.27", "two ways"),
        ("2027-02-29", "no day of the calendar"),
        ("2027-13-01", "no day of the calendar"),
        ("1027-03-01", "year 1027"),
        ("in spring", "cannot be read as a day"),
        ("2027-03", "cannot be read as a day"),
        ("2027-03-01 or so", "cannot be read as a day"),
        ("", "Nothing is written"),
    ],
)
def test_what_cannot_be_right_is_refused_with_what_would_be(text: str, says: str) -> None:
    with pytest.raises(UnitError, match=says) as refused:
        parse(text, DATE, METRIC)
    if text:
        assert "2027-03-01" in str(refused.value)


def test_a_day_is_written_back_as_it_can_be_typed() -> None:
    for day in (datetime.date(2000, 1, 1), datetime.date(2028, 2, 29), datetime.date(2100, 12, 31)):
        assert parse_date(format_date(day.toordinal())) == day.toordinal()


def test_the_question_repeats_the_day_with_its_weekday() -> None:
    question = engine.question("start")
    assert engine.read(question, "2027-03-01", Answers()).echo == "2027-03-01, a Monday"
    with pytest.raises(engine.Problem, match="First day: “1/3/2027” can be read two ways"):
        engine.read(question, "1/3/2027", Answers())


def test_work_begins_on_the_day_said_or_on_the_next_monday() -> None:
    said = Answers().with_answer("start", Answer("2027-03-02"))
    assert first_day(said, TODAY) == datetime.date(2027, 3, 2)
    monday = datetime.date(2026, 11, 30)
    assert first_day(Answers(), TODAY) == monday
    assert first_day(Answers().with_answer("start", DONT_KNOW), TODAY) == monday
    assert first_day(Answers(), monday) == datetime.date(2026, 12, 7)  # a plan made on a Monday leaves a week
