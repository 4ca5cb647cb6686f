"""From typed text to a value, and every value that the answers give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

from calc.origin import Origin
from calc.unit_format import format_echo, format_value
from calc.units import MONEY, UnitError, parse
from wizard.interview.answers import Answer, Answers, is_unknown_text
from wizard.interview.bounds import ROUNDING, ends, meant_instead, usual
from wizard.interview.question import Kind, Question, Value, Values

LONGEST = 2_000  # characters of one answer; the longest list of choices has some hundreds


class Problem(Exception):  # noqa: N818
    """One answer that cannot be right: which question, and one sentence."""

    def __init__(self, question_id: str, sentence: str) -> None:
        super().__init__(sentence)
        self.question_id = question_id
        self.sentence = sentence


class Problems(Exception):  # noqa: N818
    """All problems of a set of answers."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(problem.sentence for problem in problems))
        self.problems = problems


class Missing(LookupError):  # noqa: N818
    """A question without a default has no answer yet."""

    def __init__(self, question_id: str) -> None:
        super().__init__(question_id)
        self.question_id = question_id


@dataclass(frozen=True)
class Reading:
    """What the text was taken to mean: the value, and the sentence that repeats it to the person."""

    value: Value
    echo: str
    origin: Origin = Origin.MEASURED


@lru_cache(maxsize=4096)
def read_text(question: Question, text: str, units: str, currency: str) -> Reading:
    """Read what was typed. Raises Problem. An "I don't know" is the caller's to resolve.

    Kept, as after each answer all the others are read again.
    """
    if question.kind in (Kind.CHOICE, Kind.MULTI):
        if len(text) > LONGEST:
            raise Problem(question.id, f"{question.title}: that is longer than {LONGEST:,} characters; write each choice once.")
        return _read_choices(question, text)
    if question.unit is None:
        raise TypeError(f"{question.id} has no unit")
    try:
        value = parse(text, question.unit, units)
    except UnitError as error:
        raise Problem(question.id, f"{question.title}: {error}") from None
    _check_range(question, text, value, units, currency)
    return Reading(value, format_echo(value, question.unit, units, currency if question.unit is MONEY else ""))


@lru_cache(maxsize=2048, typed=True)
def show(question: Question, value: Value, units: str, currency: str = "") -> str:
    """A value as the person would write it: with units, or the labels of choices."""
    if isinstance(value, tuple):
        return ", ".join(question.label(item) for item in value) or "none"
    if isinstance(value, str):
        return question.label(value) if value not in ("", "unknown") else question.label(value) if question.choice(value) else "not known"
    if question.unit is None:
        return f"{value:g}"
    return format_value(value, question.unit, units, currency if question.unit is MONEY else "")


def as_text(question: Question, value: Value, units: str) -> str:
    """A value as an answer's text: ids of choices, numbers with units."""
    if isinstance(value, tuple):
        return ", ".join(value)
    return value if isinstance(value, str) else show(question, value, units)


def _read_choices(question: Question, text: str) -> Reading:
    parts = [text.strip()] if question.kind is Kind.CHOICE else [part.strip() for part in text.split(",") if part.strip()]
    chosen = tuple(dict.fromkeys(_find_choice(question, part) for part in parts))
    if not chosen:
        raise Problem(question.id, f"{question.title}: nothing is chosen; choose at least one of {_choice_list(question)}.")
    if "none" in chosen and len(chosen) > 1:
        raise Problem(question.id, f"{question.title}: “{question.label('none')}” cannot be chosen together with others.")
    if question.kind is Kind.CHOICE:
        return Reading(chosen[0], question.label(chosen[0]))
    ordered = tuple(choice.id for choice in question.choices if choice.id in chosen)
    return Reading(ordered, ", ".join(question.label(item) for item in ordered))


def _find_choice(question: Question, text: str) -> str:
    wanted = " ".join(text.casefold().replace("_", " ").split())
    for choice in question.choices:
        if wanted in (choice.id.casefold().replace("_", " "), choice.label.casefold()):
            return choice.id
    raise Problem(question.id, f"{question.title}: “{_short(text)}” is not one of the choices; write one of {_choice_list(question)}.")


