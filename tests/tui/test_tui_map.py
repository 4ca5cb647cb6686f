"""The map of topics, undo on every page of answers, the help of every question, and the sections of the plan."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from textual.widgets import Input, OptionList
from tui_kit import FIRST_ANSWERS, NARROW, WIDE, assessed, first_answers, make_app, press, screen_text, settle

from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.question import Question
from wizard.preview import preview_text
from wizard.screens.ask import AskOne
from wizard.screens.interview import Interview
from wizard.screens.jump import cautions, topic_states
from wizard.screens.plan import PlanPage
from wizard.screens.review import Review
from wizard.widgets.plan_preview import PlanPreview, lay_out, sections
from wizard.widgets.question_pane import help_sections


def test_a_topic_says_in_words_what_is_done_missing_open_and_to_check() -> None:
    empty, first = Answers(), first_answers()
    assert topic_states(empty)["first"].startswith("First verdict: 0 of 12 answered, ")
    assert " missing" in topic_states(empty)["first"]
    assert topic_states(first)["first"] == "First verdict: done, 12 of 12 answered"
    assert topic_states(first)["project"] == "Project and local code: 0 of 3 answered, 3 open"
    clashing = first.with_answer("obstructions", Answer("beam")).with_answer("beam_underside", Answer("9 ft"))
    assert ", 1 to check" in topic_states(clashing)["shell"]


async def test_the_map_unfolds_a_topic_shows_what_the_verdict_holds_against_it_and_goes_anywhere(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=WIDE) as pilot:
        await settle(pilot)
        await press(pilot, "f4")
        text = screen_text(app)
        assert "- Project and local code: 0 of 3 answered, 3 open" in text
        assert "+ Air and heat: 0 of " in text
        assert "      Living space  [open]" in text
        listed = app.screen.query_one(OptionList)
        listed.highlighted = [option.id for option in listed.options].index("topic air")
        await press(pilot, "enter")
        assert "- Air and heat: 0 of " in screen_text(app)
        assert "CO2 limit  [open]" in screen_text(app)
        assert "Living space" not in screen_text(app)
        await press(pilot, "down", "enter")
        assert isinstance(app.screen, Interview)
        assert engine.question(app.screen._session.at or "").topic == "air"


def test_only_stops_and_cautions_of_its_own_stand_below_a_topic() -> None:
    from wizard.interview.verdict import Verdict, VerdictLine

    lines = (
        VerdictLine("Cost", "dear", "", "caution", topic="means"),
        VerdictLine("Time", "long", "", "stop", topic="means"),
        VerdictLine("Joists", "stop", "", "stop", topic="shell"),
        VerdictLine("Air", "enough", "", "good", topic="air"),
    )
    assert cautions("means", Verdict(lines)) == "stop: Time, long; caution: Cost, dear"
    assert cautions("air", Verdict(lines)) == cautions("means", None) == ""


@pytest.mark.parametrize("page", ["f4", "f5"])
async def test_undo_and_redo_act_on_the_map_and_on_the_page_of_all_answers(tmp_path: Path, page: str) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=WIDE) as pilot:
        await settle(pilot)
        await press(pilot, "up", "enter", page)
        session = app.screen._session  # type: ignore[attr-defined]
        assert "code" in session.answers
        await press(pilot, "ctrl+z")
        assert "code" not in session.answers
        assert ("Model code  [open]" if page == "f4" else "Model code: not known  (default, not asked yet)") in screen_text(app)
        await press(pilot, "ctrl+y")
        assert "code" in session.answers
        await press(pilot, "ctrl+z", "escape")
        await settle(pilot)
        assert isinstance(app.screen, Interview)
        assert app.screen._session.at == "code"
        assert app.screen._judged is session.answers  # the verdict is about what stands now


@pytest.mark.parametrize("question", engine.QUESTIONS, ids=lambda question: question.id)
def test_every_question_says_why_how_and_gives_an_example(question: Question) -> None:
    told = dict(help_sections(question, first_answers()))
    for head in ("Why it is asked", "How to find the answer", "How to write it", "If you don't know (F2)"):
        assert len(told[head].split()) >= 3, head
        assert told[head].rstrip(")").endswith((".", "?", '"', "”")), head
    assert " For example " in told["How to write it"]
    assert told["Why it is asked"] != told["How to find the answer"]
    if question.choices:
        example = told["How to write it"].rpartition('"')[0].rpartition('"')[2]
        assert question.choice(example) is not None
        engine.read(question, example, first_answers())


async def test_a_section_of_the_plan_is_opened_and_stays_on_top_at_another_width(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        app.backroom.plan = lambda answers: plan  # type: ignore[method-assign]
        verdict = app.backroom.verdict(first_answers())
        from wizard.backroom import Plan

        plan = Plan(verdict, preview_text(assessed(), first_answers(), datetime.date(2026, 2, 3)))
        await press(pilot, "f6")
        await settle(pilot)
        assert isinstance(app.screen, PlanPage)
        assert "s Sections" in screen_text(app)
        assert "n Next" not in screen_text(app)
        await press(pilot, "s")
        assert isinstance(app.screen, AskOne)
        listed = app.screen.query_one(OptionList)
        titles = [str(option.prompt).strip() for option in listed.options]
        headings = [line.lstrip("# ") for line in plan.text.splitlines() if line.startswith(("# ", "## ", "### "))]
        assert all(full.startswith(title.removesuffix("…").rstrip()) for title, full in zip(titles, headings, strict=True))
        listed.highlighted = next(n for n, title in enumerate(titles) if "Air, heat and moisture" in title)
        await press(pilot, "enter")
        await settle(pilot)
        preview = app.screen.query_one(PlanPreview)
        for size in (NARROW, (60, 20), (200, 60), WIDE, NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert "Air, heat and moisture" in preview.sections[preview.here].title, size
        await press(pilot, "slash")
        app.screen.query_one(Input).value = "duct"
        await press(pilot, "enter")
        assert "n Next N Before" in screen_text(app)


def test_the_headings_of_the_plan_are_found_at_any_width() -> None:
    text = preview_text(assessed(), first_answers(), datetime.date(2026, 2, 3))
    wide, narrow = (sections(lay_out(text, width)) for width in (100, 30))
    assert [(each.level, each.title) for each in wide] == [(each.level, " ".join(each.title.split())) for each in narrow]
    assert len(wide) > 20


async def test_the_page_of_all_answers_comes_back_after_the_last_answer_is_undone(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "start")
    async with app.run_test(size=NARROW) as pilot:
        app.screen.query_one("#typed", Input).value = "2027-03-01"
        await press(pilot, "enter")
        assert isinstance(app.screen, Review)
        await press(pilot, "ctrl+z", "escape")
        assert isinstance(app.screen, Interview)
        assert app.screen._session.at == "start"
