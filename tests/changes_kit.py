"""Another answer to a question, drawn at random: what the tests and benches of a changed answer share."""

from __future__ import annotations

import random
from pathlib import Path

from wizard.interview import engine
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import Problem, Problems
from wizard.interview.question import Kind, Question
from wizard.interview.to_brief import to_brief

HERE = Path(__file__).parent
BASEMENTS = ("demo", "easy", "low_ceiling", "natural_draft", "attached_neighbour")


def answers_text(name: str) -> str:
    """The answers file of the demo or of a golden basement."""
    path = HERE.parent / "wizard" / "example.toml" if name == "demo" else HERE / "golden_plans" / f"{name}.toml"
    return path.read_text(encoding="utf-8")


def answers_of(name: str) -> Answers:
    return read_strictly(answers_text(name))


def change(answers: Answers, draw: random.Random) -> tuple[str, str]:
    """A question that applies, and another answer to it that is accepted."""
    questions = engine.applicable(answers)
    while True:
        question = draw.choice(questions)
        text = another(question, answers, draw)
        if text:
            return question.id, text


def another(question: Question, answers: Answers, draw: random.Random) -> str:
    """Another answer: another choice, or a number up to a tenth away; empty where there is none that makes a brief."""
    standing = answers[question.id].text if question.id in answers else engine.default_text(question, answers) or "?"
    try:
        if question.kind in (Kind.CHOICE, Kind.MULTI):
            text = draw.choice(question.choices).id
        elif isinstance(value := engine.read(question, standing, answers).value, int | float):
            text = engine.shown_value(question, type(value)(value * draw.uniform(0.9, 1.1)), answers)
        else:
            return ""
        to_brief(engine.accept(question, text, answers))
    except (Problem, Problems):
        return ""
    return text if text != standing else ""
