"""Saved interviews: one folder each in the user's data folder, written so that a crash at any moment loses nothing.

    <data>/interviews/<id>/answers.toml     the answers; written beside, flushed, renamed
    <data>/interviews/<id>/history/N.toml   the last ten versions before it
    <data>/interviews/<id>/damaged/N.toml   files that could not be read, set aside
    <data>/trash/<id>                       deleted interviews

An id is a slug of the first name and a random end; a name never becomes a path.
"""

from __future__ import annotations

import contextlib
import datetime
import os
import re
import secrets
import shutil
import tempfile
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import platformdirs
from filelock import FileLock, Timeout

from wizard.interview.answers import Answers
from wizard.interview.answers_file import FormatError, NewerSchema, Read, read_saved, write_answers

HISTORY = 10
LOCK_WAIT = 2.0  # seconds; a save takes milliseconds, so whoever holds the lock longer is stuck
ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
LONGEST_NAME = 200


class StoreError(Exception):
    """One sentence for the person."""


@dataclass(frozen=True)
class Entry:
    """One line of the list. ``notice`` says what is wrong with the file, or is empty."""

    id: str
    name: str
    place: str | None
    changed: str
    answered: int
    notice: str = ""


@dataclass(frozen=True)
class Saved:
    """A loaded interview. ``notice`` tells of a damaged file and what was loaded in its place, or is empty."""

    id: str
    answers: Answers
    place: str | None
    changed: str
    notice: str = ""


def default_folder() -> Path:
    """STILLROOM_DATA where it is set, else the user's data folder."""
    own = os.environ.get("STILLROOM_DATA")
    return Path(own) if own else platformdirs.user_data_path("stillroom", appauthor=False)


def _now() -> str:
    return datetime.datetime.now().astimezone().isoformat(timespec="seconds")


