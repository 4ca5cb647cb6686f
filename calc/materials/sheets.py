"""How boards lie on one face: rows of boards in running bond, their joints staggered from row to row and from ply to ply.

Everything here is in the boards' own directions: u along the length of a board, v across it, both from one corner of the face [m].
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import NamedTuple

EPS = 1e-4  # m; what is nearer than that is the same place
# Where joints go. Common practice, no source, unless said otherwise.
CLEAR_OF_HOLE = 0.15  # m between a joint and the edge of an opening beside it: a crack starts at the corner of an opening
SLIVER = 0.10  # m; a strip that narrow has nothing to be screwed to
LEAST_END = 0.30  # m, shortest piece at the end of a row or narrowest row at an edge
EDGE_STAGGER = 0.30  # m between the long joints of two plies
# Penalties, as square metres of board: a poor joint is worth about half a sheet, a crossing of two plies' joints more.
POOR, WORSE = 1.5, 4.0
JOINT = 0.02  # m2 a metre of joint: taping decides between layouts that use as many sheets

Span = tuple[float, float]
Box = tuple[float, float, float, float]  # u, v, length, width


@dataclass(frozen=True)
class Row:
    """One row of boards: its span across the boards [m] and where its butt joints stand along them [m]."""

    span: Span
    joints: tuple[float, ...]


@dataclass(frozen=True)
class Pattern:
    """``pieces`` that cover a face once; ``score`` m2, lower is better."""

    rows: tuple[Row, ...]
    pieces: tuple[Box, ...]
    score: float


class _Way(NamedTuple):
    """Where the butt joints of a row may stand [m]; how many pieces like each of its own a board gives along its length; what is wrong with
    it [m2].
    """

    joints: tuple[float, ...]
    fits: tuple[int, ...]
    poor: float


@dataclass(frozen=True)
class Bond:
    """What is to be covered: extent along and across the boards [m], the board's length and width [m], ``grid`` [m] on which butt joints
    may stand (framing), ``edge_grid`` [m] for long joints or 0, openings to keep away from.
    """

    along: float
    across: float
    length: float
    width: float
    grid: float
    edge_grid: float
    holes: tuple[Box, ...]

    @cached_property
    def step(self) -> float:
        """From joint to joint of a row [m]: the most of a board that ends on the grid."""
        return max(1, math.floor(self.length / self.grid + 1e-3)) * self.grid if self.grid <= self.length else self.length

    @cached_property
    def row(self) -> float:
        """Width of a full row [m]: the most of a board's that ends on the grid for long joints."""
        return self.width if self.edge_grid <= 0.0 else max(1, math.floor(self.width / self.edge_grid + 1e-3)) * self.edge_grid

    @cached_property
    def ways(self) -> list[_Way]:
        """Rows worth trying."""
        if self.along <= self.length + EPS:
            return [self._way(())]
        steps = round(self.step / self.grid) if self.grid <= self.length else 1
        starts = [self.step - self.grid * n for n in range(steps)] if steps > 1 else [self.step, self.step / 2.0]
        return [self._way(_cuts(start, self.step, self.along)) for start in starts if start > EPS]

    @cached_property
    def scores(self) -> dict[float, list[float]]:
        """What each of these rows scores by itself [m2], of the widths [m] that were asked for."""
        return {}

    def _way(self, joints: tuple[float, ...]) -> _Way:
        pieces = [high - low for low, high in _spans(joints, self.along)]
        short = sum(piece < min(LEAST_END, self.grid) - EPS for piece in pieces) if joints else 0
        return _Way(joints, tuple(fits(piece, self.length) for piece in pieces), POOR * short)

    def alone(self, width: float) -> list[float]:
        """What each row worth trying scores by itself [m2] at a width [m]: its share of boards cut into pieces like its own, its joints."""
        if width not in self.scores:
            area, across = self.length * self.width, fits(width, self.width)
            shares = [sum([area / (along * across) for along in way.fits]) for way in self.ways]
            self.scores[width] = [used + JOINT * width * len(way.joints) + way.poor for used, way in zip(shares, self.ways, strict=True)]
        return self.scores[width]


def fits(piece: float, board: float) -> int:
    """How many pieces of a length [m] one of a board [m] gives, one at least. Source: geometry."""
    return max(1, math.floor(board / piece + 1e-6))


