"""What a typed line of the plain interview means: an answer's text, a reading to repeat, a question to go to."""

from __future__ import annotations

from calc.origin import Origin
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answers, is_unknown_text
from wizard.interview.bounds import unusual
from wizard.interview.engine import Problem
from wizard.interview.question import Kind, Question
from wizard.interview.searching import best_first
from wizard.plain_words import choice_labels, labelled

ESTIMATE = "~"


def meant(question: Question, line: str, answers: Answers) -> tuple[str, Origin]:
    """The answer's text behind what was typed: numbers stand for choices, ~ for an estimate, nothing for the default. Raises Problem."""
    if question.choices:
        if line:
            return ", ".join(_choice(question, part.strip()) for part in _parts(question, line)), Origin.MEASURED
        return engine.default_text(question, answers) or "", Origin.MEASURED  # as the highlighted choice of the full screen
    if line.startswith(ESTIMATE):
        return line.removeprefix(ESTIMATE).strip(), Origin.ESTIMATED
    return line, Origin.MEASURED


def _parts(question: Question, line: str) -> list[str]:
    if question.kind is not Kind.MULTI:
        return [line]
    parts = line.replace(",", " ").split()
    return parts if all(part.isdigit() for part in parts) else [part for part in line.split(",") if part.strip()]


def _choice(question: Question, part: str) -> str:
    labels = choice_labels(question)
    if not (part.isascii() and part.isdigit()):
        known = {name.casefold() for choice in question.choices for name in (choice.id, choice.id.replace("_", " "), choice.label)}
        if part.casefold() in known or is_unknown_text(part):
            return part
        raise Problem(
            question.id, f"{question.title}: “{part[:60]}” is not one of the choices; type a number from 1 to {len(labels)}, or h for help."
        )
    number = int(part[:9])
    if not 1 <= number <= len(labels):
        raise Problem(question.id, f"{question.title}: there is no choice {part[:9]}; they go from 1 to {len(labels)}.")
    return question.choices[number - 1].id if number <= len(question.choices) else DONT_KNOW.text


def reading(question: Question, answers: Answers) -> str:
    """The answer as it was understood."""
    text = answers[question.id].text
    if question.choices:
        return labelled(question, text)
    read = engine.read(question, text, answers)
    doubt = unusual(question, read.value, answers.units)
    estimated = ", estimated" if answers[question.id].origin is Origin.ESTIMATED else ""
    return f"{read.echo.rstrip('.')}{estimated}{f' ({doubt})' if doubt else ''}"


def places(words: str, answers: Answers) -> tuple[Question, ...]:
    """The question that the words mean: by its id, the number or name of a topic, or words of it, the best hit first; several where
    they fit several."""
    asked = engine.applicable(answers)
    by_id = [item for item in asked if item.id == words]
    if by_id:
        return tuple(by_id)
    wanted = words.casefold()
    for number, topic in enumerate(engine.topics(answers), 1):
        inside = [item for item in asked if item.topic == topic.topic.id]
        if inside and wanted in (str(number), topic.topic.id, topic.topic.label.casefold()):
            return (engine.question(topic.first_open) if topic.first_open else inside[0],)
    ranked = [item for _, item in best_first(asked, words, lambda _: ())]
    named = tuple(item for item in ranked if all(word in f"{item.id} {item.title}".casefold() for word in wanted.split()))
    return named or tuple(ranked)
