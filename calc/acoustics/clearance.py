"""Floor that stays free: shapes on the floor, whether they keep clear of each other, and whether one can walk from one to another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.geometry import Room

CELL = 0.1  # m, grid on which ways and places are looked for
TOUCH = 1e-9  # m; what only touches does not overlap


@dataclass(frozen=True)
class Shape:
    """A rectangle on the floor about its middle or, with ``radius`` alone, a circle [m]; x along side 1 and y along side 4."""

    x: float
    y: float
    half_x: float = 0.0
    half_y: float = 0.0
    radius: float = 0.0

    def clear_of(self, others: Iterable[Shape]) -> bool:
        """Whether it overlaps none of the others. Source: geometry."""
        return all(_apart(self, other) for other in others)


def strip(room: Room, side: int, start: float, end: float, deep: float) -> Shape:
    """The floor before a stretch of a wall [m], ``deep`` into the room. Raises KeyError for a side that is not 1 to 4."""
    along, half, into = (start + end) / 2.0, (end - start) / 2.0, deep / 2.0
    shapes = {
        1: Shape(along, into, half, into),
        2: Shape(room.length - into, along, into, half),
        3: Shape(along, room.width - into, half, into),
        4: Shape(into, along, into, half),
    }
    return shapes[side]


def clear_places(room: Room, at: Sequence[float], radius: float, others: Sequence[Shape]) -> list[tuple[float, float]]:
    """Middles at which a circle stands in the room and clear of all others [m], the nearest to ``at`` first.

    Source: geometry, tried on a grid.
    """
    x, y = np.meshgrid(_grid(radius, room.length - radius), _grid(radius, room.width - radius), indexing="ij")
    free = _clear_points(x, y, radius, others)
    x, y = x[free], y[free]
    away = np.round(np.hypot(x - at[0], y - at[1]), 6)  # ties go to the first on every machine
    order = np.argsort(away, kind="stable")
    return list(zip(x[order].tolist(), y[order].tolist(), strict=True))


def walkable(room: Room, start: Shape, end: Shape, things: Sequence[Shape], passage: float) -> bool:
    """Whether a way as wide as ``passage`` [m] leads over the floor from one shape to another, clear of all things.

    Source: geometry, flooding a grid of middles that keep half the passage from the things and the walls.
    """
    half = min(passage, room.length, room.width) / 2.0
    x, y = np.meshgrid(_grid(half, room.length - half), _grid(half, room.width - half), indexing="ij")
    free = _clear_points(x, y, half, things)
    reached = free & _within(x, y, start)
    goal = free & _within(x, y, end)
    for _ in range(reached.size):
        grown = reached.copy()
        grown[1:] |= reached[:-1]
        grown[:-1] |= reached[1:]
        grown[:, 1:] |= reached[:, :-1]
        grown[:, :-1] |= reached[:, 1:]
        grown &= free
        if bool((grown & goal).any()):
            return True
        if bool((grown == reached).all()):
            break
        reached = grown
    return False


def _apart(one: Shape, other: Shape) -> bool:
    over_x = abs(one.x - other.x) - one.half_x - other.half_x
    over_y = abs(one.y - other.y) - one.half_y - other.half_y
    between = math.hypot(max(over_x, 0.0), max(over_y, 0.0))
    return max(over_x, over_y) >= -TOUCH and between >= one.radius + other.radius - TOUCH


def _grid(low: float, high: float) -> NDArray[np.float64]:
    """Places at most a cell apart, both ends among them; none where there is no extent."""
    return np.linspace(low, high, math.ceil((high - low) / CELL) + 1) if high >= low else np.zeros(0)


def _clear_points(x: NDArray[np.float64], y: NDArray[np.float64], radius: float, others: Sequence[Shape]) -> NDArray[np.bool_]:
    free = np.ones(x.shape, dtype=np.bool_)
    for other in others:
        over_x, over_y = np.abs(x - other.x) - other.half_x, np.abs(y - other.y) - other.half_y
        free &= np.hypot(np.maximum(over_x, 0.0), np.maximum(over_y, 0.0)) >= radius + other.radius - TOUCH
    return free


def _within(x: NDArray[np.float64], y: NDArray[np.float64], shape: Shape) -> NDArray[np.bool_]:
    """The points in a rectangle, or those within half a cell of it: a narrow one may lie between two."""
    near = CELL / 2.0 + TOUCH
    return np.asarray((np.abs(x - shape.x) <= shape.half_x + near) & (np.abs(y - shape.y) <= shape.half_y + near), dtype=np.bool_)
