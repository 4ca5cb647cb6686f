"""The stages: which tasks a scheme needs, in an order that respects predecessors and inspections, with hours, hold points and warnings.

Texts, predecessors and base hours are data/tasks.toml; hours of materials are data/items.toml. Hours are common practice, no source: a
first guess.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc import task_facts
from calc.brief import Brief, Labour
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.geometry import Room
from calc.materials.cost import FEES, Bill, cuts_of
from calc.materials.items import item
from calc.materials.line import Line
from calc.scheme import Scheme

HIRED_STAGES = ("Clear", "Rough work", "Close in", "Finish")  # the stages that a hired crew takes off the owner
SETTLE = "settle_stops"  # the task, and its condition, that holds all others while a stop stands
TRADE_WEEK = 40.0  # h a licensed trade works a week on site. Common practice, no source
_PLACE = re.compile(r"\{(length:)?([a-z0-9_]+)\}")


@dataclass(frozen=True)
class Material:
    """What a task uses: ``quantity`` in ``unit``, ``cuts`` the pieces of lumber (pieces, length m).

    Waste and whole packages are not in it: they are counted once for the whole job, in the bill, and the tasks sum to its ``used``.
    """

    item: str
    label: str
    quantity: float
    unit: str
    cuts: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Task:
    """One task of the build.

    ``steps``, ``checks`` and ``warnings`` may hold {length:NAME}: a length of ``lengths`` [m], to be written in the person's units.
    ``hours`` are a person's hours, ``trade_hours`` those of licensed trades. ``people`` is the fewest that may do it. ``start`` and
    ``finish`` are weeks from the first day; the waiting after the task is not counted.
    """

    id: str
    number: int
    name: str
    stage: str
    after: tuple[str, ...]
    who: str
    people: int
    hours: float
    trade_hours: float
    wait_days: float
    start: float
    finish: float
    hold_point: str
    steps: tuple[str, ...]
    checks: tuple[str, ...]
    warnings: tuple[str, ...]
    findings: tuple[Finding, ...]
    lengths: Mapping[str, float]
    materials: tuple[Material, ...]


@dataclass(frozen=True)
class Schedule:
    """The tasks in order.

    ``hours_total`` are a person's hours; ``weeks`` run from the first day to the last, waiting for inspections, letters and drying
    included.
    """

    tasks: tuple[Task, ...]
    hours_total: float
    trade_hours: float
    weeks: float

    @property
    def hold_points(self) -> tuple[Task, ...]:
        return tuple(task for task in self.tasks if task.hold_point)


@dataclass(frozen=True)
class _Texts:
    """Fills a text of data/tasks.toml."""

    conditions: frozenset[str]
    values: Mapping[str, str]
    lengths: Mapping[str, float]
    sides: tuple[int, ...]

    def all(self, entries: Iterable[str | Mapping[str, str]]) -> tuple[str, ...]:
        """The entries whose condition holds, one a side where a text names {side}, filled."""
        found: list[str] = []
        for entry in entries:
            text, when = (entry, "") if isinstance(entry, str) else (entry["text"], entry["when"])
            if when and when not in self.conditions:
                continue
            found += [self.fill(each) for each in self._by_side(text)]
        return tuple(found)

    def _by_side(self, text: str) -> list[str]:
        if "{side}" not in text:
            return [text]
        return [text.replace("{side}", str(n)).replace("{side_", f"{{side_{n}_").replace(":side_", f":side_{n}_") for n in self.sides]

    def fill(self, text: str) -> str:
        """A text with its values in; lengths stay for the plan to write."""

        def value(match: re.Match[str]) -> str:
            if not match[1]:
                return self.values[match[2]]
            if match[2] not in self.lengths:
                raise KeyError(match[2])
            return match[0]

        return _PLACE.sub(value, text)


def schedule(brief: Brief, scheme: Scheme, room: Room, bill: Bill, findings: Sequence[Finding]) -> Schedule:
    """The tasks of a scheme in order, numbered from 1.

    A stop stands at a task of its own that all building waits for; any other finding at the task it names, or at the one that stands
    in for it where this build lacks it. Time: one crew of the owner and
    the helpers takes the tasks in this order; trades come full weeks; waiting runs beside other work. Raises ValueError when the hours a
    week are not positive. Source: order of inspections, IRC R109.1; hours, common practice.
    """
    if brief.means.hours_per_week <= 0.0:
        raise ValueError("hours a week must be above 0 for a schedule")
    stops = tuple(finding for finding in findings if finding.severity is Severity.STOP)
    rows = _active(brief, scheme, bill.lines, frozenset({SETTLE} if stops else ()))
    texts = _Texts(
        task_facts.conditions(brief, scheme, bill.lines),
        task_facts.values(brief, scheme, bill.lines) | {"stops": "; ".join(finding.title for finding in stops)},
        task_facts.lengths(brief, scheme, room),
        tuple(side.number for side in brief.shell.sides),
    )
    notes = _by_task(findings, [row["id"] for row in rows])
    ready: dict[str, float] = {}
    tasks: list[Task] = []
    free = 0.0
    for number, row in enumerate(rows, start=1):
        start = max([free, *(ready[before] for before in row["after"])])
        task = _task(brief, row, number, start, bill.lines, texts, notes.get(row["id"], ()))
        tasks.append(task)
        free = task.finish
        ready[task.id] = task.finish + task.wait_days / 7.0
    return Schedule(tuple(tasks), sum(t.hours for t in tasks), sum(t.trade_hours for t in tasks), max(ready.values(), default=0.0))


def labour_hours(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> float:
    """Hours [h] that a hired crew is paid for: materials and base hours of the building stages. For cost.bill."""
    return sum(_hours(row, lines) for row in _active(brief, scheme, lines) if row["stage"] in HIRED_STAGES)


def _active(brief: Brief, scheme: Scheme, lines: Sequence[Line], also: frozenset[str] = frozenset()) -> list[dict[str, Any]]:
    """The rows of data/tasks.toml that this build needs, in order; ``after`` names active rows only, through any that fell away.

    ``also`` are more conditions that hold.
    """
    table = load("tasks")["task"]
    holding = task_facts.conditions(brief, scheme, lines) | also
    used = {line.task for line in lines}
    rows = {row["id"]: row for row in table}
    active = {row["id"] for row in table if _holds(row, holding, used)}
    kept = [row | {"after": _through(row["after"], rows, active)} for row in table if row["id"] in active]
    return _direct(in_order(kept))


def _holds(row: Mapping[str, Any], holding: frozenset[str], used: set[str]) -> bool:
    when = row.get("when", "")
    return not when or (row["id"] in used if when == "used" else when in holding or row["id"] in used)


def _through(after: Sequence[str], rows: Mapping[str, Mapping[str, Any]], active: set[str]) -> tuple[str, ...]:
    """Predecessors that are part of the build; one that is not passes its own on."""
    found: dict[str, None] = {}
    for before in after:
        for each in (before,) if before in active else _through(rows[before]["after"], rows, active):
            found[each] = None
    return tuple(found)


def in_order(rows: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Rows sorted so that each follows all its ``after``; otherwise as they stand. Raises ValueError for a circle, naming what is in it."""
    left, done, found = list(rows), set[str](), list[dict[str, Any]]()
    while left:
        free = next((row for row in left if set(row["after"]) <= done), None)
        if free is None:
            raise ValueError(f"tasks wait for each other: {', '.join(row['id'] for row in left)}")
        left.remove(free)
        done.add(free["id"])
        found.append(free)
    return found


