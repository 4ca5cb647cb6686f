"""Why a scheme was chosen, in records that a plan can put into words: what is in the way, what binds, what comes next."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, replace

import numpy as np

from calc.bands import BANDS
from calc.choice_heights import too_low
from calc.geometry import inner_room
from calc.isolation.listener import isolation
from calc.isolation.paths import NAMES
from calc.problem import ROWS, Array, Billed, Options, Problem, scheme_of
from calc.safety.framing import in_the_way
from calc.scheme import LidOption
from calc.solve import (
    CENT,
    HAIR,
    Hard,
    Pick,
    as_built,
    best_meeting,
    best_near,
    builds,
    margins,
    pick,
    with_contingency,
)

LEAST = 1.0  # dB; smaller differences are not worth a line (common practice, no source)
ROUNDING = 0.005  # of the budget; whole packages of one part seldom make a bill differ by more (common practice, no source)
STEP = 3.0  # dB of the next rung of the ladder


@dataclass(frozen=True)
class Reason:
    """One part of the explanation.

    ``kind``: in the way | weakest | lid | chosen | next. ``subject`` says what it is about. ``text`` is a whole sentence without lengths or
    money, but for heights that are missed, of which there may be several; ``value`` and ``limit`` carry those in ``unit`` (dB, m, money,
    kg/m2, or "" for none).
    """

    kind: str
    subject: str
    text: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""


def reasons(p: Problem, hard: Hard, best: Pick, meets: bool, billed: Billed) -> tuple[Reason, ...]:
    """All reasons for a pick, what is in the way first. ``billed`` gives the bill of a scheme."""
    found = [] if meets else [*_broken(p), *_money(p, hard, billed), *_height(p, hard), *_load(p, hard), *_passage(p, hard)]
    found += [] if meets else _targets(p, hard, best)
    if not meets and hard.short > HAIR:
        text, decides = too_low(p, hard, best.picks)
        found.insert(0 if decides else len(found), Reason("in the way", "height", text))
    found += [*_weakest(p, best), *_lid(p, best), *_parts(p, hard, best, billed)]
    return (*found, *(_next(p, hard, best) if meets else ()))


# ---- what is in the way: limits that are broken, and each limit relaxed alone


def _broken(p: Problem) -> list[Reason]:
    found = []
    if p.joists_needed:
        text = "No ceiling can be built without touching the joists: own joists do not span the room. One that hangs is shown."
        found.append(Reason("in the way", "load", text))
    if not p.load_ok.any():
        text = "No ceiling passes the screen of the joists; the lightest is shown. A structural engineer decides."
        found.append(Reason("in the way", "load", text))
    return found


def _money(p: Problem, hard: Hard, billed: Billed) -> list[Reason]:
    free = best_meeting(p, Hard(hard.lids, hard.short, np.inf))
    if free is None:
        return []
    total = billed(p.brief, scheme_of(p, free.picks))
    if total <= p.brief.means.budget:
        return []
    text = "With a budget of this much everything else can be met."
    return [Reason("in the way", "budget", text, total, p.brief.means.budget, "money")]


def _height(p: Problem, hard: Hard) -> list[Reason]:
    """The least height that, let pass, makes all else fit: bisected, as more height never makes a brief harder."""
    steps = [float(short) for short in np.unique(p.short) if short > hard.short + HAIR]
    if not steps or best_meeting(p, Hard(hard.lids, steps[-1], hard.money)) is None:
        return []
    first = bisect_left(steps, True, key=lambda short: best_meeting(p, Hard(hard.lids, short, hard.money)) is not None)
    more = steps[first] - hard.short
    return [Reason("in the way", "height", "With this much more height everything else can be met.", more, 0.0, "m")]


def _load(p: Problem, hard: Hard) -> list[Reason]:
    clear = p.clear if p.clear.any() else np.ones_like(p.clear)
    if p.load_ok.all() or best_meeting(p, Hard(clear, hard.short, hard.money)) is None:
        return []
    return [Reason("in the way", "load", "With joists that carry more everything else can be met: ask a structural engineer.")]


def blocked(p: Problem, hard: Hard) -> Hard:
    """The limits with only those lids that are left out because their own joists meet something."""
    return replace(hard, lids=np.asarray(p.load_ok & ~p.clear & ~hard.lids, dtype=np.bool_))


def past(p: Problem, does: str) -> Reason:
    """That a ceiling on its own joists does what no other does, were nothing in their way."""
    kinds = dict.fromkeys(kind for lid in p.lids.items if isinstance(lid, LidOption) for kind in in_the_way(p.brief, lid))
    named = " and ".join(f"the {kind}" for kind in kinds)
    text = (
        f"With {named} out of the way a ceiling on its own joists would {does}; as things hang now, these joists cannot pass. Have it "
        "moved, or hung lower where the height allows, or have an engineer draw how they get by; then change the answers and export the "
        "plan again."
    )
    return Reason("in the way", "passage", text)


def _passage(p: Problem, hard: Hard) -> list[Reason]:
    other = blocked(p, hard)
    return [past(p, "meet everything")] if other.lids.any() and best_meeting(p, other) is not None else []


def _targets(p: Problem, hard: Hard, best: Pick) -> list[Reason]:
    """Each listener's target relaxed alone; and by how much the nearest scheme misses it; the one missed by most first."""
    found, built, more = [], as_built(p, best.picks), _more(p, best)
    for margin, number in sorted((margin, number) for number, margin in enumerate(margins(p, best.rows))):
        listener = p.brief.listeners[number]
        soft = np.zeros(p.base.size, dtype=np.bool_)
        soft[number * ROWS : (number + 1) * ROWS] = True
        near = best_near(p, hard, soft)
        short = -margins(p, near.rows)[number] if near is not None else 0.0
        if short > 0.0:
            short = max(0.0, short - more[number])
            text = f"A target less strict by {in_db(short)} at {listener.label} alone would make all else fit."
            found.append(Reason("in the way", listener.label, text, short, 0.0, "dB"))
        if margin < 0.0:
            missed = max(0.0, -built[number])
            text = f"The nearest that can be built misses the target at {listener.label} by {in_db(missed)} where it misses most."
            found.append(Reason("in the way", f"shortfall at {listener.label}", text, missed, 0.0, "dB"))
    return found


