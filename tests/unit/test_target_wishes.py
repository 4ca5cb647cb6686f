"""Targets that do not fit the hours, and numbers of by-laws."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import make_brief

from calc.assess import assess
from calc.brief import Listener
from calc.finding import Severity
from calc.isolation.criteria import target_dba, target_spectrum
from calc.isolation.wishes import HOPELESS, findings, out_of_reach


def rules(hours: str, kind: str, target: str) -> list[str]:
    brief = make_brief(use__hours=hours, listeners=(Listener(kind, kind, target, 25.0, 10.0, "closed", limit=45.0),))
    return [finding.rule for finding in findings(brief) if finding.severity is Severity.CAUTION]


@pytest.mark.parametrize("target", ["tolerable_by_day", "quiet_by_day"])
def test_a_target_for_the_day_is_cautioned_where_somebody_may_sleep(target: str) -> None:
    assert rules("day", "bedroom_above", target) == []
    assert rules("evening", "bedroom_above", target) == ["day_target_bedroom_above"]
    assert rules("night", "bedroom_above", target) == ["day_target_bedroom_above"]
    assert rules("evening", "living_above", target) == []  # nobody sleeps in a living room at eight
    assert rules("night", "living_above", target) == ["day_target_living_above"]


@pytest.mark.parametrize("target", ["quiet_for_sleep", "not_noticed_at_night", "by_law"])
def test_other_targets_are_not_cautioned(target: str) -> None:
    assert rules("night", "bedroom_above", target) == []


def test_a_by_law_is_read_out_with_its_place() -> None:
    brief = make_brief(
        listeners=(
            Listener("garden_neighbour", "neighbour", "by_law", 25.0, 10.0, "outside", limit=50.0),
            Listener("bedroom_above", "bedroom", "by_law", 25.0, 0.0, "closed", limit=35.0),
        )
    )
    outdoors, indoors = findings(brief)
    assert "50 dBA is taken to hold outdoors at the window" in outdoors.title
    assert "35 dBA is taken to hold inside the room" in indoors.title


def test_a_by_law_without_its_number_is_refused() -> None:
    nameless = Listener("bedroom_above", "bedroom", "by_law", 25.0, 0.0, "closed")
    for refused in (target_dba, target_spectrum):
        with pytest.raises(ValueError, match="needs its number"):
            refused(nameless)


def test_steps_overhead_are_named_as_the_least_sure() -> None:
    itself = Listener("this_room", "the room itself", "nc_20", 22.0, 0.0, "closed")
    walked = [finding.rule for finding in findings(make_brief(listeners=(itself,)))]
    assert walked == ["steps_overhead"]
    assert not findings(make_brief(listeners=(itself,), house__walking="nobody"))


def test_a_room_twice_as_loud_as_asked_is_a_stop_that_says_how_far_it_is() -> None:
    brief = make_brief(use__level=118.0, listeners=(Listener("bedroom_above", "bedroom above", "quiet_for_sleep", 25.0, 0.0, "closed"),))
    found = assess(brief, explain=False)
    margin = found.isolation.listeners[0].margin
    assert margin < HOPELESS
    (stop,) = [finding for finding in found.stops if finding.rule == "out_of_reach"]
    assert f"bedroom above: {-margin:.0f} dB too loud" in stop.title
    assert stop.measured is not None
    assert stop.limit is not None
    assert stop.measured - stop.limit == pytest.approx(-margin)
    assert not found.feasible
    heard = found.isolation.listeners[0]
    near = replace(found.isolation, listeners=(replace(heard, margin=HOPELESS + 0.5),))
    assert out_of_reach(near) is None
    assert out_of_reach(replace(near, listeners=(), most_critical=None)) is None
