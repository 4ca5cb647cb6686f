"""What was typed and not taken is there again: after going back, skipping and quitting."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input
from tui_kit import FIRST_ANSWERS, NARROW, QuickBackroom, enter, make_app, press, saved, screen_text

from wizard.app import StillroomApp
from wizard.screens.review import Review
from wizard.session import Session
from wizard.store import Store

AGAIN = "Typed earlier, not taken yet"


@pytest.mark.parametrize("away", [("f3", "enter"), ("ctrl+n", "f3")], ids=["back and on", "skipped and back"])
async def test_a_line_left_behind_stands_there_again_and_says_so(tmp_path: Path, away: tuple[str, ...]) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "20 ft")
        await press(pilot, *"13 f", *away)
        field = app.screen.query_one("#typed", Input)
        assert field.value == "13 f"
        assert AGAIN in screen_text(app)
        await press(pilot, "end", "t", "enter", "f3")
        assert (field.value, AGAIN in screen_text(app)) == ("13 ft", False)


async def test_quitting_in_half_a_word_keeps_it_for_the_next_session(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20 ft"}, "shell_width")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, *"13 f")
        await pilot.press("ctrl+q")
    store = Store(tmp_path)
    app = StillroomApp(store, store.list()[0].id, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        assert app.screen.query_one("#typed", Input).value == "13 f"
        await press(pilot, "end", "t", "enter", "escape")
    again = Store(tmp_path).load(store.list()[0].id)
    assert (again.answers["shell_width"].text, again.drafts) == ("13 ft", {})


async def test_the_last_answer_of_all_is_taken_and_not_put_aside(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "start")
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "2027-03-01")
        assert isinstance(app.screen, Review)
        await press(pilot, "escape")
        assert (app.screen.query_one("#typed", Input).value, AGAIN in screen_text(app)) == ("2027-03-01", False)


async def test_i_dont_know_lets_the_line_go(tmp_path: Path) -> None:
    app = make_app(tmp_path, {"shell_length": "20 ft", "shell_width": "14 ft", "shell_height": "7 ft"}, "joist_depth")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, *"nin", "f2", "f3")
        assert app.screen.query_one("#typed", Input).value == ""


@pytest.mark.parametrize("text", ["", "[", "[]", '{"shell_width": 3, "nobody": "x", "shell_length": ""}', "[" * 100_000])
def test_a_damaged_file_of_lines_is_as_good_as_none(tmp_path: Path, text: str) -> None:
    store, id = saved(tmp_path, {"shell_length": "20 ft"})
    (store.folder / "interviews" / id / "unfinished.json").write_text(text, encoding="utf-8")
    assert Session.open(store, id).drafts == {}
