"""``stillroom --plain`` in a real pseudo-terminal: the four golden basements, typed line by line from an empty folder to the plan.

Two of them are broken off half way, by Ctrl+C and by a kill, and gone on with.
"""

from __future__ import annotations

import os
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from journey_kit import asked_in, chosen, flat, golden_answers, golden_plan, not_known, written_plan

from calc.brief import Origin
from calc.units import IMPERIAL
from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.question import Question
from wizard.store import Store

pty = pytest.importorskip("pty", reason="pseudo-terminals are a thing of POSIX systems")
PROMPT = re.compile(r"(?:Answer|Number|Numbers, with commas|Folder for the plan|a all answers)\b[^\n]*: \Z")
SECONDS = 60.0  # until a prompt is given up: generous, as the machine may be busy
HALF_WAY = 40  # questions answered before it is broken off


class Terminal:
    """The command at a terminal of its own: what it says up to its next prompt, and lines typed to it."""

    def __init__(self, process: subprocess.Popen[bytes], ours: int) -> None:
        self.process = process
        self._ours = ours

    def read(self) -> str:
        """All that is said up to where it waits for a line."""
        said = ""
        end = time.monotonic() + SECONDS
        while not PROMPT.search(said):
            assert time.monotonic() < end, f"no prompt came: {said[-2000:]!r}"
            if select.select([self._ours], [], [], 1.0)[0]:
                said += os.read(self._ours, 65536).decode().replace("\r\n", "\n")
        return said

    def type(self, line: str) -> str:
        """Type a line; what is said to it, the echo of the line left out."""
        os.write(self._ours, f"{line}\n".encode())
        return self.read().removeprefix(f"{line}\n")

    def type_half(self, line: str) -> None:
        os.write(self._ours, line.encode())

    def leave(self) -> int:
        os.write(self._ours, b"q\n")
        return self.process.wait(SECONDS)

    def interrupt(self) -> int:
        os.write(self._ours, b"\x03")
        return self.process.wait(SECONDS)

    def kill(self) -> int:
        self.process.send_signal(signal.SIGKILL)
        return self.process.wait(SECONDS)


@contextmanager
def terminal(folder: Path, name: str) -> Iterator[Terminal]:
    ours, theirs = pty.openpty()
    environment = {**os.environ, "STILLROOM_DATA": str(folder), "TERM": "dumb"}
    command = [sys.executable, "-m", "wizard", "--plain", name]
    process = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, start_new_session=True, preexec_fn=own)
    os.close(theirs)
    try:
        yield Terminal(process, ours)
    finally:
        process.kill()
        process.wait()
        os.close(ours)


def own() -> None:
    """Make the pseudo-terminal the one that Ctrl+C is typed at."""
    import fcntl
    import termios

    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


def line_for(question: Question, said: str, wanted: Answers) -> str:
    """What a person types at this question: the numbers that stand before the choices, ~ before an estimate, d, or > to leave it open."""
    answer = wanted.get(question.id)
    if answer is None:
        return ">"
    if not_known(answer):
        return "d"
    if not question.choices:
        return f"~{answer.text}" if answer.origin is Origin.ESTIMATED else answer.text
    return ", ".join(number_of(question, id, said) for id in chosen(question, answer, wanted))


def number_of(question: Question, id: str, said: str) -> str:
    listed = dict(re.findall(r"(?m)^(\d+)\. (.+?)(?: \(.*)?$", said.replace(question.text, "")))
    label = question.label(id).split(" (")[0]
    return next(number for number, shown in listed.items() if label.startswith(shown) or shown.startswith(label))


def walk(at: Terminal, said: str, wanted: Answers, most: int = 1000) -> str:
    """Answer what is asked, up to the end or so many questions; what was said last."""
    for _ in range(most):
        if "That was the last question" in said:
            break
        question = asked_in(f"\n{said}".rpartition("\n\n")[2])
        said = at.type(line_for(question, said, wanted))
        assert "Not accepted" not in said, said
    return said


def begin(at: Terminal, wanted: Answers) -> str:
    assert "There is no interview" in at.read()
    return at.type("1" if wanted.units == IMPERIAL else "2")


def saved(folder: Path) -> Answers:
    store = Store(folder)
    return store.load(store.list()[0].id).answers


def write(at: Terminal, said: str, folder: Path) -> Path:
    assert "That was the last question" in said
    assert "Folder for the plan" in at.type("p")
    assert f"Written: {folder}" in flat(at.type(str(folder)))
    return folder / "plan.md"


@pytest.mark.parametrize("name", ["easy", "attached_neighbour"])
def test_typed_from_the_first_question_to_the_plan(name: str, tmp_path: Path) -> None:
    wanted = golden_answers(name)
    with terminal(tmp_path / "data", wanted.name) as at:
        plan = write(at, walk(at, begin(at, wanted), wanted), tmp_path / "plan")
        assert at.leave() == 0
    assert saved(tmp_path / "data") == wanted
    assert written_plan(plan) == golden_plan(name)


@pytest.mark.parametrize(("name", "how"), [("low_ceiling", "interrupt"), ("natural_draft", "kill")])
def test_broken_off_half_way_and_gone_on_with(name: str, how: str, tmp_path: Path) -> None:
    wanted = golden_answers(name)
    with terminal(tmp_path / "data", wanted.name) as at:
        broken_off_at = asked_in(walk(at, begin(at, wanted), wanted, HALF_WAY))
        at.type_half("half an ans")
        assert getattr(at, how)() == {"interrupt": 130, "kill": -signal.SIGKILL}[how]
    half = saved(tmp_path / "data")
    assert 0 < len(half) < len(wanted)
    assert half.items() <= wanted.items()
    with terminal(tmp_path / "data", wanted.name) as at:
        said = at.read()
        passed = engine.QUESTIONS[engine.QUESTIONS.index(asked_in(said)) : engine.QUESTIONS.index(broken_off_at)]
        assert not passed or how == "kill"  # a kill forgets what was left open after the last answer, and nothing else
        assert not any(question.id in wanted for question in passed)
        plan = write(at, walk(at, said, wanted), tmp_path / "plan")
        assert at.leave() == 0
    assert saved(tmp_path / "data") == wanted
    assert written_plan(plan) == golden_plan(name)
