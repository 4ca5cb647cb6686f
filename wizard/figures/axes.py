"""Axes of a chart: from values to paper, with ticks, grid and names."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wizard.figures.svg import GRID, THIN, Box, Canvas, Point
from wizard.figures.text import SMALLEST, width

STEPS = (1.0, 2.0, 5.0, 10.0, 20.0)


@dataclass(frozen=True)
class Axis:
    """``low`` and ``high``: the values at the two ends; ``ticks``: value and label."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]
    logarithmic: bool = False

    def share(self, value: float) -> float:
        """Where a value lies, 0 at the low end and 1 at the high one."""
        if self.logarithmic:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)


@dataclass(frozen=True)
class Plot:
    """A frame on the paper with its two axes."""

    box: Box
    x: Axis
    y: Axis

    def at(self, x: float, y: float) -> Point:
        return self.across(x), self.up(y)

    def across(self, x: float) -> float:
        return self.box.left + self.x.share(x) * (self.box.right - self.box.left)

    def up(self, y: float) -> float:
        return self.box.bottom - self.y.share(y) * (self.box.bottom - self.box.top)


def round_axis(low: float, high: float, most: int, shown: str = "{:g}", exact: bool = False) -> Axis:
    """An axis with round ticks, ``most`` steps at the most; from tick to tick, or with ``exact`` from ``low`` to ``high``."""
    span = max(high - low, 1e-9)
    decade = 10.0 ** math.floor(math.log10(span / most))
    step = next(decade * each for each in STEPS if span / (decade * each) <= most + 1e-9)
    first = math.floor(low / step + 1e-9) if not exact else math.ceil(low / step - 1e-9)
    last = math.ceil(high / step - 1e-9) if not exact else math.floor(high / step + 1e-9)
    ticks = tuple((n * step, shown.format(round(n * step, 9) + 0.0)) for n in range(first, last + 1))
    return Axis(low if exact else first * step, high if exact else last * step, ticks)


def draw_axes(canvas: Canvas, plot: Plot, x_name: str, y_name: str, vertical_grid: bool = True) -> None:
    """Frame, grid, tick labels and names. An x label that would touch its neighbour is left out; its tick stays."""
    box = plot.box
    for value, label in plot.y.ticks:
        y = plot.up(value)
        canvas.line((box.left, y), (box.right, y), GRID)
        canvas.text((box.left - 1.2, y + 0.36 * SMALLEST), label, anchor="end")
    for value, label in plot.x.ticks:
        x = plot.across(value)
        if vertical_grid:
            canvas.line((x, box.top), (x, box.bottom), GRID)
        canvas.line((x, box.bottom), (x, box.bottom + 1.0), THIN)
        canvas.place([((x, box.bottom + 2.4 + SMALLEST), "middle")], label)
    canvas.path([(box.left, box.top), (box.left, box.bottom), (box.right, box.bottom)], THIN)
    canvas.text(((box.left + box.right) / 2.0, box.bottom + 3.2 + 2.4 * SMALLEST), x_name, anchor="middle")
    wide = max((width(label, SMALLEST) for _, label in plot.y.ticks), default=0.0)
    canvas.text((box.left - 2.6 - wide, (box.top + box.bottom) / 2.0), y_name, anchor="middle", upright=True)


def left_of(labels: Sequence[str]) -> float:
    """Paper [mm] left of a plot that its y labels and the y name take."""
    return 4.0 + 1.3 * SMALLEST + max((width(label, SMALLEST) for label in labels), default=0.0)
