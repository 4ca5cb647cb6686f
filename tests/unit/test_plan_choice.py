"""What the plan says of heights that are missed, and of the scheme chosen beside others."""

from __future__ import annotations

import datetime
from dataclasses import replace
from importlib.resources import files

import pytest
from conftest import make_brief

from calc.assess import Assessment, assess
from calc.brief import Obstruction
from calc.choice_heights import CODE, OWN, in_words
from calc.choose import choose
from calc.geometry import inner_room
from calc.isolation.listener import isolation
from calc.unit_format import format_length, format_money
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.present import hours
from wizard.render import plan_text

TODAY = datetime.date(2026, 3, 4)
BEAM = Obstruction("beam", 2.05, 0.2, False, "walking route")  # lower than the person's own lowest once it is boxed
DUCT = Obstruction("duct", 2.03, 0.3, False, "side")  # lower still, but nobody walks there


@pytest.fixture(scope="module")
def answers() -> Answers:
    return read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def low(answers: Answers) -> Assessment:
    """The example under a beam that keeps the model code and misses the person's own lowest ceiling, with a lower duct beside."""
    brief = to_brief(answers)
    shell = replace(brief.shell, obstructions=(BEAM, DUCT))
    return assess(replace(brief, shell=shell, limits=replace(brief.limits, lowest_ceiling=2.03)))


@pytest.fixture(scope="module")
def text(low: Assessment, answers: Answers) -> str:
    return plan_text(low, answers, TODAY)


def test_the_lowest_place_is_the_lowest_and_the_one_that_misses_most_stands_beside_it(low: Assessment, text: str) -> None:
    assert (low.headroom.lowest.name, low.headroom.binding.name) == ("under the duct", "under the beam")
    assert low.headroom.binding.ok_code
    assert not low.headroom.binding.ok_own
    assert "| Lowest place: under the duct | " in text
    (row,) = (line for line in text.splitlines() if line.startswith("| Misses its limit most: under the beam | "))
    assert "; your own lowest " in row
    assert ": below your own by " in row
    (sheet,) = (line for line in text.splitlines() if line.startswith("- Floor ") and "at the lowest place" in line)
    assert "(under the duct; " in sheet
    assert "under the beam" not in sheet


@pytest.mark.parametrize(
    ("roughness", "said"),
    [
        ((1.9,), "bass is more even, if"),
        ((2.58,), "proportions come inside the recommended range, with bass as even as planned, if"),
        ((2.58, 1.9), "bass is more even, or whose proportions at least come inside the recommended range, if"),
    ],
)
def test_a_smaller_room_is_offered_for_what_it_gains(low: Assessment, answers: Answers, roughness: tuple[float, ...], said: str) -> None:
    now = replace(low.sound.sizes[0], roughness=2.62, standard=False)
    smaller = (replace(now, length=now.length - 0.5, roughness=each, standard=True) for each in roughness)
    changed = replace(low)
    vars(changed)["sound"] = sound = replace(low.sound)
    vars(sound)["sizes"] = (now, *smaller)
    assert f"Smaller rooms in the same shell whose {said} you would give floor for it:" in plan_text(changed, answers, TODAY)


def test_a_height_that_every_ceiling_misses_alike_is_told_once_and_by_whose_limit(low: Assessment, text: str) -> None:
    """Only the person's own lowest ceiling is missed, under a beam that no ceiling changes: no breach of code, and nothing that decides."""
    assert not low.choice.meets_all
    (reason,) = (each for each in low.choice.why if each.subject == "height" and "The ceiling shown misses" in each.text)
    missed = low.headroom.binding
    by = format_length(missed.asked - missed.height, low.brief.units, step_mm=1.0)
    said = f"The ceiling shown misses the lowest ceiling you accept under the beam by {by}. So does every other"
    assert reason.text.startswith(f"Every height limit of the model code is kept. {said}")
    assert low.choice.why[0] is not reason
    rows = [each.text for each in low.choice.alternatives]
    assert rows
    assert not any("under the beam" in row or "keep the height" in row for row in rows)
    assert text.count(f"misses the lowest ceiling you accept under the beam by {by}. So does every other") == 1
    assert f"What all of these miss alike is not repeated: the lowest ceiling you accept under the beam by {by}." in text
    assert "the height limits" not in text.split("## Section 5")[1].split("## Section 6")[0]


def test_a_ceiling_that_misses_more_than_the_others_says_where() -> None:
    """Joists of its own below the old ones take height in the open field, too."""
    choice = choose(make_brief(shell__height=2.18, shell__slab_unevenness=0.0, shell__obstructions=(replace(BEAM, underside=1.9),)))
    below = [each for each in choice.alternatives if "below the existing" in each.family]
    assert below
    assert all("in the open field by" in each.text and "under the beam" not in each.text for each in below)
    assert all("height" in each.breaks for each in choice.alternatives)


def test_the_scheme_chosen_has_one_margin_and_one_sum_of_hours_wherever_it_stands(low: Assessment, text: str) -> None:
    """The search is on the careful side with areas; what is shown is of the room as it would be built."""
    heard = pytest.approx([each.margin for each in low.isolation.listeners])
    (mine,) = (each for each in low.choice.alternatives if each.chosen)
    assert list(mine.margins) == heard
    assert list(low.choice.margins) != heard  # of the search
    for each in low.isolation.listeners:
        for reason in low.choice.why:
            if reason.subject == f"shortfall at {each.listener.label}":
                assert reason.value == pytest.approx(-each.margin)
    rungs = {rung.scheme: rung for rung in low.choice.ladder}
    settling = sum(task.hours for task in low.schedule.tasks if task.id == "settle_stops")
    assert list(rungs[low.scheme].margins) == heard
    assert rungs[low.scheme].hours + settling == pytest.approx(low.schedule.hours_total)
    cost = format_money(rungs[low.scheme].cost, low.brief.means.currency)
    row = next(line for line in text.splitlines() if line.startswith(f"| {cost} |"))
    assert f"| {hours(low.schedule.hours_total)} |" in row


def test_other_kinds_of_ceiling_are_heard_within_tenths_of_a_decibel_of_their_own_room(low: Assessment) -> None:
    for each in low.choice.alternatives:
        built = isolation(low.brief, each.scheme, inner_room(low.brief, each.scheme))
        assert list(each.margins) == pytest.approx([result.margin for result in built.listeners], abs=0.5)


def test_limits_that_are_missed_are_told_by_whose_they_are() -> None:
    found = in_words([(CODE, "in the open field by 1 in"), (OWN, "under the beam by 2 in"), (CODE, "under the beam by 3 in")])
    code, own = found.split(", and ")
    assert code == "the model code in the open field by 1 in and under the beam by 3 in"
    assert own == "the lowest ceiling you accept under the beam by 2 in"
    assert in_words([]) == ""
