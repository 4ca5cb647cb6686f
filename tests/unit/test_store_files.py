"""Saved interviews: nothing typed is lost, and whatever lies in the folder is explained."""

from __future__ import annotations

import os
import shutil
import stat
from pathlib import Path
from typing import Any

import pytest

from calc.brief import Origin
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.store import HISTORY, Store, StoreError, locks
from wizard.store.names import is_id

ANSWERS = Answers(
    {
        "shell_length": Answer("20 ft"),
        "joist_span": DONT_KNOW,
        "level": Answer("104 dBA", Origin.ESTIMATED),
        "listeners": Answer("bedroom_above, garden_neighbour"),
        "people": Answer("2", Origin.DEFAULT),
    },
    "imperial",
    "Drums",
)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    ticks = iter(range(10_000))
    return Store(tmp_path / "data", now=lambda: f"2026-01-01T00:{next(ticks):04d}")


def answers_file(store: Store, id: str) -> Path:
    return store.folder / "interviews" / id / "answers.toml"


def counted(count: int) -> Answers:
    return ANSWERS.with_answer("people", Answer(str(count)))


def test_what_is_saved_is_loaded(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    store.save(id, ANSWERS, "level")
    loaded = Store(store.folder).load(id)
    assert loaded.answers == ANSWERS
    assert loaded.place == "level"
    assert loaded.notice == ""


def test_the_list_has_name_place_and_change_newest_first(store: Store) -> None:
    first, second = store.create("One", ANSWERS), store.create("Two")
    store.save(first, store.load(first).answers, "budget")
    entries = store.list()
    assert [(entry.id, entry.name, entry.place, entry.answered) for entry in entries] == [
        (first, "One", "budget", 5),
        (second, "Two", None, 0),
    ]
    assert entries[0].changed > entries[1].changed
    assert store.find("One") == first
    assert store.find(second) == second
    assert store.find("three") is None


def test_rename_duplicate_delete_and_undo(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    store.rename(id, "  Loud \n room ")
    copy = store.duplicate(id)
    assert sorted(entry.name for entry in store.list()) == ["Loud room", "Loud room (copy)"]
    assert store.load(copy).answers.items_ == ANSWERS.items_
    store.delete(id)
    assert [entry.id for entry in store.list()] == [copy]
    store.undelete(id)
    assert store.load(id).answers.name == "Loud room"
    with pytest.raises(StoreError, match="no deleted interview"):
        store.undelete(id)


@pytest.mark.parametrize("name", ["../../etc/passwd", "a/b\\c", "CON", ".", "[bold]x", "ünïcode", "日本", "x" * 150, "\x1b[31mred"])
def test_a_name_never_becomes_a_path(store: Store, name: str) -> None:
    id = store.create(name, ANSWERS)
    assert answers_file(store, id).resolve().is_relative_to(store.folder.resolve())
    assert is_id(id)
    assert store.load(id).answers.items_ == ANSWERS.items_


@pytest.mark.parametrize("id", ["../x", "/etc", "", "a/b", "A", "x" * 200])
def test_a_strange_id_is_refused(store: Store, id: str) -> None:
    for act in (store.load, store.delete, store.undelete):
        with pytest.raises(StoreError):
            act(id)
    with pytest.raises(StoreError):
        store.save(id, ANSWERS, None)


@pytest.mark.parametrize("name", ["", "  \n", "x" * 201])
def test_a_name_that_is_none_is_refused(store: Store, name: str) -> None:
    with pytest.raises(StoreError, match="name"):
        store.create(name)


def test_the_last_ten_versions_are_kept(store: Store) -> None:
    id = store.create("Drums", counted(1))
    for count in range(2, 30):
        store.save(id, counted(count), None)
    assert [version.answers["people"].text for version in store.versions(id)] == [str(count) for count in range(28, 28 - HISTORY, -1)]
    assert store.load(id).answers["people"].text == "29"


def test_saving_the_same_again_writes_nothing(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    before = answers_file(store, id).read_bytes()
    store.save(id, store.load(id).answers, None)
    assert answers_file(store, id).read_bytes() == before
    assert store.versions(id) == ()


@pytest.mark.parametrize(
    "garbage", [b"", b"answers = [", b"\xff\xfe\x00", b'schema = "x"', b"schema = 1\nanswers = 3", b"[answers]\npeople = { txt = 1 }"]
)
def test_a_damaged_file_is_set_aside_and_the_last_good_version_opened(store: Store, garbage: bytes) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), "level")
    answers_file(store, id).write_bytes(garbage)
    assert "cannot be read" in store.list()[0].notice
    loaded = store.load(id)
    assert loaded.answers["people"].text == "1"
    assert "damaged" in loaded.notice
    assert "last good version" in loaded.notice
    aside = list((answers_file(store, id).parent / "damaged").iterdir())
    assert [path.read_bytes() for path in aside] == [garbage]
    store.save(id, loaded.answers, None)
    assert store.load(id).notice == ""


def test_damage_without_an_earlier_version_is_said(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    answers_file(store, id).write_text("answers = [")
    with pytest.raises(StoreError, match="no earlier version"):
        store.load(id)


def made_later(store: Store, id: str) -> str:
    later = answers_file(store, id).read_text().replace("schema = 1", "schema = 99")
    answers_file(store, id).write_text(later)
    return later


def test_a_file_of_a_later_version_is_left_alone(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    later = made_later(store, id)
    with pytest.raises(StoreError, match="later version"):
        store.load(id)
    with pytest.raises(StoreError, match="later version"):
        store.save(id, ANSWERS, None)
    assert answers_file(store, id).read_text() == later


def test_the_version_before_a_later_one_is_offered_and_nothing_is_lost(store: Store) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), None)
    later = made_later(store, id)
    loaded = Store(store.folder).load(id)
    assert loaded.answers == counted(1)
    assert "later version" in loaded.notice
    assert "set aside" in loaded.notice
    assert answers_file(store, id).read_text() == later  # looking changes nothing
    with pytest.raises(StoreError, match="later version"):
        Store(store.folder).save(id, counted(3), None)  # who has not seen the notice
    store.load(id)
    store.save(id, counted(3), None)
    assert store.load(id).answers == counted(3)
    assert [path.read_text() for path in (answers_file(store, id).parent / "later").iterdir()] == [later]


def test_the_list_names_a_damaged_interview_by_its_last_good_version(store: Store) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), "level")
    answers_file(store, id).unlink()
    entry = store.list()[0]
    assert (entry.name, entry.answered) == ("Drums", 5)
    assert "it is gone" in entry.notice
    assert "last good version" in entry.notice