class Store:
    """``now`` gives the time written into a file; a test may replace it."""

    def __init__(self, folder: Path | str | None = None, now: Callable[[], str] = _now) -> None:
        self.folder = Path(folder) if folder else default_folder()
        self._now = now
        self._revisions: dict[str, int] = {}

    # ---- reading ------------------------------------------------------------------------------------------------

    def list(self) -> tuple[Entry, ...]:
        """All interviews, the last changed first. Raises StoreError when the folder cannot be read."""
        with _told(f"The folder of saved interviews, {self.folder}, cannot be read"):
            root = self.folder / "interviews"
            ids = [path.name for path in root.iterdir() if path.is_dir() and ID.fullmatch(path.name)] if root.is_dir() else []
        return tuple(sorted((self._entry(id) for id in ids), key=lambda entry: (entry.changed, entry.id), reverse=True))

    def load(self, id: str) -> Saved:
        """An interview by id. A damaged file is set aside and the last good version loaded in its place, with a notice.

        Raises StoreError when there is no such interview, no version can be read, or a later version of Stillroom wrote it.
        """
        path = self._path(id)
        if not path.parent.is_dir():
            raise StoreError(f"There is no saved interview {id}.")
        with _told(f"The interview {id} cannot be read"):
            if not path.exists():
                return self._last_good(id, f"The file of {id} is gone.")
            try:
                read = _read(path)
            except NewerSchema as error:
                raise StoreError(f"{path} cannot be opened: {error}.") from None
            except (FormatError, UnicodeDecodeError) as error:
                with self._lock(id):
                    aside = self._set_aside(path)
                return self._last_good(id, f"The file of {id} was damaged ({_short(error)}); it was set aside as {aside}.")
        self._revisions[id] = read.revision
        return Saved(id, read.answers, read.place, read.changed)

    def find(self, word: str) -> str | None:
        """The id of an interview by its id or its name; None when none or several match."""
        ids = [entry.id for entry in self.list() if word in (entry.id, entry.name)]
        return ids[0] if len(ids) == 1 else None

    def versions(self, id: str) -> tuple[Saved, ...]:
        """The readable earlier versions, newest first."""
        found = []
        for path in reversed(_numbered(self._path(id).parent / "history")):
            with contextlib.suppress(FormatError, UnicodeDecodeError, OSError):
                read = _read(path)
                found.append(Saved(id, read.answers, read.place, read.changed))
        return tuple(found)

    # ---- writing ------------------------------------------------------------------------------------------------

    def create(self, name: str, answers: Answers | None = None) -> str:
        """A new interview; its id. Raises StoreError."""
        name = _checked(name)
        id = f"{_slug(name)}-{secrets.token_hex(3)}"
        self.save(id, (Answers() if answers is None else answers).with_name(name), None)  # no answers are falsy, and may still have units
        return id

    def save(self, id: str, answers: Answers, place: str | None) -> None:
        """Write the answers; the version before goes to the history. Raises StoreError with the file as it was."""
        path = self._path(id)
        with _told(f"The answers could not be saved in {path.parent}"):
            _make(path.parent)
            with self._lock(id):
                self._save_locked(id, path, answers, place)

    def rename(self, id: str, name: str) -> None:
        saved = self.load(id)
        self.save(id, saved.answers.with_name(_checked(name)), saved.place)

    def duplicate(self, id: str, name: str | None = None) -> str:
        """A copy under a new id, which is returned."""
        saved = self.load(id)
        name = _checked(name or f"{saved.answers.name[: LONGEST_NAME - 10]} (copy)")
        copy = self.create(name, saved.answers)
        self.save(copy, saved.answers.with_name(name), saved.place)
        return copy

    def delete(self, id: str) -> None:
        """Move to the trash, from where undelete brings it back."""
        with _told(f"The interview {id} could not be deleted"):
            trash = self.folder / "trash"
            _make(trash)
            source, target = self._path(id).parent, trash / id
            if not source.is_dir():
                raise StoreError(f"There is no saved interview {id}.")
            if target.exists():
                shutil.rmtree(target)
            source.rename(target)

    def undelete(self, id: str) -> None:
        """Bring a deleted interview back. Raises StoreError when it is not in the trash."""
        target = self._path(id).parent
        with _told(f"The interview {id} could not be brought back"):
            if not (self.folder / "trash" / id).is_dir():
                raise StoreError(f"There is no deleted interview {id}.")
            _make(target.parent)
            (self.folder / "trash" / id).rename(target)

    # ---- inside -------------------------------------------------------------------------------------------------

    def _path(self, id: str) -> Path:
        if not ID.fullmatch(id) or len(id) > 80:
            raise StoreError(f"“{id[:80]}” is not the id of a saved interview.")
        return self.folder / "interviews" / id / "answers.toml"

    @contextlib.contextmanager
    def _lock(self, id: str) -> Iterator[None]:
        lock = FileLock(self._path(id).parent / "lock", timeout=LOCK_WAIT, mode=0o600)
        try:
            lock.acquire()
        except Timeout:
            raise StoreError(f"Another Stillroom is writing the interview {id}; close it and try again.") from None
        try:
            yield
        finally:
            lock.release()

    def _save_locked(self, id: str, path: Path, answers: Answers, place: str | None) -> None:
        old_text, old = _current(path)
        revision = old.revision if old else 0
        if old and self._revisions.get(id, revision) != revision:
            raise StoreError(
                "This interview was changed in another window since it was opened here, so nothing was overwritten; "
                "leave it and open it again to go on."
            )
        if old and (old.answers, old.place) == (answers, place):
            self._revisions[id] = revision
            return
        for left in path.parent.glob(".answers-*.tmp"):  # of a save that was killed before its rename
            left.unlink(missing_ok=True)
        if path.exists() and old is None:
            self._set_aside(path)
        text = write_answers(answers, place, self._now(), revision + 1, old_text)
        _replace(path, text, keep_old=old is not None)
        self._revisions[id] = revision + 1

    def _entry(self, id: str) -> Entry:
        path = self._path(id)
        try:
            read = _read(path)
        except (FormatError, UnicodeDecodeError, OSError) as error:
            return Entry(id, id, None, _changed(path), 0, f"This file cannot be read ({_short(error)}).")
        return Entry(id, read.answers.name, read.place, read.changed or _changed(path), len(read.answers))

    def _set_aside(self, path: Path) -> Path:
        folder = path.parent / "damaged"
        folder.mkdir(exist_ok=True, mode=0o700)
        target = folder / f"{_next_number(folder):06d}.toml"
        path.rename(target)
        return target

    def _last_good(self, id: str, what: str) -> Saved:
        good = self.versions(id)
        if not good:
            raise StoreError(f"{what} There is no earlier version to go back to.")
        self._revisions.pop(id, None)
        last = good[0]
        return Saved(id, last.answers, last.place, last.changed, f"{what} The last good version, of {last.changed}, was opened instead.")


