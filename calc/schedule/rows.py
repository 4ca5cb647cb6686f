"""Which rows of data/tasks.toml a build needs, in what order, and how many hours each asks for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any

from calc import task_facts
from calc.brief import Brief
from calc.catalogue import load
from calc.materials.items import item
from calc.materials.line import Line
from calc.scheme import Scheme

HIRED_STAGES = ("Clear", "Rough work", "Close in", "Finish")  # the stages that a hired crew takes off the owner

Row = dict[str, Any]


def by_task(lines: Sequence[Line]) -> Mapping[str, Sequence[Line]]:
    """The lines of each task."""
    found: defaultdict[str, list[Line]] = defaultdict(list)
    for each in lines:
        found[each.task].append(each)
    return found


def labour_hours(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> float:
    """Hours [h] that a hired crew is paid for: materials and base hours of the building stages. For cost.bill."""
    needed = _needed(task_facts.conditions(brief, scheme, lines), {line.task for line in lines})
    hired = {row["id"]: float(row["base_hours"]) for row in needed if row["stage"] in HIRED_STAGES}
    return sum(hired.values()) + sum(_hours(each) for each in lines if each.task in hired)


def work_hours(brief: Brief, scheme: Scheme, lines: Sequence[Line]) -> float:
    """A person's hours [h] of the whole job, as in Schedule.hours_total where no stop stands."""
    needed = _needed(task_facts.conditions(brief, scheme, lines), {line.task for line in lines})
    return sum([float(row["base_hours"]) for row in needed]) + sum([_hours(each) for each in lines])


def hours(row: Mapping[str, Any], lines: Sequence[Line]) -> float:
    """A person's hours of a task [h]."""
    return float(row["base_hours"]) + sum([_hours(each) for each in lines if each.task == row["id"]])


def active(brief: Brief, scheme: Scheme, lines: Sequence[Line], also: frozenset[str] = frozenset()) -> list[Row]:
    """The rows that this build needs, in order; ``after`` names active rows only, through any that fell away.

    ``also`` are more conditions that hold.
    """
    needed = _needed(task_facts.conditions(brief, scheme, lines) | also, {line.task for line in lines})
    rows = {row["id"]: row for row in load("tasks")["task"]}
    ids = {row["id"] for row in needed}
    return _direct(in_order([row | {"after": _through(row["after"], rows, ids)} for row in needed]))


def supply(row: Mapping[str, Any]) -> str:
    """The task that brings a task's goods; its own id where they are fetched from a shop."""
    return str(row.get("supply", row["id"]))


def in_order(rows: Sequence[Row]) -> list[Row]:
    """Rows sorted so that each follows all its ``after``; otherwise as they stand. Raises ValueError for a circle, naming what is in it."""
    left, done, found = list(rows), set[str](), list[Row]()
    while left:
        free = next((row for row in left if set(row["after"]) <= done), None)
        if free is None:
            raise ValueError(f"tasks wait for each other: {', '.join(row['id'] for row in left)}")
        left.remove(free)
        done.add(free["id"])
        found.append(free)
    return found


def _hours(line: Line) -> float:
    return line.quantity * line.effort * item(line.item).hours_per_unit


def _needed(holding: frozenset[str], used: set[str]) -> list[Row]:
    return [row for row in load("tasks")["task"] if _holds(row, holding, used)]


def _holds(row: Mapping[str, Any], holding: frozenset[str], used: set[str]) -> bool:
    when = row.get("when", "")
    return not when or row["id"] in used or (when != "used" and when in holding)


def _through(after: Sequence[str], rows: Mapping[str, Row], ids: set[str]) -> tuple[str, ...]:
    """Predecessors that are part of the build; one that is not passes its own on."""
    found: dict[str, None] = {}
    for before in after:
        for each in (before,) if before in ids else _through(rows[before]["after"], rows, ids):
            found[each] = None
    return tuple(found)


def _direct(rows: Sequence[Row]) -> list[Row]:
    """Ordered rows with only those ``after`` that no other of their predecessors waits for already."""
    behind: dict[str, set[str]] = {}
    found = []
    for row in rows:
        earlier = set[str]().union(*(behind[before] for before in row["after"]))
        behind[row["id"]] = earlier | set(row["after"])
        found.append(row | {"after": tuple(before for before in row["after"] if before not in earlier)})
    return found
