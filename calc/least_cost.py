"""The cheapest choice within limits, exactly: one option from each group, costs and constraint rows add up."""

from __future__ import annotations

import numpy as np
from scipy.optimize import linprog

from calc.groups import EPS, Array, Places, Table, complete, fitting, pruned

SLACK = 0.02  # share of the least cost that the ceiling of the search starts above it
FEW = 600_000  # numbers: costs and rows of choices that are all looked at sooner than a linear programme is solved, as limits stop most


def least_cost(t: Table | None, base: Array, caps: Array, budget: float) -> tuple[int, ...] | None:
    """Numbers of the cheapest choice within ``caps`` (k,) and ``budget``; None when there is none. Of equally cheap ones the one with the
    lower worst row.

    Options that cannot be in it, and rows that no choice left lifts over its cap, are dropped first; few choices are all looked at. Else
    the duals of the linear relaxation bound from below what a choice with any option costs; only choices under a ceiling are looked at,
    and the ceiling is raised until one is found.
    """
    few = fitting(t, base, caps, budget)
    if few is None:
        return None
    live = few.most(base) > caps
    few, base, caps = pruned(few, live), base[live], caps[live]
    at_once = quick(few, base, caps)
    known = min(budget, few.total(base, at_once)[0]) if at_once is not None else budget
    if is_few(few):
        return _best(few, caps, *complete(few, base, caps, known))
    relaxed = _relaxed(few, base, caps)
    if relaxed is None or relaxed[0] > budget + EPS:
        return None
    least, extra = relaxed
    ceiling = least + SLACK * abs(least)
    while True:
        bound = min(ceiling, known)
        mine = few.of(extra <= bound - least + EPS)
        if mine is not None:
            found = _best(mine, caps, *complete(mine, base, caps, bound, extra=extra[extra <= bound - least + EPS], slack=bound - least))
            if found is not None:
                return found
        if bound >= known:
            return None
        ceiling = np.inf if np.all(extra <= ceiling - least) else least + 2.0 * (ceiling - least)


def is_few(t: Table) -> bool:
    """Whether all choices of a table are soon looked at."""
    return bool(np.prod([s.stop - s.start for s in t.slices], dtype=np.float64) * (1 + t.rows.shape[1]) <= FEW)


def _best(t: Table, caps: Array, cost: Array, rows: Array, chosen: Places) -> tuple[int, ...] | None:
    """The numbers of the cheapest of some choices, of equally cheap ones the one with the lower worst row."""
    if not cost.size:
        return None
    best = np.lexsort(((rows / caps).max(axis=1, initial=0.0), cost))[0]
    return t.numbers(chosen[best])


def quick(t: Table, base: Array, caps: Array, budget: float = np.inf) -> Places | None:
    """A choice that keeps caps and budget, None where none is found at once."""
    loudest = (t.rows / caps).max(axis=1, initial=0.0)
    quietest = np.array([each.start + np.argmin(loudest[each]) for each in t.slices])
    if np.any(t.total(base, quietest)[1] > caps):
        return None
    choice = _descend(t, base, quietest, caps)
    return choice if t.total(base, choice)[0] <= budget else None


def _descend(t: Table, base: Array, choice: Places, caps: Array) -> Places:
    """Cheapen a choice step by step, the largest saving that keeps the caps first: a good bound for the search."""
    while True:
        _, rows = t.total(base, choice)
        saved = t.cost - t.cost[choice][t.part]
        steps = np.flatnonzero(saved < -EPS)
        steps = steps[np.all((rows - t.rows[choice])[t.part[steps]] + t.rows[steps] <= caps, axis=1)]
        if not steps.size:
            return choice
        step = steps[np.argmin(saved[steps])]
        choice[t.part[step]] = step


def _relaxed(t: Table, base: Array, caps: Array) -> tuple[float, Array] | None:
    """Least cost when options may be mixed, and for each option (n,) what a choice with it costs more at the least; None where even a mix
    breaks the caps. Reduced costs of the linear programme (Nemhauser & Wolsey, Integer and Combinatorial Optimization, 1988, II.3)."""
    rows = t.rows / caps
    table, left = (rows.T, 1.0 - base / caps) if caps.size else (None, None)
    one = one_each(t)
    found = linprog(t.cost, A_ub=table, b_ub=left, A_eq=one, b_eq=np.ones(len(one)), bounds=(0.0, None), method="highs")
    if not found.success:
        return None
    prices = np.maximum(-found.ineqlin.marginals, 0.0) if caps.size else np.zeros(0)
    # the bound from the prices alone holds whatever the solver's own rounding
    return lifted(t, t.cost + rows @ prices, -float((1.0 - base / caps) @ prices))


def one_each(t: Table) -> Array:
    """Which options (columns) belong to which group (rows)."""
    return np.asarray(np.arange(t.starts.size)[:, None] == t.part, dtype=np.float64)


def lifted(t: Table, values: Array, constant: float) -> tuple[float, Array]:
    """A bound, the sum of each group's least value and a constant, and what every option lies above its group's least."""
    least = np.minimum.reduceat(values, t.starts)
    return constant + float(least.sum()), np.asarray(values - least[t.part])
