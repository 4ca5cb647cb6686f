"""A scheme's tasks with their times, hours, hold points, warnings and goods.

Texts, predecessors and base hours are data/tasks.toml; hours of materials are data/items.toml. Hours and waits are common practice, no
source: a first guess.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from calc import task_facts
from calc.brief import Brief, Labour, Means
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.geometry import Room
from calc.materials.cost import FEES, Bill, cuts_of
from calc.materials.items import item
from calc.materials.line import Line
from calc.materials.screws import face_screws, on_channel
from calc.schedule.network import Arc, Times, times
from calc.schedule.rows import HIRED_STAGES, Row, active, by_task, hours, supply
from calc.schedule.task import Material, Schedule, Task
from calc.schedule.texts import Texts
from calc.scheme import Scheme

SETTLE = "settle_stops"  # the task, and its condition, that holds all others while a stop stands
WEEKEND = 2.0  # days
TRADE_WEEK = 40.0  # h a licensed trade works a week on site. Common practice, no source


def schedule(brief: Brief, scheme: Scheme, room: Room, bill: Bill, findings: Sequence[Finding]) -> Schedule:
    """The tasks of a scheme in order, numbered from 1, with their times in weeks from the first day.

    A stop stands at a task of its own that all building waits for; any other finding at the task it names, or at the one that stands in
    for it where this build lacks it. Time: hours a week are spread evenly over the week; one crew of the owner and the helpers takes the
    tasks in this order, so that more hours or hands never end later; trades come full weeks; waiting runs beside other work. A task is
    critical where it, or the crew that is due elsewhere, holds up the last day. Raises ValueError when the hours a week are not positive.
    Source: order of inspections, IRC R109.1; hours, common practice.
    """
    if brief.means.hours_per_week <= 0.0:
        raise ValueError("hours a week must be above 0 for a schedule")
    stops = tuple(finding for finding in findings if finding.severity is Severity.STOP)
    lines = bill.lines
    rows = active(brief, scheme, lines, frozenset({SETTLE} if stops else ()))
    texts = Texts(
        task_facts.conditions(brief, scheme, lines),
        task_facts.values(brief, scheme, lines) | {"stops": ". ".join(finding.title for finding in stops)},
        task_facts.lengths(brief, scheme, room),
        tuple(side.number for side in brief.shell.sides),
    )
    notes = _by_task(findings, [row["id"] for row in rows])
    mine, channelled = by_task(lines), on_channel(brief, scheme)
    efforts = {row["id"]: _effort(brief.means, row, mine.get(row["id"], ())) for row in rows}
    found, weeks = times({row["id"]: efforts[row["id"]].work + _wait(row) for row in rows}, list(_arcs(rows, efforts)))
    tasks = tuple(
        _task(
            brief, row, number, found[row["id"]], mine.get(row["id"], ()), efforts[row["id"]], texts, notes.get(row["id"], ()), channelled
        )
        for number, row in enumerate(rows, start=1)
    )
    return Schedule(tasks, sum(task.hours for task in tasks), sum(task.trade_hours for task in tasks), weeks)


@dataclass(frozen=True)
class _Effort:
    """What a task takes: hours of a person and of the trades; weeks that the crew is busy with it, and until it is done by both."""

    hours: float
    trade_hours: float
    busy: float
    work: float


def _effort(means: Means, row: Row, lines: Sequence[Line]) -> _Effort:
    """Of a task with its own lines; crew and trades work beside each other."""
    own, trade = hours(row, lines), _trade_hours(lines)
    busy = own / (means.hours_per_week * _crew(means, row))
    return _Effort(own, trade, busy, max(busy, trade / TRADE_WEEK))


def _arcs(rows: Sequence[Row], efforts: Mapping[str, _Effort]) -> Iterator[Arc]:
    """What holds a task back [weeks]: its predecessors with their waiting, and the crew until it is done with the task before."""
    done = {row["id"]: efforts[row["id"]].work + _wait(row) for row in rows}
    for row in rows:
        for before in row["after"]:
            yield Arc(before, row["id"], done[before])
    for earlier, later in itertools.pairwise(rows):
        yield Arc(earlier["id"], later["id"], efforts[earlier["id"]].busy)


def _crew(means: Means, row: Row) -> int:
    """How many work at a task: the person and the helpers, never fewer than it needs nor more than find room at it."""
    return max(int(row["people"]), min(1 + means.helpers, int(row["most"])))


def _wait(row: Row) -> float:
    """Weeks that what follows waits once a task is done."""
    return (float(row.get("wait_days", 0.0)) + _spare(row)) / 7.0


def _spare(row: Row) -> float:
    """Days left for a weekend where trades or offices come and no wait has room for it."""
    return WEEKEND if row.get("weekdays") and row.get("wait_days", 0.0) < WEEKEND else 0.0


def _trade_hours(lines: Sequence[Line]) -> float:
    return sum(each.quantity for each in lines if (what := item(each.item)).group == FEES and what.unit == "h")


def _by_task(findings: Sequence[Finding], ids: Sequence[str]) -> dict[str, tuple[Finding, ...]]:
    """Findings by the task that carries them: for a stop the one that settles stops, else the one they name.

    Where this build does not need that one, the one that stands in for it.
    """
    rows: Mapping[str, Row] = {row["id"]: row for row in load("tasks")["task"]}
    found: dict[str, tuple[Finding, ...]] = {}
    for finding in findings:
        if finding.task or finding.severity is Severity.STOP:
            task = SETTLE if finding.severity is Severity.STOP else finding.task
            while task not in ids:
                task = rows.get(task, {}).get("otherwise", ids[0])
            found[task] = (*found.get(task, ()), finding)
    return found


def _task(
    brief: Brief,
    row: Row,
    number: int,
    at: Times,
    lines: Sequence[Line],
    effort: _Effort,
    texts: Texts,
    findings: tuple[Finding, ...],
    channelled: Mapping[str, str],
) -> Task:
    materials = _materials(lines)
    hired = brief.means.labour is Labour.HIRED and row["stage"] in HIRED_STAGES
    steps, checks, warnings = (texts.all(row[key]) for key in ("steps", "checks", "warnings"))
    if row["people"] > 1 and brief.means.helpers == 0 and row["stage"] in HIRED_STAGES and not hired:
        warnings = (*warnings, load("tasks")["second_person"])
    return Task(
        id=row["id"],
        number=number,
        name=row["name"],
        stage=row["stage"],
        after=row["after"],
        who=row["who"].replace("owner", "hired crew") if hired else row["who"],
        people=int(row["people"]),
        crew=_crew(brief.means, row),
        hours=effort.hours,
        trade_hours=effort.trade_hours,
        wait_days=float(row.get("wait_days", 0.0)),
        wait_for=row.get("wait_for", ""),
        spare_days=_spare(row),
        start=at.start,
        finish=at.start + effort.work,
        late_start=at.late_start,
        hold_point=texts.fill(row.get("hold_point", "")),
        weekdays=str(row.get("weekdays", "")),
        hold_before=bool(row.get("hold_before", False)),
        supply=supply(row) if materials else "",
        steps=steps,
        checks=checks,
        warnings=warnings,
        findings=findings,
        lengths=texts.named((*steps, *checks, *warnings)),
        materials=materials,
        screws=face_screws(lines, channelled),
    )


def _materials(lines: Sequence[Line]) -> tuple[Material, ...]:
    """Goods of one task, an item once; fees are not goods."""
    by_item: dict[str, list[Line]] = {}
    for each in lines:
        by_item.setdefault(each.item, []).append(each)
    found: list[Material] = []
    for name, mine in by_item.items():
        what = item(name)
        if what.group != FEES:
            cuts = cuts_of(mine) if any(each.cuts for each in mine) else ()
            found.append(Material(name, what.label, sum(each.quantity for each in mine), what.unit, cuts))
    return tuple(found)
