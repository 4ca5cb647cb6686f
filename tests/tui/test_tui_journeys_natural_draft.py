"""A whole interview in the terminal: a furnace that takes its air from the basement."""

from __future__ import annotations

from pathlib import Path

from pilot_journey import whole_interview
from tui_kit import NARROW


async def test_the_interview_ends_in_the_golden_plan(tmp_path: Path) -> None:
    await whole_interview("natural_draft", tmp_path, NARROW)
