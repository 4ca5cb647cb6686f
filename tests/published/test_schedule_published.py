""".

Rder of the stages against the order of inspections in the International Residential Code, R109.1 (text as read in the 2018 and 2021
editions).
"""

from __future__ import annotations

import pytest
from build_parts import scheme
from conftest import make_brief

from calc.geometry import inner_room
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.schedule import Schedule, schedule


@pytest.fixture(scope="module")
def stages() -> Schedule:
    brief, build = make_brief(shell__appliance="natural draft", shell__water="damp"), scheme()
    room = inner_room(brief, build)
    return schedule(brief, build, room, bill(brief, lines(brief, room, build)), ())


def at(stages: Schedule, task: str) -> int:
    return next(each.number for each in stages.tasks if each.id == task)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("permits", "demolish"),  # R105.1: no work before the permit
        ("rough_hvac", "inspect_rough"),  # R109.1.2: rough mechanical before it is covered and before the framing inspection
        ("rough_electric", "inspect_rough"),  # R109.1.2
        ("fireblock", "inspect_rough"),  # R109.1.4: framing and masonry, fireblocking included
        ("inspect_rough", "insulate"),  # R109.4: nothing covered before approval
        ("inspect_insulation", "boards_first"),  # R109.1.5: other inspections, insulation among them
        ("inspect_insulation", "boards_last"),
        ("boards_last", "inspect_board"),  # R109.1.5.1: board in place, before joints and fasteners are finished
        ("inspect_board", "finish"),
        ("air_start", "inspect_final"),  # R109.1.6: final inspection when the work is complete
        ("floor", "inspect_final"),
    ],
)
def test_inspections_come_before_what_would_cover_them(stages: Schedule, before: str, after: str) -> None:
    assert at(stages, before) < at(stages, after)


def test_every_inspection_is_a_hold_point(stages: Schedule) -> None:
    held = {task.id for task in stages.hold_points}
    assert {"permits", "inspect_rough", "inspect_insulation", "inspect_board", "inspect_final"} <= held
