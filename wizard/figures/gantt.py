"""The stages over time: a bar a task, a diamond a hold point."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from calc.schedule import Task
from wizard.figures.axes import Plot, round_axis
from wizard.figures.figure import Figure
from wizard.figures.hatch import diagonal
from wizard.figures.keys import heading, key, of_line
from wizard.figures.svg import BLACK, EDGE, GRID, PALE, THIN, Box, Canvas, Pen, middle
from wizard.figures.text import LINE, SMALLEST, clean, wrapped

NAMES = 84.0  # mm for the tasks' names
WAIT = Pen(0.3, "1 0.8")
DAYS = 7.0


def gantt(tasks: Sequence[Task], weeks: float) -> Figure:
    """The tasks in their order, stage by stage; ``weeks`` is the whole time, waiting included."""
    canvas = Canvas()
    top = heading(canvas, "The stages, week by week")
    entries = [
        (_work, "work"),
        (_trade, "with a licensed trade"),
        (of_line(WAIT), "waiting"),
        (_hold, "hold point: inspection before you go on"),
    ]
    top = key(canvas, top, entries) + SMALLEST * 2.0 + 2.0
    x = round_axis(0.0, max(weeks, 1.0), 8)
    plot = Plot(Box(EDGE + NAMES, top, canvas.width - 6.0, top), x, x)
    y = top + 1.0
    rows: list[tuple[Task, float, float]] = []
    for stage, group in groupby(tasks, key=lambda task: task.stage):
        canvas.rect(Box(EDGE, y, canvas.width - EDGE, y + 4.6), None, PALE)
        canvas.text((EDGE + 1.0, y + 3.5), stage, bold=True)
        y += 5.0
        for task in group:
            lines = wrapped(clean(f"{task.number}. {task.name}"), SMALLEST, NAMES - 4.0)
            for n, line in enumerate(lines):
                canvas.text((EDGE + (1.0 if n == 0 else 4.6), y + 3.3 + n * LINE * SMALLEST), line)
            high = 1.0 + len(lines) * LINE * SMALLEST
            rows.append((task, y, high))
            y += high
    for value, label in x.ticks:
        canvas.line((plot.across(value), top), (plot.across(value), y), GRID)
        canvas.place([((plot.across(value), top - 1.0), "middle")], label)
    canvas.text((plot.box.left, top - 1.0 - 1.3 * SMALLEST), "week")
    for task, at, high in rows:
        _row(canvas, plot, task, at + high / 2.0)
    canvas.line((EDGE, y + 0.5), (canvas.width - EDGE, y + 0.5), THIN)
    holds = [task for task in tasks if task.hold_point]
    title = "The stages, week by week"
    words = (
        f"{len(tasks)} tasks over about {max(1, round(weeks))} weeks. Hold points: "
        + ("; ".join(f"task {task.number}, {task.name}" for task in holds) or "none")
        + "."
    )
    caption = "Bars begin when the tasks before them are done. At a diamond stop until it is inspected or settled."
    return Figure("gantt", title, canvas.svg("gantt", title, words), caption, words)


def _row(canvas: Canvas, plot: Plot, task: Task, middle: float) -> None:
    left, right = plot.across(task.start), max(plot.across(task.finish), plot.across(task.start) + 0.8)
    waits = plot.across(task.finish + task.wait_days / DAYS)
    if waits > right:
        canvas.line((right, middle), (waits, middle), WAIT)
        canvas.line((waits, middle - 0.9), (waits, middle + 0.9), THIN)
    (_trade if task.trade_hours > 0.0 else _work)(canvas, Box(left, middle - 1.3, right, middle + 1.3))
    if task.hold_point:
        _diamond(canvas, (right, middle))


def _work(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#888")


def _trade(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#fff")
    diagonal(canvas, box, 1.0, pen=Pen(0.25, "", BLACK))


def _hold(canvas: Canvas, box: Box) -> None:
    _diamond(canvas, middle(box))


def _diamond(canvas: Canvas, at: tuple[float, float]) -> None:
    x, y = at
    canvas.path([(x, y - 1.9), (x + 1.9, y), (x, y + 1.9), (x - 1.9, y)], Pen(0.3, "", "#fff"), BLACK, closed=True)
