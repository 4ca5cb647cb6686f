"""What the exact search works on: groups of options, their pruning, and all choices within limits.

Groups are extended one after another, all partial choices at once; a partial choice is dropped only when its best possible completion
breaks a limit or cannot beat a complete choice already in hand.
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
    left = np.lexsort((rows.sum(axis=1), cost))
    eased = rows + EPS * np.abs(rows)
    kept: list[int] = []
    while left.size:
        kept.append(int(left[0]))
        left = left[1:]
        left = left[np.any(eased[left] < rows[kept[-1]], axis=1)]
    chosen = np.array(kept, dtype=np.intp)
    return Group(cost[chosen], rows[chosen], chosen)


def of(g: Group, keep: NDArray[np.bool_]) -> Group:
    """The options of a group to keep (n,)."""
    return Group(g.cost[keep], g.rows[keep], g.index[keep])


def least_rows(groups: Sequence[Group], base: Array) -> Array:
    """No choice has lower rows (k,) than these."""
    return base + sum((g.rows.min(axis=0) for g in groups), np.zeros_like(base))


def most_rows(groups: Sequence[Group], base: Array) -> Array:
    """No choice has higher rows (k,) than these."""
    return base + sum((g.rows.max(axis=0) for g in groups), np.zeros_like(base))


def fitting(groups: Sequence[Group], base: Array, caps: Array, budget: float) -> list[Group] | None:
    """The groups without options that no choice within ``caps`` (k,) and ``budget`` can have; None when one group is left without any."""
    found = list(groups)
    eased, money = caps * (1.0 + EPS), budget + EPS
    while True:
        least, cost = least_rows(found, base), sum(float(g.cost.min()) for g in found)
        keeps = [np.all(g.rows + (least - g.rows.min(axis=0)) <= eased, axis=1) & (g.cost + (cost - g.cost.min()) <= money) for g in found]
        if not all(keep.any() for keep in keeps):
            return None
        if all(keep.all() for keep in keeps):
            return found
        found = [of(g, keep) for g, keep in zip(found, keeps, strict=True)]


def totals(groups: Sequence[Group], base: Array, choice: Sequence[int]) -> tuple[float, Array]:
    """Cost and rows (k,) of one choice, an option number in each group."""
    cost = sum(float(g.cost[i]) for g, i in zip(groups, choice, strict=True))
    rows = base + sum((g.rows[i] for g, i in zip(groups, choice, strict=True)), np.zeros_like(base))
    return cost, rows


def numbered(groups: Sequence[Group]) -> list[Group]:
    """The groups with each option's place in them as its number."""
    return [Group(g.cost, g.rows, np.arange(g.cost.size)) for g in groups]


def pruned(groups: Sequence[Group], live: NDArray[np.bool_]) -> list[Group]:
    """The groups with those rows alone, options dominated on them dropped."""
    found = [group(list(g.cost), g.rows[:, live]) for g in groups]
    return [Group(new.cost, new.rows, g.index[new.index]) for g, new in zip(groups, found, strict=True)]


def complete(
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
