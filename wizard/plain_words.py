"""What the plain interview says: lines of text without boxes, colours or redrawing."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterator
from typing import TYPE_CHECKING, TextIO

from calc.origin import Origin
from calc.unit_tables import example
from wizard.interview import engine
from wizard.interview.answers import Answers, is_unknown_text
from wizard.interview.bounds import span
from wizard.interview.question import TOPICS, Kind, Question, worded
from wizard.interview.verdict import changes

if TYPE_CHECKING:
    from wizard.interview.verdict import Verdict

WIDTH = 79
DONT_KNOW_LABEL = "I don't know"

HELP = (
    "Type an answer, or the number of a choice; several numbers with commas where several may be chosen. ~ before a number marks it as an "
    "estimate. An empty line keeps what was answered, or takes the default.",
    "? why it is asked, and how to find the answer",
    "< the question before",
    "> skip: the next question, without an answer",
    "d I don't know: the careful value is assumed",
    "@ the topics; @air or @3 goes to a topic, @joist depth to a question",
    "a all answers",
    "v the verdict so far, and what the last answers moved",
    "t the open question that would change the verdict most",
    "p write the plan to a folder",
    "u undo the last answer; r do it again",
    "m count in metres instead of feet, or back",
    "h this list",
    "q save and leave; so does the end of the input",
)

SPELT_OUT = {
    "help": "h", "back": "<", "skip": ">", "next": ">", "review": "a", "verdict": "v", "plan": "p", "undo": "u", "redo": "r",
    "quit": "q", "exit": "q",
}  # fmt: skip
"""What people type for a letter; no answer reads like one of these."""


class Leave(Exception):  # noqa: N818
    """The person has said goodbye."""


class Talk:
    """Lines in, lines out. Nothing that was typed or stands in a file reaches the terminal as a control character."""

    def __init__(self, heard: TextIO, said: TextIO) -> None:
        self._heard = heard
        self._said = said
        self._echoes = heard.isatty()

    def say(self, *paragraphs: str) -> None:
        for paragraph in paragraphs:
            for line in paragraph.split("\n"):
                shown = textwrap.fill(harmless(line), WIDTH, break_long_words=False, break_on_hyphens=False)
                self._said.write(f"{shown}\n")
        self._said.flush()

    def ask(self, prompt: str) -> str:
        """The line typed, without its end. Raises EOFError when there is no more."""
        self._said.write(f"{harmless(prompt)} ")
        self._said.flush()
        line = self._heard.readline()
        if not self._echoes or not line:
            self._said.write("\n")  # the terminal shows what is typed and its end; a pipe does not
        if not line:
            raise EOFError
        return line.strip()

    def pick(self, ask: str, highest: int, empty: int | None) -> int:
        """A number from 1 to ``highest``; ``empty`` is what an empty line means. Raises EOFError and Leave."""
        while True:
            line = self.ask(ask)
            if line == "q":
                raise Leave
            if not line and empty is not None:
                return empty
            if line.isascii() and line.isdigit() and len(line) < 9 and 1 <= int(line) <= highest:
                return int(line)
            self.say(f"Type a number from 1 to {highest}, or q to leave.")


def harmless(text: str) -> str:
    """The text without control characters."""
    return "".join(" " if unicodedata.category(letter) in ("Cc", "Cs") else letter for letter in text)


def question_lines(question: Question, answers: Answers) -> Iterator[str]:
    told = worded(question, answers.units)
    yield told.text
    for number, label in enumerate(choice_labels(told), 1):
        yield f"{number}. {label}"
    if not question.choices:
        yield span(question, answers.units)


def choice_labels(question: Question) -> tuple[str, ...]:
    labels = tuple(f"{choice.label} ({choice.note})" if choice.note else choice.label for choice in question.choices)
    return (*labels, DONT_KNOW_LABEL) if labels and question.unknown is not None and question.kind is Kind.CHOICE else labels


def prompt(question: Question, answers: Answers) -> str:
    """What to type, and what an empty line does."""
    what = {Kind.CHOICE: "Number", Kind.MULTI: "Numbers, with commas"}.get(question.kind, "Answer")
    kept = standing(question, answers)
    if kept is not None:
        return f"{what}, empty for {kept} as before:"
    default = engine.default_text(question, answers)
    return f"{what}:" if default is None else f"{what}, empty for the default, {labelled(question, default)}:"


def standing(question: Question, answers: Answers) -> str | None:
    """The answer given before, in words; None where there is none that can be used."""
    answer = answers.get(question.id)
    if answer is None or engine.state(question, answers) == "open":
        return None
    return f"{labelled(question, answer.text)}{', estimated,' if answer.origin is Origin.ESTIMATED else ''}"


def labelled(question: Question, text: str) -> str:
    """An answer's text with the labels of the choices in it."""
    if is_unknown_text(text):
        return DONT_KNOW_LABEL if question.choices else "not known"
    return "; ".join(question.label(part.strip()) for part in text.split(",")) if question.choices else text


def explanation(question: Question, answers: Answers) -> Iterator[str]:
    """Why, how, how to write it, and what is assumed."""
    told = worded(question, answers.units)
    yield f"Why: {told.why}"
    if told.how:
        yield f"How: {told.how}"
    if question.unit is not None:
        yield f"For example: {example(question.unit.dimension, answers.units)}."
    yield f"If you don't know: {told.unknown.cost if told.unknown else 'only you can know this one.'}"
    yield "h lists the commands."


def topic_lines(answers: Answers) -> Iterator[str]:
    for number, topic in enumerate(engine.topics(answers), 1):
        yield f"{number}. {topic.topic.label}: {topic.done} of {topic.total} answered, {topic.state}"


def answer_lines(answers: Answers) -> Iterator[str]:
    """All answers by topic, each with where it comes from, then what cannot be right."""
    rows = engine.summary(answers)
    for topic in TOPICS:
        inside = [row for row in rows if row.question.topic == topic.id]
        if inside:
            yield f"\n{topic.label}"
        for row in inside:
            asked = row.question.id in answers
            mark = row.origin.value if asked else "needed" if row.question.default is None else "default, not asked yet"
            note = f" {row.note}" if row.origin is Origin.UNKNOWN else ""
            yield f"{row.question.title}: {row.shown}{f' ({mark})' if mark != Origin.MEASURED.value else ''}.{note}"
    for problem in engine.problems(answers):
        yield f"Check: {problem.sentence}"


def verdict_lines(verdict: Verdict, before: Verdict | None) -> Iterator[str]:
    """A line each: the state, what, how much, what the answers since it was last told moved, and against what."""
    moved = changes(before, verdict)
    for line in verdict.lines:
        told = (line.value, moved.get(line.name, ""), line.limit)
        yield f"{line.state}: {line.name}: {'; '.join(part for part in told if part)}."
