"""kill -9 while answers are given, undone and done again: every acknowledged answer is there afterwards, the file is whole, undo fits it.

STILLROOM_KILL_ROUNDS=200 runs the long form.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from pathlib import Path

from wizard.interview.answers import Answer, Answers
from wizard.session import Session
from wizard.store import Store

ROUNDS = int(os.environ.get("STILLROOM_KILL_ROUNDS", "10"))
HIGHEST = 30  # what the question of how many people takes


def write_on(folder: Path, id: str) -> None:
    """Count up, now and then a step back and forth; tell what is saved."""
    session = Session.open(Store(folder), id)
    count = int(session.answers["people"].text)
    while True:
        count = count % HIGHEST + 1
        session.go("people")
        session.accept(str(count), knowingly=True)
        os.write(1, f"{count}\n".encode())
        if count % 5 == 0:
            session.undo()
            session.redo()


def killed_after(seconds: float, folder: Path, id: str) -> int:
    """Let a process of its own answer for a while, kill it, and return the last count that it has told."""
    with subprocess.Popen([sys.executable, __file__, folder, id], stdout=subprocess.PIPE) as child:
        assert child.stdout
        told = child.stdout.read1()  # the first answer is saved
        time.sleep(seconds)
        child.kill()
        return int((told + child.stdout.read()).split()[-1])


def test_killed_while_answering(tmp_path: Path) -> None:
    id = Store(tmp_path).create("Drums", Answers({"people": Answer("1")}))
    chance = random.Random(7)
    for _ in range(ROUNDS):
        told = killed_after(chance.uniform(0.0, 0.06), tmp_path, id)
        session = Session.open(Store(tmp_path), id)
        now = int(session.answers["people"].text)
        # The answer after the last one told may be saved already, and a step back may have been under way.
        assert session.notice == ""
        assert now in (told, told % HIGHEST + 1, told - 1 if told % 5 == 0 else told)
        assert session.undo() is not None
        assert int(session.answers["people"].text) in (now - 1, HIGHEST)
        assert session.redo() is not None
        assert int(session.answers["people"].text) == now
        session.close()
    assert not list(tmp_path.glob("interviews/*/damaged/*"))


if __name__ == "__main__":
    write_on(Path(sys.argv[1]), sys.argv[2])
