"""The manual page in the wheel says what the command line says, and shells learn the commands."""

from __future__ import annotations

from importlib.resources import files

import pytest

from wizard.__main__ import main
from wizard.cli import parser
from wizard.manual import commands, manual


def test_the_manual_page_is_that_of_this_command_line() -> None:
    """After a change of the command line: python -m wizard.manual > wizard/stillroom.1"""
    assert files("wizard").joinpath("stillroom.1").read_text(encoding="utf-8") == manual(parser())


def test_every_command_and_exit_code_stands_in_the_manual() -> None:
    page = manual(parser())
    for name, about, _ in commands(parser()):
        assert f".SS stillroom {name}" in page
        assert about
    assert ".SH EXIT STATUS" in page
    assert not any(line.startswith("'") for line in page.splitlines())


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_a_shell_can_complete_the_commands(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert "stillroom" in script
    assert "questions" in script
