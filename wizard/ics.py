"""The stages as a calendar file: an event a task, one more for each hold point. Text in, text out; no clock, no file.

Source: RFC 5545, Internet Calendaring and Scheduling Core Object Specification, 2009: 3.1 content lines and folding, 3.3.11 text and its
escapes, 3.6.1 events (a DTEND of type DATE is the first day after), 3.8.4.7 UID, 3.8.7.2 DTSTAMP. UIDs are plain UUIDs as RFC 7986
section 5.3 asks.
"""

from __future__ import annotations

import datetime
import re
import uuid
from collections.abc import Iterable, Iterator

from calc.schedule import Days, Schedule, Task, dates

CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")  # Unicode categories Cc and Cs
FOLD = 75  # octets of a line, its end not counted
DAY = datetime.timedelta(days=1)


def calendar(schedule: Schedule, start: datetime.date, project: str, stamp: datetime.datetime) -> str:
    """The calendar of a schedule whose work begins on ``start``.

    ``project`` is the plan's name: the same name gives the same UIDs, so that a calendar read in again replaces its own events. ``stamp``
    is when the file is made. Raises ValueError for a stamp without a time zone.
    """
    if stamp.tzinfo is None:
        raise ValueError("the stamp of a calendar needs its time zone")
    made = stamp.astimezone(datetime.UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Stillroom//Stages//EN", "CALSCALE:GREGORIAN", f"X-WR-CALNAME:{escaped(project)}"]
    for task, days in zip(schedule.tasks, dates(schedule, start), strict=True):
        lines += _event(project, task, "work", made, days.first, days.last, f"{task.number}. {task.name}", _about(task, days))
        if days.hold:
            words = f"{task.hold_point}\nTask {task.number} of the plan."
            lines += _event(project, task, "hold", made, days.hold, days.hold, f"Hold point {task.number}: {task.name}", words)
    return "".join(part + "\r\n" for line in (*lines, "END:VCALENDAR") for part in folded(line))


def escaped(text: str) -> str:
    """A text value: backslash, semicolon, comma and line end escaped, other control characters left out."""
    plain = (
        text.replace("\r\n", "\n").replace("\r", "\n").replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")
    )
    return CONTROL.sub("", plain)


def folded(line: str) -> Iterator[str]:
    """A content line in parts of at most 75 octets of UTF-8, no character cut; all but the first begin with a space."""
    octets, start, before = line.encode(), 0, ""
    while len(octets) - start > FOLD - len(before):
        end = start + FOLD - len(before)
        while octets[end] & 0b11000000 == 0b10000000:  # not the first octet of its character
            end -= 1
        yield before + octets[start:end].decode()
        start, before = end, " "
    yield before + octets[start:].decode()


def _event(
    project: str, task: Task, kind: str, made: str, first: datetime.date, last: datetime.date, summary: str, words: str
) -> Iterable[str]:
    return (
        "BEGIN:VEVENT",
        f"UID:{uuid.uuid5(uuid.NAMESPACE_URL, f'stillroom:{project}:{task.id}:{kind}')}",
        f"DTSTAMP:{made}",
        f"DTSTART;VALUE=DATE:{first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{last + DAY:%Y%m%d}",
        f"SUMMARY:{escaped(summary)}",
        f"DESCRIPTION:{escaped(words)}",
        f"CATEGORIES:{escaped(task.stage)}",
        "TRANSP:TRANSPARENT",  # a stage of weeks does not make its days busy
        "END:VEVENT",
    )


def _about(task: Task, days: Days) -> str:
    """Who, how many, what is waited for, and how much later it may start."""
    words = [f"Who: {task.who}; {task.people} {'person' if task.people == 1 else 'people'} at least; about {task.hours:.0f} h of work."]
    if task.wait_days:
        words.append(
            f"Then {task.wait_days:.0f} {'day' if task.wait_days == 1 else 'days'} for {task.wait_for}: go on from {days.ready:%Y-%m-%d}."
        )
    later = int(task.slack * 7.0)
    if task.critical:
        words.append("A day lost here is lost at the end.")
    elif later:
        words.append(f"It may start up to {later} {'day' if later == 1 else 'days'} later.")
    words.append(f"Steps, warnings and checks: task {task.number} of the plan.")
    return "\n".join(words)
