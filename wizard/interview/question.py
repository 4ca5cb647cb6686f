"""A question, declared once: rendered as a page, as a prompt, as a key of the answers file, and in the schema."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache

from calc.unit_format import own_first
from calc.units import Measure

# A value as read: SI number, choice id, choice ids, or text. Values are what defaults are written in.
Value = float | str | tuple[str, ...]


class Values:
    """What the questions' functions see of the answers: every value, the default where nothing is answered.

    A protocol would do; the base class keeps question.py free of the engine.
    """

    def value(self, question_id: str) -> Value:
        raise NotImplementedError

    def number(self, question_id: str) -> float:
        raise NotImplementedError

    def word(self, question_id: str) -> str:
        raise NotImplementedError

    def words(self, question_id: str) -> tuple[str, ...]:
        raise NotImplementedError

    def typed(self, question_id: str) -> str:
        """The answer as it was typed, "" where there is none."""
        raise NotImplementedError


class Kind(StrEnum):
    QUANTITY = "quantity"
    COUNT = "count"
    YEAR = "year"
    DATE = "date"
    CHOICE = "choice"
    MULTI = "multi"


@dataclass(frozen=True)
class Choice:
    id: str
    label: str
    note: str = ""


@dataclass(frozen=True)
class Unknown:
    """What "I don't know" assumes and what that costs in certainty, as one sentence."""

    value: Value | Callable[[Values], Value]
    cost: str


def always(_: Values) -> bool:
    return True


@dataclass(frozen=True, eq=False)
class Question:
    """``low`` and ``high`` bound a number in the unit that calc uses (m, W, dBA, share 0..1, h, degC, money); None leaves it open.

    ``default`` is a value, a function of the answers, or None where the person must say. ``unknown`` is None where only the person
    can know. ``title`` is the short name that tables and messages use; ``usual`` ends the message of a range check, with the two
    numbers of ``typical`` (common practice, no source) in its braces; ``when`` says in words when the question applies. Each is
    declared once, so two are equal only if they are the same; that also makes it quick to look one up.
    """

    id: str
    topic: str
    title: str
    text: str
    why: str
    how: str
    kind: Kind
    unit: Measure | None = None
    low: float | None = None
    high: float | None = None
    usual: str = ""
    typical: tuple[float, float] | None = None
    choices: tuple[Choice, ...] = ()
    default: Value | Callable[[Values], Value] | None = None
    unknown: Unknown | None = None
    applies: Callable[[Values], bool] = always
    when: str = "always"
    first: bool = False

    def choice(self, choice_id: str) -> Choice | None:
        return next((choice for choice in self.choices if choice.id == choice_id), None)

    def label(self, choice_id: str) -> str:
        """The label of a choice; the id itself where it is none of them."""
        choice = self.choice(choice_id)
        return choice.label if choice else choice_id


@cache
def worded(question: Question, units: str) -> Question:
    """The question as it is shown to a person who counts in ``units``: of sizes that its texts name in both systems theirs come first.

    Titles and labels name none: they are typed as answers and looked for.
    """

    def own(text: str) -> str:
        return own_first(text, units)

    unknown = question.unknown
    return replace(
        question,
        text=own(question.text),
        why=own(question.why),
        how=own(question.how),
        choices=tuple(Choice(choice.id, choice.label, own(choice.note)) for choice in question.choices),
        unknown=Unknown(unknown.value, own(unknown.cost)) if unknown else None,
    )


SIDE_IDS = ("side_1", "side_2", "side_3", "side_4")


@dataclass(frozen=True)
class Topic:
    id: str
    label: str


TOPICS = (
    Topic("first", "First verdict"),
    Topic("project", "Project and local code"),
    Topic("shell", "The basement as found"),
    Topic("hazards", "Water, fuel and ways out"),
    Topic("use", "What happens in the room"),
    Topic("listeners", "Who must not hear it"),
    Topic("air", "Air and heat"),
    Topic("means", "Money and labour"),
)
