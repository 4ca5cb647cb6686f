"""The store's own seam: every system call that changes the disk fails once, and the process dies at every one of them."""

from __future__ import annotations

import errno
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from store_kit import QuickDisk

from wizard.interview.answers import Answer, Answers
from wizard.session import Session
from wizard.store import Disk, Store, StoreError

BEFORE = Answers({"people": Answer("1")}, "imperial", "Drums")
AFTER = BEFORE.with_answer("people", Answer("2"))


class Killed(BaseException):
    """The process died; nothing that it would have tidied up is tidied up."""


class WeakDisk(QuickDisk):
    """Counts its calls, and breaks at one of them: with an error of the system, or by dying, when all later calls do nothing either.

    A write that breaks has written half.
    """

    def __init__(self, breaks_at: int = -1, error: int | None = None) -> None:
        self.calls = 0
        self.names: list[str] = []
        self._at = breaks_at
        self._error = error
        self._dead = False

    def __getattribute__(self, name: str) -> Any:
        method = super().__getattribute__(name)
        if name.startswith("_") or name not in Disk.__dict__:
            return method
        return lambda *arguments: self._call(name, method, arguments)

    def _call(self, name: str, method: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
        if self._dead:
            raise Killed
        self.names.append(name)
        self.calls += 1
        if self.calls - 1 != self._at:
            return method(*arguments)
        if name == "write":
            handle, data = arguments
            method(handle, data[: len(data) // 2])
        if self._error is None:
            self._dead = True
            raise Killed
        raise OSError(self._error, "of the test")


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An interview with one earlier version, and one change that can be undone."""
    folder = tmp_path_factory.mktemp("template")
    store = Store(folder)
    store.save(store.create("Drums", BEFORE.with_answer("people", Answer("0"))), BEFORE, None)
    for name in ("answers.toml", "steps.json"):
        assert next(folder.glob(f"interviews/*/{name}")).stat().st_size
    return folder


def prepared(template: Path, folder: Path) -> str:
    shutil.copytree(template, folder)
    return next((folder / "interviews").iterdir()).name


def save(store: Store, id: str) -> None:
    store.load(id)
    store.save(id, AFTER, None)


def undo(store: Store, id: str) -> None:
    session = Session.open(store, id)
    try:
        session.undo()
    finally:
        session.close()


def delete(store: Store, id: str) -> None:
    store.delete(id)


def there_and_back(store: Store, id: str) -> None:
    store.delete(id)
    store.undelete(id)


def over_damage(store: Store, id: str) -> None:
    path = store.folder / "interviews" / id / "answers.toml"
    path.write_text("answers = [")
    store.save(id, store.load(id).answers, None)


def new(store: Store, id: str) -> None:
    store.create("Another", BEFORE)


ACTS = (save, undo, delete, there_and_back, over_damage, new)


def calls(act: Callable[[Store, str], None], template: Path, folder: Path) -> int:
    disk = WeakDisk()
    act(Store(folder, disk=disk), prepared(template, folder))
    return disk.calls


def every_break(act: Callable[[Store, str], None], template: Path, folder: Path, error: int | None) -> Iterator[tuple[Path, str, Store]]:
    total = calls(act, template, folder / "count")
    assert total
    for at in range(total):
        place = folder / str(at)
        id = prepared(template, place)
        yield place, id, Store(place, disk=WeakDisk(at, error))


def check(folder: Path, id: str) -> None:
    """Whatever happened: the interview is there or in the trash, holds a version that was once saved, can be changed, and undo fits it."""
    store = Store(folder, disk=QuickDisk())
    if id not in [entry.id for entry in store.list()]:
        store.undelete(id)
    loaded = store.load(id)
    assert loaded.answers["people"].text in "012"
    session = Session.open(store, id)
    before = session.answers
    if loaded.steps.past:
        session.undo()
        assert int(session.answers["people"].text if "people" in session.answers else "-1") == int(before["people"].text) - 1
        session.redo()
        assert session.answers == before
    session.go("people")
    session.accept("7", knowingly=True)
    assert Store(folder).load(id).answers["people"].text == "7"
    session.close()
    assert not list((folder / "interviews" / id).glob("*.tmp"))


@pytest.mark.parametrize("act", ACTS)
def test_dying_at_any_call_loses_nothing(template: Path, tmp_path: Path, act: Callable[[Store, str], None]) -> None:
    for folder, id, store in every_break(act, template, tmp_path, None):
        with pytest.raises(Killed):
            act(store, id)
        check(folder, id)


@pytest.mark.parametrize(
    ("act", "code", "words"),
    [*((act, errno.ENOSPC, "the disk is full; free some space") for act in ACTS), (save, errno.EROFS, "can only be read")],
)
def test_an_error_at_any_call_is_told_and_loses_nothing(
    template: Path, tmp_path: Path, act: Callable[[Store, str], None], code: int, words: str
) -> None:
    told = []
    for folder, id, store in every_break(act, template, tmp_path, code):
        try:
            act(store, id)
        except StoreError as error:
            told.append(str(error))
        check(folder, id)
    assert told
    assert all("\n" not in sentence and words in sentence for sentence in told)


def test_steps_are_saved_before_the_answers_and_a_version_is_kept_before_it_is_replaced(template: Path, tmp_path: Path) -> None:
    disk = WeakDisk()
    save(Store(tmp_path / "data", disk=disk), prepared(template, tmp_path / "data"))
    assert disk.names == [
        *("begin", "write", "close", "rename"),  # the steps
        *("begin", "write", "flush", "close", "make_folder", "link", "rename", "flush_folder"),  # the answers
    ]


def test_a_save_that_fails_again_and_again_pushes_no_version_out(template: Path, tmp_path: Path) -> None:
    id = prepared(template, tmp_path / "data")

    class NoRename(Disk):
        def rename(self, old: Path, new: Path) -> None:
            raise OSError(errno.ENOSPC, "full")

    store = Store(tmp_path / "data", disk=NoRename())
    for count in range(15):
        with pytest.raises(StoreError, match="disk is full"):
            store.save(id, BEFORE.with_answer("people", Answer(str(count + 2))), None)
    assert len(Store(tmp_path / "data").versions(id)) == 2
