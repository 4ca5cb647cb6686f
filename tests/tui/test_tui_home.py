"""The list of interviews, and what is found there after the terminal was killed."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input, OptionList, Static
from tui_kit import FIRST_ANSWERS, NARROW, WIDE, QuickBackroom, enter, fixed_time, flush, make_app, press, saved, screen_text, settle, until

from wizard.app import StillroomApp
from wizard.screens.ask import AskOne
from wizard.screens.home import Home
from wizard.screens.interview import Interview
from wizard.store import Store


async def test_a_new_interview_from_an_empty_list(tmp_path: Path) -> None:
    app = make_app(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        assert "without disturbing the house" in screen_text(app)
        assert screen_text(app).splitlines()[-1] == " n New ^P More ^Q Quit"  # nothing can be done to no interview
        await press(pilot, "n")
        app.screen.query_one(Input).value = "Attic? No: cellar"
        await press(pilot, "enter")
        await until(pilot, AskOne)
        await press(pilot, "down", "enter")
        await until(pilot, Interview)
        await enter(pilot, "6.1")
        await press(pilot, "escape")
        assert isinstance(app.screen, Home)
    saved_one = Store(tmp_path).list()[0]
    assert (saved_one.name, saved_one.answered, saved_one.place) == ("Attic? No: cellar", 1, "shell_width")
    assert Store(tmp_path).load(saved_one.id).answers.units == "metric"


async def test_rename_duplicate_delete_and_undo(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "code")
    app = StillroomApp(store, None, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "r")
        app.screen.query_one(Input).value = "Drum room"
        await press(pilot, "enter")
        assert [entry.name for entry in store.list()] == ["Drum room"]
        await press(pilot, "d")
        assert sorted(entry.name for entry in store.list()) == ["Drum room", "Drum room (copy)"]
        await press(pilot, "x")
        assert [entry.name for entry in store.list()] == ["Drum room"]
        await press(pilot, "x")
        assert "Press n to begin" in screen_text(app)
        await press(pilot, "u", "u")
        assert sorted(entry.name for entry in store.list()) == ["Drum room", "Drum room (copy)"]
        assert store.load(id).answers["budget"].text == "25k"


async def test_each_answer_is_found_again_after_the_process_ends_without_warning(tmp_path: Path) -> None:
    """A second application opens the same folder while the first still stands in the middle of an answer; test_tui_kill.py kills one."""
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await enter(pilot, "20'")
        await enter(pilot, "14 ft")
        app.screen.query_one("#typed", Input).value = "7-"
        await flush(pilot)
        store = Store(tmp_path)
        again = StillroomApp(store, store.list()[0].id, QuickBackroom())
        async with again.run_test(size=NARROW) as second:
            await settle(second)
            assert "How high is it" in screen_text(again)


async def test_a_damaged_file_is_told_and_the_last_good_version_opened(tmp_path: Path) -> None:
    store, id = saved(tmp_path, {"shell_length": "20'"})
    store.save(id, store.load(id).answers, "shell_width")
    (tmp_path / "interviews" / id / "answers.toml").write_text("not [ toml", encoding="utf-8")
    app = StillroomApp(Store(tmp_path), None, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        assert "damaged" in screen_text(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, Interview)
        assert any("last good version" in notice.message for notice in app._notifications)


async def test_an_interview_that_cannot_be_opened_leaves_the_list_standing(tmp_path: Path) -> None:
    folder = tmp_path / "interviews" / "broken"
    folder.mkdir(parents=True)
    (folder / "answers.toml").write_text("not [ toml", encoding="utf-8")
    app = StillroomApp(Store(tmp_path), None, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "enter")
        assert isinstance(app.screen, Home)
        assert any("no earlier version" in notice.message for notice in app._notifications)


async def test_what_cannot_be_saved_is_told_and_kept_on_the_screen(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    other = Store(tmp_path, now=fixed_time)
    id = other.list()[0].id
    async with app.run_test(size=NARROW) as pilot:
        other.save(id, other.load(id).answers.with_name("changed elsewhere"), None)
        await enter(pilot, "20'")
        assert "How wide" in screen_text(app)
        assert any("another window" in notice.message for notice in app._notifications)


HOSTILE = ["[/]", "[@click=app.quit]x[/]", "a\\[b", "مرحبا 名前 e\u0301 👩‍👩‍👧", "$text {{ x }} %s", "x" * 150, "[bold]x[/]"]


async def test_typed_text_is_shown_as_it_is(tmp_path: Path) -> None:
    store = Store(tmp_path, now=(f"2026-02-03T04:05:{second:02d}+00:00" for second in range(60)).__next__)
    for name in HOSTILE:
        store.create(name)
    app = StillroomApp(store, None, QuickBackroom())
    async with app.run_test(size=WIDE) as pilot:
        await settle(pilot)
        for name in HOSTILE:
            assert name[:60] in screen_text(app) or not name.isascii()
        await press(pilot, "enter")
        assert HOSTILE[-1][:60] in screen_text(app)
        for text in HOSTILE:
            await enter(pilot, text)
            assert app.screen.query_one("#typed", Input).value == text
            assert str(app.screen.query_one("#notes", Static).content).startswith("Not accepted.")
        await press(pilot, "f4")
        for text in HOSTILE:
            app.screen.query_one(Input).value = text
            await settle(pilot)
            assert app.screen.query_one(OptionList).option_count == 0
        await press(pilot, "escape", "escape", "r")
        assert app.screen.query_one(Input).value == HOSTILE[-1]
