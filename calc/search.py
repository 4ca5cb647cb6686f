"""Exact search: one option from each group, costs and constraint rows add up.

Groups are extended one after another, all partial choices at once; a partial choice is dropped only when its best possible completion
breaks a limit or cannot beat a complete choice already in hand. So the result is the optimum, not a guess.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
EPS = 1e-9
Price = Callable[[Array], Array]  # rows (m, k) to money (m,), never less for higher rows
_BLOCK = 4096  # pairs looked at in one go: keeps the arrays in cache


@dataclass(frozen=True)
class Group:
    """Options of one part: costs (n,), constraint rows (n, k), and where each stood in the caller's list (n,)."""

    cost: Array
    rows: Array
    index: NDArray[np.intp]


def group(costs: Sequence[float], rows: Array) -> Group:
    """A group of all options, dominated ones dropped: dearer or equal, and no lower in any row than another. Exact for every search below.

    Of options equal in everything the first stays. Raises ValueError when there is no option.
    """
    cost = np.asarray(costs, dtype=np.float64)
    if not cost.size:
        raise ValueError("a group needs an option")
    order = np.lexsort((rows.sum(axis=1), cost))
    kept: list[int] = []
    for i in order:
        if not kept or not np.any(np.all(rows[kept] <= rows[i] + EPS * np.abs(rows[i]), axis=1)):
            kept.append(int(i))
    chosen = np.array(kept, dtype=np.intp)
    return Group(cost[chosen], rows[chosen], chosen)


def totals(groups: Sequence[Group], base: Array, choice: Sequence[int]) -> tuple[float, Array]:
    """Cost and rows (k,) of one choice, an option number in each group."""
    cost = sum(float(g.cost[i]) for g, i in zip(groups, choice, strict=True))
    rows = base + sum((g.rows[i] for g, i in zip(groups, choice, strict=True)), np.zeros_like(base))
    return cost, rows


def _descend(groups: Sequence[Group], base: Array, choice: list[int], caps: Array) -> list[int]:
    """Cheapen a choice step by step, the largest saving that keeps the caps first: a good bound for the search."""
    while True:
        _, rows = totals(groups, base, choice)
        steps: list[tuple[float, int, int]] = []
        for number, g in enumerate(groups):
            fits = np.all(rows - g.rows[choice[number]] + g.rows <= caps, axis=1) & (g.cost < g.cost[choice[number]] - EPS)
            steps += [(float(g.cost[i] - g.cost[choice[number]]), number, int(i)) for i in np.flatnonzero(fits)]
        if not steps:
            return choice
        _, number, option = min(steps)
        choice[number] = option


def _complete(
    groups: Sequence[Group], base: Array, caps: Array, budget: float, price: Price | None = None, bound: float = np.inf
) -> tuple[Array, Array, NDArray[np.intp]]:
    """All choices whose rows keep ``caps`` (k,) and whose cost keeps ``budget``: costs (m,), rows (m, k), option numbers (m, groups).

    With a price, only those whose cost and price of rows keep ``bound`` too.
    """
    least_cost = np.cumsum([0.0] + [float(g.cost.min()) for g in reversed(groups)])[::-1]
    least_rows = np.cumsum([np.zeros_like(base)] + [g.rows.min(axis=0) for g in reversed(groups)], axis=0)[::-1]
    cost, rows, chosen = np.zeros(1), base[None, :], np.zeros((1, 0), dtype=np.intp)
    for number, g in enumerate(groups):
        left, right = np.nonzero(cost[:, None] + g.cost + least_cost[number + 1] <= budget + EPS)
        found: list[tuple[NDArray[np.intp], NDArray[np.intp], Array]] = []
        for start in range(0, left.size, _BLOCK):
            a, b = left[start : start + _BLOCK], right[start : start + _BLOCK]
            summed = rows[a] + g.rows[b]
            keep = np.all(summed + least_rows[number + 1] <= caps * (1.0 + EPS), axis=1)
            if price is not None:
                a, b, summed = a[keep], b[keep], summed[keep]
                keep = cost[a] + g.cost[b] + least_cost[number + 1] + price(summed + least_rows[number + 1]) <= bound + EPS
            found.append((a[keep], b[keep], summed[keep]))
        if not found:
            return np.zeros(0), np.zeros((0, base.size)), np.zeros((0, len(groups)), dtype=np.intp)
        a, b = (np.concatenate([each[i] for each in found]) for i in (0, 1))
        rows = np.concatenate([each[2] for each in found])
        cost, chosen = cost[a] + g.cost[b], np.column_stack([chosen[a], b])
    return cost, rows, chosen


def _reduced(groups: Sequence[Group], base: Array, floors: Array) -> tuple[list[Group], NDArray[np.bool_]]:
    """The groups pruned again on those rows alone that some choice can lift over ``floors`` (k,), and which rows those are."""
    most = base + sum((g.rows.max(axis=0) for g in groups), np.zeros_like(base))
    live = np.asarray(most > floors, dtype=np.bool_)
    return [group(list(g.cost), g.rows[:, live]) for g in groups], live


def _named(groups: Sequence[Group], choice: Sequence[int]) -> tuple[int, ...]:
    return tuple(int(g.index[i]) for g, i in zip(groups, choice, strict=True))


