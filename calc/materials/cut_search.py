"""The best mix of cutting patterns: what each piece is worth by linear programming, then a search among the patterns that waste little.

Any plan costs what its pieces are worth together, plus what its patterns cost over the worth of their own pieces, plus the worth of pieces
cut that nobody asked for. So a plan that costs little more than the pieces are worth is made of patterns that cost little more than theirs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

Column = tuple[int, tuple[int, ...]]  # a pattern: cost of its stock, counts beside the widths
MOST_STEPS = 1000  # of the search; a limit in time would make the bill depend on how busy the machine is
MOST_PIVOTS = 500
EPS = 1e-6  # of a cost; costs are whole numbers


def cheapest_mix(columns: Sequence[Column], demands: Sequence[int]) -> tuple[int, ...] | None:
    """How often each pattern is cut in a plan that costs least; None where the search is given up.

    Source: Gilmore and Gomory (see cutting.cut_plan) for the worth; depth first, with the sum above as bound.
    """
    worth = _worth(columns, demands)
    if worth is None:
        return None
    least = sum([each * count for each, count in zip(worth, demands, strict=True)])
    step = math.gcd(*(cost for cost, _ in columns))  # what a plan costs is a multiple of it
    target = math.ceil(least / step - EPS) * step
    search = _Search(columns, demands, worth, MOST_STEPS)
    while (found := search.mix(tuple(demands), target - least)) is None and search.steps_left > 0:
        target += step
    return None if found is None else tuple(found.get(number, 0) for number in range(len(columns)))


def _worth(columns: Sequence[Column], demands: Sequence[int]) -> list[float] | None:
    """What each piece is worth, so that no pattern costs less than its pieces and all that is asked for is worth most; None where that
    takes too long. Source: the simplex method on the dual of the linear problem, from worth nothing, rows and columns exchanged in place.
    """
    import numpy as np

    rows, wide = len(columns), len(demands)
    table = np.zeros((rows + 1, wide + 1))
    table[:rows, :wide] = [counts for _, counts in columns]
    table[:rows, wide] = [cost for cost, _ in columns]
    table[rows, :wide] = [-count for count in demands]
    at_row, at_column = list(range(wide, wide + rows)), list(range(wide))
    for _ in range(MOST_PIVOTS):
        column = int(np.argmin(table[rows, :wide]))
        if table[rows, column] >= -EPS:
            worth = {name: float(table[row, wide]) for row, name in enumerate(at_row)}
            return [worth.get(number, 0.0) for number in range(wide)]
        old = table[:, column].copy()
        limits = np.where(old[:rows] > EPS, table[:rows, wide] / np.where(old[:rows] > EPS, old[:rows], 1.0), np.inf)
        row = int(np.argmin(limits))
        new = table[row] / old[row]
        table -= np.outer(old, new)
        table[row], table[:, column] = new, -old / old[row]
        table[row, column] = 1.0 / old[row]
        at_row[row], at_column[column] = at_column[column], at_row[row]
    return None


class _Search:
    """Depth first, at most so many steps: the pieces that fewest are wanted of first, as the many fill any gap; for each the patterns that
    waste least first, of equals the shorter stock, which is easier to carry down.
    """

    def __init__(self, columns: Sequence[Column], demands: Sequence[int], worth: Sequence[float], steps: int) -> None:
        self.steps_left = steps
        self._columns, self._worth = columns, worth
        self._wasted = [max(0.0, cost - sum([n * each for n, each in zip(counts, worth, strict=True)])) for cost, counts in columns]
        self._turns = sorted(range(len(demands)), key=lambda width: demands[width])
        order = sorted(range(len(columns)), key=lambda number: round(self._wasted[number], 3))
        self._with = [[number for number in order if columns[number][1][width]] for width in range(len(demands))]

    def mix(self, left: tuple[int, ...], slack: float, turn: int = 0, start: int = 0) -> dict[int, int] | None:
        """Patterns that give what is left and waste no more than ``slack``; for the piece in turn, only those from ``start`` on."""
        self.steps_left -= 1
        while turn < len(left) and not left[self._turns[turn]]:
            turn, start = turn + 1, 0
        if turn == len(left):
            return {}
        width = self._turns[turn]
        for place in range(start, len(self._with[width])):
            number = self._with[width][place]
            counts = self._columns[number][1]
            if self._wasted[number] > slack + EPS:
                return None
            for times in range(-(-left[width] // counts[width]), 0, -1):
                over = sum([(n * times - more) * each for n, more, each in zip(counts, left, self._worth, strict=True) if n * times > more])
                rest = slack - self._wasted[number] * times - over
                if rest < -EPS or self.steps_left <= 0:
                    continue
                after = tuple([max(more - n * times, 0) for n, more in zip(counts, left, strict=True)])
                found = self.mix(after, rest, turn, place + 1)
                if found is not None:
                    return found | {number: found.get(number, 0) + times}
        return None