def _direct(rows: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Ordered rows with only those ``after`` that no other of their predecessors waits for already."""
    behind: dict[str, set[str]] = {}
    found = []
    for row in rows:
        earlier = set[str]().union(*(behind[before] for before in row["after"]))
        behind[row["id"]] = earlier | set(row["after"])
        found.append(row | {"after": tuple(before for before in row["after"] if before not in earlier)})
    return found


def _by_task(findings: Sequence[Finding], ids: Sequence[str]) -> dict[str, tuple[Finding, ...]]:
    """Findings by the task that carries them: for a stop the one that settles stops, else the one they name.

    Where this build does not need that one, the one that stands in for it.
    """
    rows = {row["id"]: row for row in load("tasks")["task"]}
    found: dict[str, tuple[Finding, ...]] = {}
    for finding in findings:
        if finding.task or finding.severity is Severity.STOP:
            task = SETTLE if finding.severity is Severity.STOP else finding.task
            while task not in ids:
                task = rows.get(task, {}).get("otherwise", ids[0])
            found[task] = (*found.get(task, ()), finding)
    return found


def _hours(row: Mapping[str, Any], lines: Sequence[Line]) -> float:
    """A person's hours of a task [h]."""
    own = sum(each.quantity * each.effort * item(each.item).hours_per_unit for each in lines if each.task == row["id"])
    return float(row["base_hours"]) + own


def _task(
    brief: Brief, row: Mapping[str, Any], number: int, start: float, lines: Sequence[Line], texts: _Texts, findings: tuple[Finding, ...]
) -> Task:
    mine = [each for each in lines if each.task == row["id"]]
    hours = _hours(row, lines)
    trade = sum(each.quantity for each in mine if item(each.item).group == FEES and item(each.item).unit == "h")
    crew = max(int(row["people"]), min(1 + brief.means.helpers, int(row["most"])))
    steps, checks, warnings = (texts.all(row[key]) for key in ("steps", "checks", "warnings"))
    named = {name for text in (*steps, *checks, *warnings) for is_length, name in _PLACE.findall(text) if is_length}
    if row["people"] > 1 and brief.means.helpers == 0 and row["stage"] in HIRED_STAGES and brief.means.labour is Labour.OWN:
        warnings = (*warnings, load("tasks")["second_person"])
    hired = brief.means.labour is Labour.HIRED and row["stage"] in HIRED_STAGES
    return Task(
        id=row["id"],
        number=number,
        name=row["name"],
        stage=row["stage"],
        after=row["after"],
        who=row["who"].replace("owner", "hired crew") if hired else row["who"],
        people=int(row["people"]),
        hours=hours,
        trade_hours=trade,
        wait_days=float(row.get("wait_days", 0.0)),
        start=start,
        finish=start + max(hours / (brief.means.hours_per_week * crew), trade / TRADE_WEEK),
        hold_point=texts.fill(row.get("hold_point", "")),
        steps=steps,
        checks=checks,
        warnings=warnings,
        findings=findings,
        lengths={name: texts.lengths[name] for name in sorted(named)},
        materials=_materials(mine),
    )


def _materials(lines: Sequence[Line]) -> tuple[Material, ...]:
    """Goods of one task, an item once; fees are not goods."""
    found: list[Material] = []
    for name in dict.fromkeys(each.item for each in lines):
        what, mine = item(name), [each for each in lines if each.item == name]
        if what.group != FEES:
            found.append(Material(name, what.label, sum(each.quantity for each in mine), what.unit, cuts_of(mine, 0.0)))
    return tuple(found)
