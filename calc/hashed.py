"""Hashes worked out once: results are kept under briefs, options and schemes, and walking through one again and again takes time."""

from __future__ import annotations

from typing import TypeVar

Kind = TypeVar("Kind")


def hashed_once(kind: type[Kind]) -> type[Kind]:
    """A frozen dataclass whose objects remember their hash. What is equal still hashes alike: the hash is that of the fields."""
    anew = kind.__hash__

    def __hash__(self: Kind) -> int:  # noqa: N807
        known: dict[str, int] = self.__dict__
        if "_hash" not in known:
            known["_hash"] = anew(self)
        return known["_hash"]

    kind.__hash__ = __hash__  # type: ignore[method-assign, assignment]
    return kind
