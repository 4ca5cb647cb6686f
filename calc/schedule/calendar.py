"""Weeks from the first day to dates. The first day comes in as an argument: nothing here looks at a clock."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass

from calc.schedule.task import Schedule, Task

DAY = datetime.timedelta(days=1)
SATURDAY = 5  # datetime's number of the weekday
A_MOMENT = 1e-6  # days: what rounding of sums may add to the end of a day
TRADE_DAY = 8.0  # h that a trade works on a day. Common practice, no source
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
    """The dates of every task, in order, when work begins on ``start``. No task begins on a day before what it waits for is ready.

    Where a weekend delays trades or offices, what waits for them is as much later.
    """
    found: dict[str, Days] = {}
    for task in schedule.tasks:
        earliest = max((found[before].ready for before in task.after), default=start)
        found[task.id] = _days(task, start, earliest)
    return tuple(found.values())


def last_day(schedule: Schedule, start: datetime.date) -> datetime.date:
    """The day on which the last work or waiting ends."""
    return max(_last(schedule.weeks, start, start), *(each.last for each in dates(schedule, start)))


def first_monday(day: datetime.date) -> datetime.date:
    """The first Monday after a day: when work begins where nobody said."""
    return day + DAY * (7 - day.weekday())


def _days(task: Task, start: datetime.date, earliest: datetime.date) -> Days:
    """The dates of a task that may begin on ``earliest``, a day that its predecessors' weekends may have moved."""
    planned, ended = _day(task.start, start), _last(task.finish, start, _day(task.start, start))
    open_from = max(planned, earliest)
    first = _weekday(open_from) if task.weekdays else open_from
    last = ended + (first - planned)
    if task.weekdays == "all":
        last = _worked(_weekday(last), first, math.ceil(task.trade_hours / TRADE_DAY))
    # The wait, or the spare days of one that has none, takes in the weekend; a wait for an office still holds a weekday after the work.
    ready = max(_day(task.ready, start) + (open_from - planned), last + DAY * min(VISIT_DAYS, math.ceil(task.wait_days)))
    return Days(task.id, first, last, ready, _hold(task, first, last, ready) if task.hold_point else None)


def _weekday(day: datetime.date) -> datetime.date:
    """The day itself, or the Monday after a weekend."""
    return day + DAY * (7 - day.weekday() if day.weekday() >= SATURDAY else 0)


def _worked(last: datetime.date, first: datetime.date, days: int) -> datetime.date:
    """``last``, or the weekday by which so many days from Monday to Friday have been worked since ``first``."""
    day, worked = first, 1
    while worked < days:
        day = _weekday(day + DAY)
        worked += 1
    return max(last, day)


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