def _choice_list(question: Question) -> str:
    return ", ".join(choice.id for choice in question.choices)


def _check_range(question: Question, text: str, value: float, units: str, currency: str) -> None:
    slack = ROUNDING.get(question.unit.dimension, 1e-9) if question.unit else 0.0
    if question.low is not None and value < question.low - slack:
        word, limit = "less than the least that can be worked with", ends(question, units)[0]
    elif question.high is not None and value > question.high + slack:
        word, limit = "more than the most that can be worked with", ends(question, units)[1]
    else:
        return
    advice = meant_instead(question, text, units) or usual(question, units, currency) or "check the unit"
    raise Problem(question.id, f"{question.title}: {_short(text)} is {word}, {limit}; {advice}.")


class AnswerValues(Values):
    """The value of every question: as answered, else what "I don't know" assumes, else the default.

    Answers of questions that do not apply are masked: their value is the default. An answer that cannot be read counts as open here;
    engine.problems names it.
    """

    def __init__(self, answers: Answers, questions: Mapping[str, Question]) -> None:
        self.answers = answers
        self.questions = questions
        self._values: dict[str, tuple[Value, Origin]] = {}
        self._applies: dict[str, bool] = {}

    def typed(self, question_id: str) -> str:
        answer = self.answers.get(question_id)
        return "" if answer is None else answer.text

    def applies(self, question: Question) -> bool:
        if question.id not in self._applies:
            try:
                self._applies[question.id] = question.applies(self)
            except Missing:
                self._applies[question.id] = False
        return self._applies[question.id]

    def resolve(self, question_id: str) -> tuple[Value, Origin]:
        """The value and where it comes from. Raises Missing where there is neither answer nor default."""
        if question_id not in self._values:
            self._values[question_id] = self._find(self.questions[question_id])
        return self._values[question_id]

    def origin(self, question_id: str) -> Origin:
        """Where the value comes from; the default where there is none yet."""
        try:
            return self.resolve(question_id)[1]
        except Missing:
            return Origin.DEFAULT

    def value(self, question_id: str) -> Value:
        return self.resolve(question_id)[0]

    def number(self, question_id: str) -> float:
        return cast(float, self.value(question_id))

    def word(self, question_id: str) -> str:
        return cast(str, self.value(question_id))

    def words(self, question_id: str) -> tuple[str, ...]:
        try:
            return cast(tuple[str, ...], self.value(question_id))
        except Missing:
            return ()

    def default(self, question: Question) -> Value:
        if question.default is None:
            raise Missing(question.id)
        return question.default(self) if callable(question.default) else question.default

    def if_unknown(self, question: Question) -> Value:
        if question.unknown is None:
            raise Missing(question.id)
        value = question.unknown.value
        return value(self) if callable(value) else value

    def read(self, question: Question, answer: Answer) -> Value:
        """The value of an answer's text, an unknown included. Raises Problem."""
        if is_unknown_text(answer.text):
            if question.unknown is None:
                raise Problem(question.id, f"{question.title}: this one must be known; {_how_to_know(question)}")
            return self.if_unknown(question)
        currency = "" if question.unit is not MONEY else self.word("currency")
        return read_text(question, answer.text, self.answers.units, currency).value

    def _find(self, question: Question) -> tuple[Value, Origin]:
        answer = self.answers.get(question.id)
        if answer is None or not self.applies(question):
            return self.default(question), Origin.DEFAULT
        try:
            value = self.read(question, answer)
        except Problem:
            return self.default(question), Origin.DEFAULT
        return value, Origin.UNKNOWN if is_unknown_text(answer.text) else answer.origin


def _short(text: str) -> str:
    """What was typed, on one line, to be repeated in a sentence."""
    return " ".join(text.split())[:60]


def _how_to_know(question: Question) -> str:
    first = question.how.split(". ")[0].rstrip(".")
    return f"{first[0].lower()}{first[1:]}."
