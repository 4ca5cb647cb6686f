"""The Mermaid block: every line one that the grammar of gantt diagrams accepts, whatever a person typed."""

from __future__ import annotations

import datetime
import re

import pytest
from build_parts import scheme
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry import inner_room
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.schedule import Schedule, dates, schedule
from wizard.gantt import label, mermaid

START = datetime.date(2026, 12, 7)
DATE = r"\d{4}-\d\d-\d\d"
# Source: tokens of Mermaid's gantt.jison: title [^#\n;]+, section [^#:\n;]+, task [^#:\n;]+ and then a colon with data [^#\n;]+.
LINES = (
    r"    title [^#\n;%:]+",
    r"    dateFormat YYYY-MM-DD",
    r"    axisFormat %d %b %y",
    r"    section [^#:\n;%]+",
    rf"    (\d+\. |Hold point )[^#:\n;%]+ :(crit, )?(active, )?[tw]\d+, {DATE}, {DATE}",
    rf"    Hold point \d+ :(crit, )?milestone, h\d+, {DATE}, 0d",
)


@pytest.fixture(scope="module")
def made() -> Schedule:
    brief, build = make_brief(), scheme()
    room = inner_room(brief, build)
    return schedule(brief, build, room, bill(brief, lines(brief, room, build)), ())


@settings(max_examples=50, deadline=None)
@given(title=st.text(max_size=200))
def test_no_typed_name_breaks_the_block(made: Schedule, title: str) -> None:
    block = mermaid(made, START, title)
    assert (block[0], block[1], block[-1]) == ("```mermaid", "gantt", "```")
    for line in block[2:-1]:
        assert len(line.splitlines()) == 1
        assert any(re.fullmatch(form, line) for form in LINES), line


def test_names_that_would_be_statements_are_only_words(made: Schedule) -> None:
    evil = "x\n```\n# Heading; click t1 call f() %%{init: {'theme': 'dark'}}%% <script>"
    block = mermaid(made, START, evil)
    assert block[2] == "    title x Heading click t1 call f() init - 'theme' - 'dark' script"
    assert sum("```" in line for line in block) == 2
    assert mermaid(made, START, "#;:%")[2] == "    title Plan"


def test_bars_are_the_dates_of_the_tasks_and_critical_ones_are_marked(made: Schedule) -> None:
    block = mermaid(made, START, "Cellar")
    for task, days in zip(made.tasks, dates(made, START), strict=True):
        bar = next(line for line in block if re.search(rf" :(crit, )?t{task.number}, ", line))
        assert f"t{task.number}, {days.first}, {days.last + datetime.timedelta(days=1)}" in bar
        assert ("crit" in bar) == task.critical
        assert any(f"h{task.number}, {days.hold}, 0d" in line for line in block) == bool(task.hold_point)
    marks = re.findall(r"[twh]\d+(?=, )", "\n".join(block))
    assert len(marks) == len(set(marks))


def test_letters_of_any_language_stay() -> None:
    assert label("Hang the last ply: lid, then walls") == "Hang the last ply - lid, then walls"
    assert label("Übungskeller – Jürgens Schlagzeug, 2. Stock") == "Übungskeller Jürgens Schlagzeug, 2. Stock"
