"""A person at the application: reads the question on the screen, looks the answer up, and gives it by key or mouse."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from journey_kit import TODAY, asked_in, chosen, golden_answers, golden_plan, not_known, written_plan
from store_kit import QuickDisk
from textual import events
from textual.pilot import Pilot
from textual.widgets import OptionList, Static
from tui_kit import flush, press, screen_text

from calc.brief import Origin
from calc.units import METRIC
from wizard.app import StillroomApp
from wizard.backroom import Backroom
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.question import Kind, Question
from wizard.screens.ask import AskOne, AskText
from wizard.screens.first_verdict import FirstVerdict
from wizard.screens.home import Home
from wizard.screens.interview import Interview
from wizard.screens.plan import PlanPage
from wizard.screens.results import Results
from wizard.screens.review import Review
from wizard.store import Store

PATIENCE = 60.0  # s until a journey is given up: generous, as the machine may be busy


def application(folder: Path, open_id: str | None = None) -> StillroomApp:
    """The real application with the real calculation; only the day is fixed, and the disk is not waited for."""
    return StillroomApp(Store(folder, disk=QuickDisk()), open_id, Backroom(today=lambda: TODAY))


async def wait_for(pilot: Pilot[None], what: Callable[[], object]) -> None:
    """Wait until something is so: work in threads ends when it ends."""
    end = time.monotonic() + PATIENCE
    while not what():
        assert time.monotonic() < end, f"it never came to this; on the screen:\n{screen_text(pilot.app)}"
        await flush(pilot)
        await pilot.pause(0.01)
    await flush(pilot)


async def type_in(pilot: Pilot[None], text: str) -> None:
    """Type a line and Enter in one burst, as fast fingers or a slow line do."""
    for letter in text:
        pilot.app.post_message(events.Key(letter, letter))
    await press(pilot, "enter")


async def begin(pilot: Pilot[None], name: str, units: str) -> None:
    """From the empty list to the first question."""
    app = pilot.app
    await wait_for(pilot, lambda: isinstance(app.screen, Home))
    await press(pilot, "n")
    await wait_for(pilot, lambda: isinstance(app.screen, AskText))
    await type_in(pilot, name)
    await wait_for(pilot, lambda: isinstance(app.screen, AskOne))
    await press(pilot, *(["down"] if units == METRIC else []), "enter")
    await wait_for(pilot, lambda: isinstance(app.screen, Interview))


def shown_in(pilot: Pilot[None], control: str) -> list[str]:
    """The rows of a part of the screen, as they can be read there."""
    region = pilot.app.screen.query_one(control).region
    return [row[region.x : region.right] for row in screen_text(pilot.app).splitlines()[region.y : region.bottom]]


def on_screen(pilot: Pilot[None]) -> Question:
    """The question that can be read on the screen."""
    return asked_in(" ".join(shown_in(pilot, "#question")))


async def give(pilot: Pilot[None], question: Question, answer: Answer, answers: Answers) -> None:
    """Answer the question on the screen. Every other choice is made with the mouse."""
    mouse = engine.QUESTIONS.index(question) % 2 == 1
    if not_known(answer) and not (mouse and question.kind is Kind.CHOICE):
        await press(pilot, "f2")
    elif question.kind is Kind.CHOICE:
        wanted = "?" if not_known(answer) else chosen(question, answer, answers)[0]
        await pick(pilot, "#one-of", wanted, "enter", mouse)
    elif question.kind is Kind.MULTI:
        for choice in question.choices:
            if (choice.id in chosen(question, answer, answers)) != ticked(pilot, choice.id):
                await pick(pilot, "#several-of", choice.id, "space", mouse)
        await press(pilot, "enter")
    else:
        if answer.origin is Origin.ESTIMATED:
            await press(pilot, "f7")
        await type_in(pilot, answer.text)


def ticked(pilot: Pilot[None], id: str) -> bool:
    return str(pilot.app.screen.query_one("#several-of", OptionList).get_option(id).prompt).startswith("[x]")


async def pick(pilot: Pilot[None], control: str, id: str, key: str, mouse: bool) -> None:
    """Go to a choice and take or tick it: with the arrow keys, or by a click where it can be seen."""
    listed = pilot.app.screen.query_one(control, OptionList)
    ids = [option.id for option in listed.options]
    if mouse:
        words = str(listed.options[ids.index(id)].prompt)[:40].rstrip()
        seen = [y for y, row in enumerate(shown_in(pilot, control)) if row.lstrip().startswith(words)]
        if seen:
            await pilot.click(control, offset=(4, seen[0]))
            await flush(pilot)
            return
    steps = ids.index(id) - (-1 if listed.highlighted is None else listed.highlighted)
    await press(pilot, *["down" if steps > 0 else "up"] * abs(steps), key)


async def walk(pilot: Pilot[None], wanted: Answers, until: Callable[[Question], bool] = lambda _: False) -> list[str]:
    """Answer whatever is asked, up to the page of all answers or a question to stop at; the ids in the order they were asked."""
    app, asked = pilot.app, list[str]()
    while not isinstance(app.screen, Review):
        if isinstance(app.screen, FirstVerdict):
            await press(pilot, "enter")
            continue
        assert isinstance(app.screen, Interview)
        question = on_screen(pilot)
        if until(question):
            break
        assert question.id not in asked, f"{question.id} is asked twice"
        asked.append(question.id)
        answer = wanted.get(question.id)
        if answer is None:
            await press(pilot, "ctrl+n")
        else:
            await give(pilot, question, answer, wanted)
        notes = "" if not isinstance(app.screen, Interview) else str(app.screen.query_one("#notes", Static).content)
        assert "Not accepted" not in notes, notes
    return asked


async def look_and_write(pilot: Pilot[None], folder: Path) -> Path:
    """From the page of all answers to the plan, the pages of results, and the folder; the path of the plan."""
    app = pilot.app
    await press(pilot, "f6")
    await wait_for(pilot, lambda: isinstance(app.screen, PlanPage) and "Nothing is written yet" in screen_text(app))
    await press(pilot, "ctrl+l")
    await wait_for(pilot, lambda: isinstance(app.screen, Results) and "Working it out" not in screen_text(app))
    await press(pilot, "left")  # before the first page stands the last: another scheme beside the one that was chosen
    await wait_for(pilot, lambda: "The scheme chosen" in screen_text(app))
    await press(pilot, "escape")
    await wait_for(pilot, lambda: isinstance(app.screen, PlanPage))
    await press(pilot, "w")
    await wait_for(pilot, lambda: isinstance(app.screen, AskText))
    await type_in(pilot, str(folder))
    await wait_for(pilot, lambda: "Written:" in screen_text(app))
    return folder / "plan.md"


async def whole_interview(name: str, folder: Path, size: tuple[int, int]) -> None:
    """Answer a golden basement from an empty folder to its plan: the answers saved and the plan written must be the golden ones."""
    wanted = golden_answers(name)
    app = application(folder / "data")
    async with app.run_test(size=size) as pilot:
        await begin(pilot, wanted.name, wanted.units)
        asked = await walk(pilot, wanted)
        assert set(wanted) <= set(asked)
        plan = await look_and_write(pilot, folder / "plan")
    store = Store(folder / "data")
    assert store.load(store.list()[0].id).answers == wanted
    assert written_plan(plan) == golden_plan(name)
