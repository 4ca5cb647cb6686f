"""What the store says when it cannot do what was asked."""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterator
from pathlib import Path

REASONS = {
    errno.ENOSPC: "the disk is full; free some space and try again",
    errno.EDQUOT: "your share of the disk is full; free some space and try again",
    errno.EFBIG: "the file would be larger than the system allows",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "you do not have the right to (permission denied)",
    errno.EPERM: "you do not have the right to (operation not permitted)",
    errno.ENOENT: "the folder is gone",
    errno.ENOTDIR: "a file stands where a folder should be",
}
IN_THE_WAY = (errno.EEXIST, errno.EISDIR, errno.ELOOP)


class StoreError(Exception):
    """One sentence for the person."""


@contextlib.contextmanager
def told(what: str) -> Iterator[None]:
    """Turn an operating system's error into a StoreError of one sentence."""
    try:
        yield
    except OSError as error:
        raise StoreError(f"{what}: {reason(error)}.") from error


def reason(error: OSError) -> str:
    """The error in words that say what to do about it, where we have them."""
    place = error.filename2 or error.filename  # of a renaming, where to
    if error.errno in IN_THE_WAY and place:
        return f"“{Path(os.fsdecode(place)).name}” is in the way; move it elsewhere and try again"
    return REASONS.get(error.errno or 0, (error.strerror or str(error)).lower())


def short(error: Exception) -> str:
    """What is wrong with a file, short enough for a list."""
    if isinstance(error, OSError):
        return reason(error)
    return str(error).splitlines()[0][:120] if str(error) else type(error).__name__
