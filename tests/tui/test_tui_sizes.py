"""Every screen at every size: no control cut off from 80 × 24 to 200 × 60, and a resize keeps what was typed, the focus and the place."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from textual.app import App
from textual.pilot import Pilot
from textual.widgets import Input, OptionList
from tui_kit import FIRST_ANSWERS, NARROW, QuickBackroom, clipped, flush, press, saved, screen_text, settle

from wizard.app import StillroomApp
from wizard.backroom import Plan
from wizard.interview.answers import Answers
from wizard.widgets.plan_preview import PlanPreview

SIZES = ((80, 24), (99, 24), (100, 24), (120, 31), (120, 40), (160, 32), (200, 24), (80, 60), (200, 60))
# Keys from a question with a line to type, to each screen.
SCREENS = {
    "a line to type": (),
    "a choice": ("f4", "*radon"),
    "ticks": ("f4", "*who must not hear"),
    "help": ("f1",),
    "the map": ("f4",),
    "words found": ("f4", "*joist"),
    "all answers": ("f5", "down", "down", "down"),
    "how quiet": ("ctrl+l", "down"),
    "air": ("ctrl+l", "right"),
    "room": ("ctrl+l", "right", "right"),
    "compare": ("ctrl+l", "left", "down"),
    "the plan": ("f6",),
    "a folder": ("f6", "w"),
    "words to look for": ("f6", "slash"),
    "sections": ("f6", "s"),
    "the list": ("escape",),
    "a name": ("escape", "n"),
    "units": ("escape", "n", "enter"),
}


class LongPlan(QuickBackroom):
    def plan(self, answers: Answers) -> Plan:
        text = "\n\n".join(f"## {number}. Part\n\n{'Some words of the plan. ' * 30}" for number in range(1, 20))
        return Plan(self.verdict(answers), f"# The plan\n\n{text}\n")


def app_with_plan(folder: Path) -> StillroomApp:
    store, id = saved(folder, FIRST_ANSWERS, "people")
    return StillroomApp(store, id, LongPlan())


async def tour(pilot: Pilot[None], keys: Sequence[str]) -> None:
    """Press keys; a key that begins with a star is words for the line, and Enter where they name a question to go to."""
    await settle(pilot)
    for key in keys:
        if key.startswith("*"):
            pilot.app.screen.query_one(Input).value = key[1:]
            await flush(pilot)
            if key != "*joist":
                await press(pilot, "enter")
        else:
            await press(pilot, key)
        await settle(pilot)


def keys_line(app: App[None]) -> str:
    return screen_text(app).splitlines()[-1]


@pytest.mark.parametrize("name", SCREENS)
async def test_no_control_is_cut_off_at_any_size(tmp_path: Path, name: str) -> None:
    app = app_with_plan(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        await tour(pilot, SCREENS[name])
        for size in SIZES:
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert clipped(app) == [], (name, size)
            assert len(screen_text(app).splitlines()) == size[1]
            assert not keys_line(app).rstrip().endswith("…"), keys_line(app)
            assert "Esc" in keys_line(app) or "Quit" in keys_line(app)
            assert app.focused is not None


@pytest.mark.parametrize("name", SCREENS)
async def test_a_resize_keeps_what_was_typed_the_focus_and_the_place(tmp_path: Path, name: str) -> None:
    app = app_with_plan(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        await tour(pilot, SCREENS[name])
        for field in app.screen.query(Input):
            if field.display:
                field.value = "7' 2 1/2\" [b]"
        await settle(pilot)
        screen, focused = app.screen, app.focused
        values = [field.value for field in screen.query(Input)]
        chosen = [listed.highlighted_option.id if listed.highlighted_option else None for listed in screen.query(OptionList)]
        rows = [listed.highlighted for listed in screen.query(OptionList)]
        for size in ((60, 20), (120, 40), (60, 20), (200, 60), (40, 10), NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert (app.screen, app.focused) == (screen, focused)
            assert [field.value for field in screen.query(Input)] == values
            assert [listed.highlighted_option.id if listed.highlighted_option else None for listed in screen.query(OptionList)] == chosen
            assert [listed.highlighted for listed in screen.query(OptionList)] == rows


@pytest.mark.parametrize(("name", "pane"), [("how quiet", "#detail"), ("help", "VerticalScroll"), ("all answers", "OptionList")])
async def test_a_resize_there_and_back_keeps_the_scroll(tmp_path: Path, name: str, pane: str) -> None:
    app = app_with_plan(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        await tour(pilot, SCREENS[name])
        scrolled = app.screen.query_one(pane)
        scrolled.scroll_to(y=3, animate=False)
        await settle(pilot)
        before = scrolled.scroll_offset.y
        assert before > 0
        await pilot.resize_terminal(78, 22)
        await settle(pilot)
        await pilot.resize_terminal(*NARROW)
        await settle(pilot)
        assert scrolled.scroll_offset.y == before


async def test_the_plan_stays_at_its_place_when_lines_are_laid_out_anew(tmp_path: Path) -> None:
    app = app_with_plan(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        await tour(pilot, ("f6",))
        preview = app.screen.query_one(PlanPreview)
        preview.go(12)
        await settle(pilot)
        for size in ((60, 20), (200, 60), (100, 30), NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert preview.here == 12, size
