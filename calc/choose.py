"""The cheapest scheme that meets every target within height, load and budget; exact over the options of calc/options.py.

When nothing meets all: the scheme that keeps the hard limits and has the least shortfall at the worst listener, then at the next worst
(the cheapest within half a decibel of that), and what each limit, relaxed alone, would take. An independent lid is only put on walls that
carry it, on every side.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.brief import Brief
from calc.choice_reasons import Alternative, Reason, alternatives, reasons
from calc.problem import PartCost, part_cost, problem, scheme_of
from calc.scheme import Scheme
from calc.solve import HAIR, best_meeting, best_near, beyond_money, hard_limits, margins, with_contingency

__all__ = ["Alternative", "Choice", "Reason", "choose"]


@dataclass(frozen=True)
class Choice:
    """``cost`` is linear (no rounding to packages) with contingency [currency].

    ``margins`` dB, a listener each, on the search's careful areas."""

    scheme: Scheme
    meets_all: bool
    why: tuple[Reason, ...]
    alternatives: tuple[Alternative, ...]
    cost: float
    margins: tuple[float, ...]


def choose(brief: Brief, cost: PartCost = part_cost) -> Choice:
    """The choice for a brief. ``cost`` gives the price of a part and can be replaced.

    Hard limits: height, joist screen, budget. Raises as calc.problem.problem, and ValueError when no lid can be built at all.
    Source: exact search; the tests prove it against brute force.
    """
    p = problem(brief, cost)
    hard = hard_limits(p)
    found = best_meeting(p, hard)
    meets = found is not None and bool(p.load_ok.any()) and hard.short <= HAIR
    best = found or best_near(p, hard) or beyond_money(p, hard)
    return Choice(
        scheme=scheme_of(p, best.picks),
        meets_all=meets,
        why=reasons(p, hard, best, meets),
        alternatives=alternatives(p, hard, best),
        cost=with_contingency(p, best.cost),
        margins=margins(p, best.rows),
    )