def test_the_revision_goes_on_after_damage_and_after_a_folder_was_removed(store: Store) -> None:
    id = store.create("Drums", counted(1))
    for count in (2, 3):
        store.save(id, counted(count), None)
    answers_file(store, id).write_text("answers = [")
    store.save(id, store.load(id).answers.with_answer("people", Answer("4")), None)
    assert "revision = 3" in answers_file(store, id).read_text()
    shutil.rmtree(answers_file(store, id).parent)
    store.save(id, counted(5), None)
    assert "revision = 4" in answers_file(store, id).read_text()


def test_comments_and_unknown_keys_of_a_hand_made_file_are_kept(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    path = answers_file(store, id)
    path.write_text(path.read_text() + '\nmy_own_key = "kept"  # and this remark\n')
    loaded = store.load(id)
    store.save(id, loaded.answers.with_answer("people", Answer("4")), "people")
    text = path.read_text()
    assert 'my_own_key = "kept"  # and this remark' in text
    assert 'people = "4"' in text


def test_a_second_window_does_not_overwrite_the_first(store: Store) -> None:
    id = store.create("Drums", counted(1))
    other = Store(store.folder)
    other.load(id)
    store.save(id, counted(2), None)
    with pytest.raises(StoreError, match="another window"):
        other.save(id, counted(3), None)
    assert store.load(id).answers["people"].text == "2"
    again = other.load(id)
    other.save(id, again.answers.with_answer("people", Answer("4")), None)
    assert other.load(id).answers["people"].text == "4"


def test_a_held_lock_is_explained(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locks, "WAIT", 0.05)
    id = store.create("Drums", ANSWERS)
    with locks.writing(answers_file(store, id).parent), pytest.raises(StoreError, match="Another Stillroom"):
        store.save(id, counted(7), None)


def test_a_removed_folder_is_made_again(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    shutil.rmtree(store.folder)
    assert store.list() == ()
    store.save(id, counted(3), None)
    assert store.load(id).answers["people"].text == "3"


@pytest.mark.skipif(os.name == "nt", reason="file modes are POSIX")
def test_only_the_user_can_read_the_files(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    store.save(id, counted(3), None)
    assert store.claim(id)
    assert {path.name for path in answers_file(store, id).parent.iterdir()} >= {"open", "lock", "steps.json", "history"}
    for path in store.folder.rglob("*"):
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_can_be_read_and_says_so_on_save(store: Store) -> None:
    id = store.create("Drums", ANSWERS)
    folder = answers_file(store, id).parent
    folder.chmod(0o500)
    try:
        assert store.load(id).answers == ANSWERS
        with pytest.raises(StoreError, match="could not be saved"):
            store.save(id, counted(3), None)
    finally:
        folder.chmod(0o700)


def test_the_folder_comes_from_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STILLROOM_DATA", str(tmp_path / "own"))
    assert Store().folder == tmp_path / "own"
    monkeypatch.delenv("STILLROOM_DATA")
    assert Store().folder.name == "stillroom"


def test_an_open_interview_belongs_to_one_window(store: Store) -> None:
    id = store.create("Drums", counted(1))
    other = Store(store.folder)
    assert store.claim(id)
    assert store.claim(id)
    assert not other.claim(id)
    for act in (lambda: other.rename(id, "Loud"), lambda: other.delete(id)):
        with pytest.raises(StoreError, match="open in another Stillroom"):
            act()
    store.rename(id, "Mine")
    store.release(id)
    assert other.claim(id)
    other.delete(id)
    other.undelete(id)
    assert store.load(id).answers.name == "Mine"


def test_an_undeleted_interview_overwrites_none(store: Store) -> None:
    id = store.create("Drums", counted(1))
    store.delete(id)
    store.save(id, counted(2), None)  # as a window that had it open would
    with pytest.raises(StoreError, match="there again already"):
        store.undelete(id)
    assert store.load(id).answers == counted(2)


def test_a_clock_that_went_back_is_told_and_loses_nothing(tmp_path: Path) -> None:
    id = Store(tmp_path, now=lambda: "2026-03-01T12:00:00+01:00").create("Drums", counted(1))
    back = Store(tmp_path, now=lambda: "2020-01-01T00:00:00+00:00")
    assert "clock" in back.load(id).notice
    back.save(id, counted(2), None)
    assert back.load(id).answers == counted(2)
    assert [version.answers for version in back.versions(id)] == [counted(1)]
    assert Store(tmp_path, now=lambda: "2026-03-01T11:00:30+00:00").load(id).notice == ""


def test_the_list_compares_times_over_time_zones(tmp_path: Path) -> None:
    earlier = Store(tmp_path, now=lambda: "2026-03-01T12:00:00+05:00").create("Earlier")
    later = Store(tmp_path, now=lambda: "2026-03-01T09:00:00+00:00").create("Later")
    assert [entry.id for entry in Store(tmp_path).list()] == [later, earlier]


def test_a_file_that_the_system_refuses_is_told_and_not_replaced(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), None)
    read = Path.open

    def refused(path: Path, *arguments: Any, **more: Any) -> Any:
        if path == answers_file(store, id):
            raise PermissionError(13, "Permission denied")
        return read(path, *arguments, **more)

    monkeypatch.setattr(Path, "open", refused)
    entry = store.list()[0]
    assert (entry.name, entry.notice) == ("Drums", "This file cannot be read (you do not have the right to (permission denied)).")
    for act in (lambda: store.load(id), lambda: store.save(id, counted(3), None)):
        with pytest.raises(StoreError, match="permission denied"):
            act()
    monkeypatch.undo()
    assert store.load(id).answers == counted(2)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_what_is_no_plain_file_is_not_waited_for(store: Store) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), None)
    answers_file(store, id).unlink()
    os.mkfifo(answers_file(store, id))
    assert "not a plain file" in store.list()[0].notice
    assert store.load(id).answers == counted(1)


def test_a_file_too_large_is_not_read(store: Store) -> None:
    id = store.create("Drums", counted(1))
    store.save(id, counted(2), None)
    with answers_file(store, id).open("ab") as file:
        file.truncate(3_000_000)
    assert "larger than" in store.load(id).notice
