"""kill -9 while answers are being saved: every acknowledged answer is there afterwards, and the file is whole."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from wizard.interview.answers import Answer, Answers
from wizard.store import Store

ROUNDS = int(os.environ.get("STILLROOM_KILL_ROUNDS", "6"))
WRITER = """
import sys
from wizard.interview.answers import Answer
from wizard.store import Store
store = Store(sys.argv[1])
saved = store.load(sys.argv[2])
count = int(saved.answers["people"].text)
while True:
    count += 1
    store.save(sys.argv[2], saved.answers.with_answer("people", Answer(str(count))), None)
    print(count, flush=True)
"""


@pytest.mark.skipif(os.name == "nt", reason="needs SIGKILL")
def test_killed_while_saving(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums", Answers({"people": Answer("0")}))
    chance = random.Random(7)
    for _ in range(ROUNDS):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(tmp_path), id], stdout=subprocess.PIPE, text=True)
        assert writer.stdout is not None
        acknowledged = int(writer.stdout.readline())
        time.sleep(chance.uniform(0.0, 0.05))
        os.kill(writer.pid, signal.SIGKILL)
        lines = writer.stdout.read().split()
        writer.wait()
        # The last line may be cut off in the middle; the one before it was acknowledged whole.
        acknowledged = int(lines[-2]) if len(lines) > 1 else acknowledged
        loaded = Store(tmp_path).load(id)
        assert loaded.notice == ""
        assert int(loaded.answers["people"].text) >= acknowledged
