"""Undo and redo by their keys, and one interview open in two windows."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input, Static
from tui_kit import NARROW, QuickBackroom, enter, make_app, press, saved, screen_text

from wizard.app import StillroomApp
from wizard.store import Store


def told(app: StillroomApp) -> str:
    return " ".join(note.message for note in app._notifications)


def notes(app: StillroomApp) -> str:
    return str(app.screen.query_one("#notes", Static).content)


async def test_undo_and_redo_by_their_keys(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW, notifications=True) as pilot:
        await press(pilot, "ctrl+z")
        assert "nothing to undo" in notes(app)
        await enter(pilot, "20 ft")
        await enter(pilot, "14 ft")
        await press(pilot, "ctrl+z")
        assert "Undone: Width of the area is open. Ctrl+Y does it again." in notes(app)
        assert not app._notifications  # nothing lies over the verdict
        assert app.screen.query_one("#typed", Input).value == ""
        await press(pilot, "ctrl+z", "ctrl+y", "ctrl+y")
        assert "Done again: Width of the area is 14 ft." in notes(app)
        assert "Undone" not in screen_text(app)
        assert app.screen.query_one("#typed", Input).value == "14 ft"
    store = Store(tmp_path)
    assert {id: answer.text for id, answer in store.load(store.list()[0].id).answers.items()} == {
        "shell_length": "20 ft",
        "shell_width": "14 ft",
    }


@pytest.mark.parametrize("page", ["f4", "f5"])
async def test_undo_is_told_on_the_map_and_the_page_of_all_answers(tmp_path: Path, page: str) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW, notifications=True) as pilot:
        await enter(pilot, "20 ft")
        await press(pilot, page, "ctrl+z")
        assert "Undone: Length of the area is open." in screen_text(app)
        assert not app._notifications


async def test_undo_goes_on_in_the_next_session(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "20 ft")
    store = Store(tmp_path)
    app = StillroomApp(store, store.list()[0].id, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+z")
        assert app.screen.query_one("#typed", Input).value == ""
    assert len(Store(tmp_path).load(store.list()[0].id).answers) == 0


async def test_a_second_window_can_only_read(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {"shell_length": "20 ft"}, "shell_width")
    store.claim(id)
    app = StillroomApp(Store(tmp_path), id, QuickBackroom())
    async with app.run_test(size=NARROW, notifications=True) as pilot:
        assert "open in another Stillroom" in told(app)
        await enter(pilot, "14 ft")
        assert "Not accepted." in screen_text(app)
        assert app.screen.query_one("#typed", Input).value == "14 ft"
        store.release(id)
        await press(pilot, "enter")
    assert store.load(id).answers["shell_width"].text == "14 ft"


async def test_leaving_an_interview_frees_it(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    other = Store(tmp_path)
    id = other.list()[0].id
    async with app.run_test(size=NARROW) as pilot:
        assert not other.claim(id)
        await press(pilot, "escape")
        assert other.claim(id)
