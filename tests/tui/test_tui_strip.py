"""The strip below a question: what moved and what is grave in rows of their own, nothing pushed out of its frame."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Static
from tui_kit import FIRST_ANSWERS, NARROW, enter, make_app, press, screen_text, settle

from wizard.interview.verdict import VerdictLine
from wizard.widgets.verdict_panel import STRIP, strip, wrapped

NAMES = ("Ceiling, at a duct", "Joists", "Heard: bedroom above", "Fresh air needed", "Moisture", "Hazards", "Sound", "Cost", "Time", "All")


def lines(states: str) -> list[VerdictLine]:
    words = {"g": "good", "c": "caution", "s": "stop", "o": "open"}
    return [VerdictLine(name, "some value of it", "at least another one", words[state]) for name, state in zip(NAMES, states, strict=True)]


@pytest.mark.parametrize("states", ["gggggggggg", "cggggcgggc", "ssssssssss", "scogscogsc", "gcgcgcgcgc"])
@pytest.mark.parametrize("moved", [0, 1, 5, 10])
@pytest.mark.parametrize("telling", [0, 2, 3])
def test_a_strip_never_takes_more_rows_than_it_has(states: str, moved: int, telling: int) -> None:
    all_lines = lines(states)
    rows = strip(all_lines, {line.name: "2 dB quieter, was 36 dBA" for line in all_lines[:moved]}, 72, STRIP - telling)
    assert sum(len(row.wrap(72)) for row in rows) <= STRIP - telling
    assert all(row.cell_length <= 72 for row in rows for row in row.wrap(72))


def test_what_moved_says_so_before_what_it_is_held_against() -> None:
    rows = strip(lines("gggggggggg"), {"Heard: bedroom above": "2 dB quieter, was 36 dBA"}, 90)
    assert rows[0].plain.startswith("good     Heard: bedroom above  some value of it  2 dB quieter, was 36 dBA  at least")


def test_what_is_cut_says_so() -> None:
    from textual.content import Content

    rows = wrapped(Content("one two three four five"), 9, 2)
    assert [row.plain.rstrip() for row in rows] == ["one two", "three…"]
    assert [row.plain.rstrip() for row in wrapped(Content("one two"), 9, 2)] == ["one two"]


async def test_the_title_says_the_worst_state_in_a_word(tmp_path: Path) -> None:
    app = make_app(tmp_path, {key: text for key, text in FIRST_ANSWERS.items() if key != "budget"}, "budget")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert "─ Verdict so far ─" in screen_text(app)
        await enter(pilot, "25k")
        await settle(pilot)
        assert "─ Verdict so far: stop ─" in screen_text(app)
        await press(pilot, "enter")
        await settle(pilot)
        assert "─ Verdict: stop · ^L: details ─" in screen_text(app)
        assert app.screen.query_one("#verdict", Static).virtual_size.height <= STRIP + 2  # its frame