def _current(path: Path) -> tuple[str, Read | None]:
    """The text of the file and what it says; ("", None) when there is none or it cannot be read as an answers file."""
    try:
        text = path.read_text(encoding="utf-8")
        return text, read_saved(text)
    except FileNotFoundError:
        return "", None
    except NewerSchema as error:
        raise StoreError(f"{path} cannot be overwritten: {error}.") from None
    except (FormatError, UnicodeDecodeError):
        return "", None


def _replace(path: Path, text: str, keep_old: bool) -> None:
    """Write beside, flush file and folder, keep the old version, rename. At every moment path holds a whole version."""
    handle, temporary = tempfile.mkstemp(prefix=".answers-", suffix=".tmp", dir=path.parent)  # readable by the user only
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        if keep_old:
            _keep(path)
        Path(temporary).replace(path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    _flush_folder(path.parent)


def _keep(path: Path) -> None:
    """The version that is about to be replaced, as a second name of the same file where the system can, else as a copy."""
    folder = path.parent / "history"
    folder.mkdir(exist_ok=True, mode=0o700)
    target = folder / f"{_next_number(folder):06d}.toml"
    try:
        os.link(path, target)
    except OSError:
        shutil.copy2(path, target)
    for old in _numbered(folder)[:-HISTORY]:
        old.unlink(missing_ok=True)


def _make(folder: Path) -> None:
    """Make a folder and those above it, for the user only (mkdir's own mode holds for the last one alone)."""
    if folder.is_dir():
        return
    _make(folder.parent)
    folder.mkdir(exist_ok=True, mode=0o700)
    _flush_folder(folder.parent)


def _flush_folder(folder: Path) -> None:
    if os.name == "nt":  # a folder cannot be opened for flushing there
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _numbered(folder: Path) -> list[Path]:
    return sorted(folder.glob("[0-9][0-9][0-9][0-9][0-9][0-9]*.toml"), key=lambda path: int(path.stem)) if folder.is_dir() else []


def _next_number(folder: Path) -> int:
    numbered = _numbered(folder)
    return int(numbered[-1].stem) + 1 if numbered else 1


def _read(path: Path) -> Read:
    return read_saved(path.read_text(encoding="utf-8"))


def _changed(path: Path) -> str:
    try:
        return datetime.datetime.fromtimestamp(path.stat().st_mtime).astimezone().isoformat(timespec="seconds")
    except OSError:
        return ""


def _checked(name: str) -> str:
    name = " ".join("".join(c if unicodedata.category(c)[0] != "C" else " " for c in name).split())
    if not name:
        raise StoreError("A name needs at least one character.")
    if len(name) > LONGEST_NAME:
        raise StoreError(f"A name has at most {LONGEST_NAME} characters.")
    return name


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:30].strip("-") or "room"


def _short(error: Exception) -> str:
    return str(error).splitlines()[0][:120] if str(error) else type(error).__name__


@contextlib.contextmanager
def _told(what: str) -> Iterator[None]:
    """Turn an operating system's error into a StoreError of one sentence."""
    try:
        yield
    except OSError as error:
        raise StoreError(f"{what}: {(error.strerror or str(error)).lower()}.") from error
