"""Exact search: one option from each group, costs and constraint rows add up.

Options and partial choices are dropped only when what is best possible with them breaks a limit or cannot beat a choice already in hand,
so the result is the optimum, not a guess. The parts: calc.groups, calc.least_cost.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from calc.groups import EPS, Array, Chord, Places, Price, Table, complete, fitting, pruned, table
from calc.groups import Group as Group
from calc.groups import group as group
from calc.groups import totals as totals
from calc.least_cost import is_few, least_cost, lifted, one_each, quick

LEAST = 1e-12  # share of a cap that is as good as none
NEAR = 1e-3  # share, 0.004 dB; worst rows closer than this are the same, far below what can be heard or predicted
STEP = 0.25  # of the way, over the logarithm, from a bound on the least worst row to one that is reachable: the bound is mostly close


def cheapest(groups: Sequence[Group], base: Array, caps: Array, budget: float = np.inf) -> tuple[int, ...] | None:
    """Option numbers of the cheapest choice whose rows keep ``caps`` (k,) within ``budget``; None when there is none.

    Of equally cheap ones the one with the lower worst row. Exact, see ``least_cost``.
    """
    return least_cost(table(groups), base, caps, budget)


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
    few = fitting(table(groups), base, np.where(mask, np.inf, caps), budget)
    if few is None:
        return None
    # no choice has a lower worst soft row, so rows that stay under it do not matter
    floor = max(float(((base + few.least.sum(axis=0)) / caps)[mask].max(initial=0.0)), LEAST)
    live = few.most(base) > np.where(mask, floor * caps, caps)
    few, base, caps, mask = few.live(live), base[live], caps[live], mask[live]
    # a hair above what is known to be reachable: the linear programme is solved to a tolerance
    high = max(floor, min(bound, _climb(few, base, budget, caps, mask))) * (1.0 + NEAR)
    left = fitting(few, base, np.where(mask, caps * high, caps), budget)
    low = floor
    if left is not None and high > floor * (1.0 + NEAR) ** 2:
        few, live = _leading(left, base, caps, mask, floor)
        least = _lowest(few, base[live], caps[live], mask[live], budget, floor, high) if is_few(few) else None
        if least is not None:
            low = high = max(floor, least)
        else:
            left, low = _above(left, few, base[live], caps[live], mask[live], budget, floor, high)
    while left is not None and high > low * (1.0 + NEAR):
        level = low * max(min(1.0 + NEAR if low == floor else np.inf, (high / low) ** STEP), 1.0 + NEAR)
        reached = _some(left, base, caps, mask, budget, level)
        low, high = (level, high) if reached is None else (low, max(floor, reached))
    return least_cost(left, base, np.where(mask, caps * max(high, low * (1.0 + NEAR)), caps), budget)


def _some(t: Table, base: Array, caps: Array, soft: NDArray[np.bool_], budget: float, level: float) -> float | None:
    """The worst soft row of some choice that has none over ``level``, within ``caps`` (k,) and ``budget``; None where there is none."""
    capped = np.where(soft, caps * level, caps)
    few = fitting(t, base, capped, budget)
    if few is None:
        return None
    choice = quick(few, base, capped, budget)
    if choice is None:
        found = least_cost(few, base, capped, budget)
        if found is None:
            return None
        choice = np.array([each.start + np.flatnonzero(few.number[each] == n)[0] for each, n in zip(few.slices, found, strict=True)])
    return float((few.total(base, choice)[1] / caps)[soft].max(initial=0.0))


def _leading(t: Table, base: Array, caps: Array, soft: NDArray[np.bool_], low: float) -> tuple[Table, NDArray[np.bool_]]:
    """The options that a choice with the least worst soft row can have, when none is under ``low``; and which rows (k,) matter to it."""
    live = t.most(base) > np.where(soft, low * caps, caps)
    return pruned(t, live), live


def _lowest(few: Table, base: Array, caps: Array, soft: NDArray[np.bool_], budget: float, low: float, high: float) -> float | None:
    """The least worst soft row of all choices, known to lie between two bounds; None where none is under the higher one.

    All choices under a level are looked at, which stop most partial ones where it is low; it is raised until there is one."""
    while low < high:
        low = min(max(low * (high / low) ** STEP, low * (1.0 + NEAR)), high) if np.isfinite(high) else high
        _, rows, _ = complete(few, base, np.where(soft, caps * low, caps), budget)
        if len(rows):
            return float((rows / caps)[:, soft].max(axis=1, initial=0.0).min())
    return None


def _above(
    t: Table, few: Table, base: Array, caps: Array, some: NDArray[np.bool_], budget: float, low: float, high: float
) -> tuple[Table | None, float]:
    """The table without options that no choice with a worst soft row under ``high`` has, and a bound from below on that row, at least
    ``low``: the linear relaxation of the least worst row, its duals as in calc.least_cost. ``few``: what ``_leading`` leaves of the table,
    whose rows the others are.
    """
    left = np.where(some, 0.0, 1.0) - base / caps
    limits = np.column_stack([(few.rows / caps).T, -some.astype(np.float64)])
    if np.isfinite(budget):
        scale = 1.0 / max(abs(budget), 1.0)
        limits, left = np.vstack([limits, np.append(few.cost * scale, 0.0)]), np.append(left, budget * scale)
    one = np.column_stack([one_each(few), np.zeros(few.starts.size)])
    target = np.append(np.zeros(few.cost.size), 1.0)
    found = linprog(target, A_ub=limits, b_ub=left, A_eq=one, b_eq=np.ones(len(one)), bounds=(0.0, None), method="highs")
    prices = np.maximum(-found.ineqlin.marginals, 0.0) if found.success else np.zeros(left.size)
    weight = prices[: some.size] @ some
    if weight <= 0.0:
        return t, low
    prices = prices / weight
    bound, extra = lifted(few, limits[:, :-1].T @ prices, -float(left @ prices))
    kept = extra <= high - bound + EPS
    return t.of(np.isin(t.key, few.key[kept])), max(low, bound)


def _climb(t: Table, base: Array, budget: float, caps: Array, soft: NDArray[np.bool_]) -> float:
    """Worst soft row that step-by-step improvement from the cheapest choice reaches within budget.

    Infinite when the hard caps stay broken."""
    shares, choice = t.rows / caps, np.array([each.start + np.argmin(t.cost[each]) for each in t.slices])
    while True:
        cost, ratio = float(t.cost[choice].sum()), base / caps + shares[choice].sum(axis=0)
        steps = np.flatnonzero(cost - t.cost[choice][t.part] + t.cost <= budget + EPS)
        level = ((ratio - shares[choice])[t.part[steps]] + shares[steps]).max(axis=1, initial=0.0)
        if not np.any(level < ratio.max(initial=0.0) * (1.0 - 1e-12)):
            break
        step = steps[np.lexsort((t.cost[steps], level))[0]]
        choice[t.part[step]] = step
    return float(ratio[soft].max(initial=0.0)) if cost <= budget + EPS and np.all(ratio[~soft] <= 1.0) else np.inf


def balanced(
    groups: Sequence[Group], base: Array, caps: Array, budget: float, price: Price, chord: Chord | None = None
) -> tuple[int, ...] | None:
    """Option numbers of the choice with the least cost plus price of its rows, among those that keep ``caps`` (k,) and ``budget`` (on cost
    alone); None when none does. ``price`` must never fall as a row rises; ``chord`` only makes the search shorter.
    """
    start = cheapest(groups, base, caps, budget)
    if start is None:
        return None
    t = table(groups)
    bound = _polish(t, base, caps, budget, price, t.starts + np.array(start))
    few = _worthy(t, base, price, bound)
    few, extra, slack = _under_chord(few, base, bound, chord) if chord else (few, None, np.inf)
    least = float(price((base + few.least.sum(axis=0))[None, :])[0])  # what every choice pays for its rows
    cost, rows, chosen = complete(few, base, caps, min(budget, bound - least), price, bound, extra, slack)
    return few.numbers(chosen[np.argmin(cost + price(rows))])


def _under_chord(t: Table, base: Array, bound: float, chord: Chord) -> tuple[Table, Array, float]:
    """The table without options that cost more than ``bound`` even with the plane under the price; what each option left (n,) costs more
    there than the best of its group, and how much more all may."""
    while True:
        slopes, constant = chord(base + t.least.sum(axis=0), t.most(base))
        least, extra = lifted(t, t.cost + t.rows @ slopes, constant + float(base @ slopes))
        keep = extra <= bound - least + EPS
        fewer = t.of(keep)
        if fewer is None or keep.all():
            return t, extra, bound - least
        t = fewer


def _worthy(t: Table, base: Array, price: Price, bound: float) -> Table:
    """The table without options that no choice with a cost plus price within ``bound`` has."""
    while True:
        others, dearer = (base + t.least.sum(axis=0)) - t.least, t.least_cost.sum() - t.least_cost
        keep = t.cost + dearer[t.part] + price(t.rows + others[t.part]) <= bound + EPS
        fewer = t.of(keep)
        if fewer is None or keep.all():
            return t
        t = fewer


def _polish(t: Table, base: Array, caps: Array, budget: float, price: Price, choice: Places) -> float:
    """Cost plus price that changes of one part at a time reach from a choice: a good bound for the search."""
    while True:
        cost, rows = t.total(base, choice)
        now = cost + float(price(rows[None, :])[0])
        new_cost, new_rows = cost - t.cost[choice][t.part] + t.cost, (rows - t.rows[choice])[t.part] + t.rows
        worth = np.where((new_cost <= budget) & np.all(new_rows <= caps, axis=1), new_cost + price(new_rows), np.inf)
        step = int(np.argmin(worth))
        if worth[step] >= now - 1e-6:
            return now + 1e-6
        choice[t.part[step]] = step