def _more(p: Problem, best: Pick) -> tuple[float, ...]:
    """How much more margin each listener has in the room that is left than in the search [dB], with the scheme chosen; others are alike."""
    return tuple(built - careful for built, careful in zip(as_built(p, best.picks), margins(p, best.rows), strict=True))


def in_db(value: float) -> str:
    """Decibels in words; never "0 dB" for something above nothing."""
    return "less than 1 dB" if value < 0.5 else f"{value:.0f} dB"


# ---- what binds


def _weakest(p: Problem, best: Pick) -> list[Reason]:
    """The listener with the least margin, its worst band and its loudest path, in the room as drawn."""
    scheme = scheme_of(p, best.picks)
    result = isolation(p.brief, scheme, inner_room(p.brief, scheme))
    if result.most_critical is None:
        return [Reason("weakest", "none", "Nobody has to be kept from hearing the room, so the cheapest construction is enough.")]
    critical = result.listeners[result.most_critical]
    if critical.worst_band_hz is None:
        where = "by the A-weighted total of all bands"
        loudest = critical.paths[0].name
    else:
        band = int(np.flatnonzero(critical.worst_band_hz == BANDS)[0])
        where = f"in the band of {critical.worst_band_hz:.0f} Hz"
        loudest = max(critical.paths, key=lambda path: float(path.levels[band])).name
    place = f"The place that decides is {critical.listener.label}, {where}"
    text = f"{place}; there most of the sound comes by this path: {loudest}."
    return [Reason("weakest", critical.listener.label, text, critical.margin, 0.0, "dB")]


def _lid(p: Problem, best: Pick) -> list[Reason]:
    lid = scheme_of(p, best.picks).lid
    found = []
    if lid.between_joists:
        text = (
            "The boards between the joists lie against the subfloor and add their mass to it. With the ceiling below they form "
            "two leaves with one deep cavity, not three, and they take no height."
        )
        found.append(Reason("lid", "boards between the joists", text, sum(b.surface_mass for b in lid.between_joists), None, "kg/m2"))
    if lid.support == "independent joists":
        text = "The ceiling stands on the inner walls and touches nothing above, so the floor above carries none of its boards."
        found.append(Reason("lid", "independent ceiling", text))
    if lid.id.split("-")[2] == "interleaved":
        text = (
            "Its joists lie between the existing ones: the bays must be free of ducts, pipes, wires and bridging where they lie. Where "
            "they are not, take own joists below the existing ones, at a loss of height."
        )
        found.append(Reason("lid", "bays between the joists", text))
    if p.brief.shell.ceiling_texture != "bare":
        text = "What hangs under the joists now must come down first: a board left there makes a third leaf and spoils the low notes."
        found.append(Reason("lid", "existing ceiling", text))
    return found


