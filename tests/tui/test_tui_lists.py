"""Lists of choices, and the open questions in a row: nothing is answered that nobody has chosen, and the way back is kept."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events
from textual.screen import Screen
from textual.widgets import OptionList, Static
from tui_kit import FIRST_ANSWERS, NARROW, make_app, press, screen_text, settle

from wizard.app import StillroomApp
from wizard.screens.first_verdict import FirstVerdict
from wizard.screens.interview import Interview
from wizard.screens.plan import PlanPage
from wizard.screens.results import Results
from wizard.screens.review import Review
from wizard.session import Session


def session(app: StillroomApp) -> Session:
    """The session of the open interview."""
    return next(screen for screen in app.screen_stack if isinstance(screen, Interview))._session


async def test_enter_takes_nothing_from_a_list_without_a_default_until_a_row_was_chosen(tmp_path: Path) -> None:
    how = "Choose with the arrow keys; F2 says that you don't know."
    app = make_app(tmp_path, {**FIRST_ANSWERS, "habitable": "yes"}, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert how not in screen_text(app)
        for key in ("8", "space", "i", "n", "enter", "enter"):  # one burst, meant for another question
            app.post_message(events.Key(key, " " if key == "space" else key if len(key) == 1 else None))
        await settle(pilot)
        assert (session(app).at, "code" in session(app).answers) == ("code", False)
        assert how in screen_text(app)
        await press(pilot, "up")  # from none to the last row
        assert how not in screen_text(app)
        await press(pilot, "enter")
        assert (session(app).answers["code"].text, session(app).at) == ("?", "habitable")
        await press(pilot, "f3", "enter")  # an answer that stands is highlighted
        assert (session(app).answers["code"].text, session(app).at) == ("?", "habitable")


async def test_a_letter_in_a_list_says_how_to_choose_and_the_default_stays_for_enter(tmp_path: Path) -> None:
    app = make_app(tmp_path, {**FIRST_ANSWERS, "code": "elsewhere"}, "habitable")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "x")
        assert "Choose with the arrow keys" in screen_text(app)
        await press(pilot, "enter")
        assert session(app).answers["habitable"].text == "yes"


async def test_where_only_the_person_can_know_enter_chooses_nothing_either(tmp_path: Path) -> None:
    app = make_app(tmp_path, dict(list(FIRST_ANSWERS.items())[:6]), "source")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "enter")
        assert session(app).at == "source"
        notes = str(app.screen.query_one("#notes", Static).content)
        assert "Choose with the arrow keys." in notes
        assert "F2" not in notes
        await press(pilot, "down", "enter")
        assert session(app).answers["source"].text == "drum_kit"


async def test_back_steps_inside_the_row_of_open_questions_and_the_row_goes_on(tmp_path: Path) -> None:
    app = make_app(tmp_path, {**FIRST_ANSWERS, "habitable": "yes", "side_1": "open"}, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f5", "o", "f2", "enter")
        assert session(app).at == "side_2"  # over what is answered
        await press(pilot, "f3")
        assert session(app).at == "currency"
        assert "Esc: all answers" in screen_text(app)
        await press(pilot, "f3")
        assert session(app).at == "code"  # not "habitable", which the row never asked
        await press(pilot, "up", "enter")
        assert session(app).at == "side_2"  # the next open one: what the row asked before has its answer
        assert session(app).answers["code"].text == "elsewhere"
        await press(pilot, "f3")
        assert session(app).at == "currency"
        await press(pilot, "f3", "f3")
        assert isinstance(app.screen, Review)  # before the first of the row stands the page that asked it
        assert app.screen.query_one(OptionList).highlighted_option.id == "code"
        await press(pilot, "escape")
        assert session(app).at == "people"


async def test_back_in_a_row_leads_through_what_an_answer_has_opened(tmp_path: Path) -> None:
    app = make_app(tmp_path, {id: text for id, text in FIRST_ANSWERS.items() if id != "listeners"}, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f5", "o")
        assert session(app).at == "listeners"
        await press(pilot, "space", "enter")
        assert isinstance(app.screen, FirstVerdict)
        await press(pilot, "enter")
        opened = session(app).at
        assert opened is not None
        await press(pilot, "ctrl+n", "f3")
        assert session(app).at == opened
        await press(pilot, "f3")
        assert session(app).at == "listeners"
        await press(pilot, "enter")
        assert session(app).from_page


@pytest.mark.parametrize(("key", "page"), [("f6", PlanPage), ("ctrl+l", Results)])
async def test_a_page_opened_from_all_answers_leads_back_to_its_row(tmp_path: Path, key: str, page: type[Screen[None]]) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "f5", "up", "up")
        row = app.screen.query_one(OptionList).highlighted_option.id
        assert row not in (None, "code")
        await press(pilot, key)
        await settle(pilot)
        assert isinstance(app.screen, page)
        await press(pilot, "escape")
        assert isinstance(app.screen, Review)
        assert app.screen.query_one(OptionList).highlighted_option.id == row
        await press(pilot, "escape")
        assert session(app).at == "code"
        await press(pilot, key)  # opened at a question, it leads back to the question
        await settle(pilot)
        await press(pilot, "escape")
        assert isinstance(app.screen, Interview)


async def test_a_plan_asked_for_too_early_leaves_the_page_of_all_answers_on_show(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20'"}, "shell_width")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f5", "f6")
        assert isinstance(app.screen, Review)
        assert any("11 more" in notice.message for notice in app._notifications)
