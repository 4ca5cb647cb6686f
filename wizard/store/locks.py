"""Who has an interview open, and who is writing it. The system lets go of both locks when a process ends, however it ends."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.store.errors import StoreError

if TYPE_CHECKING:
    from filelock import FileLock  # imported where something is locked: the list of interviews is there sooner

WAIT = 2.0  # seconds; a save takes milliseconds, so whoever holds the lock longer is stuck


@contextlib.contextmanager
def writing(folder: Path, what: str = "") -> Iterator[None]:
    """Held for the moment of a save, of an interview unless ``what`` says of what. Raises StoreError when somebody else holds on to it,
    OSError where no lock can be made."""
    from filelock import FileLock, Timeout

    lock = FileLock(_file(folder / "lock"), timeout=WAIT, mode=0o600, thread_local=False)
    try:
        lock.acquire()
    except Timeout:
        raise StoreError(f"Another Stillroom is writing {what or f'the interview {folder.name}'}; close it and try again.") from None
    try:
        yield
    finally:
        lock.release()


def _file(path: Path) -> Path:
    """The lock's file, made for the user only. filelock makes it as well, but with no more rights than the umask leaves."""
    with contextlib.suppress(OSError):  # it is there, or cannot be made: filelock will say
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        try:
            if hasattr(os, "fchmod"):
                os.fchmod(handle, 0o600)
        finally:
            os.close(handle)
    return path


class Claims:
    """The interviews that this process has open."""

    def __init__(self) -> None:
        self._held: dict[Path, FileLock] = {}

    def claim(self, folder: Path) -> bool:
        """Whether it is ours from now on; False when another window has it open."""
        if folder in self._held:
            return True
        from filelock import FileLock, Timeout

        lock = FileLock(_file(folder / "open"), mode=0o600, blocking=False, thread_local=False)
        try:
            lock.acquire()
        except Timeout:
            return False
        except (OSError, NotImplementedError):  # a folder that can only be read, a file system without locks: the revision still guards
            return True
        self._held[folder] = lock
        return True

    def release(self, folder: Path) -> None:
        lock = self._held.pop(folder, None)
        if lock is not None:
            lock.release()

    @contextlib.contextmanager
    def alone(self, folder: Path, what: str) -> Iterator[None]:
        """While it is renamed or deleted. Raises StoreError when another window has it open."""
        mine = folder in self._held
        if folder.is_dir() and not self.claim(folder):
            raise StoreError(f"The interview {folder.name} is open in another Stillroom; close it there before you {what} it.")
        try:
            yield
        finally:
            if not mine:
                self.release(folder)
