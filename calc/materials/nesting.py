"""Which sheet each piece is cut from: offcuts are used before a new sheet is touched."""

from __future__ import annotations

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass

LEAST_OFFCUT = 0.10  # m; a narrower strip is not kept. Common practice, no source
EPS = 1e-4  # m


@dataclass(frozen=True)
class Cut:
    """Where a piece lies on its sheet: ``sheet`` numbered from 1, ``u`` along and ``v`` across it [m]."""

    sheet: int
    u: float
    v: float


@dataclass(frozen=True)
class _Free:
    length: float
    width: float
    cut: Cut

    @property
    def area(self) -> float:
        return self.length * self.width


def nest(groups: Sequence[tuple[float, float, Sequence[tuple[float, float]]]]) -> tuple[tuple[Cut, ...], ...]:
    """Sheets of one kind of board, in the order it is built.

    ``groups``: (sheet length, sheet width, pieces (length, width) [m]), a ply of a face each; a piece keeps the direction of its sheet.
    Largest pieces first in each group, each from the smallest offcut that holds it, by straight cuts from edge to edge; else from a new
    sheet. Raises ValueError for a piece larger than its sheet. Source: best-fit decreasing with guillotine cuts (Jylanki, A Thousand Ways
    to Pack the Bin, 2010, from memory).
    """
    free: list[_Free] = []  # the smallest first, of equals the one that came first
    opened = 0
    found: list[tuple[Cut, ...]] = []
    for length, width, pieces in groups:
        cuts: dict[int, Cut] = {}
        for number in sorted(range(len(pieces)), key=lambda n: -pieces[n][0] * pieces[n][1]):
            long, wide = pieces[number]
            if long > length + EPS or wide > width + EPS:
                raise ValueError(f"a piece of {long:.3f} x {wide:.3f} m does not fit a sheet of {length:.3f} x {width:.3f} m")
            best = next((each for each in free if each.length >= long - EPS and each.width >= wide - EPS), None)
            if best is None:
                opened += 1
                best = _Free(length, width, Cut(opened, 0.0, 0.0))
            else:
                free.remove(best)
            cuts[number] = best.cut
            for rest in _left(best, long, wide):
                insort(free, rest, key=lambda each: each.area)
        found.append(tuple(cuts[number] for number in range(len(pieces))))
    return tuple(found)


def _left(free: _Free, long: float, wide: float) -> list[_Free]:
    """The two rectangles that two straight cuts leave, cut so that the larger one is as large as can be."""
    sheet, u, v = free.cut.sheet, free.cut.u, free.cut.v
    beyond, beside = free.length - long, free.width - wide
    if beyond * free.width >= beside * free.length:
        left = [(beyond, free.width, u + long, v), (long, beside, u, v + wide)]
    else:
        left = [(beyond, wide, u + long, v), (free.length, beside, u, v + wide)]
    return [_Free(length, width, Cut(sheet, x, y)) for length, width, x, y in left if min(length, width) >= LEAST_OFFCUT]
