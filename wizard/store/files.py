"""Files that are replaced whole, and numbered files beside them."""

from __future__ import annotations

import contextlib
import errno
from collections.abc import Sequence
from pathlib import Path

from wizard.store.disk import Disk

HISTORY = 10
LARGEST = 500_000  # bytes; a full interview has about 10 000, and no answer more than reading.LONGEST characters


class NotOurs(ValueError):  # noqa: N818
    """Not something the store wrote."""


def read_bytes(path: Path) -> bytes:
    """Raises OSError, and NotOurs for what the store cannot have written; a pipe would be waited for without end."""
    if path.exists() and not path.is_file():
        raise NotOurs("it is not a plain file")
    with path.open("rb") as file:
        data = file.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise NotOurs(f"the file is larger than {LARGEST // 1000} kB")
    return data


def replace(disk: Disk, path: Path, data: bytes, *, flush: bool = True, keep_old: bool = False) -> None:
    """Write beside, flush, keep the old version, rename. At every moment ``path`` holds a whole version. Raises OSError.

    Without ``flush`` a power cut may leave an empty file behind; a killed process does not.
    """
    temporary = path.with_name(f".{path.name}.tmp")  # one writer at a time: the caller holds the lock
    try:
        handle = disk.begin(temporary)
        try:
            disk.write(handle, data)
            if flush:
                disk.flush(handle)
        finally:
            disk.close(handle)
        if keep_old:
            _keep(disk, path)
        disk.rename(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            disk.remove(temporary)
        raise


def make(disk: Disk, folder: Path) -> None:
    """Make a folder and those above it, for the user only (mkdir's own mode holds for the last one alone)."""
    if folder.is_dir():
        return
    make(disk, folder.parent)
    disk.make_folder(folder)
    disk.flush_folder(folder.parent)


def set_aside(disk: Disk, path: Path, folder: Path) -> Path:
    """Move a file into a folder of numbered ones; where it is now."""
    _make_own(disk, folder)
    target = folder / f"{_next_number(numbered(folder)):06d}.toml"
    disk.rename(path, target)
    return target


def numbered(folder: Path) -> list[Path]:
    """The numbered files of a folder, the oldest first."""
    return sorted(folder.glob("[0-9][0-9][0-9][0-9][0-9][0-9]*.toml"), key=_number) if folder.is_dir() else []


def forget_oldest(disk: Disk, folder: Path) -> None:
    """Leave the last ten."""
    for old in numbered(folder)[:-HISTORY]:
        disk.remove(old)


def _keep(disk: Disk, path: Path) -> None:
    """Give the version that is about to be replaced a name in the history, unless a save that failed later has done so already."""
    folder = path.parent / "history"
    _make_own(disk, folder)
    kept = numbered(folder)
    if kept and kept[-1].is_file() and kept[-1].read_bytes() == path.read_bytes():
        return
    disk.link(path, folder / f"{_next_number(kept):06d}.toml")


def _make_own(disk: Disk, folder: Path) -> None:
    """A folder of our own inside an interview's. Raises OSError for a link in its place: what it holds would lie elsewhere."""
    if folder.is_symlink():
        raise OSError(errno.ELOOP, "it is a link", str(folder))
    disk.make_folder(folder)


def _number(path: Path) -> int:
    return int(path.stem) if path.stem.isascii() and path.stem.isdigit() and len(path.stem) < 19 else -1


def _next_number(found: Sequence[Path]) -> int:
    return max(_number(found[-1]), 0) + 1 if found else 1
