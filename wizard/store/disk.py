"""Every change that the store makes to the file system, one system call a method, so that a test can let any of them fail."""

from __future__ import annotations

import contextlib
import os
import shutil
from pathlib import Path


class Disk:
    """All methods raise OSError. What they make can be read by the user only."""

    def make_folder(self, folder: Path) -> None:
        try:
            folder.mkdir(mode=0o700)
        except FileExistsError:
            if not folder.is_dir():
                raise
        else:
            folder.chmod(0o700)  # whatever the umask took away

    def begin(self, path: Path) -> int:
        """A new file, open for writing; what stands there already is taken away and not written into: it may be a link or a pipe."""
        path.unlink(missing_ok=True)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
        if hasattr(os, "fchmod"):  # not on every system
            os.fchmod(handle, 0o600)
        return handle

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
        """A second name of the same file where the system can, else a copy; of a symbolic link a second name would keep nothing."""
        if not old.is_symlink():
            with contextlib.suppress(OSError):
                os.link(old, new)
                return
        handle = self.begin(new)
        try:
            self.write(handle, old.read_bytes())
            self.flush(handle)
        finally:
            self.close(handle)

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
