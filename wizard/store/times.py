"""When an interview was changed. Versions are ordered by number, never by time: a clock may be wrong."""

from __future__ import annotations

import datetime
import re
from pathlib import Path

CLOCK_SLACK = 300.0  # seconds that two clocks of one user may differ without a word


def now() -> str:
    return datetime.datetime.now().astimezone().isoformat(timespec="seconds")


def seconds(time: str) -> float:
    """The time as a number that can be compared over time zones; 0 for what is no time."""
    if not re.match(r"\d{4}-\d\d-\d\dT", time):
        return 0.0
    try:
        return datetime.datetime.fromisoformat(time).timestamp()
    except (ValueError, OverflowError, OSError):
        return 0.0


def file_changed(path: Path) -> str:
    """When the system says that a file was changed; empty where it does not say."""
    try:
        return datetime.datetime.fromtimestamp(path.stat().st_mtime).astimezone().isoformat(timespec="seconds")
    except (OSError, OverflowError, ValueError):
        return ""


def clock_notice(changed: str, now: str) -> str:
    """A sentence when the last change lies in the future; else nothing."""
    if not seconds(now) or seconds(changed) - seconds(now) < CLOCK_SLACK:
        return ""
    return (
        f"This interview was last changed at {changed}, which is later than this computer's clock says now; "
        "nothing is lost, but set the clock if it is wrong."
    )