def cheapest(groups: Sequence[Group], base: Array, caps: Array, budget: float = np.inf) -> tuple[int, ...] | None:
    """Option numbers of the cheapest choice whose rows keep ``caps`` (k,) within ``budget``; None when there is none.

    Of equally cheap ones the one with the lower worst row.
    """
    small, live = _reduced(groups, base, caps)
    base, caps = base[live], caps[live]
    quietest = [int(np.argmin((g.rows / caps).max(axis=1, initial=0.0))) for g in small]
    _, rows = totals(small, base, quietest)
    bound = budget
    if np.all(rows <= caps):
        bound = min(budget, totals(small, base, _descend(small, base, list(quietest), caps))[0])
    cost, rows, chosen = _complete(small, base, caps, bound)
    if not cost.size:
        return None
    best = np.lexsort(((rows / caps).max(axis=1, initial=0.0), cost))[0]
    return _named(small, chosen[best])


def _climb(groups: Sequence[Group], base: Array, budget: float, caps: Array, soft: NDArray[np.bool_]) -> float:
    """Worst soft row that step-by-step improvement from the cheapest choice reaches within budget.

    Infinite when the hard caps stay broken."""
    choice = [int(np.argmin(g.cost)) for g in groups]
    while True:
        cost, rows = totals(groups, base, choice)
        worst = float((rows / caps).max(initial=0.0))
        steps: list[tuple[float, float, int, int]] = []
        for number, g in enumerate(groups):
            now = choice[number]
            level = ((rows - g.rows[now] + g.rows) / caps).max(axis=1, initial=0.0)
            fits = (cost - g.cost[now] + g.cost <= budget + EPS) & (level < worst * (1.0 - 1e-12))
            steps += [(float(level[i]), float(g.cost[i]), number, int(i)) for i in np.flatnonzero(fits)]
        if not steps:
            break
        _, _, number, option = min(steps)
        choice[number] = option
    ratio = rows / caps
    return float(ratio[soft].max(initial=0.0)) if cost <= budget + EPS and np.all(ratio[~soft] <= 1.0) else np.inf


def closest(
    groups: Sequence[Group],
    base: Array,
    caps: Array,
    budget: float = np.inf,
    soft: NDArray[np.bool_] | None = None,
    bound: float = np.inf,
) -> tuple[int, ...] | None:
    """Option numbers of the choice whose worst row over its cap is least among the ``soft`` rows (all when None), the others keeping
    their caps, within ``budget``; the cheapest of equals. None when no choice keeps budget and hard caps.

    ``bound``: a worst soft row that is known to be reachable; only makes the search shorter.
    """
    mask = np.ones(base.size, dtype=np.bool_) if soft is None else soft
    least = base + sum((g.rows.min(axis=0) for g in groups), np.zeros_like(base))
    floor = float((least / caps)[mask].max(initial=0.0))  # no choice has a lower worst soft row, so rows that stay under it do not matter
    small, live = _reduced(groups, base, np.where(mask, floor * caps, caps))
    base, caps, mask = base[live], caps[live], mask[live]
    reachable = max(floor, min(bound, _climb(small, base, budget, caps, mask)))
    cost, rows, chosen = _complete(small, base, np.where(mask, caps * reachable, caps), budget)
    if not cost.size:
        return None
    worst = np.maximum((rows[:, mask] / caps[mask]).max(axis=1, initial=0.0), floor)
    near = np.flatnonzero(worst <= worst.min() * (1.0 + EPS))
    return _named(small, chosen[near[np.argmin(cost[near])]])


def balanced(groups: Sequence[Group], base: Array, caps: Array, budget: float, price: Price) -> tuple[int, ...] | None:
    """Option numbers of the choice with the least cost plus price of its rows, among those that keep ``caps`` (k,) and ``budget`` (on cost
    alone); None when none does. ``price`` must never fall as a row rises.
    """
    start = cheapest(groups, base, caps, budget)
    if start is None:
        return None
    bound = _polish(groups, base, caps, budget, price, list(start))
    cost, rows, chosen = _complete(groups, base, caps, budget, price, bound)
    return tuple(int(i) for i in chosen[np.argmin(cost + price(rows))])


def _polish(groups: Sequence[Group], base: Array, caps: Array, budget: float, price: Price, choice: list[int]) -> float:
    """Cost plus price that changes of one part at a time reach from a choice: a good bound for the search."""
    cost, rows = totals(groups, base, choice)
    best = cost + float(price(rows[None, :])[0])
    while True:
        steps: list[tuple[float, int, int]] = []
        for number, g in enumerate(groups):
            now = choice[number]
            new_cost, new_rows = cost - g.cost[now] + g.cost, rows - g.rows[now] + g.rows
            worth = new_cost + price(new_rows)
            fits = (new_cost <= budget) & np.all(new_rows <= caps, axis=1) & (worth < best - 1e-6)
            steps += [(float(worth[i]), number, int(i)) for i in np.flatnonzero(fits)]
        if not steps:
            return best + 1e-6
        best, number, option = min(steps)
        choice[number] = option
        cost, rows = totals(groups, base, choice)
