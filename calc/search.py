"""Exact search: one option from each group, costs and constraint rows add up.

Groups are extended one after another, all partial choices at once; a partial choice is dropped only when its best possible completion
breaks a limit or cannot beat a complete choice already in hand. So the result is the optimum, not a guess.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

Array = NDArray[np.float64]
EPS = 1e-9
Price = Callable[[Array], Array]  # rows (m, k) to money (m,), never less for higher rows
LEAST = 1e-12  # share of a cap that is as good as none
NEAR = 1e-3  # share, 0.004 dB; worst rows closer than this are the same, far below what can be heard or predicted
SLACK = 0.02  # share of the least cost that the ceiling of the search starts above it
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
    groups: Sequence[Group],
    base: Array,
    caps: Array,
    budget: float,
    price: Price | None = None,
    bound: float = np.inf,
    extra: Sequence[Array] | None = None,
    slack: float = np.inf,
) -> tuple[Array, Array, NDArray[np.intp]]:
    """All choices whose rows keep ``caps`` (k,) and whose cost keeps ``budget``: costs (m,), rows (m, k), option numbers (m, groups).

    With a price, only those whose cost and price of rows keep ``bound`` too; with ``extra`` of each option, only those whose sum keeps
    ``slack``.
    """
    least_cost = np.cumsum([0.0] + [float(g.cost.min()) for g in reversed(groups)])[::-1]
    least_rows = np.cumsum([np.zeros_like(base)] + [g.rows.min(axis=0) for g in reversed(groups)], axis=0)[::-1]
    cost, rows, chosen, above = np.zeros(1), base[None, :], np.zeros((1, 0), dtype=np.intp), np.zeros(1)
    for number, g in enumerate(groups):
        more = extra[number] if extra is not None else np.zeros(g.cost.size)
        cheap = cost[:, None] + g.cost + least_cost[number + 1] <= budget + EPS
        left, right = np.nonzero(cheap & (above[:, None] + more <= slack + EPS))
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
        cost, above, chosen = cost[a] + g.cost[b], above[a] + more[b], np.column_stack([chosen[a], b])
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

    Of equally cheap ones the one with the lower worst row. Exact, see ``_least_cost``.
    """
    small, live = _reduced(groups, base, caps)
    found = _least_cost(small, base[live], caps[live], budget)
    return _named(small, found) if found is not None else None


def _least_cost(groups: Sequence[Group], base: Array, caps: Array, budget: float) -> tuple[int, ...] | None:
    """As ``cheapest``, with option numbers of these groups.

    The duals of the linear relaxation bound from below what a choice with any option costs; only choices under a ceiling are looked at,
    and the ceiling is raised until one is found.
    """
    relaxed = _relaxed(groups, base, caps)
    if relaxed is None or relaxed[0] > budget + EPS:
        return None
    least, extra = relaxed
    known = min(budget, _affordable(groups, base, caps))
    ceiling = least + SLACK * abs(least)
    while True:
        bound = min(ceiling, known)
        cost, rows, chosen = _under(groups, base, caps, bound, extra, bound - least)
        if cost.size:
            best = np.lexsort(((rows / caps).max(axis=1, initial=0.0), cost))[0]
            return tuple(int(i) for i in chosen[best])
        if bound >= known:
            return None
        ceiling = np.inf if all(np.all(each <= ceiling - least) for each in extra) else least + 2.0 * (ceiling - least)


def _affordable(groups: Sequence[Group], base: Array, caps: Array) -> float:
    """Cost of some choice that keeps the caps, infinite where none is found at once."""
    quietest = [int(np.argmin((g.rows / caps).max(axis=1, initial=0.0))) for g in groups]
    _, rows = totals(groups, base, quietest)
    return totals(groups, base, _descend(groups, base, quietest, caps))[0] if np.all(rows <= caps) else np.inf


