"""What one step more would buy: cheapest first, heard, within the hard limits, and what would be wasted."""

from __future__ import annotations

from functools import cache

from conftest import make_brief

from calc.brief import Listener
from calc.choose import Choice, choose
from calc.next_steps import HEARD


@cache
def bought() -> Choice:
    who = (Listener("bedroom_above", "bedroom", "tolerable_by_day", 25.0, 0.0, "closed"),)
    return choose(make_brief(listeners=who, use__level=92.0, shell__obstructions=()))


def test_steps_cost_more_and_can_be_heard() -> None:
    steps = bought().next_steps
    assert 1 <= len(steps) <= 3
    assert [each.cost for each in steps] == sorted(each.cost for each in steps)
    for each in steps:
        assert max(each.gains) >= HEARD
        assert len(each.gains) == len(each.likelihoods) == 1
        assert all((odds is not None) == (gain >= HEARD) for gain, odds in zip(each.gains, each.likelihoods, strict=True))


def test_a_wasted_step_buys_less_than_can_be_heard() -> None:
    for each in bought().wasted:
        assert max(each.gains) < HEARD
        assert each.likelihoods == (None,)


def test_nobody_listening_needs_no_step() -> None:
    nobody = choose(make_brief(listeners=()))
    assert nobody.next_steps == () == nobody.wasted
