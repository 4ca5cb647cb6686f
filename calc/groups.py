"""What the exact search works on: groups of options, their pruning, and all choices within limits.

Groups are extended one after another, all partial choices at once; a partial choice is dropped only when its best possible completion
breaks a limit or cannot beat a complete choice already in hand.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Places = NDArray[np.intp]
EPS = 1e-9
Price = Callable[[Array], Array]  # rows (m, k) to money (m,), never less for higher rows
Chord = Callable[[Array, Array], tuple[Array, float]]  # lowest and highest rows (k,) to a plane under a price: slopes (k,), constant
_MANY = 1_000_000  # more than any group has options
_SAMPLE = 11  # every so many rows are compared first: they settle most pairs of options
_BLOCK = 4096  # pairs looked at in one go: keeps the arrays in cache


@dataclass(frozen=True)
class Group:
    """Options of one part: costs (n,), constraint rows (n, k), and where each stood in the caller's list (n,)."""

    cost: Array
    rows: Array
    index: Places


@dataclass(frozen=True)
class Table:
    """The options of all groups under each other, group by group: costs (n,), rows (n, k), number of each in its group as the caller has it
    (n,), and which group it belongs to (n,). A choice is a place in the table for each group (groups,)."""

    cost: Array
    rows: Array
    number: Places
    part: Places

    @cached_property
    def starts(self) -> Places:
        """Place (groups,) of each group's first option."""
        return np.flatnonzero(np.diff(self.part, prepend=-1))

    @property
    def key(self) -> Places:
        """A number (n,) for each option that no other has."""
        return np.asarray(self.part * _MANY + self.number)

    @cached_property
    def slices(self) -> list[slice]:
        """The places of each group."""
        return [slice(a, b) for a, b in zip(self.starts, [*self.starts[1:], self.cost.size], strict=True)]

    @cached_property
    def least(self) -> Array:
        """Lowest rows (groups, k) of each group."""
        return np.asarray(np.minimum.reduceat(self.rows, self.starts, axis=0))

    @cached_property
    def least_cost(self) -> Array:
        """Lowest cost (groups,) of each group."""
        return np.asarray(np.minimum.reduceat(self.cost, self.starts))

    def most(self, base: Array) -> Array:
        """No choice has higher rows (k,) than these."""
        return np.asarray(base + np.maximum.reduceat(self.rows, self.starts, axis=0).sum(axis=0))

    def of(self, keep: NDArray[np.bool_]) -> Table | None:
        """The options to keep (n,); None when a group is left without any."""
        found = Table(self.cost[keep], self.rows[keep], self.number[keep], self.part[keep])
        return found if found.starts.size == self.starts.size else None

    def live(self, rows: NDArray[np.bool_]) -> Table:
        """The same with those rows alone."""
        return Table(self.cost, self.rows[:, rows], self.number, self.part)

    def total(self, base: Array, choice: Places) -> tuple[float, Array]:
        """Cost and rows (k,) of a choice."""
        return float(self.cost[choice].sum()), np.asarray(base + self.rows[choice].sum(axis=0))

    def numbers(self, choice: Places) -> tuple[int, ...]:
        """The caller's numbers of a choice."""
        return tuple(int(n) for n in self.number[choice])


def table(groups: Sequence[Group]) -> Table:
    """Groups as a table; options are numbered as they stand in their group."""
    sizes = [g.cost.size for g in groups]
    return Table(
        np.concatenate([g.cost for g in groups]),
        np.concatenate([g.rows for g in groups]),
        np.concatenate([np.arange(size) for size in sizes]),
        np.repeat(np.arange(len(sizes)), sizes),
    )


def group(costs: Sequence[float], rows: Array) -> Group:
    """A group of all options, dominated ones dropped: dearer or equal, and no lower in any row than another. Exact for every search below.

    Of options equal in everything the first stays. Raises ValueError when there is no option.
    """
    cost = np.asarray(costs, dtype=np.float64)
    if not cost.size:
        raise ValueError("a group needs an option")
    chosen = _undominated(cost, rows, np.zeros(cost.size, dtype=np.intp))
    return Group(cost[chosen], rows[chosen], chosen)


