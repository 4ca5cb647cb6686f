"""The page "How quiet": every listener in a row, the chosen one band by band."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import OptionList
from tui_kit import (
    FIRST_ANSWERS,
    LISTENERS,
    NARROW,
    WIDE,
    QuickBackroom,
    clipped,
    enter,
    make_app,
    press,
    quiet_of,
    saved,
    screen_text,
    settle,
    until,
)

from wizard.app import StillroomApp
from wizard.interview.answers import Answers
from wizard.interview.engine import Problem, Problems
from wizard.lines import Page
from wizard.quiet import Quiet
from wizard.quiet_page import QuietPage
from wizard.screens.first_verdict import FirstVerdict
from wizard.screens.interview import Interview
from wizard.screens.plan import PlanPage
from wizard.screens.results import Results


class Backroom(QuickBackroom):
    """Gives this page to show, or raises."""

    def __init__(self, given: Quiet | Exception) -> None:
        super().__init__()
        self.given = given

    def page(self, kind: str, answers: Answers) -> Page:
        if isinstance(self.given, Exception):
            raise self.given
        return QuietPage(self.given)


def app_with(folder: Path, given: Quiet | Exception) -> StillroomApp:
    store, id = saved(folder, FIRST_ANSWERS, "people")
    return StillroomApp(store, id, Backroom(given))


@pytest.mark.parametrize("size", [NARROW, WIDE], ids=["80x24", "120x40"])
async def test_the_page_follows_the_chosen_listener(tmp_path: Path, size: tuple[int, int]) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        assert "^L: details" in screen_text(app)
        await press(pilot, "ctrl+l")
        await settle(pilot)
        first = screen_text(app)
        assert all(label[:18] in first for label in LISTENERS)
        assert "34 (29 to 40)  30      -4, 50 Hz    1 in 3" in first
        assert re.search(r"over by +10 +9 +8", first)
        assert clipped(app) == []
        await press(pilot, "down", "down")
        await settle(pilot)
        third = screen_text(app)
        assert re.search(r"over by +4 +3", third)
        assert "rest of the basement\n" in third
        await press(pilot, "escape")
        await until(pilot, Interview)


async def test_what_stands_below_is_scrolled_to_and_back(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        read = screen_text(app)
        for _ in range(3):
            await press(pilot, "pagedown")
            await settle(pilot)
            read += screen_text(app)
        for said in ("The weakest way by 3 dB: lid.", "63 %", "438 USD more", "then an even bet", "range narrows", "samples"):
            assert said in read
        await press(pilot, "pageup", "pageup", "pageup")
        await settle(pilot)
        assert "over by    10" in screen_text(app)


async def test_every_chart_is_whole_at_80_by_24(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        for _ in LISTENERS:
            shown = screen_text(app)
            assert "██ too loud  ░░ quiet enough" in shown
            assert "Hz  50       100      200      400      800      1.6k     3.15k 5k" in shown
            await press(pilot, "down")
            await settle(pilot)


async def test_a_sound_that_stands_out_says_at_which_level_it_would_do(tmp_path: Path) -> None:
    page = quiet_of(1)
    app = app_with(tmp_path, replace(page, listeners=(replace(page.listeners[0], needed="24"),)))
    async with app.run_test(size=WIDE) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        assert "This sound stands out at 50 Hz: 30 dBA wanted are kept in every band once it is at 24 dBA." in screen_text(app)


async def test_names_are_never_markup(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l", *["down"] * (len(LISTENERS) - 1))
        await settle(pilot)
        assert screen_text(app).count("[b]a very long name[/b…") == 1
        assert "[b]a very long name[/b] 家 [b]a" in screen_text(app)


async def test_without_colour_the_chart_still_tells(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        assert app.no_color
        assert all(sign in screen_text(app) for sign in ("██", "░░", "━━", "··", "bedroom above\n"))


async def test_a_resize_keeps_the_listener(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l", "down")
        await settle(pilot)
        for size in ((20, 6), (200, 60), NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert app.screen.query_one(OptionList).highlighted == 1
        assert "over by     7" in screen_text(app)


async def test_it_is_reached_from_the_first_verdict_and_from_the_plan(tmp_path: Path) -> None:
    app = make_app(tmp_path, {key: text for key, text in FIRST_ANSWERS.items() if key != "budget"}, "budget")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        assert isinstance(app.screen, Interview), "an answer is missing yet"
        await enter(pilot, "25k")
        await until(pilot, FirstVerdict)
        await press(pilot, "down", "down", "enter")
        await until(pilot, Results)
        await press(pilot, "escape", "f6")
        await until(pilot, PlanPage)
        await settle(pilot)
        assert "^L Results" in screen_text(app)
        await press(pilot, "ctrl+l")
        await until(pilot, Results)
        await press(pilot, "escape")
        await until(pilot, PlanPage)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (quiet_of(0), "no listener was named"),
        (Problems((Problem("people", "At least one person."),)), "At least one person."),
        (ZeroDivisionError("x"), "by a fault of this program"),
    ],
)
async def test_nothing_to_show_is_said_in_words(tmp_path: Path, given: Quiet | Exception, told: str) -> None:
    app = app_with(tmp_path, given)
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        assert told in screen_text(app)
        assert "Working out" not in screen_text(app)
