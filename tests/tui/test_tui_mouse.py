"""Everything by the mouse alone, but for what only letters can say: a number, a name, the words looked for."""

from __future__ import annotations

from pathlib import Path

from rich.cells import cell_len
from textual.command import CommandList
from textual.pilot import Pilot
from textual.widgets import OptionList
from tui_kit import FIRST_ANSWERS, NARROW, first_answers, flush, make_app, saved, screen_text, settle, until

from wizard.app import StillroomApp
from wizard.interview import engine
from wizard.screens.ask import AskOne, AskText
from wizard.screens.help import Help
from wizard.screens.home import Home
from wizard.screens.interview import Interview
from wizard.screens.jump import Jump
from wizard.screens.plan import PlanPage
from wizard.screens.results import PAGES, Results
from wizard.screens.review import Review
from wizard.store import Store


async def click(pilot: Pilot[None], words: str, row: int | None = None) -> None:
    """Click on the first place on the screen with these words, or in a row; the last row is -1."""
    lines = screen_text(pilot.app).splitlines()
    rows = range(len(lines)) if row is None else [row % len(lines)]
    at = next((y for y in rows if words in lines[y]), None)
    assert at is not None, f"“{words}” is not on the screen:\n" + "\n".join(lines)
    await pilot.click(offset=(cell_len(lines[at][: lines[at].index(words)]), at))
    await settle(pilot)


async def click_key(pilot: Pilot[None], words: str) -> None:
    await click(pilot, words, -1)


async def click_more(pilot: Pilot[None], command: str) -> None:
    """Open the list of all commands and click one of them."""
    await click_key(pilot, "^P More")
    listed = pilot.app.screen.query_one(CommandList)
    for _ in range(100):
        ids = [str(option.hit.text) for option in listed.options]  # type: ignore[attr-defined]
        if command in ids:
            break
        await pilot.pause(0.02)
    listed.scroll_to(y=2 * ids.index(command), animate=False)  # as the wheel does
    await pilot.pause(0.05)
    await click(pilot, command)
    await until_closed(pilot)


async def until_closed(pilot: Pilot[None]) -> None:
    for _ in range(100):
        if not pilot.app.screen.query(CommandList):
            break
        await pilot.pause(0.02)
    await settle(pilot)


def at(app: StillroomApp) -> str | None:
    return next(screen for screen in app.screen_stack if isinstance(screen, Interview))._session.at


async def test_an_interview_is_walked_to_its_end_by_the_mouse_alone(tmp_path: Path) -> None:
    """Choices and ticks by a click on their row, everything with a default by a click on OK."""
    numbers = {id: text for id, text in FIRST_ANSWERS.items() if engine.question(id).default is None and not engine.question(id).choices}
    app = make_app(tmp_path, numbers, "joist_depth")
    clicked = set()
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        for _ in range(120):
            await flush(pilot)
            if isinstance(app.screen, Review):
                break
            if not isinstance(app.screen, Interview):
                await click(pilot, "Go on and refine")
                continue
            question = app.screen._session.question
            assert question is not None
            if question.kind == "choice":
                await pilot.click("#one-of", offset=(2, 0))
                await settle(pilot)
            elif question.kind == "multi":
                await click(pilot, "[ ] ")
                await click_key(pilot, "Enter OK")
            else:
                await click_key(pilot, "Enter OK")
            clicked.add(question.id)
        assert isinstance(app.screen, Review), (at(app), screen_text(app))
        answers = app.screen._session.answers
    assert len(clicked) > 60
    assert clicked <= set(answers)
    assert engine.first_open(answers) is None


async def test_back_map_review_results_plan_undo_redo_and_quit_by_clicks(tmp_path: Path) -> None:
    app = make_app(tmp_path / "data", FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await click_key(pilot, "F2 Don't know")
        assert at(app) == "habitable"
        await click_more(pilot, "Undo the last answer")
        assert at(app) == "code"
        await click_more(pilot, "Redo what was undone")
        assert "code" in app.screen.answers  # type: ignore[attr-defined]
        await click_key(pilot, "F3 Back")
        await click_key(pilot, "F1 Help")
        assert isinstance(app.screen, Help)
        await click_key(pilot, "Esc Back")
        await click_key(pilot, "F4 Map")
        assert isinstance(app.screen, Jump)
        app.screen.query_one(OptionList).scroll_end(animate=False)  # as the wheel does
        await settle(pilot)
        await click(pilot, "Air and heat")
        await click(pilot, "CO2 limit")
        await until(pilot, Interview)
        assert engine.question(at(app) or "").topic == "air"
        await click_key(pilot, "F5 Review")
        app.screen.query_one(OptionList).scroll_home(animate=False)
        await settle(pilot)
        await click(pilot, "What is played")
        assert at(app) == "source"
        await click_key(pilot, "F5 Review")
        await click_key(pilot, "Esc Back")
        for label in PAGES.values():
            await click_more(pilot, f"Show: {label}")
            assert isinstance(app.screen, Results)
            assert f"[{label}]" in screen_text(app)
            await click_key(pilot, "Esc Back")
        await click_key(pilot, "F6 Plan")
        assert isinstance(app.screen, PlanPage)
        await click_key(pilot, "w Write")
        assert isinstance(app.screen, AskText)
        app.screen.query_one("Input").value = str(tmp_path / "elsewhere")  # type: ignore[attr-defined]
        await click_key(pilot, "Enter OK")
        assert (tmp_path / "elsewhere" / "plan.md").is_file()
        await click_key(pilot, "Esc Back")
        await click_more(pilot, "List of interviews")
        assert isinstance(app.screen, Home)
        await pilot.click(offset=(screen_text(app).splitlines()[-1].index("^Q Quit"), NARROW[1] - 1))
        assert app._exit


async def test_the_verdict_panel_opens_the_results_and_the_telling_question(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await click(pilot, "Heard: bedroom above")
        assert isinstance(app.screen, Results)
        await click_key(pilot, "Esc Back")
        await click(pilot, "“Kind of joist” would change")
        assert at(app) == "joist_kind"
        await click(pilot, "F5 Review", -1)
        await click(pilot, "Esc Back", -1)
        app.screen.go_to("shell_length")  # type: ignore[attr-defined]
        await settle(pilot)
        await click(pilot, "Estimated? Press F7.")
        assert "Estimated; F7 undoes it." in screen_text(app)


async def test_the_list_of_commands_holds_every_key_of_a_screen_once(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "code")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        titles = [command.title for command in app.get_system_commands(app.screen)]
        assert {"Help", "Undo the last answer", "Skip: leave it open", "Feet or metres", "Show: Air", "Colours: day", "Quit"} <= set(titles)
        assert len(titles) == len(set(titles))
        await click_more(pilot, "List of interviews")
        titles = [command.title for command in app.get_system_commands(app.screen)]
        assert {"New", "Rename", "Duplicate", "Delete", "Quit"} <= set(titles)
        assert "Undo delete" not in titles  # nothing was deleted
        assert len(titles) == len(set(titles))


async def test_the_list_of_interviews_by_clicks(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "code")
    app = StillroomApp(Store(tmp_path), None)
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        for key, count in (("d Duplicate", 2), ("x Delete", 1), ("u Undo delete", 2)):
            await click_key(pilot, key)
            assert len(store.list()) == count
        await click_key(pilot, "n New")
        await click_key(pilot, "Enter OK")
        await until(pilot, AskOne)
        await click(pilot, "metres and millimetres")
        await until(pilot, Interview)
    assert store.load(id).answers.units == first_answers().units
