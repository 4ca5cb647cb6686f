"""Once with the real calculation behind the screen: the first answers to a plan that is read and searched."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input, Static
from tui_kit import FIRST_ANSWERS, NARROW, assessed, first_answers, press, saved, screen_text, settle

from wizard.app import StillroomApp
from wizard.backroom import Backroom
from wizard.screens.interview import Interview
from wizard.widgets.plan_preview import PlanPreview


class Shared(Backroom):
    """The real work on the shared assessment, without the search for the telling question, which has tests of its own."""

    patience = 1000.0

    def __init__(self) -> None:
        super().__init__(lambda brief: assessed(), quickly=lambda brief: assessed())


async def test_the_verdict_the_pages_and_the_plan_are_the_computed_ones(tmp_path: Path) -> None:
    store, id = saved(tmp_path / "data", FIRST_ANSWERS, "code")
    backroom = Shared()
    app = StillroomApp(store, id, backroom)
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Interview)
        shown = " ".join(str(app.screen.query_one("#verdict", Static).content).split())
        lines = backroom.verdict(app.screen.answers).lines
        told = [line for line in lines if line.state != "good" or line.name in ("Finished ceiling", "Cost with reserve")]
        assert len(told) > 3
        assert all(line.name in shown and line.value in shown for line in told)
        await press(pilot, "f6")
        await settle(pilot)
        preview = app.screen.query_one(PlanPreview)
        assert preview.virtual_size.height > 300
        read = "\n".join(line.text for line in preview._lines)
        assert all(words in read for words in ("●● air as planned", "tangential  ", "a day lost here is lost at the end"))
        assert not any(words in read for words in ("figures/", "mermaid", "🌆"))
        await press(pilot, "slash")
        app.screen.query_one(Input).value = "  FRESH   air"
        await press(pilot, "enter")
        assert f": 1 of {preview.found_count}." in screen_text(app)
        assert "Fresh air" in screen_text(app)
        await press(pilot, "n", "N", "N")
        assert f": {preview.found_count} of {preview.found_count}." in screen_text(app)
        await press(pilot, "slash")
        app.screen.query_one(Input).value = "[b]elephant"
        await press(pilot, "enter")
        assert "“[b]elephant” is nowhere in the plan." in screen_text(app)
        await press(pilot, "ctrl+l")
        await settle(pilot)
        shown = screen_text(app)
        heard = backroom.page("quiet", first_answers()).quiet.listeners  # type: ignore[attr-defined]
        assert all(f"{each.predicted} ({each.range})".replace("below 0", "<0") in shown for each in heard)
