"""Weeks from the first day to dates. The first day comes in as an argument: nothing here looks at a clock."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass

from calc.schedule.task import Schedule, Task

DAY = datetime.timedelta(days=1)
SATURDAY = 5  # datetime's number of the weekday
A_MOMENT = 1e-6  # days: what rounding of sums may add to the end of a day
OFFICIAL = "building official"  # whoever does an inspection, as data/tasks.toml names it
VISIT_DAYS = 3  # days of waiting that always hold a day from Monday to Friday


@dataclass(frozen=True)
class Days:
    """The dates of one task: ``first`` and ``last`` day of work, ``ready`` the day from which what follows may start.

    ``hold`` is the day of its hold point, None where it has none: a weekday wherever somebody is waited for, as offices keep weekdays.
    """

    task: str
    first: datetime.date
    last: datetime.date
    ready: datetime.date
    hold: datetime.date | None


def dates(schedule: Schedule, start: datetime.date) -> tuple[Days, ...]:
    """The dates of every task, in order, when work begins on ``start``. No task begins on a day before what it waits for is ready."""
    return tuple(_days(task, start) for task in schedule.tasks)


def last_day(schedule: Schedule, start: datetime.date) -> datetime.date:
    """The day on which the last work or waiting ends."""
    return _last(schedule.weeks, start, start)


def first_monday(day: datetime.date) -> datetime.date:
    """The first Monday after a day: when work begins where nobody said."""
    return day + DAY * (7 - day.weekday())


def _days(task: Task, start: datetime.date) -> Days:
    first = _day(task.start, start)
    if task.who == OFFICIAL and task.wait_days >= VISIT_DAYS:  # nobody answers the call on a weekend, and the wait has room for it
        first += DAY * (7 - first.weekday() if first.weekday() >= SATURDAY else 0)
    last = _last(task.finish, start, first)
    ready = _day(task.ready, start)
    return Days(task.id, first, last, ready, _hold(task, first, last, ready) if task.hold_point else None)


def _hold(task: Task, first: datetime.date, last: datetime.date, ready: datetime.date) -> datetime.date:
    if task.hold_before:
        return first
    if task.wait_days < VISIT_DAYS:
        return last
    return ready - DAY * max(0, ready.weekday() - SATURDAY + 1)  # the Friday before a weekend


def _day(weeks: float, start: datetime.date) -> datetime.date:
    """The day that holds a moment, given in weeks from the first day."""
    return start + DAY * math.floor(weeks * 7.0 + A_MOMENT)


def _last(weeks: float, start: datetime.date, first: datetime.date) -> datetime.date:
    """The day whose end, or an earlier hour of it, is the moment; never before ``first``."""
    return max(first, start + DAY * (math.ceil(weeks * 7.0 - A_MOMENT) - 1))
