"""The ladder of schemes, and the choice for a likelihood asked."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from conftest import make_brief

from calc.brief import Brief, Listener
from calc.choose import Choice, choose
from calc.geometry import inner_room
from calc.isolation.listener import isolation
from calc.ladder import RUNGS

WHO = (
    Listener("bedroom_above", "bedroom", "tolerable_by_day", 30.0, 0.0, "closed"),
    Listener("garden_neighbour", "neighbour", "quiet_for_sleep", 25.0, 12.0, "closed"),
)


@cache
def climbed() -> Choice:
    return choose(make_brief(listeners=WHO))


def asked(likelihood: float) -> Brief:
    brief = make_brief(listeners=WHO, use__level=88.0, means__budget=60_000.0, shell__obstructions=())
    return replace(brief, limits=replace(brief.limits, likelihood=likelihood))


def test_where_the_likelihood_is_out_of_reach_the_nearest_is_shown_and_stands_on_the_ladder() -> None:
    """Asked for more than anything here keeps: as sure as can be had within the budget, surer than the cheapest that is predicted to do."""

    def least(found: Choice, brief: Brief) -> float:
        return min(each.likelihood for each in isolation(brief, found.scheme, inner_room(brief, found.scheme)).listeners)

    brief = make_brief(listeners=WHO, use__level=88.0, means__budget=60_000.0)  # its beam and duct leave hung lids only
    plain, nearest = choose(brief), choose(replace(brief, limits=replace(brief.limits, likelihood=0.95)))
    assert any(reason.subject == "likelihood" for reason in nearest.why)
    assert least(plain, brief) < least(nearest, brief) < 0.95
    assert nearest.scheme in [rung.scheme for rung in nearest.ladder]


def test_no_scheme_on_the_ladder_is_beaten_on_cost_and_at_every_listener() -> None:
    rungs = climbed().ladder
    assert 3 <= len(rungs) <= len(RUNGS)
    for one in rungs:
        for other in rungs:
            no_worse = one.cost <= other.cost and all(a >= b for a, b in zip(one.margins, other.margins, strict=True))
            assert one is other or not no_worse


def test_dearer_rungs_are_quieter_where_it_decides() -> None:
    rungs = climbed().ladder
    assert [rung.cost for rung in rungs] == sorted(rung.cost for rung in rungs)
    assert [min(rung.margins) for rung in rungs] == sorted(min(rung.margins) for rung in rungs)


def test_the_first_rung_that_meets_all_and_the_best_for_the_budget_are_marked() -> None:
    rungs = climbed().ladder
    meeting = [rung for rung in rungs if min(rung.margins) >= 0.0]
    assert [rung for rung in rungs if rung.asked] == meeting[:1]
    affordable = [rung for rung in rungs if rung.affordable]
    assert len(affordable) == 1
    assert affordable[0].cost <= make_brief().means.budget


def test_nobody_listening_climbs_nothing() -> None:
    assert choose(make_brief(listeners=())).ladder == ()


def test_a_likelihood_asked_is_kept_and_costs_no_less() -> None:
    plain, sure = choose(asked(0.0)), choose(asked(0.8))
    assert sure.cost >= plain.cost
    brief = asked(0.8)
    heard = isolation(brief, sure.scheme, inner_room(brief, sure.scheme)).listeners
    assert all(each.likelihood >= 0.8 for each in heard)
    assert not any(reason.subject == "likelihood" for reason in sure.why)


@pytest.mark.parametrize("wanted", [0.999999])
def test_a_likelihood_out_of_reach_is_said(wanted: float) -> None:
    hard = make_brief(listeners=WHO)
    found = choose(replace(hard, limits=replace(hard.limits, likelihood=wanted)))
    assert any(reason.subject == "likelihood" for reason in found.why) or not found.meets_all
