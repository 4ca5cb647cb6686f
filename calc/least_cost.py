"""The cheapest choice within limits, exactly: one option from each group, costs and constraint rows add up."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from calc.groups import EPS, Array, Group, complete, fitting, most_rows, pruned, totals

SLACK = 0.02  # share of the least cost that the ceiling of the search starts above it
FEW = 5000  # choices that are all looked at sooner than a linear programme is solved


def least_cost(groups: Sequence[Group], base: Array, caps: Array, budget: float) -> tuple[int, ...] | None:
    """As ``cheapest``, by the numbers that the groups carry. Options that cannot be in it, and rows that no choice left lifts over its cap,
    are dropped first; few choices are all looked at.

    Else the duals of the linear relaxation bound from below what a choice with any option costs; only choices under a ceiling are looked
    at, and the ceiling is raised until one is found.
    """
    few = fitting(groups, base, caps, budget)
    if few is None:
        return None
    live = most_rows(few, base) > caps
    few, base, caps = pruned(few, live), base[live], caps[live]
    at_once = quick(few, base, caps)
    known = min(budget, totals(few, base, at_once)[0]) if at_once is not None else budget
    if prod(g.cost.size for g in few) <= FEW:
        return _best(few, caps, *complete(few, base, caps, known))
    relaxed = _relaxed(few, base, caps)
    if relaxed is None or relaxed[0] > budget + EPS:
        return None
    least, extra = relaxed
    ceiling = least + SLACK * abs(least)
    while True:
        bound = min(ceiling, known)
        found = _under(few, base, caps, bound, extra, bound - least)
        if found[0].size or bound >= known:
            return _best(few, caps, *found)
        ceiling = np.inf if all(np.all(each <= ceiling - least) for each in extra) else least + 2.0 * (ceiling - least)


def _best(groups: Sequence[Group], caps: Array, cost: Array, rows: Array, chosen: NDArray[np.intp]) -> tuple[int, ...] | None:
    """The numbers of the cheapest of some choices, of equally cheap ones the one with the lower worst row."""
    if not cost.size:
        return None
    best = np.lexsort(((rows / caps).max(axis=1, initial=0.0), cost))[0]
    return tuple(int(g.index[i]) for g, i in zip(groups, chosen[best], strict=True))


def quick(groups: Sequence[Group], base: Array, caps: Array, budget: float = np.inf) -> list[int] | None:
    """Places of a choice that keeps caps and budget, None where none is found at once."""
    quietest = [int(np.argmin((g.rows / caps).max(axis=1, initial=0.0))) for g in groups]
    _, rows = totals(groups, base, quietest)
    if np.any(rows > caps):
        return None
    choice = _descend(groups, base, quietest, caps)
    return choice if totals(groups, base, choice)[0] <= budget else None


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


def _relaxed(groups: Sequence[Group], base: Array, caps: Array) -> tuple[float, list[Array]] | None:
    """Least cost when options may be mixed, and for each option (n,) what a choice with it costs more at the least; None where even a mix
    breaks the caps. Reduced costs of the linear programme (Nemhauser & Wolsey, Integer and Combinatorial Optimization, 1988, II.3)."""
    rows, cost = np.vstack([g.rows for g in groups]) / caps, np.concatenate([g.cost for g in groups])
    table, left = (rows.T, 1.0 - base / caps) if caps.size else (None, None)
    one = one_each(groups)
    found = linprog(cost, A_ub=table, b_ub=left, A_eq=one, b_eq=np.ones(len(groups)), bounds=(0.0, None), method="highs")
    if not found.success:
        return None
    prices = np.maximum(-found.ineqlin.marginals, 0.0) if caps.size else np.zeros(0)
    # the bound from the prices alone holds whatever the solver's own rounding
    return lifted(groups, cost + rows @ prices, -float((1.0 - base / caps) @ prices))


def one_each(groups: Sequence[Group]) -> Array:
    """Which options (columns) belong to which group (rows)."""
    return np.repeat(np.eye(len(groups)), [g.cost.size for g in groups], axis=1)


def lifted(groups: Sequence[Group], values: Array, constant: float) -> tuple[float, list[Array]]:
    """A bound, the sum of each group's least value and a constant, and what every option lies above its group's least."""
    each = np.split(values, np.cumsum([g.cost.size for g in groups])[:-1])
    return constant + float(sum(v.min() for v in each)), [v - v.min() for v in each]


def _under(
    groups: Sequence[Group], base: Array, caps: Array, budget: float, extra: list[Array], slack: float
) -> tuple[Array, Array, NDArray[np.intp]]:
    """As ``complete``, of options and partial choices that ``extra`` lets stay within ``slack``."""
    kept = [np.flatnonzero(each <= slack + EPS) for each in extra]
    if any(not keep.size for keep in kept):
        return np.zeros(0), np.zeros((0, base.size)), np.zeros((0, len(groups)), dtype=np.intp)
    few = [Group(g.cost[keep], g.rows[keep], g.index[keep]) for g, keep in zip(groups, kept, strict=True)]
    mine = [each[keep] for each, keep in zip(extra, kept, strict=True)]
    cost, rows, chosen = complete(few, base, caps, budget, extra=mine, slack=slack)
    numbers = [keep[chosen[:, i]] for i, keep in enumerate(kept)]
    return cost, rows, np.column_stack(numbers) if numbers else chosen
