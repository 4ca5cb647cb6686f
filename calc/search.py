"""Exact search: one option from each group, costs and constraint rows add up.

Options and partial choices are dropped only when what is best possible with them breaks a limit or cannot beat a choice already in hand,
so the result is the optimum, not a guess. The parts: calc.groups, calc.least_cost.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from calc.groups import (
    EPS,
    Array,
    Price,
    complete,
    fitting,
    least_rows,
    most_rows,
    numbered,
    of,
    pruned,
)
from calc.groups import Group as Group
from calc.groups import group as group
from calc.groups import totals as totals
from calc.least_cost import least_cost, lifted, one_each, quick

LEAST = 1e-12  # share of a cap that is as good as none
NEAR = 1e-3  # share, 0.004 dB; worst rows closer than this are the same, far below what can be heard or predicted
STEP = 0.25  # of the way, over the logarithm, from a bound on the least worst row to one that is reachable: the bound is mostly close


def cheapest(groups: Sequence[Group], base: Array, caps: Array, budget: float = np.inf) -> tuple[int, ...] | None:
    """Option numbers of the cheapest choice whose rows keep ``caps`` (k,) within ``budget``; None when there is none.

    Of equally cheap ones the one with the lower worst row. Exact, see ``least_cost``.
    """
    return least_cost(numbered(groups), base, caps, budget)


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

    Found by closing in from both sides on the level where a choice stops to exist; exact to ``NEAR``.

    ``bound``: a worst soft row that is known to be reachable; only makes the search shorter.
    """
    mask = np.ones(base.size, dtype=np.bool_) if soft is None else soft
    few = fitting(numbered(groups), base, np.where(mask, np.inf, caps), budget)
    if few is None:
        return None
    # no choice has a lower worst soft row, so rows that stay under it do not matter
    floor = max(float((least_rows(few, base) / caps)[mask].max(initial=0.0)), LEAST)
    live = most_rows(few, base) > np.where(mask, floor * caps, caps)
    few, base, caps, mask = [Group(g.cost, g.rows[:, live], g.index) for g in few], base[live], caps[live], mask[live]
    # a hair above what is known to be reachable: the linear programme is solved to a tolerance
    high = max(floor, min(bound, _climb(few, base, budget, caps, mask))) * (1.0 + NEAR)
    left = fitting(few, base, np.where(mask, caps * high, caps), budget)
    low = floor
    if left is not None and high > floor * (1.0 + NEAR) ** 2:
        left, low = _above(left, base, caps, mask, budget, floor, high)
    while left is not None and high > low * (1.0 + NEAR):
        level = low * max(min(1.0 + NEAR if low == floor else np.inf, (high / low) ** STEP), 1.0 + NEAR)
        better = _some(left, base, np.where(mask, caps * level, caps), budget)
        low, high = (level, high) if better is None else (low, max(floor, _worst(left, base / caps, caps, mask, better)))
    return None if left is None else least_cost(left, base, np.where(mask, caps * max(high, low * (1.0 + NEAR)), caps), budget)


def _worst(groups: Sequence[Group], base: Array, caps: Array, soft: NDArray[np.bool_], numbers: tuple[int, ...]) -> float:
    """The worst soft row over its cap of a choice by its numbers; ``base`` over the caps already."""
    rows = sum((g.rows[np.flatnonzero(g.index == n)[0]] / caps for g, n in zip(groups, numbers, strict=True)), base)
    return float(rows[soft].max(initial=0.0))


def _some(groups: Sequence[Group], base: Array, caps: Array, budget: float) -> tuple[int, ...] | None:
    """Numbers of some choice within ``caps`` (k,) and ``budget``, None where there is none."""
    few = fitting(groups, base, caps, budget)
    if few is None:
        return None
    at_once = quick(few, base, caps, budget)
    if at_once is None:
        return least_cost(few, base, caps, budget)
    return tuple(int(g.index[i]) for g, i in zip(few, at_once, strict=True))


def _above(
    groups: list[Group], base: Array, caps: Array, soft: NDArray[np.bool_], budget: float, low: float, high: float
) -> tuple[list[Group] | None, float]:
    """The groups without options that no choice with a worst soft row under ``high`` has, and a bound from below on that row, at least
    ``low``: the linear relaxation of the least worst row, its duals as in ``_relaxed``.
    """
    live = most_rows(groups, base) > np.where(soft, low * caps, caps)
    few, some = pruned(groups, live), soft[live]
    rows, cost = np.vstack([g.rows for g in few]) / caps[live], np.concatenate([g.cost for g in few])
    left = np.where(some, 0.0, 1.0) - base[live] / caps[live]
    table = np.column_stack([rows.T, -some.astype(np.float64)])
    if np.isfinite(budget):
        scale = 1.0 / max(abs(budget), 1.0)
        table, left = np.vstack([table, np.append(cost * scale, 0.0)]), np.append(left, budget * scale)
    one = np.column_stack([one_each(few), np.zeros(len(few))])
    target = np.zeros(cost.size + 1)
    target[-1] = 1.0
    found = linprog(target, A_ub=table, b_ub=left, A_eq=one, b_eq=np.ones(len(few)), bounds=(0.0, None), method="highs")
    prices = np.maximum(-found.ineqlin.marginals, 0.0) if found.success else np.zeros(left.size)
    weight = prices[: some.size] @ some
    if weight <= 0.0:
        return groups, low
    prices = prices / weight
    bound, extra = lifted(few, table[:, :-1].T @ prices, -float(left @ prices))
    kept = [small.index[each <= high - bound + EPS] for small, each in zip(few, extra, strict=True)]
    if not all(numbers.size for numbers in kept):
        return None, low
    return [of(g, np.isin(g.index, numbers)) for g, numbers in zip(groups, kept, strict=True)], max(low, bound)


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


def balanced(groups: Sequence[Group], base: Array, caps: Array, budget: float, price: Price) -> tuple[int, ...] | None:
    """Option numbers of the choice with the least cost plus price of its rows, among those that keep ``caps`` (k,) and ``budget`` (on cost
    alone); None when none does. ``price`` must never fall as a row rises.
    """
    start = cheapest(groups, base, caps, budget)
    if start is None:
        return None
    bound = _polish(groups, base, caps, budget, price, list(start))
    few = _worthy(numbered(groups), base, price, bound)
    cost, rows, chosen = complete(few, base, caps, budget, price, bound)
    return tuple(int(g.index[i]) for g, i in zip(few, chosen[np.argmin(cost + price(rows))], strict=True))


def _worthy(groups: list[Group], base: Array, price: Price, bound: float) -> list[Group]:
    """The groups without options that no choice with a cost plus price within ``bound`` has."""
    while True:
        least, cost = least_rows(groups, base), sum(float(g.cost.min()) for g in groups)
        keeps = [(cost - g.cost.min()) + g.cost + price(least - g.rows.min(axis=0) + g.rows) <= bound + EPS for g in groups]
        if all(keep.all() for keep in keeps):
            return groups
        groups = [of(g, keep) for g, keep in zip(groups, keeps, strict=True)]


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
