"""Every change that the store makes to the file system, one system call a method, so that a test can let any of them fail."""

from __future__ import annotations

import os
import shutil
from pathlib import Path


class Disk:
    """All methods raise OSError. What they make can be read by the user only."""

    def make_folder(self, folder: Path) -> None:
        folder.mkdir(exist_ok=True, mode=0o700)

    def begin(self, path: Path) -> int:
        """A new file, open for writing; an old one of this name is emptied."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)

    def write(self, handle: int, data: bytes) -> None:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]

    def flush(self, handle: int) -> None:
        os.fsync(handle)

    def close(self, handle: int) -> None:
        os.close(handle)

    def rename(self, old: Path, new: Path) -> None:
        """At once, also over a file that is there."""
        old.replace(new)

    def link(self, old: Path, new: Path) -> None:
        """A second name of the same file where the system can, else a copy."""
        try:
            os.link(old, new)
        except OSError:
            shutil.copy2(old, new)

    def remove(self, path: Path) -> None:
        path.unlink(missing_ok=True)

    def remove_folder(self, folder: Path) -> None:
        shutil.rmtree(folder)

    def flush_folder(self, folder: Path) -> None:
        """Make new names in a folder last through a power cut."""
        if os.name == "nt":  # a folder cannot be opened for flushing there
            return
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
