"""A whole interview in the terminal: drums beside a sleeping neighbour, most things not known."""

from __future__ import annotations

from pathlib import Path

from pilot_journey import whole_interview


async def test_the_interview_ends_in_the_golden_plan(tmp_path: Path) -> None:
    await whole_interview("attached_neighbour", tmp_path, (200, 60))
