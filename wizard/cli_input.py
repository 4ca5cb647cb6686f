"""What the commands read, and how they refuse it."""

from __future__ import annotations

from pathlib import Path

LARGEST = 20_000_000  # bytes; a file of answers has about 10 000, a large one of assemblies a million


class BadInput(Exception):  # noqa: N818
    """Sentences for standard error, one a line."""

    def __init__(self, *sentences: str) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = sentences


def text_of(path: Path) -> str:
    """A file that was named on the command line; it may be a pipe, but not one without end. Raises BadInput."""
    shown = str(path)[:300]
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise BadInput(f"{shown} is larger than {LARGEST // 1_000_000} MB.")
        return data.decode("utf-8-sig")  # some editors put a mark before the text
    except UnicodeDecodeError:
        raise BadInput(f"{shown} is not UTF-8 text.") from None
    except OSError as error:
        raise BadInput(f"{shown} cannot be read: {reason_of(error)}.") from None
    except ValueError:  # a null character
        raise BadInput(f"{shown!r} is not the name of a file.") from None


def exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name too long or with a null character is no file
        return False


def reason_of(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