@lru_cache(maxsize=4096)
def pattern(bond: Bond, beside: tuple[Row, ...] = ()) -> Pattern:
    """The best running bond of a face beside the rows of the ply next to it.

    Adjacent rows never have a joint in line, so no four corners meet. Raises ValueError for a face or board without size.
    Source: greedy row by row for each first row; rules above.
    """
    if min(bond.along, bond.across, bond.length, bond.width, bond.grid) <= EPS:
        raise ValueError("a face and its boards need a size")
    best: Pattern | None = None
    for first in _first_rows(bond):
        found = _rows(bond, first, beside, math.inf if best is None else best.score)
        best = found if found is not None else best
    if best is None:
        raise ValueError("no row of boards covers the face")
    return best


def _first_rows(bond: Bond) -> list[float]:
    """Widths of the first row worth trying [m]."""
    if bond.across <= bond.width + EPS:
        return [bond.across]
    steps = [bond.edge_grid * n for n in range(1, round(bond.row / bond.edge_grid))] if bond.edge_grid else [bond.row / 2.0]
    if not bond.edge_grid:
        steps.append(bond.across % bond.row)
    return [bond.row, *(step for step in steps if EPS < step < bond.row - EPS)]


def _cuts(first: float, step: float, extent: float) -> tuple[float, ...]:
    """Joints at ``first`` and every ``step`` from it, inside an extent [m]."""
    count = max(0, math.ceil((extent - first - EPS) / step))
    return tuple(first + step * n for n in range(count))


def _spans(joints: Sequence[float], extent: float) -> list[Span]:
    stops = [0.0, *joints, extent]
    return list(pairwise(stops))


def _rows(bond: Bond, first: float, beside: tuple[Row, ...], bound: float) -> Pattern | None:
    """The bond that begins with a row of a width, None once it scores no less than ``bound``."""
    edges = _cuts(first, bond.row, bond.across)
    narrow = [high - low for low, high in _spans(edges, bond.across) if edges]
    score = sum(WORSE if width < SLIVER else POOR for width in narrow if width < LEAST_END)
    score += sum(WORSE for edge in edges for row in beside if _near(edge, row.span, EDGE_STAGGER) and not _at_end(row.span, edge, bond))
    score += sum(POOR for edge in edges for hole in bond.holes if _near(edge, (hole[1], hole[1] + hole[3]), CLEAR_OF_HOLE))
    score += JOINT * bond.along * len(edges)
    rows: list[Row] = []
    for span in _spans(edges, bond.across):
        over = [row for row in beside if _overlap(span, row.span)]
        before, least, best = rows[-1].joints if rows else (), math.inf, bond.ways[0].joints
        for cost, (joints, _, _) in zip(bond.alone(span[1] - span[0]), bond.ways, strict=True):
            if cost < least:  # what comes on top is never negative
                cost = _score_beside(cost, bond, span, joints, before, over)
                least, best = (cost, joints) if cost < least else (least, best)
        rows.append(Row(span, best))
        score += least
        if score >= bound:
            return None
    pieces = tuple(
        (low, row.span[0], high - low, row.span[1] - row.span[0]) for row in rows for low, high in _spans(row.joints, bond.along)
    )
    return Pattern(tuple(rows), pieces, score)


def _at_end(span: Span, edge: float, bond: Bond) -> bool:
    """Whether what is near is only the rim of the face, not a joint of the other ply."""
    return all(end < EPS or end > bond.across - EPS for end in span if abs(end - edge) < EDGE_STAGGER)


def _score_beside(score: float, bond: Bond, span: Span, joints: Sequence[float], before: Sequence[float], over: Iterable[Row]) -> float:
    """The score of a row by itself [m2] with what the joints of the row ``before``, ``over`` rows of the ply beside, and openings add."""
    if not joints:
        return score
    stagger = bond.grid - 0.01
    nearest = min([abs(joint - other) for joint in joints for other in before], default=math.inf)
    if nearest < EPS * 10:
        score += 1000.0  # four corners would meet
    elif nearest < stagger:
        score += POOR
    for other in over:
        score += WORSE * _meet(joints, other.joints, stagger)
    for hole in bond.holes:
        if _overlap(span, (hole[1], hole[1] + hole[3])):
            score += POOR * sum(_near(joint, (hole[0], hole[0] + hole[2]), CLEAR_OF_HOLE) for joint in joints)
    return score


def _meet(some: Iterable[float], others: Sequence[float], distance: float) -> int:
    """How many of ``some`` joints come nearer than ``distance`` [m] to one of the others."""
    found = 0
    for joint in some:
        for other in others:
            if -distance < joint - other < distance:
                found += 1
                break
    return found


def _near(place: float, span: Span, distance: float) -> bool:
    """Whether a place is nearer than ``distance`` [m] to an end of a span."""
    return min(abs(place - span[0]), abs(place - span[1])) < distance


def _overlap(one: Span, other: Span) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > EPS
