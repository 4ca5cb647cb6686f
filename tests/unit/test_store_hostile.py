"""Odd things in an interview's folder and texts made to choke a reader: worked around or named, and nothing outside is touched."""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from store_kit import QuickDisk

from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import DEEPEST, HINTS, FormatError, read_answers, write_answers
from wizard.interview.reading import LONGEST, Problem
from wizard.session import Session
from wizard.store import Store, StoreError
from wizard.store.files import LARGEST
from wizard.store.names import LONGEST_NAME

BEFORE = Answers({"people": Answer("1")}, "imperial", "Drums")
PLACES = ("answers.toml", "steps.json", "history", "damaged", "lock", "open", ".answers.toml.tmp", ".steps.json.tmp")


def folder(path: Path, _: Path) -> None:
    path.mkdir()


def pipe(path: Path, _: Path) -> None:
    os.mkfifo(path)


def file(path: Path, _: Path) -> None:
    path.write_text("mine")


def link_to_nothing(path: Path, outside: Path) -> None:
    path.symlink_to(outside / "nothing")


def link_to_file(path: Path, outside: Path) -> None:
    path.symlink_to(outside / "file")


def link_to_folder(path: Path, outside: Path) -> None:
    path.symlink_to(outside / "folder")


@pytest.mark.skipif(os.name == "nt", reason="links and pipes are POSIX")
@pytest.mark.parametrize("put", [folder, pipe, file, link_to_nothing, link_to_file, link_to_folder])
@pytest.mark.parametrize("what", PLACES)
def test_what_is_in_the_way_is_worked_around_or_named(tmp_path: Path, what: str, put: Callable[[Path, Path], None]) -> None:
    outside = tmp_path / "outside"
    (outside / "folder").mkdir(parents=True)
    (outside / "file").write_text("secret")
    store = Store(tmp_path / "data", disk=QuickDisk())
    id = store.create("Drums", BEFORE)
    store.save(id, BEFORE.with_answer("people", Answer("2")), None)
    path = tmp_path / "data" / "interviews" / id / what
    shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
    put(path, outside)

    assert len(store.list()) == 1
    session = Session.open(Store(tmp_path / "data", disk=QuickDisk()), id)
    assert not session.read_only
    session.go("people")
    try:
        session.accept("5")
    except StoreError as error:
        assert f"“{what}” is in the way; move it elsewhere" in str(error)  # noqa: PT017
        path.rename(tmp_path / "elsewhere")
        session.save()
    session.close()
    assert store.load(id).answers["people"].text == "5"
    assert [each.name for each in sorted(outside.rglob("*"))] == ["file", "folder"]
    assert (outside / "file").read_text() == "secret"


@pytest.mark.skipif(os.name == "nt", reason="links are POSIX")
def test_a_version_kept_of_a_linked_file_does_not_change_with_it(tmp_path: Path) -> None:
    store = Store(tmp_path / "data")
    id = store.create("Drums", BEFORE)
    path = tmp_path / "data" / "interviews" / id / "answers.toml"
    path.rename(tmp_path / "linked.toml")
    path.symlink_to(tmp_path / "linked.toml")
    store.save(id, BEFORE.with_answer("people", Answer("2")), None)
    (tmp_path / "linked.toml").write_text("")
    assert [version.answers for version in store.versions(id)] == [BEFORE]


@pytest.fixture(params=[0, 0o777])
def umask(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[int]:  # the folder is made before
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


@pytest.mark.skipif(os.name == "nt", reason="file modes are POSIX")
@pytest.mark.usefixtures("umask")
def test_files_are_for_the_user_only_whatever_the_umask(tmp_path: Path) -> None:
    data = tmp_path / "data"
    store = Store(data)
    id = store.create("Drums", BEFORE)
    assert store.claim(id)
    session = Session.open(store, id)
    session.go("people")
    session.accept("5")
    session.close()
    (data / "interviews" / id / "answers.toml").write_text("answers = [")
    store.load(id)
    store.delete(id)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in data.rglob("*")}
    assert {"steps.json", "000001.toml", "history", "damaged", "trash"} <= modes.keys()
    for name, mode in modes.items():
        expected = 0o700 if name in ("interviews", "trash", id, "history", "damaged") else 0o600
        assert mode == expected, name


def test_a_folder_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("mine")
    for act in (lambda: Store(tmp_path / "data").list(), lambda: Store(tmp_path / "data").create("Drums")):
        with pytest.raises(StoreError, match="data"):
            act()


def test_an_answer_too_long_to_be_read_again_is_not_taken(tmp_path: Path) -> None:
    store = Store(tmp_path)
    session = Session.open(store, store.create("Drums"))
    session.go("listeners")
    with pytest.raises(Problem, match=f"longer than {LONGEST:,} characters"):
        session.accept("bedroom_above, " * 200)
    assert "listeners" not in session.answers
    longest = max(len(", ".join(choice.label for choice in item.choices)) for item in engine.QUESTIONS)
    assert 2 * longest < LONGEST
    assert LONGEST * len(engine.QUESTIONS) < LARGEST


def test_a_file_too_large_to_be_read_again_is_not_written(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums", BEFORE)
    path = tmp_path / "interviews" / id / "answers.toml"
    path.write_text(path.read_text() + "# " + "x" * (LARGEST - path.stat().st_size - 3) + "\n")
    store.load(id)
    with pytest.raises(StoreError, match="larger than 500 kB"):
        store.save(id, BEFORE.with_answer("people", Answer("12")), "people")
    assert store.load(id).answers == BEFORE


@pytest.mark.parametrize(
    "text",
    [
        "a." * 50_000 + "a = 1",
        "[answers]\n" + '"a" . ' * 50_000 + "a = 1",
        "[" + "'a'." * 50_000 + "a]",
        "x = { " + "a." * 50_000 + "a = 1 }",
        "a = " + "[" * 50_000,
        "a = " + "{ a = " * 50_000,
        "a = " + "[" * 480 + "]" * 480 + "\nb" + " = 1",
        "[answers]\npeople = " + "9" * 50_000,
    ],
    ids=lambda text: text[:16],
)
def test_a_text_made_to_choke_a_reader_is_no_answers_file(text: str) -> None:
    try:
        read_answers(text)
    except FormatError as error:
        assert len(str(error)) < 200  # noqa: PT017
    else:
        assert "[" * 480 in text  # how deep Python itself goes depends on who calls


def test_the_deepest_name_can_still_be_read() -> None:
    name = "a." * (LONGEST_NAME // 2)
    assert read_answers(write_answers(Answers(name=name))).answers.name == name
    assert read_answers("a." * (DEEPEST - 1) + "a = 1").strangers


def test_of_many_unknown_keys_the_first_are_told_what_they_may_have_meant() -> None:
    strangers = read_answers("[answers]\n" + "".join(f"peopl{number} = 1\n" for number in range(20_000))).strangers
    assert len(strangers) == 20_000
    assert all("did you mean people?" in each.sentence for each in strangers[:HINTS])
    assert strangers[HINTS].sentence == f"peopl{HINTS}: there is no such key."


def test_a_mark_that_an_editor_puts_before_the_text_is_no_damage(tmp_path: Path) -> None:
    store = Store(tmp_path)
    id = store.create("Drums", BEFORE)
    path = tmp_path / "interviews" / id / "answers.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    loaded = store.load(id)
    assert (loaded.answers, loaded.notice) == (BEFORE, "")
    store.save(id, BEFORE.with_answer("people", Answer("2")), None)
    assert store.load(id).answers["people"].text == "2"
