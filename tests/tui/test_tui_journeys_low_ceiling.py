"""A whole interview in the terminal: a low ceiling and a beam, in feet and inches."""

from __future__ import annotations

from pathlib import Path

from pilot_journey import whole_interview
from tui_kit import WIDE


async def test_the_interview_ends_in_the_golden_plan(tmp_path: Path) -> None:
    await whole_interview("low_ceiling", tmp_path, WIDE)
