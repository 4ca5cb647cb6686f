"""``stillroom plan``: exit codes, what is written and what is said."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest

from calc import assess as assessing
from wizard.__main__ import main
from wizard.interview.answers_file import read_strictly
from wizard.store import Store

ASSESSED = cache(assessing.assess)  # most tests here ask for the plan of the same answers
EXAMPLE = files("wizard").joinpath("example.toml").read_text(encoding="utf-8")


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("STILLROOM_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture(autouse=True)
def assessed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(assessing, "assess", ASSESSED)


@pytest.fixture
def answers(tmp_path: Path) -> Path:
    path = tmp_path / "answers.toml"
    path.write_text(EXAMPLE, encoding="utf-8")
    return path


def edited(path: Path, old: str, new: str) -> Path:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_the_demo_gives_a_plan(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(answers), "--out", str(tmp_path / "plan")]) == 0
    out, err = capsys.readouterr()
    assert out.strip() == str(tmp_path / "plan" / "plan.md")
    assert err == ""
    assert "Drums under the bedroom" in (tmp_path / "plan" / "plan.md").read_text(encoding="utf-8")


def test_the_same_answers_give_the_same_plan(answers: Path, tmp_path: Path) -> None:
    for folder in ("one", "two"):
        ASSESSED.cache_clear()
        main(["plan", str(answers), "--out", str(tmp_path / folder)])
    one, two = (re.sub(r"\d{4}-\d\d-\d\d", "", (tmp_path / folder / "plan.md").read_text(encoding="utf-8")) for folder in ("one", "two"))
    assert one == two


def test_the_assessment_as_data(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(answers), "--json", "--out", str(tmp_path / "plan")]) == 0
    out, err = capsys.readouterr()
    data = json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} is not JSON"))
    assert data["feasible"] is True
    assert data["brief"]["shell"]["length"] == pytest.approx(6.4008)
    assert len(data["isolation"]["listeners"][0]["levels"]) == 21
    assert err.strip().endswith("plan.md")


def test_a_stop_exits_with_one_and_still_writes_the_plan(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edited(answers, 'shell_height = "8\' 1 1/2\\""', 'shell_height = "6\' 7\\""')
    edited(answers, 'duct_underside = "7\' 4\\""', 'duct_underside = "6\' 2\\""')
    edited(answers, 'lowest_ceiling = "6\' 8\\""', 'lowest_ceiling = "6\' 2\\""')
    assert main(["plan", str(answers), "--out", str(tmp_path / "plan")]) == 1
    assert (tmp_path / "plan" / "plan.md").exists()
    assert "stop:" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('people = 2', 'people = "many"', ["How many people", "many"]),
        ('joist_spacing = "16 in"', 'joist_spacing = "16 ft"', ["Joist spacing", "16 ft", "usually"]),
        ('hours = "evening"', 'hour = "evening"', ["hour", "did you mean hours"]),
        ('budget = "24,000"', "", ["Budget", "no answer"]),
        ('units = "imperial"', 'units = "cubits"', ["units must be"]),
        ("schema = 1", "schema = 99", ["later version"]),
        ("[answers]", "[answers", ["not valid TOML"]),
        ("people = 2", "people = { txt = 2 }", ["people must be"]),
        ("people = 2", "people = nan", ["people must be"]),
        ('name = "Drums under the bedroom"', "name = 3", ["name must be text"]),
        ('name = "Drums under the bedroom"', 'people = 3', ["belongs under [answers]"]),
        ('duct_underside = "7\' 4\\""', 'duct_underside = "9 ft"', ["above the joists"]),
    ],
)  # fmt: skip
def test_bad_input_exits_with_two_and_writes_nothing(
    answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, words: list[str]
) -> None:
    edited(answers, old, new)
    assert main(["plan", str(answers), "--out", str(tmp_path / "plan")]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.strip().splitlines()) == 1
    assert all(word in err for word in words), err
    assert not (tmp_path / "plan").exists()


def test_every_problem_has_its_own_sentence(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edited(answers, "people = 2", 'people = "many"')
    edited(answers, 'joist_spacing = "16 in"', 'joist_spacing = "16 ft"')
    assert main(["plan", str(answers), "--out", str(tmp_path / "plan")]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 2
    edited(answers, "helpers = 2", "helpers = []\nbedroms = [3]\nyear_built = { when = 3 }")
    edited(answers, "year_built = 1994", "")
    assert main(["plan", str(answers), "--out", str(tmp_path / "plan")]) == 2
    told = [line.split()[1].rstrip(":") for line in capsys.readouterr().err.strip().splitlines()]
    assert told[:2] == ["bedroms", "year_built"]
    assert len(told) == 5  # the two answers above that cannot be right, and helpers = [], are told in the same run


def test_the_same_plan_may_be_written_again_another_one_only_by_force(answers: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan" / "plan.md"
    assert main(["plan", str(answers), "--out", str(plan.parent)]) == 0
    first = plan.read_bytes()
    plan.write_text(re.sub(r"(?m)^Date: .*$", "Date: 2001-01-01", first.decode()), encoding="utf-8")
    assert main(["plan", str(answers), "--out", str(plan.parent)]) == 0
    assert plan.read_bytes() == first
    edited(answers, "people = 2", "people = 3")
    assert main(["plan", str(answers), "--out", str(plan.parent)]) == 2
    assert plan.read_bytes() == first
    assert main(["plan", str(answers), "--out", str(plan.parent), "--force"]) in (0, 1)
    assert plan.read_bytes() != first


def test_files_that_cannot_be_used(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    binary = tmp_path / "binary.toml"
    binary.write_bytes(b"\xff\xfe\x00\x01")
    empty = tmp_path / "empty.toml"
    empty.write_bytes(b"")
    taken = tmp_path / "taken"
    taken.write_text("a file")
    for arguments in (
        [str(tmp_path / "nothing.toml"), "--out", str(tmp_path / "plan")],
        [str(tmp_path), "--out", str(tmp_path / "plan")],
        [str(binary), "--out", str(tmp_path / "plan")],
        [str(empty), "--out", str(tmp_path / "plan")],
        [str(answers), "--out", str(taken)],
        [str(answers), "--out", str(taken / "under")],
        [str(answers)],
        ["x" * 5000, "--out", str(tmp_path / "plan")],
    ):
        assert main(["plan", *arguments]) == 2, arguments
        assert len(capsys.readouterr().err.strip().splitlines()) == 1, arguments
    assert not (tmp_path / "plan").exists()


def test_a_plan_is_not_overwritten_without_force(answers: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["plan", str(answers), "--out", str(tmp_path / "plan")]
    assert main(arguments) == 0
    plan = tmp_path / "plan" / "plan.md"
    plan.write_text("mine")
    assert main(arguments) == 2
    assert plan.read_text() == "mine"
    assert "(plan.md); --force overwrites" in capsys.readouterr().err
    (tmp_path / "plan" / "tasks.ics").write_text("mine as well")
    assert main(arguments) == 2
    assert "(plan.md and 1 more); --force overwrites" in capsys.readouterr().err
    assert main([*arguments, "--force"]) == 0
    assert plan.read_text(encoding="utf-8") != "mine"


def test_a_saved_interview_by_name_or_id(data_folder: Path, tmp_path: Path) -> None:
    id = Store(data_folder).create("My drums", read_strictly(EXAMPLE))
    assert main(["plan", "My drums", "--out", str(tmp_path / "one")]) == 0
    assert main(["plan", id, "--out", str(tmp_path / "two")]) == 0


def test_a_name_that_is_a_folder_too_or_belongs_to_two(
    data_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plan").mkdir()
    Store(data_folder).create("plan", read_strictly(EXAMPLE))
    assert main(["plan", "plan", "--out", "one"]) == 0
    Store(data_folder).create("plan")
    assert main(["plan", "plan", "--out", "two"]) == 2
    assert "just one saved interview" in capsys.readouterr().err
