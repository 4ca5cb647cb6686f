"""Names and ids. A name never becomes a path: the id is a slug of it and a random end."""

from __future__ import annotations

import re
import unicodedata

from wizard.store.errors import StoreError

ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
LONGEST_ID = 80
LONGEST_NAME = 200


def is_id(word: str) -> bool:
    return len(word) <= LONGEST_ID and ID.fullmatch(word) is not None


def new_id(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:30].strip("-")
    import secrets  # brings in hashing, which the list of interviews does not wait for

    return f"{slug or 'room'}-{secrets.token_hex(3)}"


def checked(name: str) -> str:
    """The name on one line. Raises StoreError where there is none, or too much of it."""
    name = " ".join("".join(c if unicodedata.category(c)[0] != "C" else " " for c in name).split())
    if not name:
        raise StoreError("A name needs at least one character.")
    if len(name) > LONGEST_NAME:
        raise StoreError(f"A name has at most {LONGEST_NAME} characters.")
    return name
