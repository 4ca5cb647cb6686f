"""The cheapest scheme that meets every target within height, load and budget; exact over the options of calc/options.py.

Where a likelihood is asked that nothing reaches: the surest of those that meet every target by the predicted level, within the budget.
When nothing meets all: the scheme that keeps the hard limits and has the least shortfall at the worst listener, then at the next worst
(of those within a decibel, the best worth: see calc.solve.worth), and what each limit, relaxed alone, would take. Where even the cheapest
room is over the budget, that room. An independent lid is only put on walls that carry it, on every side.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, replace
from itertools import count

from calc.brief import Brief
from calc.catalogue import load
from calc.choice_alternatives import Alternative, alternatives
from calc.choice_reasons import Reason, blocked, past, reasons
from calc.kept import Kept, as_heard
from calc.ladder import Rung, ladder, surest
from calc.next_steps import NextStep, next_steps, wasted_steps
from calc.problem import Billed, PartCost, Problem, billed_total, part_cost, problem, scheme_of
from calc.scheme import Scheme
from calc.solve import HAIR, Hard, Pick, best_meeting, best_near, cheapest_room, hard_limits, margins, with_contingency

__all__ = ["Alternative", "Choice", "Reason", "choose"]


Found = tuple[Pick, Hard, bool, bool]  # the pick, the hard limits at the end, whether targets are met, and as surely as asked
_FOUND: Kept[list[tuple[dict[Scheme, float], Found]]] = Kept(16)
TIGHTENINGS = 6  # rounds that take away what the bill was over, mostly enough; each one after them takes away twice as much


@dataclass(frozen=True)
class Choice:
    """``cost`` is linear (no rounding to packages) with contingency [currency].

    ``margins`` dB, a listener each, on the search's careful areas. ``next_steps`` and ``wasted``: what more money would buy, and what
    it would not."""

    scheme: Scheme
    meets_all: bool
    why: tuple[Reason, ...]
    alternatives: tuple[Alternative, ...]
    cost: float
    margins: tuple[float, ...]
    ladder: tuple[Rung, ...] = ()
    next_steps: tuple[NextStep, ...] = ()
    wasted: tuple[NextStep, ...] = ()


def choose(brief: Brief, cost: PartCost = part_cost, billed: Billed = billed_total, explain: bool = True) -> Choice:
    """The choice for a brief. ``cost`` gives the price of a part, ``billed`` the bill of a whole scheme; both can be replaced.

    Hard limits: height, joist screen, budget. Without ``explain`` the same scheme is chosen, but what explains it, which takes
    most of the time, stays empty. Raises as calc.problem.problem, and ValueError when no lid can be built at all.
    Source: exact search; the tests prove it against brute force.
    """
    p = problem(brief, cost)
    best, hard, met, sure = _found(p, billed)
    meets = met and bool(p.load_ok.any()) and not p.joists_needed and hard.short <= HAIR
    rungs = ladder(p, hard, best, billed) if explain else ()
    return Choice(
        scheme=scheme_of(p, best.picks),
        meets_all=meets,
        why=(*(() if sure else _unsure(p, hard, billed)), *reasons(p, hard, best, meets, billed)) if explain else (),
        alternatives=alternatives(p, hard, best, billed, {rung.scheme: rung.margins for rung in rungs}) if explain else (),
        cost=with_contingency(p, best.cost),
        margins=margins(p, best.rows),
        ladder=rungs,
        next_steps=next_steps(p, best, hard, billed) if explain else (),
        wasted=wasted_steps(p, best, hard, billed) if explain else (),
    )


def _found(p: Problem, billed: Billed) -> Found:
    """What the searches find. The same numbers with the same bills lead to the same, so that is kept: many answers change neither."""
    means = p.brief.means
    key = (*_numbers(p), as_heard(p.brief), p.brief.listeners, p.brief.limits.likelihood, means.budget, means.contingency)
    known = _FOUND.get(key, list)  # for each run of the searches the bills that it asked for, and what it found
    for bills, found in known:
        if all(billed(p.brief, scheme) == total for scheme, total in bills.items()):
            return found
    asked: dict[Scheme, float] = {}

    def noted(brief: Brief, scheme: Scheme) -> float:
        asked[scheme] = billed(brief, scheme)
        return asked[scheme]

    best, hard, met = _within_bill(p, hard_limits(p), noted)
    nearest, sure = surest(p, hard, p.brief.limits.likelihood, noted) if met and p.brief.limits.likelihood > 0.0 else (None, True)
    known[:] = [(asked, (nearest or best, hard, met, sure))]
    return known[0][1]


def _numbers(p: Problem) -> tuple[Hashable, ...]:
    """All that the searches know of a problem."""
    parts = [p.lids, p.floors, p.doors, p.airs, *(options for _, options in p.walls)]
    arrays = [p.short, p.load_ok, p.clear, p.base, *(each for part in parts for each in (part.cost, part.rows))]
    return p.room, tuple(kind for kind, _ in p.walls), *(part.items for part in parts), *(a.tobytes() for a in arrays), p.common


def _unsure(p: Problem, hard: Hard, billed: Billed) -> tuple[Reason, ...]:
    """Said where the targets are met on the predicted level, but not with the likelihood asked."""
    wanted = p.brief.limits.likelihood
    words = next((row["label"] for row in load("criteria")["sureness"].values() if row["share"] == wanted), f"{wanted:.0%}")
    text = (
        f"Nothing within these limits keeps every target with a likelihood of {words}, so the scheme shown is the one that comes nearest "
        "to it. What would make it surer stands at each listener, and what each sum of money buys in section 5."
    )
    other = blocked(p, hard)
    reached = other.lids.any() and surest(p, other, wanted, billed)[1]
    return (Reason("in the way", "likelihood", text), *((past(p, "be as sure as you asked"),) if reached else ()))


def _within_bill(p: Problem, hard: Hard, billed: Billed) -> tuple[Pick, Hard, bool]:
    """The best pick whose bill keeps the budget: costs in the search are linear, whole packages come dearer, so money is tightened until
    the bill fits. Also the hard limits at the end, and whether every target is met.
    """
    for turn in count():
        found = best_meeting(p, hard)
        best = found or best_near(p, hard)
        if best is None:
            break
        over = billed(p.brief, scheme_of(p, best.picks)) - p.brief.means.budget
        if over <= 0.0:
            return best, hard, found is not None
        step = over * 2.0 ** max(0, turn + 1 - TIGHTENINGS)
        hard = replace(hard, money=min(hard.money, best.cost) - step / (1.0 + p.brief.means.contingency))
    least = cheapest_room(p, hard)
    if least is None:
        raise ValueError("no lid can be built under these joists")
    kept = billed(p.brief, scheme_of(p, least.picks)) <= p.brief.means.budget
    return least, replace(hard, money=least.cost), kept and least.worst <= 1.0
