"""The store: list, load and save, rename, duplicate, delete and bring back."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

import platformdirs

from wizard.interview.answers import Answers
from wizard.interview.answers_file import NewerSchema, Read, read_saved, write_answers
from wizard.interview.engine import BY_ID
from wizard.store import times
from wizard.store.disk import Disk
from wizard.store.drafts import read_drafts, write_drafts
from wizard.store.errors import StoreError, short, told
from wizard.store.files import LARGEST, forget_oldest, make, numbered, read_bytes, replace, set_aside
from wizard.store.locks import Claims, writing
from wizard.store.names import LONGEST_NAME, checked, is_id, new_id
from wizard.store.steps import Steps, read_steps, write_steps


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
    steps: Steps = field(default_factory=Steps)
    drafts: Mapping[str, str] = field(default_factory=dict)  # typed and not taken, by question id


def default_folder() -> Path:
    """STILLROOM_DATA where it is set, else the user's data folder."""
    own = os.environ.get("STILLROOM_DATA")
    return Path(own) if own else platformdirs.user_data_path("stillroom", appauthor=False)


class Store:
    """``now`` gives the time written into a file, ``disk`` does all writing; a test may replace both."""

    def __init__(self, folder: Path | str | None = None, now: Callable[[], str] = times.now, disk: Disk | None = None) -> None:
        self.folder = Path(folder) if folder else default_folder()
        self._now = now
        self._disk = disk or Disk()
        self._claims = Claims()
        self._revisions: dict[str, int] = {}  # of what was read or written last
        self._steps_read: dict[Path, tuple[bytes, Answers, Steps]] = {}  # of each file what was read or written last, as reading takes time
        self._stepping_aside: set[str] = set()  # opened at an earlier version, because a later Stillroom wrote the file

    # ---- reading ------------------------------------------------------------------------------------------------

    def list(self) -> tuple[Entry, ...]:
        """All interviews, the last changed first. Raises StoreError when the folder cannot be read."""
        with told(f"The folder of saved interviews, {self.folder}, cannot be read"):
            if self.folder.exists() and not self.folder.is_dir():
                raise StoreError(f"{self.folder} is not a folder, so no interviews can be saved there.")
            root = self.folder / "interviews"
            ids = [path.name for path in root.iterdir() if is_id(path.name) and path.is_dir()] if root.is_dir() else []
        return tuple(
            sorted((self._entry(id) for id in ids), key=lambda entry: (times.seconds(entry.changed), entry.changed, entry.id), reverse=True)
        )

    def load(self, id: str) -> Saved:
        """An interview by id. A damaged file is set aside and the last good version loaded in its place, with a notice; a file of a
        later Stillroom is left alone, and the last version before it loaded.

        Raises StoreError when there is no such interview, or no version can be read.
        """
        path = self._path(id)
        if not path.parent.is_dir():
            raise StoreError(f"There is no saved interview {id}.")
        self._stepping_aside.discard(id)
        with told(f"The interview {id} cannot be read"):
            if not path.exists():
                return self._last_good(id, f"The file of {id} is gone.")
            try:
                read = _read(path)
            except NewerSchema as error:
                return self._before_later(id, error)
            except ValueError as error:
                return self._last_good(id, f"The file of {id} was damaged ({short(error)}); {self._aside(path)}.")
        self._revisions[id] = read.revision
        return self._saved(id, read, times.clock_notice(read.changed, self._now()))

    def find(self, word: str) -> str | None:
        """The id of an interview by its id or its name; None when none or several match."""
        ids = [entry.id for entry in self.list() if word in (entry.id, entry.name)]
        return ids[0] if len(ids) == 1 else None

    def versions(self, id: str) -> tuple[Saved, ...]:
        """The readable earlier versions, newest first."""
        return tuple(self._saved(id, read, "") for read in self._history(id))

    # ---- writing ------------------------------------------------------------------------------------------------

    def create(self, name: str, answers: Answers | None = None) -> str:
        """A new interview; its id. Raises StoreError."""
        name = checked(name)
        id = new_id(name)
        self.save(id, (Answers() if answers is None else answers).with_name(name), None)  # no answers are falsy, and may still have units
        return id

    def save(self, id: str, answers: Answers, place: str | None, steps: Steps | None = None) -> None:
        """Write the answers; the version before goes to the history. Raises StoreError with the file as it was.

        ``steps`` is what can be undone afterwards; without it, the change from what is in the file counts as one step.
        """
        path = self._path(id)
        with told(f"The answers could not be saved in {path.parent}"):
            make(self._disk, path.parent)
            with writing(path.parent):
                self._save_locked(id, path, answers, place, steps)

    def put_aside(self, id: str, drafts: Mapping[str, str]) -> None:
        """Keep what was typed and not taken, by question id. An answer is worth more: where it cannot be kept, nothing is said."""
        path = self._path(id).with_name("unfinished.json")
        with suppress(OSError):
            if drafts or path.exists():
                replace(self._disk, path, write_drafts(drafts), flush=False)

    def rename(self, id: str, name: str) -> None:
        name = checked(name)
        with self._claims.alone(self._path(id).parent, "rename"):
            saved = self.load(id)
            self.save(id, saved.answers.with_name(name), saved.place)

    def duplicate(self, id: str, name: str | None = None) -> str:
        """A copy under a new id, which is returned."""
        saved = self.load(id)
        name = checked(name or f"{saved.answers.name[: LONGEST_NAME - 10]} (copy)")
        copy = self.create(name, saved.answers)
        self.save(copy, saved.answers.with_name(name), saved.place)
        return copy

    def delete(self, id: str) -> None:
        """Move to the trash, from where undelete brings it back."""
        source, target = self._path(id).parent, self.folder / "trash" / id
        with told(f"The interview {id} could not be deleted"):
            if not source.is_dir():
                raise StoreError(f"There is no saved interview {id}.")
            with self._claims.alone(source, "delete"):
                pass
            self._claims.release(source)  # a folder with an open file cannot be moved everywhere
            make(self._disk, target.parent)
            if target.exists():
                self._disk.remove_folder(target)
            self._move(source, target)

    def undelete(self, id: str) -> None:
        """Bring a deleted interview back. Raises StoreError when it is not in the trash."""
        source, target = self.folder / "trash" / id, self._path(id).parent
        with told(f"The interview {id} could not be brought back"):
            if not source.is_dir():
                raise StoreError(f"There is no deleted interview {id}.")
            if target.exists():
                raise StoreError(f"The interview {id} is there again already; it was not overwritten.")
            make(self._disk, target.parent)
            self._move(source, target)

    # ---- one window at a time -----------------------------------------------------------------------------------

    def claim(self, id: str) -> bool:
        """Have an interview to oneself until ``release``; False when another window has it open. Raises StoreError when there is none."""
        folder = self._path(id).parent
        if not folder.is_dir():
            raise StoreError(f"There is no saved interview {id}.")
        return self._claims.claim(folder)

    def release(self, id: str) -> None:
        self._claims.release(self._path(id).parent)

    # ---- inside -------------------------------------------------------------------------------------------------

    def _path(self, id: str) -> Path:
        if not is_id(id):
            raise StoreError(f"“{id[:80]}” is not the id of a saved interview.")
        return self.folder / "interviews" / id / "answers.toml"

    def _save_locked(self, id: str, path: Path, answers: Answers, place: str | None, steps: Steps | None) -> None:
        old_text, old = self._current(id, path)
        if old and self._revisions.get(id, old.revision) != old.revision:
            raise StoreError(
                "This interview was changed in another window since it was opened here, so nothing was overwritten; "
                "leave it and open it again to go on."
            )
        if old and (old.answers, old.place) == (answers, place):
            self._revisions[id] = old.revision
            return
        revision = (old.revision if old else self._revisions.get(id, 0)) + 1
        data = write_answers(answers, place, self._now(), revision, old_text).encode("utf-8")
        if len(data) > LARGEST:  # it could not be read again
            raise StoreError(f"The answers could not be saved in {path.parent}: the file would be larger than {LARGEST // 1000} kB.")
        with suppress(OSError):  # an answer is worth more than the way back from it; where this fails, undo begins anew
            self._write_steps(path.with_name("steps.json"), old.answers if old else Answers(), answers, steps)
        replace(self._disk, path, data, keep_old=old is not None)
        self._revisions[id] = revision
        self._stepping_aside.discard(id)
        with suppress(OSError):  # saved it is; only a power cut in the next seconds could tell the difference
            self._disk.flush_folder(path.parent)
            forget_oldest(self._disk, path.parent / "history")

    def _write_steps(self, path: Path, before: Answers, after: Answers, steps: Steps | None) -> None:
        standing = self._steps(path, before)
        new = standing.done(before, after) if steps is None else steps
        if (before.items_, before.units) != (after.items_, after.units) or new != standing:
            data = write_steps(((before, standing), (after, new)))
            replace(self._disk, path, data, flush=False)
            self._steps_read[path] = data, after, new

    def _current(self, id: str, path: Path) -> tuple[str, Read | None]:
        """The text of the file and what it says. What cannot be read is set aside first, and then there is none: ("", None)."""
        if not path.exists():
            return "", None
        try:
            data = read_bytes(path)
            text = data.decode("utf-8-sig")
            return text, read_saved(text)
        except NewerSchema as error:
            if id not in self._stepping_aside:
                raise StoreError(f"{path} cannot be overwritten: {error}.") from None
            set_aside(self._disk, path, path.parent / "later")
        except ValueError:
            set_aside(self._disk, path, path.parent / "damaged")
        return "", None

    def _steps(self, path: Path, answers: Answers) -> Steps:
        try:
            data = read_bytes(path)
            known = self._steps_read.get(path)
            if known is None or known[:2] != (data, answers):
                known = self._steps_read[path] = data, answers, read_steps(data, answers)
            return known[2]
        except (OSError, ValueError):
            return Steps()

    def _saved(self, id: str, read: Read, notice: str) -> Saved:
        steps = self._steps(self._path(id).with_name("steps.json"), read.answers)
        try:
            drafts = read_drafts(read_bytes(self._path(id).with_name("unfinished.json")), frozenset(BY_ID))
        except (OSError, ValueError, RecursionError):
            drafts = {}
        return Saved(id, read.answers, read.place, read.changed, notice, steps, drafts)

    def _history(self, id: str) -> tuple[Read, ...]:
        found = []
        for path in reversed(numbered(self._path(id).parent / "history")):
            with suppress(ValueError, OSError):
                found.append(_read(path))
        return tuple(found)

    def _entry(self, id: str) -> Entry:
        path = self._path(id)
        try:
            read = _read(path)
        except (ValueError, OSError) as error:
            return self._bad_entry(id, path, error)
        return Entry(id, read.answers.name, read.place, read.changed or times.file_changed(path), len(read.answers))

    def _bad_entry(self, id: str, path: Path, error: Exception) -> Entry:
        """Under the name of the last good version. A file that the system refuses is not replaced by it: it may be whole."""
        good = next(iter(self._history(id)), None)
        wrong = f"This file cannot be read ({short(error) if path.exists() else 'it is gone'})"
        if good is None:
            return Entry(id, id, None, times.file_changed(path), 0, f"{wrong}.")
        refused = isinstance(error, OSError) and path.exists()
        offer = "" if refused else f"; the last good version, of {good.changed}, is opened instead"
        return Entry(id, good.answers.name, good.place, good.changed, len(good.answers), f"{wrong}{offer}.")

    def _aside(self, path: Path) -> str:
        try:
            with writing(path.parent):
                return f"it was set aside as {set_aside(self._disk, path, path.parent / 'damaged')}"
        except OSError:
            return "it stays where it is, because the folder cannot be written"

    def _last_good(self, id: str, what: str) -> Saved:
        good = self._history(id)
        if not good:
            raise StoreError(f"{what} There is no earlier version to go back to.")
        self._revisions[id] = good[0].revision
        return self._saved(id, good[0], f"{what} The last good version, of {good[0].changed}, was opened instead.")

    def _before_later(self, id: str, error: NewerSchema) -> Saved:
        """The last version that this Stillroom can read. The later file moves aside only when something is saved."""
        what = f"{self._path(id)} cannot be opened: {error}."
        if not self._history(id):
            raise StoreError(what) from None
        saved = self._last_good(id, what)
        self._stepping_aside.add(id)
        return Saved(**{**vars(saved), "notice": f"{saved.notice} If you change an answer, the later file is set aside, not lost."})

    def _move(self, source: Path, target: Path) -> None:
        self._disk.rename(source, target)
        self._disk.flush_folder(source.parent)
        self._disk.flush_folder(target.parent)


def _read(path: Path) -> Read:
    """Raises OSError, and ValueError (FormatError, UnicodeDecodeError, NotOurs) for what is no answers file."""
    return read_saved(read_bytes(path).decode("utf-8-sig"))  # some editors put a mark before the text
