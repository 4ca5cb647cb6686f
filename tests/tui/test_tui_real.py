"""Once with the real calculation behind the screen: the first answers to a plan that is written."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input, Static
from tui_kit import FIRST_ANSWERS, NARROW, press, saved, screen_text, settle

from wizard.app import StillroomApp
from wizard.backroom import Backroom
from wizard.screens.interview import Interview
from wizard.widgets.plan_preview import PlanPreview


class NoSearch(Backroom):
    """The real work without the search for the telling question, which takes twenty seconds and has tests of its own."""

    patience = 1000.0


async def test_the_verdict_and_the_plan_are_the_computed_ones(tmp_path: Path) -> None:
    store, id = saved(tmp_path / "data", FIRST_ANSWERS, "code")
    backroom = NoSearch()
    app = StillroomApp(store, id, backroom)
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Interview)
        shown = str(app.screen.query_one("#verdict", Static).content)
        answers = app.screen._session.answers
        lines = backroom.verdict(answers).lines
        assert all(f"{line.state:<8} {line.name}  {line.value}"[:60] in shown for line in lines)
        await press(pilot, "f6")
        await settle(pilot)
        assert app.screen.query_one(PlanPreview).virtual_size.height > 300
        await press(pilot, "ctrl+l")
        await settle(pilot)
        heard = backroom.page("quiet", answers).quiet.listeners
        shown = screen_text(app)
        assert all(f"{each.predicted} ({each.range})".replace("below 0", "<0") in shown for each in heard)
        await press(pilot, "escape", "w")
        app.screen.query_one(Input).value = str(tmp_path / "out")
        await press(pilot, "enter")
        await settle(pilot)
    plan = (tmp_path / "out" / "plan.md").read_text(encoding="utf-8")
    assert plan.startswith("# Test basement: build plan")
    assert lines[0].value in plan