def _relaxed(groups: Sequence[Group], base: Array, caps: Array) -> tuple[float, list[Array]] | None:
    """Least cost when options may be mixed, and for each option (n,) what a choice with it costs more at the least; None where even a mix
    breaks the caps. Reduced costs of the linear programme (Nemhauser & Wolsey, Integer and Combinatorial Optimization, 1988, II.3)."""
    rows, cost = np.vstack([g.rows for g in groups]) / caps, np.concatenate([g.cost for g in groups])
    table, left = (rows.T, 1.0 - base / caps) if caps.size else (None, None)
    one = _one_each(groups)
    found = linprog(cost, A_ub=table, b_ub=left, A_eq=one, b_eq=np.ones(len(groups)), bounds=(0.0, None), method="highs")
    if not found.success:
        return None
    prices = np.maximum(-found.ineqlin.marginals, 0.0) if caps.size else np.zeros(0)
    # the bound from the prices alone holds whatever the solver's own rounding
    return _lifted(groups, cost + rows @ prices, -float((1.0 - base / caps) @ prices))


def _one_each(groups: Sequence[Group]) -> Array:
    """Which options (columns) belong to which group (rows)."""
    return np.repeat(np.eye(len(groups)), [g.cost.size for g in groups], axis=1)


def _lifted(groups: Sequence[Group], values: Array, constant: float) -> tuple[float, list[Array]]:
    """A bound, the sum of each group's least value and a constant, and what every option lies above its group's least."""
    each = np.split(values, np.cumsum([g.cost.size for g in groups])[:-1])
    return constant + float(sum(v.min() for v in each)), [v - v.min() for v in each]


def _under(
    groups: Sequence[Group], base: Array, caps: Array, budget: float, extra: list[Array], slack: float
) -> tuple[Array, Array, NDArray[np.intp]]:
    """As ``_complete``, of options and partial choices that ``extra`` lets stay within ``slack``."""
    kept = [np.flatnonzero(each <= slack + EPS) for each in extra]
    if any(not keep.size for keep in kept):
        return np.zeros(0), np.zeros((0, base.size)), np.zeros((0, len(groups)), dtype=np.intp)
    few = [Group(g.cost[keep], g.rows[keep], g.index[keep]) for g, keep in zip(groups, kept, strict=True)]
    mine = [each[keep] for each, keep in zip(extra, kept, strict=True)]
    cost, rows, chosen = _complete(few, base, caps, budget, extra=mine, slack=slack)
    numbers = [keep[chosen[:, i]] for i, keep in enumerate(kept)]
    return cost, rows, np.column_stack(numbers) if numbers else chosen


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

    Found by halving, as the least worst row is where a choice stops to exist; exact to ``NEAR``.

    ``bound``: a worst soft row that is known to be reachable; only makes the search shorter.
    """
    mask = np.ones(base.size, dtype=np.bool_) if soft is None else soft
    least = base + sum((g.rows.min(axis=0) for g in groups), np.zeros_like(base))
    # no choice has a lower worst soft row, so rows that stay under it do not matter
    floor = max(float((least / caps)[mask].max(initial=0.0)), LEAST)
    small, live = _reduced(groups, base, np.where(mask, floor * caps, caps))
    base, caps, mask = base[live], caps[live], mask[live]
    # a hair above what is known to be reachable: the linear programme is solved to a tolerance
    high = max(floor, min(bound, _climb(small, base, budget, caps, mask))) * (1.0 + NEAR)
    best, low = _least_cost(small, base, np.where(mask, caps * high, caps), budget), floor
    while best is not None:
        _, rows = totals(small, base, best)
        high = max(floor, float((rows[mask] / caps[mask]).max(initial=0.0)))
        if high <= low * (1.0 + NEAR):
            break
        level = low * (1.0 + NEAR) if low == floor else max(np.sqrt(low * high), low * (1.0 + NEAR))
        better = _least_cost(small, base, np.where(mask, caps * level, caps), budget)
        best, low = (best, level) if better is None else (better, low)
    return _named(small, best) if best is not None else None


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
