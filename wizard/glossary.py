"""The trade terms of a plan, explained once at its end: those that occur in it, from templates/terms.toml."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True)
class Term:
    """A term, the other words under which it occurs, and its meaning as a clause."""

    name: str
    also: tuple[str, ...]
    meaning: str

    def occurs(self, text: str) -> bool:
        """Whether the text uses it: as a whole word, an abbreviation as it is written, any other word in either case."""
        return any(
            re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text, 0 if word[-1:].isupper() or word == "Rw" else re.IGNORECASE)
            for word in (self.name, *self.also)
        )


@cache
def terms() -> tuple[Term, ...]:
    """All terms, in the order in which they are told."""
    rows = tomllib.loads(files("templates").joinpath("terms.toml").read_text(encoding="utf-8"))["term"]
    found = (Term(row["name"], tuple(row.get("also", ())), row["meaning"]) for row in rows)
    return tuple(sorted(found, key=lambda term: term.name.lower()))


def used(text: str) -> list[Term]:
    """The terms that a text uses, and those that their meanings use."""
    found: set[Term] = set()
    while more := {term for term in terms() if term not in found and term.occurs(text)}:
        found |= more
        text = " ".join(term.meaning for term in more)
    return [term for term in terms() if term in found]
