"""The plan as text: whole, steady, harmless to read, in one system of units."""

from __future__ import annotations

import datetime
import re
from importlib.resources import files

import pytest
from markdown_it import MarkdownIt

from calc.assess import assess
from calc.brief import Brief
from calc.scheme import Ply
from wizard import present
from wizard.interview.answers import Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.render import plan_text, undated

TODAY = datetime.date(2026, 3, 4)
HOSTILE = '<script>x</script> | [a](http://b) `c` **d** <e@f.g> ~~h~~ \\ # 1. "i" &amp; www.j.org'
HEADINGS = [
    "1. Verdict",
    "2. Before anything: stops and cautions",
    "3. What you told us, and what was assumed",
    "4. The room",
    "5. How quiet",
    "6. Constructions, layer by layer",
    "7. Weight on the floor above",
    "8. Air, heat and moisture",
    "9. Quantities and cost",
    "10. Stages, hold points and warnings",
    "11. Hand-off sheets",
    "12. After the build",
    "13. What this rests on",
]


@pytest.fixture(scope="module")
def answers() -> Answers:
    return read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def demo(answers: Answers) -> Brief:
    return to_brief(answers)


@pytest.fixture(scope="module")
def text(answers: Answers, demo: Brief) -> str:
    return plan_text(assess(demo), answers, TODAY)


def test_the_plan_holds_every_part_in_order(text: str) -> None:
    assert re.findall(r"(?m)^## (.*)$", text) == HEADINGS


def test_only_the_date_line_differs_from_day_to_day(text: str, answers: Answers, demo: Brief) -> None:
    other = plan_text(assess(demo), answers, datetime.date(2030, 1, 1))
    assert other != text
    assert undated(other) == undated(text)


def test_every_table_reads_as_a_table_with_its_columns(text: str) -> None:
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
    rows = [line for line in text.splitlines() if line.startswith("|")]
    rules = [row for row in rows if re.fullmatch(r"[| :-]+", row) and "-" in row]
    assert sum(token.type == "table_open" for token in tokens) == len(rules)
    assert sum(token.type == "tr_open" for token in tokens) == len(rows) - len(rules)
    assert not [token for token in tokens if token.type == "html_block"]


def test_nothing_unsaid_is_printed(text: str) -> None:
    assert not re.search(r"\bNone\b|\bnan\b|\binf\b|\{length:|\{\{|\}\}|Undefined", text)


def test_an_imperial_plan_names_no_bare_metric_size(text: str) -> None:
    told = text[text.index("## 4. The room") :]
    bare = re.findall(r"(?<!\()\b\d+(?:\.\d+)? (?:mm|m²|kg|kPa|L/s)\b(?! ?\()", told)
    assert not bare, bare[:5]


def test_what_a_person_typed_stays_text(answers: Answers) -> None:
    named = answers.with_name(HOSTILE)
    text = plan_text(assess(to_brief(named)), named, TODAY)
    assert re.findall(r"(?m)^## (.*)$", text) == HEADINGS
    tokens = MarkdownIt("gfm-like", {"linkify": False}).parse(text)
    inline = [child for token in tokens for child in token.children or []]
    assert not [child for child in inline if child.type in {"html_inline", "link_open", "image", "s_open"}]


def test_a_metric_plan_is_metric(answers: Answers) -> None:
    from wizard.interview.engine import switch_units

    metric = switch_units(answers, "metric")
    text = plan_text(assess(to_brief(metric)), metric, TODAY)
    told = text[text.index("## 4. The room") :]
    assert not re.findall(r"(?<!\()\b\d+(?:\.\d+)? (?:ft|psf|cfm|sq ft|cu ft)\b(?!\)| \()", told)


def test_small_words() -> None:
    assert present.level(-3.0) == "below 0"
    assert present.level(-0.2) == "0"
    assert present.signed(-0.4) == "0"
    assert present.signed(2.6) == "+3"
    assert present.hours(0.3) == "15 min"
    assert present.hours(21.9) == "22 h"
    board = Ply("gypsum board type X", 0.0159, 11.0)
    assert [(g.count, g.material) for g in present.ply_groups((board, board))] == [(2, "gypsum board type X")]


def test_the_curve_is_read_from_its_first_to_its_last_point() -> None:
    times = tuple(i / 60 for i in range(61))
    picked = present.sampled((times, tuple(400.0 + i for i in range(61))))
    assert picked[0] == (0, 400.0)
    assert picked[-1] == (60, 460.0)
