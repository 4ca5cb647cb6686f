"""A whole interview in the terminal: a high, dry, new basement."""

from __future__ import annotations

from pathlib import Path

from pilot_journey import whole_interview
from tui_kit import NARROW


async def test_the_interview_ends_in_the_golden_plan(tmp_path: Path) -> None:
    await whole_interview("easy", tmp_path, NARROW)
