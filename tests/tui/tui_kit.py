"""What the interface tests share: an application over a store of its own, a quick stand-in for the calculation, screens as plain text."""

from __future__ import annotations

import os
from pathlib import Path

from textual.app import App
from textual.pilot import Pilot

GOLDENS = Path(__file__).parent / "goldens"


def screen_text(app: App[None]) -> str:
    """What stands on the screen, as plain text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips) + "\n"


def check_golden(app: App[None], name: str) -> None:
    """Compare the screen with goldens/NAME.txt. STILLROOM_GOLDENS=write writes the file instead."""
    path = GOLDENS / f"{name}.txt"
    text = screen_text(app)
    if os.environ.get("STILLROOM_GOLDENS") == "write":
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8"), f"{path.name} differs; STILLROOM_GOLDENS=write rewrites it"


async def settle(pilot: Pilot[None]) -> None:
    """Wait for every worker and every message that it posted."""
    await pilot.pause()
    while any(not worker.is_finished for worker in pilot.app.workers):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
    await pilot.pause()


def clipped(app: App[None]) -> list[str]:
    """The focusable controls of the screen that are not wholly inside it, or have no room at all."""
    screen = app.screen.region
    return [
        f"{widget!r} {widget.region}"
        for widget in app.screen.focus_chain
        if not widget.region.area or not screen.contains_region(widget.region)
    ]
