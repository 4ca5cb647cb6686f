"""Odd text on every screen: control characters, escapes of the terminal, many lines, wide and joined signs, names from right to left."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from textual import events
from textual.app import App
from textual.pilot import Pilot
from textual.widgets import Input
from tui_kit import FIRST_ANSWERS, NARROW, WIDE, QuickBackroom, heard, make_app, press, quiet_of, saved, screen_text, settle

from wizard.app import StillroomApp
from wizard.interview.answers import Answers
from wizard.lines import Page
from wizard.quiet import Quiet
from wizard.quiet_page import QuietPage
from wizard.screens.interview import Interview
from wizard.store import Store

ODD = {
    "escape": "\x1b[31mred\x1b[0m\x1b]0;title\x07 \x9b2J room\r\x00\x08",
    "wide": "家の音楽室" * 12,
    "joined": "👩‍👩‍👧‍👦 🏳️‍🌈 👍🏽 room",
    "combining": "e\u0301" * 70 + "\u0300\u0301\u0302",
    "right to left": "غرفة الموسيقى \u202eabc\u202c חדר",
    "markup": "[b]bold[/b] [@click=app.quit]x[/] [/] \\[ $text",
    "long": "word " * 39,
    "one long word": "x" * 190,
    "zero width": "a\u200b\u200d\u2060\ufeffb\u00ad",
}
TOURS = ((), ("f1",), ("escape", "f4"), ("escape", "f5"), ("escape", "f6"), ("escape", "ctrl+l"), ("right",), ("escape", "escape"))


def check_layout(app: App[None]) -> None:
    """Every row fills the screen exactly, and nothing on it commands the terminal or turns the direction of a line."""
    for strip in app.screen._compositor.render_strips():
        assert strip.cell_length == app.size.width
    bad = {unicodedata.name(sign, f"U+{ord(sign):04X}") for sign in screen_text(app) if unicodedata.category(sign) == "Cc" and sign != "\n"}
    assert bad == set()
    assert not set("\u202a\u202b\u202d\u202e\u2066\u2067\u2068") & set(screen_text(app))


@pytest.mark.parametrize("size", [NARROW, WIDE], ids=["80x24", "120x40"])
@pytest.mark.parametrize("name", ODD.values(), ids=ODD.keys())
async def test_an_odd_name_breaks_no_screen(tmp_path: Path, name: str, size: tuple[int, int]) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people", name=name)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        for keys in TOURS:
            await press(pilot, *keys)
            await settle(pilot)
            check_layout(app)
            assert screen_text(app).count("\n") == size[1]


async def paste(pilot: Pilot[None], text: str) -> None:
    focused = pilot.app.focused
    assert focused is not None
    focused.post_message(events.Paste(text))
    await settle(pilot)


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
async def test_odd_text_pasted_into_an_answer_is_shown_refused_and_kept(tmp_path: Path, text: str) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "1", "2")
        await paste(pilot, text)
        typed = app.screen.query_one("#typed", Input)
        assert typed.value.startswith("12")
        assert not any(unicodedata.category(sign) == "Cc" for sign in typed.value)
        shown = "".join(" " if unicodedata.category(sign) == "Cc" else sign for sign in text).split()
        assert all(word in typed.value for word in shown)
        check_layout(app)
        kept = typed.value
        await press(pilot, "enter")
        check_layout(app)
        assert typed.value == kept
        assert "Not accepted" in screen_text(app)


async def test_of_many_lines_pasted_the_first_is_taken_and_that_is_told(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await paste(pilot, "\n\n  20 ft\t\n14 ft\r\n7-4\n")
        assert app.screen.query_one("#typed", Input).value == "20 ft"
        assert isinstance(app.screen, Interview)
        assert app.screen._session.at == "shell_length"
        assert [note.message for note in app._notifications] == ["Of the 3 lines pasted only the first is taken."]
        await paste(pilot, "\n \n")
        assert app.screen.query_one("#typed", Input).value == "20 ft"


async def test_a_hundred_thousand_letters_pasted_are_cut_where_the_field_ends_and_that_is_told(tmp_path: Path) -> None:
    app = make_app(tmp_path, {})
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "7")
        await paste(pilot, "é" * 100_000)
        typed = app.screen.query_one("#typed", Input)
        assert typed.value == "7" + "é" * (typed.max_length - 1)
        assert "cut after" in next(iter(app._notifications)).message
        check_layout(app)
        await press(pilot, "f4")
        await paste(pilot, "z" * 100_000)
        check_layout(app)
        await press(pilot, "escape", "escape", "r")
        await paste(pilot, "\x1b[2J" + "家" * 100_000)
        check_layout(app)
        await press(pilot, "enter")
        check_layout(app)
        assert "\x1b" not in Store(tmp_path).list()[0].name


class Crowd(QuickBackroom):
    """Two hundred listeners with odd names."""

    def page(self, kind: str, answers: Answers) -> Page:
        names = [*ODD.values()] * 23
        listeners = tuple(heard(f"{number} {name}", -number / 10) for number, name in enumerate(names[:200]))
        return QuietPage(Quiet(**{**quiet_of(1).__dict__, "listeners": listeners}))


@pytest.mark.parametrize("size", [NARROW, WIDE], ids=["80x24", "120x40"])
async def test_two_hundred_listeners_stay_in_their_columns(tmp_path: Path, size: tuple[int, int]) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "people")
    app = StillroomApp(store, id, Crowd())
    async with app.run_test(size=size) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        for keys in ((), ("down",) * 12, ("end",), ("pagedown",), ("home",)):
            await press(pilot, *keys)
            await settle(pilot)
            check_layout(app)


async def test_two_hundred_interviews_with_odd_names_are_listed(tmp_path: Path) -> None:
    seconds = iter(f"2026-02-03T04:{n // 60:02d}:{n % 60:02d}+00:00" for n in range(10_000))
    store = Store(tmp_path, now=seconds.__next__)
    for number in range(200):
        store.create(f"{number} {[*ODD.values()][number % len(ODD)]}")
    app = StillroomApp(store, None, QuickBackroom())
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        for keys in ((), ("end",), ("pageup",) * 3):
            await press(pilot, *keys)
            check_layout(app)
