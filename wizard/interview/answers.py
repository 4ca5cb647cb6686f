"""What the person typed, question by question."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from types import MappingProxyType

from calc.origin import Origin
from calc.units import IMPERIAL

UNKNOWN_WORDS = frozenset({"?", "don't know", "dont know", "i don't know", "i dont know", "unknown", "don’t know", "i don’t know"})


@dataclass(frozen=True)
class Answer:
    """The text as typed and where it comes from. Several choices are ids joined by commas; an unknown has the text "?"."""

    text: str
    origin: Origin = Origin.MEASURED


DONT_KNOW = Answer("?", Origin.UNKNOWN)


def is_unknown_text(text: str) -> bool:
    return text.strip().casefold() in UNKNOWN_WORDS


@dataclass(frozen=True)
class Answers(Mapping[str, Answer]):
    """Frozen mapping of question id to Answer, with the project's name and the person's unit system."""

    items_: Mapping[str, Answer] = field(default_factory=dict)
    units: str = IMPERIAL
    name: str = "My quiet room"

    def __post_init__(self) -> None:
        object.__setattr__(self, "items_", MappingProxyType(dict(self.items_)))

    def __getitem__(self, question_id: str) -> Answer:
        return self.items_[question_id]

    def __iter__(self) -> Iterator[str]:
        return iter(self.items_)

    def __len__(self) -> int:
        return len(self.items_)

    @cached_property
    def _hash(self) -> int:
        return hash((frozenset(self.items_.items()), self.units, self.name))

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if not isinstance(other, Answers):
            return NotImplemented
        return self._hash == other._hash and (self.items_, self.units, self.name) == (other.items_, other.units, other.name)

    def with_answer(self, question_id: str, answer: Answer) -> Answers:
        return replace(self, items_={**self.items_, question_id: answer})

    def without(self, question_id: str) -> Answers:
        return replace(self, items_={key: value for key, value in self.items_.items() if key != question_id})

    def with_units(self, units: str) -> Answers:
        """The same answers read in another system. Use engine.switch_units, which first writes the unit after bare numbers."""
        return replace(self, units=units)

    def with_name(self, name: str) -> Answers:
        return replace(self, name=name)
