"""A stop needs a measurement: joists that nobody measured are the engineer's question."""

from __future__ import annotations

from dataclasses import replace

from calc.brief import Assumption, Brief, Origin
from calc.options import lids
from calc.structure import ENGINEER, SIZE_QUESTIONS, STOP, screen
from wizard.interview.engine import QUESTIONS


def test_joists_that_fail_on_assumed_sizes_go_to_the_engineer(brief: Brief) -> None:
    shell = brief.shell
    weak = replace(brief, shell=replace(shell, joists=replace(shell.joists, depth=0.14, span=6.0, kind="sawn")), assumptions=())
    lid = max(lids(brief), key=lambda each: each.hung_mass)
    assert screen(weak, lid).verdict == STOP
    guess = Assumption("Joist span", "first", "6 m", "", Origin.UNKNOWN)
    assert screen(replace(weak, assumptions=(guess,)), lid).verdict == ENGINEER


def test_the_questions_still_have_these_titles() -> None:
    assert {question.title for question in QUESTIONS} >= set(SIZE_QUESTIONS)
