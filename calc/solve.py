"""Searches over a problem: the cheapest pick that meets the targets, the nearest where none does, under hard limits that can be relaxed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from calc.geometry import inner_room
from calc.headroom import headroom
from calc.isolation.listener import margin_of
from calc.problem import ROWS, Array, Problem, scheme_of
from calc.scheme import LidOption, Scheme, WallOption
from calc.search import Group, balanced, cheapest, closest, group, totals

HAIR = 1e-6  # m; heights closer than this are the same
TIE = 1e-4  # currency per m; of equally dear lids the one that takes less height
CENT = 0.01  # currency; more than all ties come to, so that costs which differ by it differ truly
# Where the targets cannot be met, what is worth its money; all common practice, no source.
NO_MATTER = 1.0  # dB; shortfalls closer than this are the same to a listener, and below what a prediction can tell apart
WORTH_LEVEL = 0.01  # of the budget, for each dB that a listener's shortfall falls, as weighted here:
WORTH_TOTAL = 0.8  # the A-weighted total; the rest is the mean of all bands, so that quieter treble does not pay for louder bass
WORTH_HEIGHT = 1.0  # of the budget, for each metre of ceiling height


@dataclass(frozen=True)
class Pick:
    """A complete choice: option numbers (lid, floor, walls, door, air path), cost without contingency, rows as shares of allowed energy."""

    picks: tuple[int, ...]
    cost: float
    rows: Array

    @property
    def worst(self) -> float:
        return float(self.rows.max()) if self.rows.size else 0.0


@dataclass(frozen=True)
class Hard:
    """Hard limits as the search takes them: lids allowed (lids,), height missing that is let pass [m], money."""

    lids: NDArray[np.bool_]
    short: float
    money: float


Search = Callable[[Sequence[Group], Array, Array, float], tuple[int, ...] | None]


def _ceilings(p: Problem, hard: Hard, own: bool) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Numbers of the lids and floors, in pairs, that keep the height and the lids allowed; lids on own joists or hung ones."""
    fits = (p.short <= hard.short + HAIR) & (hard.lids & (p.independent == own))[:, None]
    lids, floors = np.nonzero(fits)
    return lids, floors


def _pairs(p: Problem, lids: NDArray[np.intp], floors: NDArray[np.intp], heights: bool) -> Group:
    """Lids and floors in pairs as one group; kept with the problem, whose searches ask for few."""
    key = (lids.tobytes(), floors.tobytes())
    if key not in p.pairs:
        taken = p.taken[lids]
        rows, cost = p.lids.rows[lids] + p.floors.rows[floors], p.lids.cost[lids] + p.floors.cost[floors]
        p.pairs[key] = group(list(cost + TIE * taken), np.column_stack([rows, taken]))
    found = p.pairs[key]
    return found if heights else Group(found.cost, found.rows[:, :-1], found.index)


def builds(p: Problem, hard: Hard, picks: tuple[int, ...]) -> bool:
    """Whether option numbers keep height and load, and their walls carry their lid."""
    lid, floor = picks[0], picks[1]
    walls = [options.items[i] for (_, options), i in zip(p.walls, picks[2:-2], strict=True)]
    bears = not p.independent[lid] or all(isinstance(w, WallOption) and w.carries_lid for w in walls)
    return bool(hard.lids[lid] and p.short[lid, floor] <= hard.short + HAIR and bears)


def run(p: Problem, hard: Hard, search: Search, heights: bool = False) -> list[Pick]:
    """Best pick of a search under hard limits, once with hung lids and any wall, once with independent lids and walls that carry them.

    With ``heights`` the rows have one more: the height that the lid takes [m].
    """
    both = (_run_one(p, hard, search, own, heights) for own in (False, True))
    return [found for found in both if found is not None]


def _run_one(p: Problem, hard: Hard, search: Search, own: bool, heights: bool = False) -> Pick | None:
    """As ``run``, with lids on own joists alone or hung ones alone."""
    base = np.append(p.base, 0.0) if heights else p.base
    lids, floors = _ceilings(p, hard, own)
    others = p.carrying if own else p.all_walls
    if not lids.size or others is None:
        return None
    groups = [_pairs(p, lids, floors, heights)]
    rest = [*others, *p.openings]
    groups += [Group(g.cost, np.column_stack([g.rows, np.zeros(g.cost.size)]), g.index) if heights else g for g, _ in rest]
    got = search(groups, base, np.ones_like(base), hard.money - p.common)
    if got is None:
        return None
    pair = int(groups[0].index[got[0]])
    return pick(p, (int(lids[pair]), int(floors[pair]), *(int(n[i]) for (_, n), i in zip(rest, got[1:], strict=True))))


