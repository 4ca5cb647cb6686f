"""The interview: which questions apply, what comes next, what state each is in. Pure functions over the answers."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import lru_cache

from calc.origin import Origin
from calc.units import IMPERIAL, MONEY, Measure, UnitError, has_unit, without_thousands
from wizard.interview.answers import DONT_KNOW, Answer, Answers, is_unknown_text
from wizard.interview.bounds import usual
from wizard.interview.checks import cross_problems
from wizard.interview.question import TOPICS, Kind, Question, Topic, Value, worded
from wizard.interview.reading import AnswerValues, Missing, Problem, Problems, Reading, as_text, read_text, show
from wizard.interview.topics import air, first, hazards, means, project, shell, use, who

__all__ = [
    "QUESTIONS",
    "Missing",
    "Problem",
    "Problems",
    "Reading",
    "Row",
    "TopicState",
    "accept",
    "applicable",
    "assumed",
    "default_text",
    "first_open",
    "missing",
    "nearest_id",
    "next_after",
    "next_open",
    "previous_before",
    "problems",
    "question",
    "read",
    "state",
    "summary",
    "switch_units",
    "topic_label",
    "topics",
    "values_of",
    "verdict_ready",
]

QUESTIONS: tuple[Question, ...] = (
    *first.QUESTIONS,
    *project.QUESTIONS,
    *shell.QUESTIONS,
    *hazards.QUESTIONS,
    *use.QUESTIONS,
    *who.QUESTIONS,
    *air.QUESTIONS,
    *means.QUESTIONS,
)
BY_ID = {item.id: item for item in QUESTIONS}


@dataclass(frozen=True)
class TopicState:
    """``done`` of ``total`` applying questions have an answer; ``state`` is done, started or open."""

    topic: Topic
    done: int
    total: int
    state: str
    first_open: str | None


@dataclass(frozen=True)
class Row:
    """One line of the page of all answers. ``note`` says what an assumption costs, or is empty."""

    question: Question
    shown: str
    origin: Origin
    note: str


def question(question_id: str) -> Question:
    """The question with this id. Raises KeyError."""
    return BY_ID[question_id]


def nearest_id(wrong: str) -> str | None:
    """The id of a question that was probably meant."""
    near = difflib.get_close_matches(wrong.casefold().replace("-", "_").replace(" ", "_"), BY_ID, n=1, cutoff=0.5)
    return near[0] if near else None


@lru_cache(maxsize=64)
def values_of(answers: Answers) -> AnswerValues:
    """Every value that these answers give."""
    return AnswerValues(answers, BY_ID)


@lru_cache(maxsize=64)
def applicable(answers: Answers) -> tuple[Question, ...]:
    """The questions that apply now, in order."""
    values = values_of(answers)
    return tuple(item for item in QUESTIONS if values.applies(item))


def next_after(answers: Answers, question_id: str | None) -> Question | None:
    """The applying question after this one (also when this one no longer applies); the first when None; None at the end."""
    if question_id is None:
        return applicable(answers)[0]
    values = values_of(answers)
    place = QUESTIONS.index(BY_ID[question_id])
    return next((item for item in QUESTIONS[place + 1 :] if values.applies(item)), None)


def next_open(answers: Answers, question_id: str) -> Question | None:
    """The open question that follows this one, or None where no open one does."""
    after = next_after(answers, question_id)
    while after is not None and state(after, answers) != "open":
        after = next_after(answers, after.id)
    return after


def previous_before(answers: Answers, question_id: str) -> Question | None:
    """The applying question before this one, or None at the beginning."""
    values = values_of(answers)
    place = QUESTIONS.index(BY_ID[question_id])
    return next((item for item in reversed(QUESTIONS[:place]) if values.applies(item)), None)


def first_open(answers: Answers) -> Question | None:
    """The first applying question without a usable answer, or None when all have one."""
    return next((item for item in applicable(answers) if state(item, answers) == "open"), None)


def state(item: Question, answers: Answers) -> str:
    """answered | default | unknown | open."""
    answer = answers.get(item.id)
    if answer is None:
        return "open"
    try:
        values_of(answers).read(item, answer)
    except (Problem, Missing):
        return "open"
    if is_unknown_text(answer.text):
        return "unknown"
    return "default" if answer.origin is Origin.DEFAULT else "answered"


def read(item: Question, text: str, answers: Answers) -> Reading:
    """Read what was typed for a question. Raises Problem with one sentence for the person."""
    values = values_of(answers)
    if is_unknown_text(text):
        try:
            value = values.read(item, DONT_KNOW)
        except Missing as missing:
            raise Problem(item.id, f"{item.title}: answer “{BY_ID[missing.question_id].title}” first.") from None
        cost = _cost(item, answers)
        return Reading(value, cost, Origin.UNKNOWN)
    return read_text(item, text, answers.units, _currency(item, values))


def accept(item: Question, text: str, answers: Answers, origin: Origin = Origin.MEASURED) -> Answers:
    """The answers with this one added, after reading it. Raises Problem.

    A bare number keeps its meaning after a later switch of units, because switch_units writes the unit behind it.
    """
    read(item, text, answers)
    return answers.with_answer(item.id, DONT_KNOW if is_unknown_text(text) else Answer(text.strip(), origin))


def switch_units(answers: Answers, units: str) -> Answers:
    """The same answers for a person who now counts in ``units``: bare numbers first get the unit they were typed in."""
    if units == answers.units:
        return answers
    changed = answers
    for item_id, answer in answers.items():
        item = BY_ID.get(item_id)
        if item is None or item.unit is None or is_unknown_text(answer.text):
            continue
        try:
            changed = changed.with_answer(item_id, Answer(_in_both_systems(answer.text, item.unit, answers.units), answer.origin))
        except UnitError:
            continue
    return changed.with_units(units)


def _in_both_systems(text: str, measure: Measure, units: str) -> str:
    """The text with its unit written out and no comma that the other system would read otherwise. Raises UnitError."""
    if not has_unit(text, measure):
        text = f"{text.strip()} {measure.unit(units)}"
    return without_thousands(text) if units == IMPERIAL and measure is not MONEY else text


def default_text(item: Question, answers: Answers) -> str | None:
    """The default as a person would type it ("?" where it is "not known"), or None where there is none (yet)."""
    try:
        value = values_of(answers).default(item)
    except Missing:
        return None
    return as_text(item, value, answers.units) or "?"


def topics(answers: Answers) -> tuple[TopicState, ...]:
    """Every topic with how much of it is answered."""
    items = applicable(answers)
    return tuple(_topic_state(topic, tuple(item for item in items if item.topic == topic.id), answers) for topic in TOPICS)


def summary(answers: Answers) -> tuple[Row, ...]:
    """All applying questions with the value that the plan will use, and where it comes from."""
    return tuple(_row(item, answers) for item in applicable(answers))


def assumed(answers: Answers) -> tuple[Row, ...]:
    """The rows of ``summary`` that nobody has measured or estimated."""
    values = values_of(answers)
    open_items = (item for item in applicable(answers) if values.origin(item.id) in (Origin.DEFAULT, Origin.UNKNOWN))
    return tuple(_row(item, answers) for item in open_items)


@lru_cache(maxsize=8)
def problems(answers: Answers) -> tuple[Problem, ...]:
    """What cannot be right in the answers that apply: first those that cannot be read, then those that contradict each other."""
    values = values_of(answers)
    found = [problem for item in applicable(answers) if (problem := _unreadable(item, values))]
    return (*found, *cross_problems(values))


def missing(answers: Answers) -> tuple[Problem, ...]:
    """The questions that have no default and no answer."""
    return tuple(
        Problem(
            item.id, f"{item.title} ({item.id}): there is no answer, and nothing can be assumed for it; {_what_is_right(item, answers)}."
        )
        for item in applicable(answers)
        if item.default is None and item.id not in answers
    )


def topic_label(topic_id: str) -> str:
    return next(topic.label for topic in TOPICS if topic.id == topic_id)


def verdict_ready(answers: Answers) -> bool:
    """Whether the dozen questions of the first verdict are answered."""
    return all(state(item, answers) != "open" for item in QUESTIONS if item.first)


def shown_value(item: Question, value: Value, answers: Answers) -> str:
    """A value in the person's units, or the label of a choice."""
    return show(item, value, answers.units, _currency(item, values_of(answers)))


