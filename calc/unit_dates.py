"""A day as it is typed, year first, and as it is written back. Inside, a day is its ordinal: datetime.date.toordinal as a number."""

from __future__ import annotations

import datetime
import re

EARLIEST, LATEST = 2000, 2100  # years that a plan can be about
EXAMPLE = "2027-03-01"
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_YEAR_FIRST = re.compile(r"(?P<year>[0-9]{4})[-/. ](?P<month>[0-9]{1,2})[-/. ](?P<day>[0-9]{1,2})$")
_YEAR_LAST = re.compile(r"[0-9]{1,2}[-/. ]+[0-9]{1,2}[-/. ]+(?:[0-9]{4}|[0-9]{2})$")


def parse_date(text: str) -> float:
    """A day, year first, as its ordinal. Raises ValueError with one sentence: a day with the year last can be read two ways."""
    match = _YEAR_FIRST.match(text)
    if match is None:
        if _YEAR_LAST.match(text):
            raise ValueError(f"“{text}” can be read two ways; write the year first, then month and day, for example {EXAMPLE}.")
        raise ValueError(f"“{text}” cannot be read as a day; write year, month and day, for example {EXAMPLE}.")
    year, month, day = (int(match[part]) for part in ("year", "month", "day"))
    if not EARLIEST <= year <= LATEST:
        raise ValueError(f"The year {year} is not one to build in; write one from {EARLIEST} to {LATEST}, for example {EXAMPLE}.")
    try:
        return float(datetime.date(year, month, day).toordinal())
    except ValueError:
        raise ValueError(f"“{text}” is no day of the calendar; write year, month and day, for example {EXAMPLE}.") from None


def format_date(ordinal: float) -> str:
    """The day as it can be typed again."""
    return datetime.date.fromordinal(int(ordinal)).isoformat()


def with_weekday(ordinal: float) -> str:
    """The day with its weekday."""
    return f"{format_date(ordinal)}, a {WEEKDAYS[datetime.date.fromordinal(int(ordinal)).weekday()]}"