def pick(p: Problem, picks: tuple[int, ...]) -> Pick:
    """Cost and rows of option numbers."""
    parts = [p.lids, p.floors, *(options for _, options in p.walls), p.doors, p.airs]
    cost = p.common + sum(float(o.cost[i]) for o, i in zip(parts, picks, strict=True))
    return Pick(picks, cost, p.base + sum((o.rows[i] for o, i in zip(parts, picks, strict=True)), np.zeros_like(p.base)))


def best_meeting(p: Problem, hard: Hard, gain: float = 0.0) -> Pick | None:
    """The cheapest scheme that meets all targets, each made ``gain`` dB harder.

    Lids of the other kind are only looked for up to the cost of what one kind has found, and not at all where an earlier search with the
    same lids and heights and softer targets has shown that there is nothing so cheap: harder targets never cost less.
    """
    best: Pick | None = None
    for own in sorted((False, True), key=lambda own: _least_cost(p, hard, own, gain)):
        money = hard.money if best is None else min(hard.money, best.cost + CENT)
        if _least_cost(p, hard, own, gain) >= money:
            continue
        within = Hard(hard.lids, hard.short, money)
        found = _run_one(p, within, lambda groups, base, caps, money: cheapest(groups, base, caps * 10.0 ** (-gain / 10.0), money), own)
        p.least_costs.setdefault(_ceiling_key(hard, own), []).append((gain, found.cost - CENT if found is not None else money))
        if found is not None and (best is None or (found.cost, found.worst, own) < (best.cost, best.worst, not own)):
            best = found
    return best


def _ceiling_key(hard: Hard, own: bool) -> tuple[object, ...]:
    return own, hard.short, hard.lids.tobytes()


def _least_cost(p: Problem, hard: Hard, own: bool, gain: float) -> float:
    """What schemes with lids of a kind cost at the least, as far as earlier searches of the problem tell."""
    known = p.least_costs.get(_ceiling_key(hard, own), ())
    return max((cost for softer, cost in known if softer <= gain), default=-np.inf)


def best_near(p: Problem, hard: Hard, soft: NDArray[np.bool_] | None = None) -> Pick | None:
    """The scheme with the least shortfall at the worst listener, then at the next worst, and so on, among those with soft rows (all when
    None), the other targets met. Of the schemes within ``NO_MATTER`` of that the one with the least ``worth`` is taken.
    """
    free = np.ones(p.base.size, dtype=np.bool_) if soft is None else soft.copy()
    caps, nearest = np.ones(p.base.size), None
    while True:
        now = _least(p, hard, caps, free, nearest)
        if now is None:
            return None
        nearest = now
        if not free.any() or now.rows[free].max() <= 1.0:
            break
        worst = int(np.flatnonzero(free)[np.argmax(now.rows[free])]) // ROWS
        block = slice(worst * ROWS, (worst + 1) * ROWS)
        caps[block] = float(now.rows[block].max()) * 10.0 ** (NO_MATTER / 10.0)
        free[block] = False
    caps = np.append(caps, np.inf)
    price, chord = partial(_price, p), partial(_chord, p)
    again = run(p, hard, lambda groups, base, ones, money: balanced(groups, base, caps, money, price, chord), heights=True)
    return min(again, key=lambda each: (worth(p, each), each.worst), default=nearest)


def worth(p: Problem, each: Pick) -> float:
    """Cost with a price on all shortfall and on the height that the lid takes [currency]: what decides between schemes that miss the
    targets by the same. So a part that lets much through is not kept where a better one costs little. Source: the constants above.
    """
    return each.cost + float(_price(p, np.append(each.rows, p.taken[each.picks[0]])[None, :])[0])