def _undominated(cost: Array, rows: Array, part: Places) -> Places:
    """Places of the options that none of the same part dominates, part by part, the cheapest first."""
    order = np.lexsort((rows.sum(axis=1), cost, part))
    mine, part = rows[order], part[order]
    eased = mine + EPS * np.abs(mine)
    lower = np.triu(part[:, None] == part, 1)
    for row in range(0, mine.shape[1], _SAMPLE):
        lower &= mine[:, row, None] <= eased[:, row]
    ahead, behind = np.nonzero(lower)
    return np.delete(order, behind[np.all(mine[ahead] <= eased[behind], axis=1)])


def pruned(t: Table, live: NDArray[np.bool_]) -> Table:
    """The table with those rows alone, options dominated on them dropped."""
    few = t.live(live)
    kept = _undominated(few.cost, few.rows, few.part)
    return Table(few.cost[kept], few.rows[kept], few.number[kept], few.part[kept])


def fitting(t: Table | None, base: Array, caps: Array, budget: float) -> Table | None:
    """The table without options that no choice within ``caps`` (k,) and ``budget`` can have; None when a group is left without any."""
    eased, money = caps * (1.0 + EPS), budget + EPS
    while t is not None:
        others, dearer = (base + t.least.sum(axis=0)) - t.least, t.least_cost.sum() - t.least_cost
        keep = np.all(t.rows + others[t.part] <= eased, axis=1) & (t.cost + dearer[t.part] <= money)
        if keep.all():
            break
        t = t.of(keep)
    return t


def totals(groups: Sequence[Group], base: Array, choice: Sequence[int]) -> tuple[float, Array]:
    """Cost and rows (k,) of one choice, an option number in each group."""
    cost = sum(float(g.cost[i]) for g, i in zip(groups, choice, strict=True))
    rows = base + sum((g.rows[i] for g, i in zip(groups, choice, strict=True)), np.zeros_like(base))
    return cost, rows


def complete(
    t: Table,
    base: Array,
    caps: Array,
    budget: float,
    price: Price | None = None,
    bound: float = np.inf,
    extra: Array | None = None,
    slack: float = np.inf,
) -> tuple[Array, Array, Places]:
    """All choices whose rows keep ``caps`` (k,) and whose cost keeps ``budget``: costs (m,), rows (m, k), choices (m, groups).

    With a price, only those whose cost and price of rows keep ``bound`` too; with ``extra`` (n,) of each option, only those whose sum keeps
    ``slack``.
    """
    least_cost, least_rows = (np.cumsum(each[::-1], axis=0)[::-1] for each in (t.least_cost, t.least))
    least_cost, least_rows = np.append(least_cost, 0.0), np.vstack([least_rows, np.zeros_like(base)])
    cost, rows, chosen, above = np.zeros(1), base[None, :], np.zeros((1, 0), dtype=np.intp), np.zeros(1)
    for number, mine in enumerate(t.slices):
        own_cost, own_rows, more = t.cost[mine], t.rows[mine], np.zeros(1) if extra is None else extra[mine]
        cheap = cost[:, None] + own_cost + least_cost[number + 1] <= budget + EPS
        left, right = np.nonzero(cheap & (above[:, None] + more <= slack + EPS))
        found: list[tuple[Places, Places, Array]] = []
        for start in range(0, left.size, _BLOCK):
            a, b = left[start : start + _BLOCK], right[start : start + _BLOCK]
            summed = rows[a] + own_rows[b]
            keep = np.all(summed + least_rows[number + 1] <= caps * (1.0 + EPS), axis=1)
            if price is not None:
                a, b, summed = a[keep], b[keep], summed[keep]
                keep = cost[a] + own_cost[b] + least_cost[number + 1] + price(summed + least_rows[number + 1]) <= bound + EPS
            found.append((a[keep], b[keep], summed[keep]))
        if not found:
            return np.zeros(0), np.zeros((0, base.size)), np.zeros((0, t.starts.size), dtype=np.intp)
        a, b = (np.concatenate([each[i] for each in found]) for i in (0, 1))
        rows = np.concatenate([each[2] for each in found])
        above = above[a] + (0.0 if extra is None else more[b])
        cost, chosen = cost[a] + own_cost[b], np.column_stack([chosen[a], b + mine.start])
    return cost, rows, chosen
