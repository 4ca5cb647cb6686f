"""From any sensible answers to a verdict: the demo with other answers put in gives an assessment, its lines and its data, or problems."""

from __future__ import annotations

import contextlib
import json
from importlib.resources import files

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from wizard.as_data import as_data
from wizard.interview import engine, leverage
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import Problem, Problems
from wizard.interview.to_brief import to_brief
from wizard.interview.verdict import verdict

DEMO = read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


@st.composite
def changed_demos(draw: st.DrawFn) -> Answers:
    answers = DEMO
    for item in draw(st.lists(st.sampled_from(engine.QUESTIONS), min_size=2, max_size=8, unique=True)):
        texts = leverage.alternatives(item, answers) if engine.values_of(answers).applies(item) else ()
        if item.unknown is not None:
            texts = (*texts, "?")
        if texts:
            with contextlib.suppress(Problem):
                answers = engine.accept(item, draw(st.sampled_from(texts)), answers)
    return answers


@settings(max_examples=8, deadline=None)
@given(answers=changed_demos())
def test_sensible_answers_come_through(answers: Answers) -> None:
    with contextlib.suppress(Problems):
        assessment = assess(to_brief(answers), explain=False)
        lines = verdict(assessment, answers.units).lines
        assert all(line.value for line in lines)
        assert len({line.name for line in lines}) == len(lines) >= 6
        json.dumps(as_data(assessment), allow_nan=False)
