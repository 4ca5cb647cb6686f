"""Help, manual page, README and the shells say what the command line does."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path

import pytest

from wizard import __main__, cli
from wizard.__main__ import main
from wizard.cli_parser import EXIT_CODES, SHELLS, parser
from wizard.manual import commands, manual

README = Path(__file__).parents[2] / "README.md"
NAMES = [name for name, _, _ in commands(parser())]


def test_the_manual_page_is_that_of_this_command_line() -> None:
    """After a change of the command line: python -m wizard.manual > wizard/stillroom.1"""
    assert files("wizard").joinpath("stillroom.1").read_text(encoding="utf-8") == manual(parser())


def test_every_command_stands_in_the_manual() -> None:
    page = manual(parser())
    for name, about, _ in commands(parser()):
        assert f".SS stillroom {name}" in page
        assert about
    assert not any(line.startswith("'") for line in page.splitlines())


def test_every_command_is_carried_out() -> None:
    assert [*cli.COMMANDS] == [None, *NAMES]


def one_line(text: str) -> str:
    return " ".join(text.replace("\\", "").split())


def test_exit_codes_are_the_same_everywhere() -> None:
    assert [*EXIT_CODES] == [cli.DONE, cli.STOPPED, cli.BAD_INPUT, __main__.FAULT, __main__.INTERRUPTED]
    readme = re.search(r"Exit codes: (.+?)\.\s", README.read_text(encoding="utf-8"), re.DOTALL)
    assert readme
    assert one_line(readme[1]) == "; ".join(f"{code} {words}" for code, words in EXIT_CODES.items())
    for text in (parser().format_help(), manual(parser())):
        assert all(f" {code} {words} " in one_line(text) for code, words in EXIT_CODES.items())


def test_the_readme_names_every_command() -> None:
    text = README.read_text(encoding="utf-8")
    assert all(f"stillroom {name}" in text for name in NAMES)


@pytest.mark.parametrize("name", ["", *NAMES])
def test_every_help_has_an_example_that_works_and_explains_every_option(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main([name, "--help"] if name else ["--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out
    example = re.search(r"(?m)^example: stillroom (.+)$", said)
    assert example
    assert parser().parse_args(shlex.split(example[1])).command == (name or None)
    command = {name: command for name, _, command in commands(parser())}.get(name, parser())
    assert all(action.help for action in command._actions if action.option_strings)


@pytest.mark.parametrize("shell", SHELLS)
def test_a_shell_can_complete_the_commands(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert all(name in script for name in ("stillroom", *NAMES))
    if shutil.which(shell) and shell != "tcsh":  # which has no way to read a script and not run it
        subprocess.run([shell, "-n"], input=script, text=True, check=True)


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs bash")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("stillroom pl", "plan"),
        ("stillroom plan --fo", "--force"),
        ("stillroom completion z", "zsh"),
        ("stillroom example --out answ", "answers.toml"),
        ("stillroom plan answ", "answers.toml"),
    ],
)
def test_bash_completes(typed: str, offered: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["completion", "bash"])
    (tmp_path / "answers.toml").write_text("")
    asked = f"COMP_WORDS=({typed})\nCOMP_CWORD=$((${{#COMP_WORDS[@]}} - 1))\n_shtab_stillroom\necho ${{COMPREPLY[*]}}\n"
    script = f"{capsys.readouterr().out}\n{asked}"
    found = subprocess.run(["bash", "--norc"], input=script, capture_output=True, text=True, cwd=tmp_path, check=True)
    assert found.stdout.split() == [offered]
    assert found.stderr == ""
