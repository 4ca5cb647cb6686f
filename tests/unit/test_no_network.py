"""Stillroom asks nothing of any network: plan, plain interview and terminal application, watched by an audit hook of Python itself."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

WATCH = """
import sys
seen = []
LOCAL = {"socket.__new__", "socket.sethostname", "socket.gethostname"}  # making one asks nobody yet, and an event loop makes a pair
ASKING = ("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "imaplib.", "poplib.", "nntplib.", "telnetlib.", "webbrowser.")
def watch(event, arguments):
    if event.startswith(ASKING) and event not in LOCAL:
        seen.append((event, str(arguments)))
        raise PermissionError("no network here")
sys.addaudithook(watch)
"""
CHECK = """
import socket
if seen:
    raise SystemExit(f"the network was asked: {seen}")
try:
    socket.getaddrinfo("localhost", 80)
except PermissionError:
    print("watched to the end")
"""
PLAN = """
from wizard.__main__ import main
assert main(["example", "--out", "answers.toml"]) == 0
assert main(["plan", "answers.toml", "--out", "plan", "--html", "--json"]) == 0
assert main(["questions"]) == main(["prices"]) == main(["list"]) == main(["completion", "bash"]) == 0
"""
PLAIN = """
import io
from wizard.__main__ import main
sys.stdin = io.StringIO("1\\n20 ft\\n14 ft\\n8 ft\\n?\\n?\\nv\\nq\\n")
assert main(["--plain", "Drums"]) == 0
assert main(["list"]) == 0
"""
SCREEN = """
import asyncio
from wizard.app import StillroomApp
from wizard.interview.answers_file import read_strictly
from wizard.store import Store
from importlib.resources import files
answers = read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))
store = Store()
store.create("Drums", answers)
async def walk():
    app = StillroomApp(store)
    async with app.run_test(size=(80, 24)) as pilot:
        for key in ("enter", "f1", "escape", "f5", "escape", "f6"):
            await pilot.press(key)
        await app.workers.wait_for_complete()
        await pilot.pause()
asyncio.run(walk())
"""


@pytest.mark.parametrize("what", [PLAN, PLAIN, SCREEN], ids=["plan", "plain", "screen"])
def test_no_network_is_asked(what: str, tmp_path: Path) -> None:
    code = WATCH + what + CHECK
    own = os.environ | {"STILLROOM_DATA": str(tmp_path / "data")}
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path, env=own, check=False)
    assert found.returncode == 0, found.stderr
    assert found.stdout.endswith("watched to the end\n")
