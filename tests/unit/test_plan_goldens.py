"""Four invented basements as whole plans: what a reviewer reads from top to bottom, kept as snapshots.

``STILLROOM_GOLDENS=write pytest tests/unit/test_plan_goldens.py`` writes them again; read what changed before it is committed.
"""

from __future__ import annotations

import datetime
import os
import re
from functools import cache
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from calc.assess import Assessment, assess
from wizard import render
from wizard.figures.gather import figures
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief

FOLDER = Path(__file__).parent.parent / "golden_plans"
NAMES = ("easy", "low_ceiling", "natural_draft", "attached_neighbour")
TODAY = datetime.date(2026, 3, 4)


@cache
def made(name: str) -> tuple[Answers, Assessment]:
    answers = read_strictly((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
    return answers, assess(to_brief(answers))


@cache
def plan(name: str) -> str:
    answers, assessment = made(name)
    text = render.plan_text(assessment, answers, TODAY, figures(assessment))
    return text.replace(f"Stillroom {render.version('stillroom')}", "Stillroom VERSION")


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_reads_as_it_was_reviewed(name: str) -> None:
    kept = FOLDER / f"{name}.md"
    if os.environ.get("STILLROOM_GOLDENS") == "write":
        kept.write_text(plan(name), encoding="utf-8")
    assert plan(name).splitlines() == kept.read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_is_whole_markdown(name: str) -> None:
    text = plan(name)
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
    inline = [child for token in tokens for child in token.children or []]
    rows = [line for line in text.splitlines() if line.startswith("|")]
    rules = [row for row in rows if re.fullmatch(r"[| :-]+", row) and "-" in row]
    assert sum(token.type == "table_open" for token in tokens) == len(rules)
    assert sum(token.type == "tr_open" for token in tokens) == len(rows) - len(rules)
    assert not [token for token in tokens if token.type == "html_block"]
    assert not [child for child in inline if child.type in {"html_inline", "s_open"}]
    assert not re.search(r"\bNone\b|\bnan\b|\binf\b|\{length:|\{\{|\}\}|Undefined|<bound|object at", text)
    linked = [str(child.attrs["src"]) for child in inline if child.type == "image"]
    assert sorted(linked) == sorted(f"figures/{figure.name}.svg" for figure in figures(made(name)[1]))


@pytest.mark.parametrize("name", NAMES)
def test_every_section_named_is_there(name: str) -> None:
    there = set(re.findall(r"(?m)^## Section (\d+): ", plan(name)))
    assert set(re.findall(r"\bsections? (\d+)\b(?!-)", plan(name))) <= there


@pytest.mark.parametrize("name", NAMES)
def test_the_verdict_promises_no_more_than_its_likelihood(name: str) -> None:
    _, assessment = made(name)
    verdict = plan(name)[: plan(name).index("## Section 2: ")]
    worst = min(listener.likelihood for listener in assessment.isolation.listeners)
    promised = "as quiet as you asked" in verdict and "miss" not in verdict and "not as surely" not in verdict
    assert not promised or worst >= 0.5
    rules = {stop.rule for stop in assessment.stops}
    assert ("Do not start building yet" in verdict) == bool(rules - {"out_of_reach"})
    assert bool(re.search("[Dd]o not build (it|them) for this use", verdict)) == ("out_of_reach" in rules)


@pytest.mark.parametrize("name", NAMES)
def test_that_all_could_be_met_and_that_nothing_meets_all_name_their_conditions(name: str) -> None:
    verdict = next((line for line in plan(name).splitlines() if line.startswith("**What decides it.**")), "")
    if "a ceiling on its own joists would" in verdict:
        assert re.search(r"With the [a-z ]+ out of the way a ceiling", verdict)
        assert "as things hang now, these joists cannot pass" in verdict
        assert "No combination in the catalogue" not in verdict
        assert "As things hang now, no combination in the catalogue" in verdict
    else:
        assert "As things hang now" not in verdict
