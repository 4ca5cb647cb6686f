"""The real command in a pseudo-terminal, killed in the middle of an answer."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tui_kit import saved

from wizard.store import Store

pty = pytest.importorskip("pty", reason="pseudo-terminals are a thing of POSIX systems")


def read_until(terminal: int, word: bytes, seconds: float = 20.0) -> bytes:
    """What the terminal shows until a word comes."""
    shown = b""
    end = time.monotonic() + seconds
    while word not in shown:
        left = end - time.monotonic()
        assert left > 0, f"{word!r} never came: {shown[-2000:]!r}"
        if select.select([terminal], [], [], left)[0]:
            shown += os.read(terminal, 65536)
    return shown


def test_a_killed_process_loses_only_the_unfinished_keystrokes(tmp_path: Path) -> None:
    saved(tmp_path, {})
    ours, theirs = pty.openpty()
    environment = {**os.environ, "STILLROOM_DATA": str(tmp_path), "TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24"}
    with subprocess.Popen([sys.executable, "-m", "wizard"], stdin=theirs, stdout=theirs, stderr=theirs, env=environment) as process:
        try:
            read_until(ours, b"Test basement")
            os.write(ours, b"\r")
            read_until(ours, b"12 of the first 12")
            os.write(ours, b"20 ft\r14 ft\r7-")
            read_until(ours, b"10 of the first 12")
        finally:
            process.send_signal(signal.SIGKILL)
    os.close(theirs)
    os.close(ours)
    entry = Store(tmp_path).list()[0]
    answers = Store(tmp_path).load(entry.id).answers
    assert {key: answers[key].text for key in answers} == {"shell_length": "20 ft", "shell_width": "14 ft"}
    assert entry.place == "shell_height"
