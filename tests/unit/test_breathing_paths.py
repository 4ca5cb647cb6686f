"""The choice never ends the ducts where people could not breathe, unless nothing else can be built."""

from __future__ import annotations

import pytest
from conftest import make_brief

from calc.breathing import breathable, end_of
from calc.choose import choose
from calc.geometry import Room
from calc.isolation.duct_way import needed
from calc.options import air_paths
from calc.ventilation.checks import holds_co2, may_end


@pytest.mark.parametrize("people", [1, 2, 6])
@pytest.mark.parametrize("limit", [900.0, 1500.0, 2500.0])
def test_a_path_that_is_offered_holds_the_co2_level(people: int, limit: float) -> None:
    brief = make_brief(use__people=people, air__co2_limit=limit, air__system="forced air")
    room, air = Room(brief.shell.length, brief.shell.width, brief.shell.height), needed(brief)
    for end in {end_of(option) for option in breathable(brief, air_paths(brief))}:
        assert holds_co2(brief, room, air, end).ok is not False


def test_the_quick_answer_is_that_of_the_full_check() -> None:
    for limit in (900.0, 1300.0, 1600.0, 3000.0):
        brief = make_brief(air__co2_limit=limit, air__system="forced air")
        room, air = Room(brief.shell.length, brief.shell.width, brief.shell.height), needed(brief)
        for end in ("house", "basement"):
            assert may_end(brief, room, air, end) is (holds_co2(brief, room, air, end).ok is not False)


def test_no_fan_draws_on_a_burner_with_an_open_flue() -> None:
    brief = make_brief(shell__appliance="natural draft", air__co2_limit=5000.0)
    assert "basement" not in {end_of(option) for option in breathable(brief, air_paths(brief))}


def test_where_nothing_breathes_all_are_offered_and_the_findings_say_so() -> None:
    brief = make_brief(air__duct_outdoors="no", air__co2_limit=600.0)
    assert breathable(brief, air_paths(brief)) == air_paths(brief)
    assert choose(brief, explain=False).scheme.air_path in air_paths(brief)
