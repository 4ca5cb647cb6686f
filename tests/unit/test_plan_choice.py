"""What the plan says of heights that are missed, and of the scheme chosen beside others."""

from __future__ import annotations

import datetime
from dataclasses import replace
from importlib.resources import files

import pytest

from calc.assess import Assessment, assess
from calc.brief import Obstruction
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
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
