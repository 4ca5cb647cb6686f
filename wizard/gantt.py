"""The stages as a Mermaid Gantt chart in text, for readers that draw it.

Source of the syntax: the grammar of Mermaid's gantt diagram: a colon ends a label, a semicolon, a number sign or a line end ends the
statement, percent signs begin comments and directives; an end date is the first day after.
"""

from __future__ import annotations

import datetime
import unicodedata
from collections.abc import Iterator
from itertools import groupby

from calc.schedule import Days, Schedule, Task, dates

DAY = datetime.timedelta(days=1)
KEPT = frozenset(" .,'()-+/&?!")  # beside letters, marks and digits: signs that mean nothing to the grammar nor to Markdown's fence
LONGEST = 80  # signs of a label


def mermaid(schedule: Schedule, start: datetime.date, title: str) -> tuple[str, ...]:
    """The lines of a fenced Mermaid block: a bar a task and a wait, a diamond a hold point; critical tasks marked.

    ``start`` is the first day; ``title`` may be anything that a person typed.
    """
    lines = ["```mermaid", "gantt", f"    title {label(title) or 'Plan'}", "    dateFormat YYYY-MM-DD", "    axisFormat %d %b %y"]
    pairs = zip(schedule.tasks, dates(schedule, start), strict=True)
    for stage, group in groupby(pairs, key=lambda pair: pair[0].stage):
        lines.append(f"    section {label(stage)}")
        for task, days in group:
            lines += _bars(task, days)
    return (*lines, "```")


def label(text: str) -> str:
    """A text that can stand as a label: letters, digits and harmless signs, anything else a space. May be empty."""
    kept = "".join(sign if sign in KEPT or unicodedata.category(sign)[0] in "LMN" else " " for sign in text.replace(": ", " - "))
    return " ".join(kept.split())[:LONGEST].rstrip()


def _bars(task: Task, days: Days) -> Iterator[str]:
    """A label begins with a number or with our own words, so that it is never a keyword."""
    critical = "crit, " if task.critical else ""
    yield f"    {label(f'{task.number}. {task.name}')} :{critical}t{task.number}, {days.first}, {days.last + DAY}"
    if task.wait_for and days.ready > days.last + DAY:
        wait = label(f"{task.number}. waiting for {task.wait_for}")
        yield f"    {wait} :{critical}active, w{task.number}, {days.last + DAY}, {days.ready}"
    if days.hold:
        yield f"    {label(f'Hold point {task.number}')} :{critical}milestone, h{task.number}, {days.hold}, 0d"
