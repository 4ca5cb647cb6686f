"""Nothing that only a POSIX system has is needed: simulated by taking it away, as there is no Windows here to try it on."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import QUESTIONS
from wizard.store import Store

TAKEN = """
import os, pkgutil, sys
import filelock, platformdirs  # they look at the system's name and bring their own for Windows
for name in ("fcntl", "resource", "termios", "tty", "pty", "pwd", "grp", "curses", "_curses", "readline", "syslog", "posix_ipc"):
    sys.modules[name] = None
for name in ("fchmod", "O_NOFOLLOW", "fork", "geteuid", "getuid", "getgid", "mkfifo", "killpg", "setsid", "chown", "sync"):
    if hasattr(os, name):
        delattr(os, name)
"""
EVERYTHING = """
import calc, wizard, templates
for package in (calc, wizard):
    for module in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
        if module.name != "wizard.__main__":
            __import__(module.name)
"""
SAVED = """
import wizard.store.locks
class Lock:  # the real one was made for this system
    def __init__(self, *_, **__): pass
    def acquire(self): pass
    def release(self): pass
wizard.store.locks.FileLock = Lock
from wizard.__main__ import main
from wizard.interview.answers import Answer, Answers
from wizard.store import Store
store = Store()
id = store.create("Drums")
assert store.claim(id)
store.save(id, Answers({"people": Answer("2")}, "imperial", "Drums"), "people")
assert store.load(id).answers["people"].text == "2"
assert main(["list"]) == 0
"""


def test_every_module_imports_and_an_interview_is_saved(tmp_path: Path) -> None:
    own = os.environ | {"STILLROOM_DATA": str(tmp_path / "data")}
    code = TAKEN + EVERYTHING + SAVED
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=own, check=False)
    assert found.returncode == 0, found.stderr
    assert "Drums" in found.stdout


@pytest.mark.parametrize("encoding", ["ascii", "cp437", "cp1252"])
def test_a_console_that_lacks_letters_gets_the_rest(encoding: str, tmp_path: Path) -> None:
    own = os.environ | {"STILLROOM_DATA": str(tmp_path / "data"), "PYTHONIOENCODING": encoding}
    Store(tmp_path / "data").create("日本 “drums”")

    def said(*arguments: str) -> bytes:
        found = subprocess.run([sys.executable, "-m", "wizard", *arguments], capture_output=True, env=own, check=False)
        assert found.returncode == 0, found.stderr
        return found.stdout

    assert b"\t?? " in said("list")
    assert len(said("questions").splitlines()) > 100
    asked = json.loads(said("questions", "--json"))
    assert [each["question"] for each in asked] == [each.text for each in QUESTIONS]
    assert read_strictly(said("example").decode("utf-8"))


def test_a_folder_is_not_flushed_where_it_cannot_be_opened(tmp_path: Path) -> None:
    code = """
import os, sys
from pathlib import Path
from wizard.store import Disk
opened = os.open
def refuse(path, *rest):
    if os.path.isdir(path):
        raise PermissionError(13, "a folder cannot be opened there")
    return opened(path, *rest)
os.open, os.name = refuse, "nt"
folder = os.path.abspath(sys.argv[1])
Disk().flush_folder(folder)
print("not flushed")
"""
    found = subprocess.run([sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=False)
    assert found.stdout == "not flushed\n", found.stderr