def _parts(p: Problem, hard: Hard, best: Pick, billed: Billed) -> list[Reason]:
    """For each part the cheaper option that comes nearest, all else as chosen: what it would break."""
    named: list[tuple[int, str, Options]] = [(0, "lid", p.lids)]
    named += [(2 + n, NAMES[kind], options) for n, (kind, options) in enumerate(p.walls)]
    named += [(len(best.picks) - 2, "door", p.doors), (len(best.picks) - 1, "air path", p.airs)]
    return [reason for place, name, options in named for reason in _part(p, hard, best, place, name, options, billed)]


def _part(p: Problem, hard: Hard, best: Pick, place: int, name: str, options: Options, billed: Billed) -> list[Reason]:
    numbers = np.flatnonzero(options.cost < options.cost[best.picks[place]] - HAIR)
    cheaper = [pick(p, (*best.picks[:place], int(i), *best.picks[place + 1 :])) for i in numbers]
    built = [each for each in cheaper if builds(p, hard, each.picks)]
    if not built and cheaper and name in NAMES.values() and p.independent[best.picks[0]]:
        return [Reason("chosen", name, f"The {name} is a free-standing frame because the ceiling stands on it.")]
    if not built and _less_billed(p, hard, best, place, options, billed):
        return []
    if not built:
        return [_cheapest(p, options.rows[best.picks[place]], name)]
    near = min(built, key=lambda each: each.worst)
    if near.worst <= max(1.0, best.worst):
        return []
    label = getattr(options.items[near.picks[place]], "label", "")
    number = int(near.rows.argmax()) // ROWS
    listener, more = p.brief.listeners[number].label, _more(p, best)[number]
    short, now = -margins(p, near.rows)[number] - more, -margins(p, best.rows)[number] - more
    if short - max(now, 0.0) < LEAST:
        return []
    worse = f" in place of {in_db(now)}" if now > HAIR else ""
    text = f"The nearest cheaper {name} ({label}) would save the sum shown, but miss the target at {listener} by {in_db(short)}{worse}."
    return [Reason("chosen", name, text, with_contingency(p, best.cost - near.cost), None, "money")]


def _less_billed(p: Problem, hard: Hard, best: Pick, place: int, options: Options, billed: Billed) -> bool:
    """Whether a part no cheaper by the price of what it takes, and no worse for anybody, makes a lower bill: that counts whole packages."""
    over = options.cost - options.cost[best.picks[place]]
    now, paid = margins(p, best.rows), billed(p.brief, scheme_of(p, best.picks)) - CENT
    for number in np.flatnonzero((over >= -HAIR) & (over <= ROUNDING * p.brief.means.budget)):
        other = pick(p, (*best.picks[:place], int(number), *best.picks[place + 1 :]))
        no_worse = all(a >= b - HAIR for a, b in zip(margins(p, other.rows), now, strict=True))
        lower = p.taken[other.picks[0]] > p.taken[best.picks[0]] + HAIR
        if no_worse and not lower and builds(p, hard, other.picks) and billed(p.brief, scheme_of(p, other.picks)) < paid:
            return True
    return False


def _cheapest(p: Problem, rows: Array, name: str) -> Reason:
    """A part that no cheaper one could replace; whether it keeps the targets by itself."""
    alone = margins(p, rows)
    if not alone or min(alone) >= 0.0:
        return Reason("chosen", name, f"The {name} is the cheapest that serves here.")
    worst = int(np.argmin(alone))
    label = p.brief.listeners[worst].label
    text = f"The {name} is the cheapest there is, and by itself misses the target at {label} by {in_db(-alone[worst])}."
    return Reason("chosen", name, text, -alone[worst], 0.0, "dB")


def _next(p: Problem, hard: Hard, best: Pick) -> list[Reason]:
    """What the next step costs: every target made harder, money aside."""
    if not p.base.size:
        return []
    more = best_meeting(p, Hard(hard.lids, hard.short, np.inf), STEP + min(margins(p, best.rows)))
    if more is None:
        text = f"Nothing in the catalogue is {STEP:.0f} dB quieter at every listener within these heights and loads."
        return [Reason("next", "more", text, None, STEP, "dB")]
    text = f"The next {STEP:.0f} dB at the place that decides cost this much more."
    return [Reason("next", "more", text, with_contingency(p, more.cost - best.cost), STEP, "money")]
