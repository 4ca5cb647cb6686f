"""A disk that is really full, a disk that can only be read, a limit on the size of files."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from wizard.interview.answers import Answer, Answers
from wizard.session import Session
from wizard.store import Store, StoreError

ANSWERS = Answers({"people": Answer("1")}, "imperial", "Drums")


@pytest.fixture
def small(tmp_path: Path) -> Iterator[Path]:
    """A file system of 128 kB of its own. Needs the right to mount one."""
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("only root may mount a file system")
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=128k", "tmpfs", str(tmp_path)], capture_output=True, check=False)
    if made.returncode:
        pytest.skip("no file system can be mounted here")
    yield tmp_path
    subprocess.run(["umount", "-l", str(tmp_path)], check=True)


def fill(path: Path) -> None:
    """Write until no more goes in."""
    with path.open("ab", buffering=0) as file, suppress(OSError):
        while file.write(b"x" * 4096):
            pass


def remount(folder: Path, how: str) -> None:
    subprocess.run(["mount", "-o", f"remount,{how}", str(folder)], check=True)


def test_a_full_disk_is_told_and_nothing_is_lost(small: Path) -> None:
    id = Store(small).create("Drums", ANSWERS)
    session = Session.open(Store(small), id)
    session.go("people")
    filler = small / "filler"
    fill(filler)
    with pytest.raises(StoreError, match="the disk is full; free some space and try again"):
        session.accept("2")
    assert session.answers["people"].text == "2"  # still here, until the person quits
    assert Store(small).load(id).answers["people"].text == "1"
    filler.unlink()
    session.save()
    assert Store(small).load(id).answers["people"].text == "2"
    assert session.undo() is not None
    assert Store(small).load(id).answers["people"].text == "1"
    session.close()


def test_a_disk_that_can_only_be_read_is_told(small: Path) -> None:
    id = Store(small).create("Drums", ANSWERS)
    remount(small, "ro")
    try:
        session = Session.open(Store(small), id)
        assert not session.read_only
        session.go("people")
        with pytest.raises(StoreError, match="the disk can only be read"):
            session.accept("2")
        with pytest.raises(StoreError, match="the disk can only be read"):
            Store(small).create("Another")
        assert session.answers["people"].text == "2"
    finally:
        remount(small, "rw")
    session.save()
    assert Store(small).load(id).answers["people"].text == "2"


def test_a_damaged_file_on_a_disk_that_can_only_be_read_stays_there(small: Path) -> None:
    store = Store(small)
    id = store.create("Drums", ANSWERS)
    store.save(id, ANSWERS.with_answer("people", Answer("2")), None)
    (small / "interviews" / id / "answers.toml").write_text("answers = [")
    remount(small, "ro")
    try:
        loaded = Store(small).load(id)
    finally:
        remount(small, "rw")
    assert "it stays where it is" in loaded.notice
    assert loaded.answers == ANSWERS


def test_a_limit_on_the_size_of_files_is_told(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    id = Store(tmp_path).create("Drums", ANSWERS)
    store = Store(tmp_path)
    store.load(id)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, before[1]))  # Python ignores the signal and sees an error
    try:
        with pytest.raises(StoreError, match="larger than the system allows"):
            store.save(id, ANSWERS.with_answer("people", Answer("2")), None)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert Store(tmp_path).load(id).answers == ANSWERS
    store.save(id, ANSWERS.with_answer("people", Answer("2")), None)
    assert Store(tmp_path).load(id).answers["people"].text == "2"
