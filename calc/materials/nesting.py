"""Which sheet each piece is cut from: offcuts are used before a new sheet is touched."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from math import inf
from typing import NamedTuple

LEAST_OFFCUT = 0.10  # m; a narrower strip is not kept. Common practice, no source
EPS = 1e-4  # m

Group = tuple[float, float, Sequence[tuple[float, float]]]  # sheet length, sheet width, pieces (length, width) [m]: a ply of a face


class Cut(NamedTuple):
    """Where a piece lies on its sheet: ``sheet`` numbered from 1, ``u`` along and ``v`` across it [m]."""

    sheet: int
    u: float
    v: float


_Free = tuple[float, float, float, int, float, float]  # an offcut: area, length, width, and its place as in Cut


class Stack(NamedTuple):
    """What there is to cut from: sheets opened so far, and their offcuts, the smallest first, of equals the one that came first."""

    opened: int = 0
    offcuts: tuple[_Free, ...] = ()


def nest(groups: Sequence[Group]) -> tuple[tuple[Cut, ...], ...]:
    """Sheets of one kind of board, in the order it is built.

    A piece keeps the direction of its sheet. Largest pieces first in each group, each from the smallest offcut that holds it, by straight
    cuts from edge to edge; else from a new sheet. Raises ValueError for a piece larger than its sheet. Source: best-fit decreasing with
    guillotine cuts (Jylanki, A Thousand Ways to Pack the Bin, 2010, from memory).
    """
    stack, found = Stack(), []
    for group in groups:
        cuts, stack = nest_next(stack, group)
        found.append(cuts)
    return tuple(found)


def nest_next(stack: Stack, group: Group) -> tuple[tuple[Cut, ...], Stack]:
    """One more group cut from a stack, and the stack that this leaves. Raises ValueError as ``nest``. Source: as ``nest``."""
    length, width, pieces = group
    opened, free = stack.opened, list(stack.offcuts)
    cuts = [Cut(0, 0.0, 0.0)] * len(pieces)
    for number in sorted(range(len(pieces)), key=lambda n: -pieces[n][0] * pieces[n][1]):
        long, wide = pieces[number]
        if long > length + EPS or wide > width + EPS:
            raise ValueError(f"a piece of {long:.3f} x {wide:.3f} m does not fit a sheet of {length:.3f} x {width:.3f} m")
        least_long, least_wide = long - EPS, wide - EPS
        for place in range(bisect_left(free, (least_long * least_wide,)), len(free)):  # no smaller area can hold it
            if free[place][1] >= least_long and free[place][2] >= least_wide:
                best = free.pop(place)
                break
        else:
            opened += 1
            best = (length * width, length, width, opened, 0.0, 0.0)
        cuts[number] = Cut(*best[3:])
        for rest in _left(best, long, wide):
            free.insert(bisect_right(free, (rest[0], inf)), rest)
    return tuple(cuts), Stack(opened, tuple(free))


def _left(free: _Free, long: float, wide: float) -> list[_Free]:
    """The two rectangles that two straight cuts leave, cut so that the larger one is as large as can be."""
    _, length, width, sheet, u, v = free
    beyond, beside = length - long, width - wide
    far, near = (width, long) if beyond * width >= beside * length else (wide, length)  # the extents that the two keep
    left: list[_Free] = []
    if beyond >= LEAST_OFFCUT and far >= LEAST_OFFCUT:
        left.append((beyond * far, beyond, far, sheet, u + long, v))
    if near >= LEAST_OFFCUT and beside >= LEAST_OFFCUT:
        left.append((near * beside, near, beside, sheet, u, v + wide))
    return left
