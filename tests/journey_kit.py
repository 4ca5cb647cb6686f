"""Whole interviews from an empty folder: what the tests in the terminal and the tests of lines of text share.

A journey knows nothing of the order of the questions. It reads what is asked, looks the answer up in a golden answers file, and
leaves open what that file does not answer.
"""

from __future__ import annotations

import datetime
from pathlib import Path

from calc.brief import Origin
from wizard import render
from wizard.export import undated
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.question import Question

GOLDEN_PLANS = Path(__file__).parent / "golden_plans"
TODAY = datetime.date(2026, 3, 4)  # of the golden plans


def golden_answers(name: str) -> Answers:
    return read_strictly((GOLDEN_PLANS / f"{name}.toml").read_text(encoding="utf-8"))


def golden_plan(name: str) -> list[str]:
    """The golden plan, line by line, its dates left out."""
    return undated((GOLDEN_PLANS / f"{name}.md").read_text(encoding="utf-8"))


def written_plan(path: Path) -> list[str]:
    """An exported plan as the golden ones are kept."""
    text = path.read_text(encoding="utf-8")
    return undated(text.replace(f"Stillroom {render.version('stillroom')}", "Stillroom VERSION"))


def flat(text: str) -> str:
    """On one line, so that it does not matter where lines are wrapped."""
    return " ".join(text.split())


def asked_in(text: str) -> Question:
    """The question whose words stand in a text that was shown."""
    shown = flat(text)
    found = [question for question in engine.QUESTIONS if question.text in shown]
    assert len(found) == 1, f"{[question.id for question in found]} asked in {shown!r}"
    return found[0]


def chosen(question: Question, answer: Answer, answers: Answers) -> tuple[str, ...]:
    """The ids of the choices of an answer."""
    value = engine.read(question, answer.text, answers).value
    return value if isinstance(value, tuple) else (str(value),)


def not_known(answer: Answer) -> bool:
    return answer.origin is Origin.UNKNOWN
