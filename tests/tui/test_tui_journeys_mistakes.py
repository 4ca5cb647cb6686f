"""A whole interview with everything going wrong on the way: it still ends in the golden plan of the basement with a low ceiling."""

from __future__ import annotations

import asyncio
from itertools import pairwise
from pathlib import Path

from journey_kit import flat, golden_answers, golden_plan, written_plan
from pilot_journey import application, begin, give, look_and_write, on_screen, shown_in, ticked, type_in, wait_for, walk
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input, OptionList
from tui_kit import NARROW, WIDE, flush, press

from wizard.interview.answers import Answer
from wizard.screens.home import Home
from wizard.screens.interview import Interview
from wizard.screens.review import Review
from wizard.store import Store

NAME = "low_ceiling"
WANTED = golden_answers(NAME)


async def test_it_ends_in_the_golden_plan_all_the_same(tmp_path: Path) -> None:
    async with application(tmp_path / "data").run_test(size=NARROW) as pilot:
        await begin(pilot, WANTED.name, WANTED.units)
        await answer_wrongly(pilot)
        await take_another_answer(pilot)
        await walk(pilot, WANTED, until=lambda question: question.id == "joist_kind")
        await undo_and_redo(pilot)
        await walk(pilot, WANTED, until=lambda question: question.id == "joist_kind")
        await hide_the_beam_and_bring_it_back(pilot)
        await leave_in_the_middle_of_a_word(pilot)
    async with application(tmp_path / "data").run_test(size=NARROW) as pilot:
        await come_back(pilot)
        await undo_and_redo(pilot)
        await walk(pilot, WANTED, until=lambda question: question.id == "slab_thickness")
        await resize(pilot)
        await walk(pilot, WANTED)
        plan = await look_and_write(pilot, tmp_path / "plan")
    store = Store(tmp_path / "data")
    assert store.load(store.list()[0].id).answers == WANTED
    assert written_plan(plan) == golden_plan(NAME)


async def answer_wrongly(pilot: Pilot[None]) -> None:
    """Another unit, nonsense, too much, nothing, "don't know" where only the person can know: each is told, and nothing is lost."""
    told = {
        "16 kg": "“kg”",
        "sixteen or so": "“sixteen or so”",
        "900 ft": "a room is usually 10 ft to 30 ft long",
        "-16 ft": "Not accepted.",
        "": "please type an answer",
    }
    for text, words in told.items():
        await press(pilot, "ctrl+u")
        await type_in(pilot, text)
        assert on_screen(pilot).id == "shell_length"
        assert pilot.app.screen.query_one("#typed", Input).value == text
        notes = flat(" ".join(shown_in(pilot, "#notes")))
        assert "Not accepted. Length of the area:" in notes
        assert words in notes, notes
    await press(pilot, "f2")
    assert "must be known" in flat(" ".join(shown_in(pilot, "#notes")))
    await give(pilot, on_screen(pilot), WANTED["shell_length"], WANTED)


async def take_another_answer(pilot: Pilot[None]) -> None:
    """A slip of the tape, seen one question later: back, and typed anew over it."""
    await give(pilot, on_screen(pilot), Answer("17 ft"), WANTED)
    await press(pilot, "f3")
    assert on_screen(pilot).id == "shell_width"
    assert pilot.app.screen.query_one("#typed", Input).value == "17 ft"
    await give(pilot, on_screen(pilot), WANTED["shell_width"], WANTED)
    assert on_screen(pilot).id == "shell_height"


async def undo_and_redo(pilot: Pilot[None]) -> None:
    """The last three changes taken back, one by one, and done again; once more than there are does nothing."""
    interview = pilot.app.screen
    assert isinstance(interview, Interview)
    passed = [interview.answers]
    for _ in range(3):
        await press(pilot, "ctrl+z")
        passed.append(interview.answers)
    assert all(before != after for before, after in pairwise(passed))
    await press(pilot, "ctrl+y", "ctrl+y", "ctrl+y", "ctrl+y")
    assert interview.answers == passed[0]


async def hide_the_beam_and_bring_it_back(pilot: Pilot[None]) -> None:
    """Say that nothing hangs below the joists: what was told of beam and pipe is not asked any more. Say again: it is all there."""
    there = on_screen(pilot)
    await press(pilot, "f5")
    assert "6 ft 2 in" in all_rows(pilot)
    await change(pilot, "obstructions", "none")
    assert "Underside of" not in all_rows(pilot)
    await change(pilot, "obstructions", "beam", "pipe")
    assert all(words in all_rows(pilot) for words in ("Underside of the beam: 6 ft 2 in", "Underside of the pipe: 6 ft 5 in"))
    await press(pilot, "escape")
    assert on_screen(pilot) == there


async def change(pilot: Pilot[None], id: str, *ticks: str) -> None:
    """From the page of all answers to one of them and back to it; on the way only what was left open before is asked again."""
    listed = pilot.app.screen.query_one(OptionList)
    while listed.highlighted_option is None or listed.highlighted_option.id != id:
        await press(pilot, "up")
    await press(pilot, "enter")
    several = pilot.app.screen.query_one("#several-of", OptionList)
    for place, option in enumerate(several.options):
        if place:
            await press(pilot, "down")
        assert option.id is not None
        if (option.id in ticks) != ticked(pilot, option.id):
            await press(pilot, "space")
    await press(pilot, "enter")
    while not isinstance(pilot.app.screen, Review):
        assert on_screen(pilot).id not in WANTED
        await press(pilot, "ctrl+n")


def all_rows(pilot: Pilot[None]) -> str:
    """The page of all answers from its top to its bottom, wherever it is scrolled to."""
    return "\n".join(str(option.prompt) for option in pilot.app.screen.query_one(OptionList).options)


async def leave_in_the_middle_of_a_word(pilot: Pilot[None]) -> None:
    """Ctrl+Q with half a line in the field: all that was accepted is there next time."""
    app = pilot.app
    await press(pilot, "f3", "1", "/")
    app.post_message(events.Key("ctrl+q", None))
    while app.is_running:
        await asyncio.sleep(0.01)


async def come_back(pilot: Pilot[None]) -> None:
    """Enter on the list goes on where it was left."""
    await wait_for(pilot, lambda: isinstance(pilot.app.screen, Home))
    await press(pilot, "enter")
    await wait_for(pilot, lambda: isinstance(pilot.app.screen, Interview))
    await press(pilot, "ctrl+n")
    assert on_screen(pilot).id == "joist_kind"


async def resize(pilot: Pilot[None]) -> None:
    """Half an answer typed, the window pulled about, the rest typed."""
    text = "3 1/4 in"
    for letter in text[:3]:
        await press(pilot, letter)
    for size in (WIDE, (40, 12), (200, 60), (20, 5), NARROW):
        await pilot.resize_terminal(*size)
        await flush(pilot)
        assert pilot.app.screen.query_one("#typed", Input).value == text[:3]
    await type_in(pilot, text[3:])
    assert on_screen(pilot).id != "slab_thickness"
    await press(pilot, "ctrl+z")
    assert on_screen(pilot).id == "slab_thickness"
