"""The search against brute force: on random numbers, and on random parts of real briefs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from unittest.mock import patch

import numpy as np
import pytest
from conftest import make_brief
from hypothesis import given
from hypothesis import settings as rules
from hypothesis import strategies as st

from calc import least_cost
from calc.brief import Listener
from calc.choose import choose
from calc.geometry import inner_room
from calc.isolation.listener import isolation
from calc.problem import ROWS, Options, Problem, problem
from calc.scheme import LidOption, WallOption
from calc.search import NEAR as CLOSE
from calc.search import Group, balanced, cheapest, closest, group, totals
from calc.solve import NO_MATTER, Hard, Pick, best_meeting, best_near, margins, pick, worth

NEAR = 1e-6


def _groups(seed: int, sizes: list[int], rows: int) -> tuple[list[Group], np.ndarray]:
    rng = np.random.default_rng(seed)
    groups = []
    for n in sizes:
        quiet = rng.uniform(0.0, 1.0, (n, rows)) ** 3
        cost = np.round(10.0 / (0.2 + quiet.mean(axis=1)) + rng.uniform(0.0, 8.0, n), 1)  # quieter costs more, mostly
        groups.append(Group(cost, quiet, np.arange(n)))
    return groups, rng.uniform(0.0, 0.1, rows)


def _every(groups: list[Group], base: np.ndarray) -> Iterator[tuple[float, np.ndarray]]:
    for choice in product(*(range(g.cost.size) for g in groups)):
        yield totals(groups, base, choice)


SIZES = st.lists(st.integers(1, 6), min_size=1, max_size=4)


# all choices are looked at where they are few, else bounds by linear programmes come first
WAYS = pytest.mark.parametrize("few", [least_cost.FEW, 0], ids=["all looked at", "bounded first"])


@WAYS
@given(st.integers(0, 10_000), SIZES, st.integers(1, 6), st.floats(0.2, 3.0), st.floats(10.0, 200.0))
@rules(max_examples=50, deadline=None)
def test_cheapest_equals_brute_force(few: int, seed: int, sizes: list[int], rows: int, cap: float, budget: float) -> None:
    full, base = _groups(seed, sizes, rows)
    caps = np.full(rows, cap)
    pruned = [group(list(g.cost), g.rows) for g in full]
    fits = [cost for cost, total in _every(full, base) if np.all(total <= caps) and cost <= budget]
    with patch.object(least_cost, "FEW", few):
        got = cheapest(pruned, base, caps, budget)
    assert (got is None) is (not fits)
    if got is not None:
        cost, total = totals(pruned, base, got)
        assert abs(cost - min(fits)) < NEAR
        assert np.all(total <= caps * (1 + NEAR))


@WAYS
@given(st.integers(0, 10_000), SIZES, st.integers(2, 6), st.floats(10.0, 200.0), st.booleans())
@rules(max_examples=50, deadline=None)
def test_closest_equals_brute_force(few: int, seed: int, sizes: list[int], rows: int, budget: float, half: bool) -> None:
    full, base = _groups(seed, sizes, rows)
    caps, soft = np.ones(rows), np.ones(rows, dtype=np.bool_)
    soft[rows // 2 :] = not half
    pruned = [group(list(g.cost), g.rows) for g in full]
    fits = [(total[soft].max(), cost) for cost, total in _every(full, base) if cost <= budget and np.all(total[~soft] <= 1.0)]
    with patch.object(least_cost, "FEW", few):
        got = closest(pruned, base, caps, budget, soft)
    assert (got is None) is (not fits)
    if got is not None:
        cost, total = totals(pruned, base, got)
        assert total[soft].max() <= min(fits)[0] * (1.0 + 2.0 * CLOSE) + NEAR
        assert cost <= min(c for worst, c in fits if worst <= min(fits)[0] + 1e-12) + NEAR


@given(st.integers(0, 10_000), SIZES, st.integers(1, 6), st.floats(0.5, 3.0), st.floats(10.0, 200.0), st.floats(0.0, 30.0))
@rules(max_examples=50, deadline=None)
def test_balanced_equals_brute_force(seed: int, sizes: list[int], rows: int, cap: float, budget: float, money: float) -> None:
    def price(each: np.ndarray) -> np.ndarray:
        return money * np.maximum(each - 0.3, 0.0).sum(axis=1)

    full, base = _groups(seed, sizes, rows)
    pruned, caps = [group(list(g.cost), g.rows) for g in full], np.full(rows, cap)
    fits = [cost + price(total[None, :])[0] for cost, total in _every(full, base) if np.all(total <= caps) and cost <= budget]
    got = balanced(pruned, base, caps, budget, price)
    assert (got is None) is (not fits)
    if got is not None:
        cost, total = totals(pruned, base, got)
        assert abs(cost + price(total[None, :])[0] - min(fits)) < NEAR
        assert cost <= budget + NEAR
        assert np.all(total <= caps * (1 + NEAR))


@given(st.integers(0, 10_000), SIZES, st.integers(1, 6), st.floats(10.0, 200.0), st.floats(0.0, 100.0))
@rules(max_examples=50, deadline=None)
def test_a_chord_under_the_price_leaves_the_balance_as_it_is(seed: int, sizes: list[int], rows: int, budget: float, money: float) -> None:
    def price(each: np.ndarray) -> np.ndarray:
        return money * np.log10(np.maximum(each, 1.0)).sum(axis=1)

    def chord(low: np.ndarray, high: np.ndarray) -> tuple[np.ndarray, float]:
        low, high = np.maximum(low, 1.0), np.maximum(high, 1.0)
        slopes = np.divide(np.log10(high / low), high - low, out=np.zeros_like(low), where=high > low)
        return money * slopes, money * float((np.log10(low) - slopes * low).sum())

    full, base = _groups(seed, sizes, rows)
    louder = [group(list(g.cost), 4.0 * g.rows) for g in full]
    caps = np.full(rows, 20.0)
    assert balanced(louder, base, caps, budget, price, chord) == balanced(louder, base, caps, budget, price)


# ---- on briefs

NIGHT = Listener("bedroom_above", "bedroom", "quiet_for_sleep", 24.0, 0.0, "open")
DAY = Listener("living_above", "living room", "tolerable_by_day", 35.0, 0.0, "open")
BASEMENT = Listener("rest_of_basement", "den", "quiet_by_day", 32.0, 0.0, "open")
GARDEN = Listener("garden_neighbour", "garden", "not_noticed_at_night", 25.0, 8.0, "open")
LISTENERS = ((NIGHT,), (DAY, BASEMENT), (NIGHT, GARDEN), (BASEMENT, GARDEN, DAY))


@cache
def _problem(source: str, level: float, listeners: int, height: float) -> Problem:
    return problem(make_brief(use__source=source, use__level=level, listeners=LISTENERS[listeners], shell__height=height))


def _some(options: Options, rng: np.random.Generator, count: int) -> tuple[Options, np.ndarray]:
    chosen = np.sort(rng.choice(len(options.items), min(count, len(options.items)), replace=False))
    return Options(tuple(options.items[i] for i in chosen), options.cost[chosen], options.rows[chosen]), chosen


@st.composite
def small_problems(draw: st.DrawFn) -> tuple[Problem, Hard]:
    """A real brief with a few options of each part, so that all combinations can be looked at, and random hard limits."""
    p = _problem(
        draw(st.sampled_from(["drum_kit", "piano", "mixing"])),
        draw(st.sampled_from([75.0, 88.0, 100.0])),
        draw(st.integers(0, len(LISTENERS) - 1)),
        draw(st.sampled_from([2.05, 2.12, 2.4])),
    )
    rng = np.random.default_rng(draw(st.integers(0, 10_000)))
    lids, kept = _some(p.lids, rng, 6)
    floors, floor_kept = _some(p.floors, rng, 2)
    walls = tuple((kind, _some(options, rng, 3)[0]) for kind, options in p.walls)
    small = replace(
        p,
        lids=lids,
        floors=floors,
        walls=walls,
        doors=_some(p.doors, rng, 2)[0],
        airs=_some(p.airs, rng, 2)[0],
        short=p.short[np.ix_(kept, floor_kept)],
        load_ok=p.load_ok[kept],
        clear=p.clear[kept],
    )
    allowed = rng.random(len(kept)) < 0.8
    money = p.common + draw(st.sampled_from([4000.0, 6000.0, 9000.0, 30_000.0]))
    return small, Hard(allowed, draw(st.sampled_from([0.0, 0.05, 0.3])), money)


def _all(p: Problem, hard: Hard) -> list[Pick]:
    """Every scheme under the hard limits, by the plain rules."""
    found = []
    sizes = [len(o.items) for o in (p.lids, p.floors, *(o for _, o in p.walls), p.doors, p.airs)]
    for picks in product(*(range(n) for n in sizes)):
        lid = p.lids.items[picks[0]]
        walls = [options.items[i] for (_, options), i in zip(p.walls, picks[2:-2], strict=True)]
        assert isinstance(lid, LidOption)
        carried = lid.support != "independent joists" or all(isinstance(w, WallOption) and w.carries_lid for w in walls)
        if hard.lids[picks[0]] and p.short[picks[0], picks[1]] <= hard.short + 1e-6 and carried:
            each = pick(p, picks)
            if each.cost <= hard.money + NEAR:
                found.append(each)
    return found


@given(small_problems())
@rules(max_examples=30, deadline=None)
def test_best_meeting_is_the_cheapest_of_all_schemes(case: tuple[Problem, Hard]) -> None:
    p, hard = case
    meeting = [each for each in _all(p, hard) if each.worst <= 1.0]
    got = best_meeting(p, hard)
    assert (got is None) is (not meeting)
    if got is not None:
        assert got.worst <= 1.0 + NEAR
        assert abs(got.cost - min(each.cost for each in meeting)) < 0.01


@given(small_problems())
@rules(max_examples=20, deadline=None)
def test_best_near_has_the_least_shortfall_and_is_the_cheapest_with_it(case: tuple[Problem, Hard]) -> None:
    p, hard = case
    everything = _all(p, hard)
    got = best_near(p, hard)
    assert (got is None) is (not everything)
    if got is None:
        return
    least = min(each.worst for each in everything)
    assert -10.0 * np.log10(max(least, 1.0)) - min(margins(p, np.maximum(got.rows, 1.0))) <= NO_MATTER + NEAR
    # every scheme that misses by no more at any listener is worth less
    worst, mine = np.array([margins(p, each.rows) for each in everything]), np.array(margins(p, got.rows))
    rivals = [each for each, margin in zip(everything, worst, strict=True) if np.all(margin >= np.minimum(mine, 0.0) - NEAR)]
    assert worth(p, got) <= min(worth(p, each) for each in rivals) + 0.01


def test_rows_of_a_listener_are_its_bands_and_total() -> None:
    p = _problem("piano", 88.0, 1, 2.4)
    assert p.base.size == ROWS * 2


@given(
    st.sampled_from(["piano", "mixing", "voice_acoustic", "drum_kit"]),
    st.sampled_from([70.0, 82.0, 94.0]),
    st.integers(0, len(LISTENERS) - 1),
    st.floats(2.0, 2.6),
    st.floats(3.0, 7.0),
)
@rules(max_examples=12, deadline=None)
def test_what_the_search_says_holds_in_the_drawn_room(source: str, level: float, who: int, height: float, length: float) -> None:
    brief = make_brief(
        use__source=source, use__level=level, listeners=LISTENERS[who], shell__height=height, shell__length=length, shell__width=3.2
    )
    choice = choose(brief, explain=False)
    drawn = isolation(brief, choice.scheme, inner_room(brief, choice.scheme))
    if choice.meets_all:
        assert min(result.margin for result in drawn.listeners) >= -NEAR
    # Areas of the search are those of the shell, so the drawn room is never louder.
    for careful, result in zip(choice.margins, drawn.listeners, strict=True):
        assert careful <= result.margin + NEAR
