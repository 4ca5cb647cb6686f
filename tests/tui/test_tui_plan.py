"""The plan to read and the folder it is written to."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input, Static
from tui_kit import FIRST_ANSWERS, NARROW, make_app, press, screen_text, settle

from wizard.app import StillroomApp


def notes(app: StillroomApp) -> str:
    return str(app.screen.query_one("#notes", Static).content)


async def test_the_plan_is_read_and_written(tmp_path: Path) -> None:
    app = make_app(tmp_path / "data", FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f6")
        await settle(pilot)
        assert "For 3 people." in screen_text(app)
        assert "Nothing is written yet" in notes(app)
        await press(pilot, "w")
        app.screen.query_one(Input).value = str(tmp_path / "new" / "folder")
        await press(pilot, "enter")
        await settle(pilot)
        first, beside = notes(app).splitlines()
        assert first == f"Written: {tmp_path / 'new' / 'folder' / 'plan.md'}"
        assert all(word in beside for word in ("hand-off", "shopping list", "calendar", "figures"))
    assert (tmp_path / "new" / "folder" / "plan.md").is_file()


async def test_a_folder_that_holds_something_is_only_overwritten_when_asked(tmp_path: Path) -> None:
    (tmp_path / "plan.md").write_text("mine", encoding="utf-8")
    app = make_app(tmp_path / "data", FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f6")
        await settle(pilot)
        for keys, text in ((("enter",), "mine"), (("escape",), "mine"), (("down", "enter"), "# The plan\n\nFor 3 people.\n")):
            await press(pilot, "w")
            app.screen.query_one(Input).value = str(tmp_path)
            await press(pilot, "enter")
            assert "not empty" in screen_text(app)
            await press(pilot, *keys)
            await settle(pilot)
            assert (tmp_path / "plan.md").read_text(encoding="utf-8") == text


async def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    app = make_app(tmp_path / "data", FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "f6")
        await settle(pilot)
        for folder, told in ((tmp_path / "file", "is a file, not a folder"), (tmp_path / "file" / "below", "could not be written there")):
            await press(pilot, "w")
            app.screen.query_one(Input).value = str(folder)
            await press(pilot, "enter")
            await settle(pilot)
            assert told in notes(app)
