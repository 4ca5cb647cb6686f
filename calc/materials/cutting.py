"""Cut plans: which stock lengths to buy and what to cut from each (the one-dimensional cutting stock problem with several stock lengths).

A quick plan and a proven bound come first; where they differ, the exact optimum by integer programming over all patterns, if those are
few enough to write down. Cost is taken as proportional to length, as lumber and studs are priced by the metre.
"""

from __future__ import annotations

import math
from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.materials.cut_search import Column, cheapest_mix

UNIT = 1e-4  # m; lengths are whole numbers of it
MOST_PATTERNS = 3000
MOST_NODES = 2000  # of the search tree: a limit in time would make the bill depend on how busy the machine is
KERF = 0.003  # m, saw blade. Common practice, no source

Pieces = tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Stock:
    """``count`` stock pieces of ``length`` [m], each cut into ``pieces`` (count, length m)."""

    count: int
    length: float
    pieces: Pieces


@dataclass(frozen=True)
class CutPlan:
    """``total`` length bought [m]; no plan can do with less than ``bound`` [m]; ``optimal`` where this one is proven the shortest."""

    stocks: tuple[Stock, ...]
    total: float
    bound: float
    optimal: bool

    @property
    def bought(self) -> Pieces:
        """Stock pieces to buy (count, length m), longest first."""
        counts = Counter[float]()
        for stock in self.stocks:
            counts[stock.length] += stock.count
        return tuple((counts[length], length) for length in sorted(counts, reverse=True))


@dataclass(frozen=True)
class _Task:
    """In whole units, the kerf added to pieces and stocks: widths of pieces, longest first, how many of each, stocks, shortest first."""

    widths: tuple[int, ...]
    demands: tuple[int, ...]
    stocks: tuple[int, ...]


@lru_cache(maxsize=4096)
def cut_plan(pieces: Pieces, stocks: tuple[float, ...], kerf: float = KERF) -> CutPlan:
    """The shortest purchase that gives all pieces (count, length m) from stock lengths [m].

    Raises ValueError for a piece longer than the longest stock. Source: Gilmore and Gomory, A linear programming approach to the cutting
    stock problem, Operations Research 9 (1961), for the pattern model; bound: see ``lower_bound``.
    """
    wanted = Counter[float]()
    for count, length in pieces:
        wanted[round(length, 4)] += count
    lengths = tuple(sorted((length for length, count in wanted.items() if count > 0), reverse=True))
    if not lengths:
        return CutPlan((), 0.0, 0.0, True)
    if lengths[0] > max(stocks) + UNIT:
        raise ValueError(f"no stock length gives a piece of {lengths[0]:.3f} m")
    task = _Task(
        tuple(_units(length + kerf) for length in lengths),
        tuple(wanted[length] for length in lengths),
        tuple(sorted({_units(stock + kerf) for stock in stocks})),
    )
    spare = _units(kerf)
    least = _on_grid(lower_bound(task.widths, task.demands, task.stocks, spare), task.stocks, spare)
    best = min((_best_fit(task, limit) for limit in task.stocks if limit >= task.widths[0]), key=lambda bins: _cost(bins, spare))
    if _cost(best, spare) > least:
        best = min(best, _fill(task), key=lambda bins: _cost(bins, spare))
    proven = _cost(best, spare) <= least
    if not proven:
        exact = _exact(task, spare)
        best, proven = (exact, True) if exact is not None else (best, False)
    return _plan(best, lengths, spare, least, proven)


def lower_bound(widths: Sequence[int], demands: Sequence[int], stocks: Sequence[int], spare: int) -> float:
    """No plan buys less than this [units of stock without kerf].

    A stock of length s cut into pieces of together w costs s/w for each unit of them; a piece can do no better than the fullest stock that
    holds it, which subset sums find. Source: the sum over pieces of length times that ratio never exceeds what any plan buys (each
    stock pays for its own pieces at its own ratio, which is no smaller).
    """
    sums = _reachable(widths, max(stocks))
    total = 0.0
    for width, demand in zip(widths, demands, strict=True):
        ratios = []
        for stock in stocks:
            if stock >= width:
                rest = sums & ((1 << (stock - width + 1)) - 1)
                ratios.append((stock - spare) / (width + rest.bit_length() - 1))
        total += demand * width * min(ratios)
    return total


def _units(length: float) -> int:
    return round(length / UNIT)


def _reachable(widths: Sequence[int], longest: int) -> int:
    """Bit n is set where pieces, any number of each, can be n units long together, up to ``longest``."""
    mask, found = (1 << (longest + 1)) - 1, 1
    for width in widths:
        step = width
        while step <= longest:  # doubling: one, two, four ... more of this width
            found |= (found << step) & mask
            step *= 2
    return found


def _on_grid(bound: float, stocks: Sequence[int], spare: int) -> float:
    """A bound raised to the next length that stocks can add up to."""
    step = math.gcd(*(stock - spare for stock in stocks))
    return math.ceil(bound / step - 1e-9) * step


Bins = list[tuple[int, tuple[int, ...]]]  # stock length, numbers of the widths cut from it


def _cost(bins: Bins, spare: int) -> int:
    return sum(stock - spare for stock, _ in bins)


def _smallest(task: _Task, used: int) -> int:
    return next(stock for stock in task.stocks if stock >= used)


