"""The calendar file, read back by a small parser of our own. Rules: RFC 5545 3.1 (lines), 3.3.11 (text), 3.6.1 (events)."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace

import pytest
from build_parts import scheme
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry import inner_room
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.schedule import Schedule, dates, schedule
from wizard.ics import calendar, escaped, folded

START = datetime.date(2026, 12, 7)
STAMP = datetime.datetime(2026, 12, 1, 9, 30, tzinfo=datetime.timezone(datetime.timedelta(hours=1)))


@pytest.fixture(scope="module")
def made() -> Schedule:
    brief, build = make_brief(), scheme()
    room = inner_room(brief, build)
    return schedule(brief, build, room, bill(brief, lines(brief, room, build)), ())


def content(text: str) -> list[tuple[str, str]]:
    """Name (with its parameters) and value of each content line, unfolded."""
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    for line in text.split("\r\n"):
        assert len(line.encode()) <= 75
    unfolded = text.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")
    assert all(re.match(r"[A-Z-]+(;[A-Z]+=[A-Z]+)*:", line) for line in unfolded)
    return [(line.partition(":")[0], line.partition(":")[2]) for line in unfolded]


def events(text: str) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for name, value in content(text):
        if (name, value) == ("BEGIN", "VEVENT"):
            found.append({})
        elif found and name not in ("BEGIN", "END"):
            assert name not in found[-1]  # each property once
            found[-1][name] = value
    return found


def unescaped(value: str) -> str:
    assert not re.search(r"(?<!\\)(\\\\)*[;,]", value)
    return re.sub(r"\\(.)", lambda match: "\n" if match[1] in "nN" else match[1], value)


def test_every_task_and_every_hold_point_is_an_event_of_whole_days(made: Schedule) -> None:
    found = events(calendar(made, START, "Cellar", STAMP))
    assert len(found) == len(made.tasks) + len(made.hold_points)
    for task, days in zip(made.tasks, dates(made, START), strict=True):
        event = next(each for each in found if each["SUMMARY"] == escaped(f"{task.number}. {task.name}"))
        assert event["DTSTART;VALUE=DATE"] == f"{days.first:%Y%m%d}"
        assert event["DTEND;VALUE=DATE"] == f"{days.last + datetime.timedelta(days=1):%Y%m%d}"  # the first day after
        if task.hold_point:
            hold = next(each for each in found if each["SUMMARY"].startswith(f"Hold point {task.number}:"))
            assert hold["DTSTART;VALUE=DATE"] == f"{days.hold:%Y%m%d}"
            assert task.hold_point in unescaped(hold["DESCRIPTION"])
    assert {each["DTSTAMP"] for each in found} == {"20261201T083000Z"}  # in UTC


def test_the_frame_of_the_file(made: Schedule) -> None:
    found = content(calendar(made, START, "Cellar", STAMP))
    assert found[:3] == [("BEGIN", "VCALENDAR"), ("VERSION", "2.0"), ("PRODID", "-//Stillroom//Stages//EN")]
    assert found[-1] == ("END", "VCALENDAR")
    assert [value for name, value in found if name == "BEGIN"].count("VEVENT") == [v for n, v in found if n == "END"].count("VEVENT")


def test_uids_are_unique_and_stay_when_dates_move(made: Schedule) -> None:
    first = [each["UID"] for each in events(calendar(made, START, "Cellar", STAMP))]
    later = [each["UID"] for each in events(calendar(made, START + datetime.timedelta(days=90), "Cellar", STAMP.replace(year=2027)))]
    other = [each["UID"] for each in events(calendar(made, START, "Attic", STAMP))]
    assert len(set(first)) == len(first)
    assert first == later
    assert not set(first) & set(other)


def test_a_stamp_needs_its_time_zone(made: Schedule) -> None:
    with pytest.raises(ValueError, match="time zone"):
        calendar(made, START, "Cellar", STAMP.replace(tzinfo=None))


@settings(max_examples=50, deadline=None)
@given(project=st.text(max_size=200))
def test_any_name_makes_a_calendar_that_reads_back(made: Schedule, project: str) -> None:
    found = dict(content(calendar(replace(made, tasks=made.tasks[:2]), START, project, STAMP)))
    shown = unescaped(found["X-WR-CALNAME"])
    lines_ = re.sub(r"\r\n|\r", "\n", project)
    assert shown == "".join(sign for sign in lines_ if sign == "\n" or not re.match(r"[\x00-\x1f\x7f-\x9f]", sign))


def test_escapes_are_those_of_the_standard() -> None:
    assert escaped("a\\b;c,d\ne\r\nf\x07") == "a\\\\b\\;c\\,d\\ne\\nf"


@given(st.text(alphabet=st.characters(exclude_categories=["Cc", "Cs"]), max_size=300))
def test_folding_keeps_every_character_whole(text: str) -> None:
    parts = list(folded(text))
    assert all(len(part.encode()) <= 75 for part in parts)
    assert parts[0] + "".join(part[1:] for part in parts[1:]) == text
    assert all(part.startswith(" ") for part in parts[1:])
