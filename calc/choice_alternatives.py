"""What else there is: the best scheme with each family of lids, and what it breaks or costs more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.choice_heights import Miss, in_words, missed
from calc.choice_reasons import in_db
from calc.problem import Billed, Problem, scheme_of
from calc.scheme import LidOption, Scheme
from calc.solve import HAIR, Hard, Pick, as_built, best_meeting, best_near, cheapest_room, finished_height, margins

FAMILIES = {
    "direct": "boards fixed to the joists",
    "channel": "boards on resilient channel",
    "clip": "boards on isolation clips",
    "interleaved": "independent ceiling, own joists between the existing ones",
    "below": "independent ceiling, own joists below the existing ones",
}
ALIKE = "Misses no more than what every kind of ceiling misses."
BY_LEVEL = "Meets every target by the predicted level."
BROKEN = {
    "load": "is stopped by the screen of the joists",
    "passage": "its own joists cannot pass what hangs below the existing ones",
    "joists": "hangs from joists that may not be touched",
    "budget": "is over the budget",
}


@dataclass(frozen=True)
class Alternative:
    """The best scheme with one family of lids.

    ``cost`` as billed, ``extra_cost`` over the chosen scheme [currency]; ``finished_height`` m in the open field; ``margins`` dB, a
    listener each; ``breaks`` names the limits it breaks: height, load, passage, joists, budget, or a listener's label. ``alike``: the
    height limits, in words, that every family misses by the same; ``text`` leaves them out.
    """

    family: str
    scheme: Scheme
    chosen: bool
    cost: float
    extra_cost: float
    finished_height: float
    margins: tuple[float, ...]
    breaks: tuple[str, ...]
    alike: str
    text: str


def family(lid: LidOption) -> str:
    """Family of a lid: how its boards hang, and whether boards lie between the joists."""
    hung = FAMILIES[lid.id.split("-")[2]]
    return f"{hung}, with boards between the joists" if lid.between_joists else hung


def alternatives(p: Problem, hard: Hard, best: Pick, billed: Billed, heard: Mapping[Scheme, tuple[float, ...]]) -> tuple[Alternative, ...]:
    """For each family of lids its best scheme: the cheapest that meets all, else the nearest, else the one that breaks least.

    Costs are whole bills, as the plan's list has them. ``heard``: margins in the room that is left [dB] of schemes where they are known; of
    others the search's margins are given, corrected by what they are off with the scheme chosen, which is within tenths of a decibel.
    """
    found: list[tuple[str, Pick]] = []
    now = as_built(p, best.picks)
    known = {**heard, scheme_of(p, best.picks): now}
    shift = [built - careful for built, careful in zip(now, margins(p, best.rows), strict=True)]

    def margins_of(mine: Pick) -> tuple[float, ...]:
        near = tuple(careful + more for careful, more in zip(margins(p, mine.rows), shift, strict=True))
        return known.get(scheme_of(p, mine.picks), near)

    paid = billed(p.brief, scheme_of(p, best.picks))
    lids = [lid for lid in p.lids.items if isinstance(lid, LidOption)]
    for name in dict.fromkeys(family(lid) for lid in lids):
        members = np.array([family(lid) == name for lid in lids], dtype=np.bool_)
        mine = best if members[best.picks[0]] else _best_of(p, hard, members)
        if mine is not None:
            found.append((name, mine))
    low = [missed(p, mine.picks[0], mine.picks[1]) for _, mine in found]
    alike = tuple(miss for miss in low[0] if all(miss in other for other in low)) if low else ()
    rows = zip(found, low, strict=True)
    return tuple(_alternative(p, best, name, mine, billed, paid, margins_of(mine), each, alike) for (name, mine), each in rows)


def _best_of(p: Problem, hard: Hard, members: NDArray[np.bool_]) -> Pick | None:
    """Limits are given up one after another until a scheme exists: targets, money (the cheapest then), height, load."""
    inside = np.asarray(members & hard.lids, dtype=np.bool_)
    for lids, short in (
        (inside, hard.short),
        (inside, _least_short(p, inside)),
        (members, _least_short(p, members)),
    ):
        if lids.any():
            limits = Hard(lids, short, hard.money)
            got = best_meeting(p, limits) or best_near(p, limits) or cheapest_room(p, limits)
            if got is not None:
                return got
    return None


def _least_short(p: Problem, lids: NDArray[np.bool_]) -> float:
    return float(p.short[lids].min()) if lids.any() else 0.0


def _alternative(
    p: Problem,
    best: Pick,
    name: str,
    mine: Pick,
    billed: Billed,
    paid: float,
    heard: tuple[float, ...],
    low: tuple[Miss, ...],
    alike: tuple[Miss, ...],
) -> Alternative:
    scheme, lid, floor = scheme_of(p, mine.picks), mine.picks[0], mine.picks[1]
    cost = billed(p.brief, scheme)
    each, chosen = margins(p, mine.rows), mine.picks == best.picks
    checks = {
        "height": p.short[lid, floor] > HAIR,
        "load": not p.load_ok[lid],
        "passage": not p.clear[lid],
        "joists": p.joists_needed,
        "budget": cost > p.brief.means.budget + HAIR,
    }
    breaks = [limit for limit, broken in checks.items() if broken]
    unmet = [(who.label, -margin) for who, margin, careful in zip(p.brief.listeners, heard, each, strict=True) if careful < -HAIR]
    extra = cost - paid
    short = " and ".join(f"at {label} by {in_db(lacking)}" for label, lacking in unmet)
    height = in_words(miss for miss in low if miss not in alike)
    phrases = [f"misses {height}"] if height else []
    phrases += [BROKEN[limit] for limit in breaks if limit in BROKEN] + ([f"misses the target {short}"] if short else [])
    words = "; ".join(phrases)
    less_to_spare = min(each, default=0.0) < min(margins(p, best.rows), default=0.0)
    fine = ALIKE if breaks == ["height"] else _fine(extra, p.brief.limits.likelihood > 0.0, less_to_spare)
    return Alternative(
        family=name,
        scheme=scheme,
        chosen=chosen,
        cost=cost,
        extra_cost=extra,
        finished_height=finished_height(p, scheme),
        margins=heard,
        breaks=(*breaks, *(label for label, _ in unmet)),
        alike=in_words(alike),
        text="; ".join(["Chosen", words] if words else ["Chosen"]) + "."
        if chosen
        else f"{words[0].upper()}{words[1:]}."
        if words
        else fine,
    )


def _fine(extra: float, asked: bool, less_to_spare: bool) -> str:
    """What is said of one that keeps every limit and was not chosen. Where a likelihood is ``asked`` a cheaper one was passed over for it;
    where none is, the prices of parts decided, and whole packages can round the other way."""
    if extra > HAIR:
        return "Meets everything, but is dearer."
    if not asked:
        return "Meets everything for much the same money; only its packages round better."
    return "Meets every target for no more money, but with less to spare: less sure." if less_to_spare else BY_LEVEL
