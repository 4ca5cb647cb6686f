"""The other commands."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest

from calc.brief import Labour
from wizard.__main__ import main
from wizard.as_data import as_data
from wizard.interview.engine import QUESTIONS
from wizard.store import Store

WALL = """
[[assembly]]
id = "{id}"
element = "wall"
[[assembly.leaf]]
plies = [{{ material = "gypsum board type X", thickness = "15.9 mm" }}]
[[assembly.cavity]]
depth = "89 mm"
fill = "glass fibre"
fill_thickness = "89 mm"
frame = "wood stud"
frame_spacing = "406 mm"
[[assembly.leaf]]
plies = [{{ material = "gypsum board type X", thickness = "15.9 mm" }}]
"""
KEYS = ["id", "stc", "rw", "c", "ctr", "iic", "surface_mass_kg_m2", "bands_hz", "tl_db", "std_uncertainty_db", "basis"]


def test_questions_lists_every_question(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["questions", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [item["id"] for item in data] == [item.id for item in QUESTIONS]
    by_id = {item["id"]: item for item in data}
    assert by_id["joist_depth"]["unit"] == {"imperial": "in", "metric": "mm"}
    assert by_id["joist_depth"]["default"] == {"imperial": "9 1/4 in", "metric": "235 mm"}
    assert by_id["shell_length"]["required"] is True
    assert by_id["hourly_rate"]["applies"] == "builders are hired"
    assert {"id", "label"} == set(by_id["source"]["choices"][0])
    assert main(["questions"]) == 0
    text = capsys.readouterr().out
    assert all(f"{item.id}" in text for item in QUESTIONS)


def test_example_is_a_complete_answers_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "demo.toml"
    assert main(["example", "--out", str(path)]) == 0
    assert main(["example"]) == 0
    assert capsys.readouterr().out == path.read_text(encoding="utf-8")
    assert tomllib.loads(path.read_text(encoding="utf-8"))["schema"] == 1
    assert main(["example", "--out", str(path)]) == 2
    assert "exists already" in capsys.readouterr().err
    assert main(["example", "--out", str(tmp_path / "no" / "folder" / "x.toml")]) == 2


def test_assemblies_of_many_files_in_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("a", "b"):
        (tmp_path / f"{name}.toml").write_text(WALL.format(id=name) + WALL.format(id=name + "2"))
    assert main(["assembly", str(tmp_path / "b.toml"), str(tmp_path / "a.toml"), "--json", "--predict"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert [item["id"] for item in data] == ["b", "b2", "a", "a2"]
    assert all(list(item) == KEYS for item in data)
    assert data[0]["bands_hz"][0] == 50
    assert data[0]["bands_hz"][-1] == 5000
    assert len(data[0]["bands_hz"]) == len(data[0]["tl_db"]) == len(data[0]["std_uncertainty_db"]) == 21
    assert data[0]["basis"] == "predicted"
    assert data[0]["iic"] is None
    assert 25 <= data[0]["stc"] <= 45
    assert main(["assembly", str(tmp_path / "a.toml")]) == 0
    assert "STC" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (WALL.format(id="w").replace("wood stud", "bamboo stud"), ["w", "frame", "wood stud"]),
        (WALL.format(id="w").replace("89 mm", "89 parsec"), ["w", "depth"]),
        ("assembly = [", ["not valid TOML"]),
    ],
)
def test_a_bad_assembly_exits_with_two(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, words: list[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(text)
    assert main(["assembly", str(path), "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.strip().splitlines()) == 1
    assert all(word in err for word in words), err


@pytest.mark.parametrize("content", [None, b"\xff\xfe"])
def test_an_assembly_file_that_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None) -> None:
    path = tmp_path / "bad.toml"
    if content is not None:
        path.write_bytes(content)
    assert main(["assembly", str(path)]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs a file without end")
@pytest.mark.parametrize("arguments", [["assembly", "/dev/zero"], ["plan", "/dev/zero", "--json"]])
def test_a_file_without_end_is_not_read_to_it(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    assert "/dev/zero is larger than" in capsys.readouterr().err


def test_a_mark_before_the_text_is_read_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "wall.toml"
    path.write_bytes(b"\xef\xbb\xbf" + WALL.format(id="w").encode())
    assert main(["assembly", str(path)]) == 0
    assert capsys.readouterr().err == ""


def test_a_data_folder_that_is_none_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    for command in (["list"], ["plan", "x", "--json"], ["prices", "--create", "USD"]):
        assert main(["--data-dir", str(tmp_path / "file"), *command]) == 2
        assert len(capsys.readouterr().err.splitlines()) == 1


def test_list_and_data_dir(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--data-dir", str(tmp_path), "list"]) == 0
    assert capsys.readouterr().out == ""
    id = Store(tmp_path).create("My drums")
    assert main(["--data-dir", str(tmp_path), "list"]) == 0
    assert capsys.readouterr().out.startswith(f"{id}\tMy drums\t0 answers\t")


def test_version_and_help(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (["--version"], ["--help"], ["plan", "--help"]):
        with pytest.raises(SystemExit) as left:
            main(arguments)
        assert left.value.code == 0
        assert "stillroom" in capsys.readouterr().out


def test_a_wrong_command_line_exits_with_two() -> None:
    with pytest.raises(SystemExit) as left:
        main(["plam"])
    assert left.value.code == 2


def test_without_a_terminal_the_interview_says_what_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "stillroom plan" in capsys.readouterr().err


def test_a_closed_pipe_is_no_error() -> None:
    command = f'"{sys.executable}" -m wizard questions --json | head -c 10'
    run = subprocess.run(["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert run.stderr == ""


def test_a_fault_of_ours_is_not_taken_for_a_stop(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def broken(_: object) -> int:
        raise RuntimeError("boom")

    monkeypatch.setattr("wizard.cli.run", broken)
    assert main(["list"]) == 70
    assert "fault in Stillroom" in capsys.readouterr().err


def test_starting_imports_nothing_heavy() -> None:
    code = (
        "import sys; from wizard.__main__ import main; main(['example']);"
        "print([name for name in ('textual', 'pint', 'scipy', 'numpy', 'jinja2', 'matplotlib') if name in sys.modules], file=sys.stderr)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stderr.strip() == "[]"


def test_results_as_data() -> None:
    assert as_data(np.array([1.0, np.nan])) == [1.0, None]
    assert as_data({Labour.OWN: np.float64(2.5), "x": frozenset({"b", "a"})}) == {"own": 2.5, "x": ["a", "b"]}
    assert as_data((np.bool_(True), np.int64(3), Labour.HIRED)) == [True, 3, "hired"]
    with pytest.raises(TypeError):
        as_data(object())