def _best_fit(task: _Task, limit: int) -> Bins:
    """Best-fit decreasing into stocks of one length, each then exchanged for the shortest that holds its pieces."""
    left: list[tuple[int, int]] = []  # room and number of each stock, the fullest first
    held: list[list[int]] = []
    for number, (width, demand) in enumerate(zip(task.widths, task.demands, strict=True)):
        for _ in range(demand):
            place = bisect_left(left, (width, 0))
            if place < len(left):
                room, n = left.pop(place)
            else:
                room, n = limit, len(held)
                held.append([])
            held[n].append(number)
            insort(left, (room - width, n))
    return [(_smallest(task, sum(task.widths[n] for n in numbers)), tuple(numbers)) for numbers in held]


def _fill(task: _Task) -> Bins:
    """The longest piece left goes into whichever stock can be filled best around it, from what is left; then the next."""
    left = list(task.demands)
    bins: Bins = []
    while any(left):
        first = next(n for n, count in enumerate(left) if count)
        options = [(used / stock, stock, numbers) for stock in task.stocks if stock >= task.widths[first]
                   for used, numbers in [_fullest(task, left, first, stock)]]  # fmt: skip
        _, _, numbers = max(options, key=lambda option: option[0])
        pattern = Counter(numbers)
        times = min(left[n] // count for n, count in pattern.items())
        stock = _smallest(task, sum(task.widths[n] for n in numbers))
        for n, count in pattern.items():
            left[n] -= times * count
        bins += [(stock, numbers)] * times
    return bins


def _fullest(task: _Task, left: Sequence[int], first: int, stock: int) -> tuple[int, tuple[int, ...]]:
    """The pieces that fill a stock best beside the first one: subset sums over what is left."""
    room = stock - task.widths[first]
    sums: dict[int, tuple[int, ...]] = {0: ()}
    for number in range(len(task.widths)):
        width, count = task.widths[number], left[number] - (number == first)
        for _ in range(min(count, room // width)):
            more = {total + width: (*held, number) for total, held in sums.items() if total + width <= room and total + width not in sums}
            if not more:
                break
            sums |= more
        if room in sums or len(sums) > MOST_PATTERNS:
            break
    best = max(sums)
    return task.widths[first] + best, (first, *sums[best])


def _patterns(task: _Task, stock: int) -> Iterator[tuple[int, ...]]:
    """All maximal ways to cut one stock: counts beside the widths."""

    def go(number: int, room: int, counts: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if room < task.widths[-1]:
            yield counts + (0,) * (len(task.widths) - number)
            return
        if number == len(task.widths):
            if all(width > room or count == demand for width, count, demand in zip(task.widths, counts, task.demands, strict=True)):
                yield counts
            return
        most = min(task.demands[number], room // task.widths[number])
        for count in range(most, -1 if number + 1 < len(task.widths) else most - 1, -1):  # with less of the last one, more would fit
            yield from go(number + 1, room - count * task.widths[number], (*counts, count))

    yield from go(0, stock, ())


def _exact(task: _Task, spare: int) -> Bins | None:
    """The optimum over all patterns; None where there are too many to write down."""
    columns: list[Column] = []
    for stock in task.stocks:
        for counts in _patterns(task, stock):
            if any(counts):
                columns.append((stock - spare, counts))
            if len(columns) > MOST_PATTERNS:
                return None
    used = _optimum(tuple(columns), task.demands)
    if used is None:
        return None
    left = list(task.demands)
    bins: Bins = []
    for (cost, counts), times in zip(columns, used, strict=True):
        for _ in range(times):
            numbers = tuple(n for n, count in enumerate(counts) for _ in range(min(count, left[n])))
            for n in numbers:
                left[n] -= 1
            bins.append((cost + spare, numbers))
    return [each for each in bins if each[1]]


@lru_cache(maxsize=512)  # pieces a little longer or shorter often have the same patterns
def _optimum(columns: tuple[Column, ...], demands: tuple[int, ...]) -> tuple[int, ...] | None:
    """How often each pattern is cut, by a search, or by integer programming (HiGHS through scipy) where that takes long; None where both
    give up.
    """
    found = cheapest_mix(columns, demands)
    if found is not None:
        return found
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    matrix = np.array([counts for _, counts in columns], dtype=float).T
    costs = np.array([cost for cost, _ in columns], dtype=float)
    enough = LinearConstraint(matrix, np.array(demands, dtype=float), np.inf)
    answer = milp(
        costs,
        integrality=np.ones(len(columns), dtype=np.int64),
        bounds=Bounds(0.0, np.inf),
        constraints=enough,
        options={"node_limit": MOST_NODES},
    )
    return None if answer.status != 0 or answer.x is None else tuple(round(float(times)) for times in answer.x)


def _plan(bins: Bins, lengths: Sequence[float], spare: int, least: float, proven: bool) -> CutPlan:
    stocks = []
    for (stock, numbers), count in sorted(Counter(bins).items(), key=lambda pair: (-pair[0][0], pair[0][1])):
        held = Counter(numbers)
        stocks.append(Stock(count, (stock - spare) * UNIT, tuple((held[n], lengths[n]) for n in sorted(held))))
    return CutPlan(tuple(stocks), _cost(bins, spare) * UNIT, least * UNIT, proven)
