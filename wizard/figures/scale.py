"""Drawing to scale: from metres to paper, usual scales, dimension lines, scale bars."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from calc.unit_format import format_length, format_nominal
from calc.units import IMPERIAL
from wizard.figures.hatch import paint
from wizard.figures.svg import BLACK, EDGE, TALLEST, THIN, WHITE, Box, Canvas, Pen, Point
from wizard.figures.text import FALL, LINE, RISE, SMALLEST, UNBROKEN, width

FOOT = 0.3048
METRIC_SCALES = (2, 5, 10, 20, 25, 50, 75, 100, 150, 200)
# Scales of a whole or usual part of an inch to the foot.
IMPERIAL_SCALES = {
    2: "6 in", 4: "3 in", 6: "2 in", 8: "1 1/2 in", 12: "1 in", 16: "3/4 in", 24: "1/2 in", 32: "3/8 in", 48: "1/4 in", 64: "3/16 in",
    96: "1/8 in", 128: "3/32 in", 192: "1/16 in",
}  # fmt: skip
# One part of a scale bar [m], how its numbers are written, what it counts; metric, imperial.
BAR_STEPS: tuple[tuple[tuple[float, str, float], ...], ...] = (
    (
        (0.02, "{} mm", 20), (0.05, "{} mm", 50), (0.1, "{} mm", 100), (0.25, "{} mm", 250), (0.5, "{} m", 0.5), (1.0, "{} m", 1),
        (2.0, "{} m", 2), (5.0, "{} m", 5),
    ),
    (
        (FOOT / 12.0, "{} in", 1), (FOOT / 6.0, "{} in", 2), (FOOT / 4.0, "{} in", 3), (FOOT / 2.0, "{} in", 6), (FOOT, "{} ft", 1),
        (2.0 * FOOT, "{} ft", 2), (5.0 * FOOT, "{} ft", 5), (10.0 * FOOT, "{} ft", 10),
    ),
)  # fmt: skip
LEAST_SCALE = 400  # 1 to this; a figure whose words alone are taller than a page is not helped by drawing a room as a dot
Made = TypeVar("Made")
TICK = 0.9  # mm, half the slash at the end of a dimension line


@dataclass(frozen=True)
class View:
    """Metres on paper at 1 to ``ratio``; ``origin`` is where (0, 0) lies [mm]. ``up``: y counts upward, as in a section."""

    canvas: Canvas
    origin: Point
    ratio: float
    up: bool = False

    def mm(self, metres: float) -> float:
        """A length on paper [mm]."""
        return metres * 1000.0 / self.ratio

    def at(self, x: float, y: float) -> Point:
        return self.origin[0] + self.mm(x), self.origin[1] + self.mm(-y if self.up else y)

    def box(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        (a, b), (c, d) = self.at(x0, y0), self.at(x1, y1)
        return Box(min(a, c), min(b, d), max(a, c), max(b, d))

    def paint(self, look: str, x0: float, y0: float, x1: float, y1: float) -> Box:
        """A rectangle [m] with the look of a material."""
        box = self.box(x0, y0, x1, y1)
        paint(self.canvas, box, look)
        return box

    def line(self, x0: float, y0: float, x1: float, y1: float, pen: Pen) -> None:
        self.canvas.line(self.at(x0, y0), self.at(x1, y1), pen)


def written(metres: float, units: str, step_mm: float = 5.0) -> str:
    """A length in the person's units, kept on one line."""
    return format_length(metres, units, step_mm).replace(" ", UNBROKEN)


def sold(width: float, height: float, units: str) -> str:
    """The nominal size of goods, width × height."""
    return " × ".join(nominal(each, units) for each in (width, height))


def nominal(metres: float, units: str) -> str:
    """One side of goods as it is sold, kept on one line."""
    return format_nominal(metres, units).replace(" ", UNBROKEN)


def fitting(metres: float, paper: float, units: str) -> int:
    """The largest usual scale at which ``metres`` keep within ``paper`` [mm]; beyond the smallest, a whole hundred."""
    scales = tuple(IMPERIAL_SCALES) if units == IMPERIAL else METRIC_SCALES
    least = metres * 1000.0 / paper
    return next((ratio for ratio in scales if ratio >= least - 1e-9), (int(least / 100.0) + 1) * 100)


def smaller(ratio: int, units: str) -> int:
    """The next smaller usual scale after 1 to ``ratio``."""
    return fitting((ratio + 0.5) / 1000.0, 1.0, units)


