"""Order of the stages against the order of inspections in the International Residential Code, R109.1.

Text as read in the 2018 and 2021 editions.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from build_parts import BOARD, LID, scheme
from conftest import make_brief

from calc.geometry import inner_room
from calc.materials import quantities as q
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.materials.wall import FIREBLOCK_WIDTH
from calc.schedule import Schedule, Task, schedule

INSPECTIONS = ("permits", "inspect_rough", "inspect_frame", "inspect_insulation", "inspect_board", "inspect_final")


@pytest.fixture(scope="module")
def stages() -> Schedule:
    lid = replace(LID, between_joists=(BOARD,))
    brief, build = make_brief(shell__appliance="natural draft", shell__water="damp", shell__year_built=1960), scheme(lid)
    room = inner_room(brief, build)
    return schedule(brief, build, room, bill(brief, lines(brief, room, build)), ())


def at(stages: Schedule, task: str) -> Task:
    return next(each for each in stages.tasks if each.id == task)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("permits", "demolish"),  # R105.1: no work before the permit
        ("rough_hvac", "inspect_rough"),  # R109.1.2: rough mechanical before it is covered and before the framing inspection
        ("rough_electric", "inspect_rough"),  # R109.1.2
        ("inspect_rough", "inspect_frame"),  # R109.1.4: framing after the roughs are approved
        ("frame", "inspect_frame"),  # R109.1.4: all framing in place
        ("fireblock", "inspect_frame"),  # R109.1.4: fireblocking in place
        ("inspect_rough", "insulate"),  # R109.4: nothing covered before approval
        ("inspect_frame", "insulate"),
        ("inspect_frame", "clips_channel"),
        ("inspect_insulation", "boards_first"),  # R109.1.5: other inspections, insulation among them
        ("inspect_insulation", "boards_last"),
        ("boards_last", "inspect_board"),  # R109.1.5.1: board in place, before joints and fasteners are finished
        ("inspect_board", "finish"),
        ("air_start", "inspect_final"),  # R109.1.6: final inspection when the work is complete
        ("floor", "inspect_final"),
        ("inspect_final", "measure"),  # R110.1: no use before the certificate
    ],
)
def test_inspections_are_signed_before_what_would_cover_the_work(stages: Schedule, before: str, after: str) -> None:
    """The waiting for the inspector is over, not only the call made."""
    assert at(stages, before).ready <= at(stages, after).start + 1e-9


def test_every_inspection_is_a_hold_point_that_waits_for_somebody(stages: Schedule) -> None:
    held = {task.id: task for task in stages.hold_points}
    for each in INSPECTIONS:
        # Three days always hold one from Monday to Friday, when offices send people.
        assert held[each].wait_days >= 3
        assert held[each].wait_for


def test_boards_that_hide_the_subfloor_are_asked_about_before_the_first(stages: Schedule) -> None:
    assert at(stages, "between_joists").hold_before  # R109.4: covered work must be opened again if the office has not seen it


def test_permits_and_professionals_come_before_any_work(stages: Schedule) -> None:
    asked = ("hazards_test", "structure", "water", "permits")
    first = at(stages, "demolish")
    assert all(at(stages, each).number < first.number for each in asked)
    assert all(at(stages, each).ready <= first.start + 1e-9 for each in asked if each != "water")
    assert at(stages, "water").ready <= at(stages, "frame").start + 1e-9


@pytest.mark.parametrize(
    ("task", "words"),
    [  # the quality checks of the trade: each before the work that would make it impossible
        ("boards_first", "no light"),
        ("boards_first", "acoustical sealant before the next ply"),
        ("boards_first", "photograph every surface before the next ply"),
        ("boards_first", "bites wood behind channel"),
        ("boards_last", "bites wood behind channel"),
        ("boards_last", "no light"),
        ("inspect_frame", "photograph every wall"),
        ("inspect_insulation", "photograph the filled bays"),
        ("seal_leak_test", "no taping or finishing of the last ply before the leak test"),
    ],
)
def test_each_quality_check_stands_at_its_task(stages: Schedule, task: str, words: str) -> None:
    found = at(stages, task)
    assert words in " ".join((*found.steps, *found.checks, found.hold_point)).casefold()


def test_the_leak_test_comes_while_every_joint_can_still_be_reached(stages: Schedule) -> None:
    assert at(stages, "boards_last").ready <= at(stages, "seal_leak_test").start + 1e-9
    assert all(at(stages, "seal_leak_test").ready <= at(stages, each).start + 1e-9 for each in ("door", "finish", "floor"))


@pytest.mark.parametrize(("code", "step"), [("irc_2024_existing", 3.048), ("obc_2012", 20.0)])
def test_fireblocks_stand_as_far_apart_as_the_country_allows(code: str, step: float) -> None:
    """IRC R302.11: 10 ft; Ontario and National Building Code of Canada 9.10.16: 20 m."""
    brief, build = make_brief(code=code), scheme()
    room = inner_room(brief, build)
    made = schedule(brief, build, room, bill(brief, lines(brief, room, build)), ())
    assert at(made, "fireblock").lengths["fireblock_step"] == pytest.approx(step)
    # The blocks of the shopping list keep the same step: two runs along each wall and a block at each step, half a batt in 25 mm.
    run = sum(room.side_length(side.number) for side in brief.shell.sides)
    blocks = sum(q.rows(room.side_length(side.number), step) for side in brief.shell.sides)
    bought = sum(line.quantity for line in lines(brief, room, build) if line.where.startswith("fireblocks"))
    assert bought == pytest.approx(0.5 * FIREBLOCK_WIDTH * (2.0 * run + blocks * brief.shell.height))
