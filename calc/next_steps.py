"""What one step more would buy: every change of one part of a scheme, or of two where no single one helps, priced and heard.

Exact over the options: each change is looked at. A step counts where it gains ``HEARD`` decibels of margin at a listener that can still
use it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from calc.geometry import inner_room
from calc.isolation.listener import likelihood_of
from calc.isolation.paths import NAMES
from calc.problem import ROWS, Array, Billed, Options, Problem, scheme_of
from calc.solve import HAIR, Hard, Pick, builds

HEARD = 1.0  # dB; a smaller change is not heard, and below what a prediction can tell apart (common practice, no source)
ENOUGH = 10.0  # dB; a listener with more margin than this needs no more (common practice, no source)
MOST = 3  # steps named


@dataclass(frozen=True)
class NextStep:
    """``cost`` more than now, as billed [currency]; ``gains`` of margin [dB], one a listener, and ``likelihoods`` after the step, None
    where it is not heard."""

    change: str
    cost: float
    gains: tuple[float, ...]
    likelihoods: tuple[float | None, ...]


@dataclass(frozen=True)
class _Step:
    picks: tuple[int, ...]
    changed: tuple[int, ...]
    cost: float
    gains: Array


def _parts(p: Problem) -> list[tuple[str, Options]]:
    walls = [(NAMES[kind], options) for kind, options in p.walls]
    return [("ceiling", p.lids), ("floor", p.floors), *walls, ("door", p.doors), ("air path", p.airs)]


def _margins(p: Problem, rows: Array) -> Array:
    """Margins (n, listeners) [dB] of rows (n, listeners x 22)."""
    each = rows.reshape(len(rows), len(p.brief.listeners), ROWS).max(axis=2)
    return np.asarray(-10.0 * np.log10(np.maximum(each, 1e-30)))


def _changes(p: Problem, best: Pick, size: int, wanting: NDArray[np.bool_] | None = None) -> Iterator[_Step]:
    """Every dearer change of ``size`` parts, whether or not it can be built; with ``wanting``, only those heard at such a listener."""
    parts = [options for _, options in _parts(p)]
    now = _margins(p, best.rows[None, :])[0]
    for changed in combinations(range(len(parts)), size):
        shape = tuple(len(parts[j].items) for j in changed)
        cost, rows = np.zeros(shape), np.broadcast_to(best.rows, (*shape, best.rows.size))
        for axis, j in enumerate(changed):
            along = [1] * size
            along[axis] = shape[axis]
            cost = cost + (parts[j].cost - parts[j].cost[best.picks[j]]).reshape(along)
            rows = rows + (parts[j].rows - parts[j].rows[best.picks[j]]).reshape(*along, best.rows.size)
        gains = _margins(p, np.maximum(rows.reshape(-1, best.rows.size), 0.0)) - now
        dearer = cost.ravel() > HAIR
        if wanting is not None:
            dearer &= np.any((gains >= HEARD) & wanting, axis=1)
        for flat in np.flatnonzero(dearer):
            picks = list(best.picks)
            for option, j in zip(np.unravel_index(flat, shape), changed, strict=True):
                picks[j] = int(option)
            if all(picks[j] != best.picks[j] for j in changed):
                yield _Step(tuple(picks), changed, float(cost.ravel()[flat]), gains[flat])


def _wanting(p: Problem, best: Pick) -> NDArray[np.bool_]:
    return np.asarray(_margins(p, best.rows[None, :])[0] < ENOUGH)


def _cheapest(p: Problem, hard: Hard, steps: Iterator[_Step], wanting: NDArray[np.bool_]) -> list[_Step]:
    """The cheapest steps that can be built, each buying ``HEARD`` more than every cheaper one at some listener that wants it."""
    kept: list[_Step] = []
    got = np.zeros(wanting.size)
    for step in sorted(steps, key=lambda each: (each.cost, -float(each.gains.sum()))):
        if np.any((step.gains >= got + HEARD) & wanting) and builds(p, hard, step.picks):
            kept.append(step)
            got = np.maximum(got, step.gains)
        if len(kept) == MOST:
            break
    return kept


def _named(p: Problem, best: Pick, step: _Step, billed: Billed, paid: float) -> NextStep:
    scheme = scheme_of(p, step.picks)
    room, names = inner_room(p.brief, scheme), []
    for j in step.changed:
        name, options = _parts(p)[j]
        item = options.items[step.picks[j]]
        label = item[1].label if isinstance(item, tuple) else getattr(item, "label", "")
        names.append(f"{name}: {label}")
    return NextStep(
        change="; ".join(names),
        cost=billed(p.brief, scheme) - paid,
        gains=tuple(float(gain) for gain in step.gains),
        likelihoods=tuple(
            likelihood_of(p.brief, scheme, room, who) if gain >= HEARD else None
            for who, gain in zip(p.brief.listeners, step.gains, strict=True)
        ),
    )


def next_steps(p: Problem, best: Pick, hard: Hard, billed: Billed) -> tuple[NextStep, ...]:
    """The three cheapest steps that can be heard, cheapest first; budget aside. Empty where every listener has margin enough.

    Source: the rows of calc.problem, all changes looked at.
    """
    wanting = _wanting(p, best)
    if not wanting.any():
        return ()
    kept = _cheapest(p, hard, _changes(p, best, 1, wanting), wanting) or _cheapest(p, hard, _changes(p, best, 2, wanting), wanting)
    paid = billed(p.brief, scheme_of(p, best.picks))
    return tuple(_named(p, best, step, billed, paid) for step in kept)


def wasted_steps(p: Problem, best: Pick, hard: Hard, billed: Billed) -> tuple[NextStep, ...]:
    """For each part whose every dearer option buys less than ``HEARD`` anywhere, the one of them that buys most.

    Source: as ``next_steps``.
    """
    if not p.brief.listeners:
        return ()
    singles = [step for step in _changes(p, best, 1) if builds(p, hard, step.picks)]
    paid = billed(p.brief, scheme_of(p, best.picks))
    found = []
    for j in range(len(best.picks)):
        mine = [step for step in singles if step.changed == (j,)]
        if j != 1 and mine and max(float(step.gains.max()) for step in mine) < HEARD:  # a floor is bought for other reasons
            found.append(_named(p, best, max(mine, key=lambda step: float(step.gains.max())), billed, paid))
    return tuple(found)