def fitted(draw: Callable[[int], tuple[Canvas, Made]], ratio: int, units: str) -> tuple[Canvas, Made]:
    """What ``draw`` makes at 1 to ``ratio``, or at the first smaller usual scale at which the figure fits a page."""
    found = draw(ratio)
    while found[0].height > TALLEST - EDGE and ratio < LEAST_SCALE:
        ratio = smaller(ratio, units)
        found = draw(ratio)
    return found


def scale_words(ratio: int, units: str, wide: float = 170.0) -> str:
    """The scale in words, true where the figure is printed at its own width."""
    if units == IMPERIAL:
        foot = f" ({IMPERIAL_SCALES[ratio]} to the foot)" if ratio in IMPERIAL_SCALES else ""
        return f"Scale 1:{ratio}{foot} when printed {format_length(wide / 1000.0, units)} wide."
    return f"Scale 1:{ratio} when printed {wide:.0f} mm wide."


def scale_bar(view: View, at: Point, units: str) -> float:
    """A bar of four parts at ``at``, its top left; returns its lower end with the numbers [mm]."""
    canvas = view.canvas
    steps = BAR_STEPS[units == IMPERIAL]
    step, shown, each = next((row for row in steps if view.mm(row[0]) >= 9.0), steps[-1])
    long = view.mm(step)
    for n in range(4):
        box = Box(at[0] + n * long, at[1], at[0] + (n + 1) * long, at[1] + 1.6)
        canvas.rect(box, Pen(0.2), BLACK if n % 2 == 0 else WHITE)
    low = at[1] + 1.6 + 0.6 + RISE * SMALLEST
    for n in (0, 2, 4):
        label = f"{n * each:g}" if n < 4 else shown.format(f"{n * each:g}")
        canvas.text((at[0] + n * long, low), label, anchor="middle" if n else "start")
    return low + FALL * SMALLEST


def dimension_across(canvas: Canvas, x0: float, x1: float, y: float, label: str, reach: tuple[float, float] | None = None) -> None:
    """A dimension line from ``x0`` to ``x1`` at ``y`` [mm], its text over it or, where it is too short, beside it.

    ``reach``: the y that its two extension lines come from.
    """
    for x, start in zip((x0, x1), reach or (y, y), strict=True):
        away = 1.0 if y > start else -1.0
        canvas.line((x, start), (x, y + (away if reach else 1.0)), THIN)
        canvas.line((x - TICK, y + TICK), (x + TICK, y - TICK), Pen(0.35))
    canvas.line((x0, y), (x1, y), THIN)
    over = y - 0.7 - FALL * SMALLEST
    level = y + 0.3 * SMALLEST
    spots = [(((x0 + x1) / 2.0, over), "middle"), ((max(x0, x1) + 1.5, level), "start"), ((min(x0, x1) - 1.5, level), "end")]
    fits = width(label, SMALLEST) <= abs(x1 - x0)
    canvas.place(spots if fits else [*spots[1:], spots[0]], label, halo=True)


def dimension_up(
    canvas: Canvas, y0: float, y1: float, x: float, label: str, reach: tuple[float, float] | None = None, right: bool = False
) -> None:
    """The same upright, from ``y0`` down to ``y1`` at ``x`` [mm], its text at the left (or right), level where it is too short."""
    for y, start in zip((y0, y1), reach or (x, x), strict=True):
        away = 1.0 if x > start else -1.0
        canvas.line((start, y), (x + (away if reach else 1.0), y), THIN)
        canvas.line((x - TICK, y + TICK), (x + TICK, y - TICK), Pen(0.35))
    canvas.line((x, y0), (x, y1), THIN)
    middle = (y0 + y1) / 2.0
    along = [((x + 0.7 + RISE * SMALLEST if right else x - 0.7 - FALL * SMALLEST, middle), "middle")]
    if width(label, SMALLEST) <= abs(y1 - y0) and canvas.place(along, label, upright=True, halo=True):
        return
    level, low = middle + 0.36 * SMALLEST, max(y0, y1) + 2.0 + RISE * SMALLEST
    spots = [((x + 1.6, level), "start"), ((x - 1.6, level), "end")]
    outside = reach is not None and x < reach[0]
    ends = [((x, min(y0, y1) - 2.0), "middle"), ((x, low), "middle"), ((x, low), "end"), ((x, low + LINE * SMALLEST), "middle")]
    canvas.place([*(spots[::-1] if outside else spots), *ends], label, halo=True)