def _currency(item: Question, values: AnswerValues) -> str:
    """The money that a sum is counted in; none before it was asked, as the budget comes first."""
    return values.word("currency") if item.unit is MONEY and "currency" in values.answers else ""


def _cost(item: Question, answers: Answers) -> str:
    """What is assumed where nobody knows, in the person's units."""
    unknown = worded(item, answers.units).unknown
    return unknown.cost if unknown else ""


def _what_is_right(item: Question, answers: Answers) -> str:
    if item.choices:
        return "choose from " + ", ".join(choice.id for choice in item.choices)
    return usual(item, answers.units, _currency(item, values_of(answers))) or "see `stillroom questions`"


def _unreadable(item: Question, values: AnswerValues) -> Problem | None:
    answer = values.answers.get(item.id)
    if answer is None:
        return None
    try:
        values.read(item, answer)
    except Problem as problem:
        return problem
    except Missing:
        return None
    return None


def _topic_state(topic: Topic, items: tuple[Question, ...], answers: Answers) -> TopicState:
    open_items = [item for item in items if state(item, answers) == "open"]
    done = len(items) - len(open_items)
    word = "done" if not open_items else "started" if done else "open"
    return TopicState(topic, done, len(items), word, open_items[0].id if open_items else None)


def _row(item: Question, answers: Answers) -> Row:
    values = values_of(answers)
    try:
        value, origin = values.resolve(item.id)
    except Missing:
        return Row(item, "not answered yet", Origin.DEFAULT, "This answer is needed before a plan can be made.")
    if origin is Origin.UNKNOWN:
        return Row(item, shown_value(item, value, answers), origin, _cost(item, answers))
    note = "Assumed: nobody has answered this." if origin is Origin.DEFAULT and item.id not in answers else ""
    if item.kind not in (Kind.CHOICE, Kind.MULTI) and item.id in answers and origin is not Origin.DEFAULT:
        return Row(item, read(item, answers[item.id].text, answers).echo, origin, note)
    return Row(item, shown_value(item, value, answers), origin, note)
