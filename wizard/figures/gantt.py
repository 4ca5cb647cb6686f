"""The stages over time: a bar a task, a diamond a hold point. Where the tasks do not fit one page, one figure a part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, groupby, pairwise

from calc.schedule import Task
from calc.schedule.calendar import VISIT_DAYS
from wizard.figures.axes import Axis, Plot, round_axis
from wizard.figures.figure import Figure
from wizard.figures.hatch import diagonal
from wizard.figures.keys import heading, key, of_line
from wizard.figures.svg import BLACK, EDGE, GRID, PALE, TALLEST, THIN, Box, Canvas, Pen, middle
from wizard.figures.text import LINE, SMALLEST, clean, wrapped

NAMES = 84.0  # mm for the tasks' names
STAGE = 5.0  # mm for the line of a stage
HEAD = 36.0  # mm of the figure that are not rows: title, key, weeks
WAIT = Pen(0.3, "1 0.8")


@dataclass(frozen=True)
class _Row:
    """A task with the lines of its name and the paper [mm] that it takes."""

    task: Task
    lines: tuple[str, ...]

    @property
    def high(self) -> float:
        return 0.5 + len(self.lines) * LINE * SMALLEST


def gantts(tasks: Sequence[Task], weeks: float) -> Iterator[Figure]:
    """The tasks in their order, stage by stage; ``weeks`` is the whole time, waiting included, and the same scale in every part."""
    rows = [_Row(task, tuple(wrapped(clean(f"{task.number}. {task.name}"), SMALLEST, NAMES - 4.0))) for task in tasks]
    parts = _parts(rows, TALLEST - HEAD)
    for n, part in enumerate(parts, start=1):
        yield _gantt(part, weeks, "gantt" if n == 1 else f"gantt-{n}", f", part {n} of {len(parts)}" if len(parts) > 1 else "")


def _parts(rows: Sequence[_Row], room: float) -> list[list[_Row]]:
    """As few parts as keep within ``room`` [mm], about as long as each other; a stage is broken only where it is longer than a part."""
    stages = [list(group) for _, group in groupby(rows, key=lambda row: row.task.stage)]
    blocks = [block for stage in stages for block in ([stage] if _high(stage) <= room else [[row] for row in stage])]
    for count in range(1, len(blocks)):
        found = []
        for cuts in combinations(range(1, len(blocks)), count - 1):
            bounds = pairwise((0, *cuts, len(blocks)))
            found.append([[row for block in blocks[start:end] for row in block] for start, end in bounds])
        best = min(found, key=lambda parts: max(map(_high, parts)))
        if max(map(_high, best)) <= room:
            return best
    return blocks


def _high(rows: Sequence[_Row]) -> float:
    """Paper [mm] of some rows with the lines of their stages."""
    return sum(row.high for row in rows) + STAGE * len(list(groupby(rows, key=lambda row: row.task.stage)))


def _gantt(rows: Sequence[_Row], weeks: float, name: str, part: str) -> Figure:
    canvas = Canvas()
    top = heading(canvas, f"The stages, week by week{part}")
    entries = [
        (_work, "work"),
        (_trade, "with a licensed trade"),
        (of_line(WAIT), "waiting"),
        (_critical, "a day lost here is lost at the end"),
        (_hold, "hold point: inspection before you go on"),
    ]
    top = key(canvas, top, entries) + SMALLEST * 2.0 + 2.0
    x = round_axis(0.0, max(weeks, 1.0), 8)
    plot = Plot(Box(EDGE + NAMES, top, canvas.width - 6.0, top), x, x)
    y = top + 1.0
    places: list[tuple[Task, float]] = []
    for stage, group in groupby(rows, key=lambda row: row.task.stage):
        canvas.rect(Box(EDGE, y, canvas.width - EDGE, y + STAGE - 0.4), None, PALE)
        canvas.text((EDGE + 1.0, y + 3.5), stage, bold=True)
        y += STAGE
        for row in group:
            for n, line in enumerate(row.lines):
                canvas.text((EDGE + (1.0 if n == 0 else 4.6), y + 3.3 + n * LINE * SMALLEST), line)
            places.append((row.task, y + row.high / 2.0))
            y += row.high
    _weeks(canvas, plot, x, (top, y))
    for task, at in places:
        _row(canvas, plot, task, at)
    canvas.line((EDGE, y + 0.5), (canvas.width - EDGE, y + 0.5), THIN)
    holds = [row.task for row in rows if row.task.hold_point]
    title = f"The stages, week by week{part}"
    words = (
        f"{len(rows)} tasks; the whole takes about {max(1, round(weeks))} weeks. "
        + " ".join(f"Task {row.task.number}, {row.task.name}: weeks {row.task.start:.1f} to {row.task.ready:.1f}." for row in rows)
        + " Hold points: "
        + ("; ".join(f"task {task.number}, {task.name}" for task in holds) or "none")
        + "."
    )
    caption = "Bars begin when the tasks before them are done. At a diamond stop until it is inspected or settled."
    return Figure(name, title, canvas.svg(name, title, words), caption, words)


def _weeks(canvas: Canvas, plot: Plot, x: Axis, span: tuple[float, float]) -> None:
    for value, label in x.ticks:
        canvas.line((plot.across(value), span[0]), (plot.across(value), span[1]), GRID)
        canvas.place([((plot.across(value), span[0] - 1.0), "middle")], label)
    canvas.text((plot.box.left, span[0] - 1.0 - 1.3 * SMALLEST), "week")


def hold_at(task: Task) -> float:
    """When its hold point stands [weeks], on the day that the dates give it: before its work, or when its waiting is over."""
    return task.start if task.hold_before else task.finish if task.wait_days < VISIT_DAYS else task.ready


def _row(canvas: Canvas, plot: Plot, task: Task, middle: float) -> None:
    left, right = plot.across(task.start), max(plot.across(task.finish), plot.across(task.start) + 0.8)
    waits = plot.across(task.ready)
    if waits > right:
        canvas.line((right, middle), (waits, middle), WAIT)
        canvas.line((waits, middle - 0.9), (waits, middle + 0.9), THIN)
    (_trade if task.trade_hours > 0.0 else _work)(canvas, Box(left, middle - 1.3, right, middle + 1.3))
    if task.critical:
        canvas.line((left, middle + 2.0), (max(waits, right), middle + 2.0), Pen(0.55))
    if task.hold_point:
        _diamond(canvas, (plot.across(hold_at(task)), middle))


def _work(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#888")


def _trade(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#fff")
    diagonal(canvas, box, 1.0, pen=Pen(0.25, "", BLACK))


def _critical(canvas: Canvas, box: Box) -> None:
    canvas.rect(Box(box.left, box.top + 0.3, box.right, box.top + 2.9), Pen(0.2), "#fff")
    canvas.line((box.left, box.top + 3.7), (box.right, box.top + 3.7), Pen(0.55))


def _hold(canvas: Canvas, box: Box) -> None:
    _diamond(canvas, middle(box))


def _diamond(canvas: Canvas, at: tuple[float, float]) -> None:
    x, y = at
    canvas.path([(x, y - 1.9), (x + 1.9, y), (x, y + 1.9), (x - 1.9, y)], Pen(0.3, "", "#fff"), BLACK, closed=True)