def _price(p: Problem, rows: Array) -> Array:
    """Price (m,) [currency] of rows (m, listeners x 22 + 1), the last the height taken [m]."""
    over = np.maximum(rows[:, :-1], 1.0).reshape(len(rows), rows.shape[1] // ROWS, ROWS)
    bands = over[:, :, :-1].reshape(*over.shape[:2], 3, ROWS // 3)
    missed = 10.0 * np.log10(np.multiply.reduce(bands, axis=3)).sum(axis=(1, 2)) * (1.0 - WORTH_TOTAL) / (ROWS - 1)  # quicker than 21 logs
    missed += 10.0 * np.log10(over[:, :, -1]).sum(axis=1) * WORTH_TOTAL
    return np.asarray(p.brief.means.budget * (WORTH_LEVEL * missed + WORTH_HEIGHT * rows[:, -1]), dtype=np.float64)


def _chord(p: Problem, low: Array, high: Array) -> tuple[Array, float]:
    """Slopes (k,) and constant of a plane under ``_price`` for rows from ``low`` to ``high`` (k,).

    Source: the price is concave above a share of 1, so it lies over its chord there.
    """
    low, high = np.maximum(low[:-1], 1.0), np.maximum(high[:-1], 1.0)
    wide = high > low * (1.0 + HAIR)
    slopes = np.divide(10.0 * np.log10(high / low), high - low, out=np.zeros_like(low), where=wide)
    shares = np.append(np.full(ROWS - 1, (1.0 - WORTH_TOTAL) / (ROWS - 1)), WORTH_TOTAL)
    each = p.brief.means.budget * WORTH_LEVEL * np.tile(shares, low.size // ROWS)
    return np.append(each * slopes, p.brief.means.budget * WORTH_HEIGHT), float((each * (10.0 * np.log10(low) - slopes * low)).sum())


def _least(p: Problem, hard: Hard, caps: Array, free: NDArray[np.bool_], known: Pick | None) -> Pick | None:
    """The scheme with the least worst free row, the others within ``caps``; ``known`` is one that keeps them."""
    bound = float(known.rows[free].max(initial=0.0)) if known is not None else float(np.inf)

    def search(groups: Sequence[Group], base: Array, ones: Array, money: float) -> tuple[int, ...] | None:
        nonlocal bound
        got = closest(groups, base, ones * caps, money, free, bound * (1.0 + 1e-9))
        if got is not None:
            bound = min(bound, float(totals(groups, base, got)[1][free].max(initial=0.0)))
        return got

    found = run(p, hard, search)
    return min(found, key=lambda each: (float(each.rows[free].max(initial=0.0)), each.cost), default=None)


def hard_limits(p: Problem) -> Hard:
    """The hard limits; where no lid keeps height or load, the nearest to it is let pass; where none is clear of what hangs there, any."""
    load = p.load_ok if p.load_ok.any() else _lightest(p)
    lids = load & p.clear if (load & p.clear).any() else load
    return Hard(lids, float(p.short[lids].min()), p.money)


def _lightest(p: Problem) -> NDArray[np.bool_]:
    mass = np.array([lid.hung_mass if isinstance(lid, LidOption) else np.inf for lid in p.lids.items])
    return np.asarray(mass <= mass.min() + HAIR, dtype=np.bool_)


def margins(p: Problem, rows: Array) -> tuple[float, ...]:
    """Margin [dB] of each listener: the least over bands and total."""
    each = rows.reshape(len(p.brief.listeners), ROWS).max(axis=1, initial=0.0) if rows.size else np.zeros(0)
    return tuple(float(-10.0 * np.log10(max(x, 1e-30))) for x in each)


def as_built(p: Problem, picks: Sequence[int]) -> tuple[float, ...]:
    """Margin [dB] of each listener with option numbers, in the room that they leave: ``margins`` is a little less, as the search takes the
    areas of the shell. Source: calc.isolation.listener.
    """
    scheme = scheme_of(p, picks)
    room = inner_room(p.brief, scheme)
    return tuple(margin_of(p.brief, scheme, room, who) for who in p.brief.listeners)


def cheapest_room(p: Problem, hard: Hard) -> Pick | None:
    """The cheapest room within height and load, targets and money aside; None when no lid can be built at all."""
    free = Hard(hard.lids, hard.short, np.inf)
    found = run(p, free, lambda groups, base, ones, money: cheapest(groups, base, np.full_like(ones, np.inf), money))
    return min(found, key=lambda each: (each.cost, each.worst), default=None)


def with_contingency(p: Problem, cost: float) -> float:
    """Cost with the contingency of the brief."""
    return cost * (1.0 + p.brief.means.contingency)


def finished_height(p: Problem, scheme: Scheme) -> float:
    """Finished height in the open field [m]. Source: calc.headroom."""
    return headroom(p.brief, scheme.lid, scheme.floor).open_field.height
