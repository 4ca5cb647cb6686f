"""The ladder: the cheapest scheme at each of a dozen levels of quiet, the budget aside, and the choice for a likelihood asked.

A rung asks every target so many decibels harder (or softer) than the person did. Schemes that another beats in cost and at every listener
are not shown.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from calc import schedule, structure
from calc.geometry import inner_room
from calc.isolation.listener import likelihood_of
from calc.materials import takeoff
from calc.problem import Billed, Problem, scheme_of
from calc.scheme import Scheme
from calc.solve import HAIR, Hard, Pick, as_built, best_meeting, finished_height, margins

RUNGS = tuple(float(step) for step in range(-18, 18, 3))  # dB harder than asked; a dozen
FINE = 1.0  # dB; step of the search for a likelihood
HARDEST = 24.0  # dB
AS_SURE = 0.03  # of likelihood; less nobody pays for. Common practice, no source


@dataclass(frozen=True)
class Rung:
    """``harder``: dB that every target was made harder by. ``cost`` as billed [currency]; ``height`` left in the open field [m]; ``load``
    added to the joists [Pa]; ``margins`` in the room that is left [dB] and ``likelihoods``, one a listener; ``hours`` of the whole job, as
    calc.schedule has them where no stop stands. ``meets``: all targets as asked, on the search's careful areas; ``asked``: the first that
    does; ``affordable``: the quietest that keeps the budget.
    """

    harder: float
    scheme: Scheme
    cost: float
    height: float
    load: float
    margins: tuple[float, ...]
    likelihoods: tuple[float, ...]
    hours: float
    meets: bool
    asked: bool
    affordable: bool


def ladder(p: Problem, hard: Hard, best: Pick, billed: Billed) -> tuple[Rung, ...]:
    """The rungs, cheapest first, and what was chosen among them; empty where nobody listens. Hard limits hold but for the budget.

    Source: exact search of calc.solve at each rung.
    """
    free = Hard(hard.lids, hard.short, np.inf)
    picks: list[tuple[float, Pick]] = []
    for harder in RUNGS if p.base.size else ():
        found = best_meeting(p, free, harder)
        if found is not None and all(found.picks != seen.picks for _, seen in picks):
            picks.append((harder, found))
    if picks and all(best.picks != seen.picks for _, seen in picks):
        picks.append((min(margins(p, best.rows)), best))
    rungs = [_rung(p, harder, each, billed) for harder, each in picks]
    kept = [rung for rung in rungs if not any(_beats(other, rung) for other in rungs)]
    return _marked(p, sorted(kept, key=lambda rung: rung.cost))


def _beats(one: Rung, other: Rung) -> bool:
    """Whether one is no dearer and no louder anywhere, and not the same."""
    pairs = list(zip((-one.cost, *one.margins), (-other.cost, *other.margins), strict=True))
    return all(a >= b - HAIR for a, b in pairs) and any(a > b + HAIR for a, b in pairs)


def _rung(p: Problem, harder: float, found: Pick, billed: Billed) -> Rung:
    scheme = scheme_of(p, found.picks)
    room = inner_room(p.brief, scheme)
    return Rung(
        harder=harder,
        scheme=scheme,
        cost=billed(p.brief, scheme),
        height=finished_height(p, scheme),
        load=structure.screen(p.brief, scheme.lid, p.brief.site).added_load,
        margins=as_built(p, found.picks),
        likelihoods=tuple(likelihood_of(p.brief, scheme, room, who) for who in p.brief.listeners),
        hours=schedule.work_hours(p.brief, scheme, takeoff.lines(p.brief, room, scheme)),
        meets=min(margins(p, found.rows)) >= -HAIR,
        asked=False,
        affordable=False,
    )


def _marked(p: Problem, rungs: list[Rung]) -> tuple[Rung, ...]:
    asked = next((i for i, rung in enumerate(rungs) if rung.meets), None)
    inside = [i for i, rung in enumerate(rungs) if rung.cost <= p.brief.means.budget + HAIR]
    best = max(inside, key=lambda i: (min(rungs[i].margins), -rungs[i].cost), default=None)
    return tuple(replace(rung, asked=i == asked, affordable=i == best) for i, rung in enumerate(rungs))


def surest(p: Problem, hard: Hard, wanted: float, billed: Billed) -> tuple[Pick | None, bool]:
    """The cheapest rung where every listener keeps its target with at least the likelihood ``wanted`` (0..1), its bill within the budget,
    and True. Where there is none: the rung within the budget that comes nearest to it, and False; no pick where no rung is left.

    Targets are made harder by ``FINE`` at a time, and the likelihood of each cheapest scheme is drawn; so the answer is the cheapest of
    the fine ladder, not of all schemes: a likelihood does not add up over parts. Source: calc.isolation.certainty.
    """
    tried: list[Pick] = []
    critical = 0  # the listener who failed last is looked at first: mostly the same one fails again
    for harder in np.arange(0.0, HARDEST + FINE, FINE):
        if tried and tried[-1].worst * 10.0 ** (harder / 10.0) <= 1.0:
            continue  # still the cheapest, and its likelihood was too low
        found = best_meeting(p, hard, float(harder))
        if found is None:
            break
        scheme = scheme_of(p, found.picks)
        room, count = inner_room(p.brief, scheme), len(p.brief.listeners)
        order = sorted(range(count), key=lambda number: number != critical)
        failed = next((n for n in order if likelihood_of(p.brief, scheme, room, p.brief.listeners[n]) < wanted), None)
        if failed is None:
            return (found, True) if _affordable(p, found, billed) else (_nearest(p, tried, billed), False)
        critical = failed
        tried.append(found)
    return _nearest(p, tried, billed), False


def _affordable(p: Problem, found: Pick, billed: Billed) -> bool:
    return billed(p.brief, scheme_of(p, found.picks)) <= p.brief.means.budget + HAIR


def _nearest(p: Problem, tried: list[Pick], billed: Billed) -> Pick | None:
    """The surest at its worst listener within the budget, of the hardest rungs down; a cheaper one that is nearly as
    sure is taken before it.
    """
    best: Pick | None = None
    highest = 0.0
    for found in reversed(tried):
        if not _affordable(p, found, billed):
            continue
        scheme = scheme_of(p, found.picks)
        room = inner_room(p.brief, scheme)
        share = min(likelihood_of(p.brief, scheme, room, who) for who in p.brief.listeners)
        if best is not None and share < highest - AS_SURE:
            break
        best, highest = found, max(share, highest)
    return best
