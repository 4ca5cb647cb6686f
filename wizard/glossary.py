"""The trade terms of a plan, explained once at its end: those that occur in it, from templates/terms.toml."""

from __future__ import annotations

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

    def occurs(self, text: str, small: str) -> bool:
        """Whether the text uses it: an abbreviation as written, any other word in either case, so in the text in ``small`` letters."""
        return any(
            stands(word, text) if word[-1:].isupper() or word == "Rw" else stands(word.lower(), small) for word in (self.name, *self.also)
        )


def stands(word: str, text: str) -> bool:
    """Whether a word is somewhere in a text as a whole. A pattern would say the same, but takes a tenth of the time of a plan."""
    at = text.find(word)
    while at >= 0:
        before, after = text[at - 1 : at], text[at + len(word) : at + len(word) + 1]
        if not any(sign.isalnum() or sign in ("_", "-") for sign in (before, after)):
            return True
        at = text.find(word, at + 1)
    return False


@cache
def terms() -> tuple[Term, ...]:
    """All terms, in the order in which they are told."""
    rows = tomllib.loads(files("templates").joinpath("terms.toml").read_text(encoding="utf-8"))["term"]
    found = (Term(row["name"], tuple(row.get("also", ())), row["meaning"]) for row in rows)
    return tuple(sorted(found, key=lambda term: term.name.lower()))


def used(text: str) -> list[Term]:
    """The terms that a text uses, and those that their meanings use."""
    found: set[Term] = set()
    while more := _more(text, found):
        found |= more
        text = " ".join(term.meaning for term in more)
    return [term for term in terms() if term in found]


def _more(text: str, found: set[Term]) -> set[Term]:
    small = text.lower()
    return {term for term in terms() if term not in found and term.occurs(text, small)}
