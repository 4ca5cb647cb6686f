"""Numbered call-outs: a circle near its target, a line to it, the words under the drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wizard.figures.keys import BALLOON
from wizard.figures.svg import BLACK, EDGE, THIN, Box, Canvas, Point
from wizard.figures.text import LINE, SMALLEST, clean, wrapped

RINGS = (0.0, 6.0, 9.0, 12.0, 16.0, 21.0, 27.0, 34.0)  # mm from the target
PITCH = 2.0 * BALLOON + 0.8  # mm between call-outs in a column


@dataclass(frozen=True)
class Callout:
    """What is pointed at [mm on paper], and the words."""

    at: Point
    words: str


def _around(at: Point) -> Box:
    return Box(at[0] - BALLOON, at[1] - BALLOON, at[0] + BALLOON, at[1] + BALLOON)


def balloon(canvas: Canvas, at: Point, n: int, target: Point | None = None) -> None:
    """A number in a circle, with a line to its target where it does not stand on it."""
    if target is not None and math.dist(at, target) > BALLOON:
        share = BALLOON / math.dist(at, target)
        canvas.line((at[0] + (target[0] - at[0]) * share, at[1] + (target[1] - at[1]) * share), target, THIN)
        canvas.circle(target, 0.45, None, BLACK)
    canvas.circle(at, BALLOON, THIN, "#fff")
    canvas.text((at[0], at[1] + 0.36 * SMALLEST), f"{n}", anchor="middle")
    canvas.boxes[-1] = _around(at)


def mark(canvas: Canvas, n: int, target: Point, inside: Box, onto: bool = True) -> None:
    """Put a number at the nearest free spot round its target, ``inside`` a box [mm]; ``onto``: it may stand on the target itself.

    Where no spot is free it stands on the target all the same, moved down until it touches nothing.
    """
    for ring in RINGS if onto else RINGS[1:]:
        for step in range(16 if ring else 1):
            angle = (step + 0.5) * math.pi / 8.0
            at = (target[0] + ring * math.cos(angle), target[1] - ring * math.sin(angle))
            spot = _around(at)
            kept = spot.left >= inside.left and spot.right <= inside.right and spot.top >= inside.top and spot.bottom <= inside.bottom
            if kept and canvas.free(spot):
                return balloon(canvas, at, n, target)
    at = target
    while not canvas.free(_around(at)):
        at = (at[0], at[1] + 1.0)
    return balloon(canvas, at, n, target)


def columns(canvas: Canvas, window: Box, callouts: Sequence[Callout]) -> tuple[str, ...]:
    """Numbers in a column at either side of a drawing, each level with its target as far as there is room; returns the words in order.

    Numbers run down the left and then down the right, so that no two lines cross within a column.
    """
    middle = (window.left + window.right) / 2.0
    halves = [[c for c in callouts if c.at[0] <= middle], [c for c in callouts if c.at[0] > middle]]
    most = int((window.bottom - window.top + 12.0) / PITCH)
    for one, other in ((0, 1), (1, 0)):
        while len(halves[one]) > max(most, len(halves[other]) + 2):
            moved = min(halves[one], key=lambda c: abs(c.at[0] - middle))
            halves[one].remove(moved)
            halves[other].append(moved)
    words: list[str] = []
    for half, x in zip(halves, (window.left - 6.0, window.right + 6.0), strict=True):
        ordered = sorted(half, key=lambda c: (c.at[1], c.at[0]))
        for callout, y in zip(ordered, spread([c.at[1] for c in ordered], PITCH), strict=True):
            words.append(callout.words)
            balloon(canvas, (x, max(y, 0.0)), len(words), callout.at)
    return tuple(words)


def spread(wanted: Sequence[float], pitch: float | Sequence[float]) -> list[float]:
    """Places in the given order, each at least ``pitch`` under the one before, as near to what is wanted as that allows.

    Source: pool adjacent violators on wanted less the sum of pitches.
    """
    steps = [pitch] * len(wanted) if isinstance(pitch, float | int) else list(pitch)
    offsets, total = [], 0.0
    for n in range(len(wanted)):
        offsets.append(total)
        total += steps[n]
    pools: list[list[float]] = []
    for want, off in zip(wanted, offsets, strict=True):
        pools.append([want - off])
        while len(pools) > 1 and _mean(pools[-2]) > _mean(pools[-1]):
            last = pools.pop()
            pools[-1] += last
    level = [_mean(pool) for pool in pools for _ in pool]
    return [base + off for base, off in zip(level, offsets, strict=True)]


def _mean(pool: Sequence[float]) -> float:
    return sum(pool) / len(pool)


def names(canvas: Canvas, rows: Sequence[tuple[Point, str]], right: float, left: float, top: float) -> float:
    """Words in a column that begins at ``left``, each with a line to its target [mm] past the edge ``right`` of the drawing.

    Returns their lower end.
    """
    blocks = [wrapped(clean(text), SMALLEST, canvas.width - EDGE - left) for _, text in rows]
    pitches = [len(block) * LINE * SMALLEST + 0.6 for block in blocks]
    tops = spread([y - pitch / 2.0 for ((_, y), _), pitch in zip(rows, pitches, strict=True)], pitches)
    shift = max(top - tops[0], 0.0) if tops else 0.0
    lowest = top
    for (target, _), block, at in zip(rows, blocks, tops, strict=True):
        for n, line in enumerate(block):
            canvas.text((left, at + shift + 0.95 * SMALLEST + n * LINE * SMALLEST), line)
        knee = at + shift + 0.62 * SMALLEST
        canvas.path([target, (right + 1.5, target[1]), (left - 2.6, knee), (left - 0.8, knee)], THIN)
        canvas.circle(target, 0.4, None, BLACK)
        lowest = max(lowest, at + shift + len(block) * LINE * SMALLEST)
    return lowest
