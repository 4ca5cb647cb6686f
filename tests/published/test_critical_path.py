"""The passes of calc/schedule/network.py against two activity tables of a textbook.

Source: B. W. Taylor III, Introduction to Management Science, solutions to chapter 8 "Project Management": duration, earliest and latest
start and finish, and slack of activities between numbered events (read in a published copy of the solutions).
"""

from __future__ import annotations

import pytest

from calc.schedule.network import Arc, Times, times

# from event, to event, duration, earliest start, earliest finish, latest start, latest finish, slack
SIX_EVENTS = (
    (1, 2, 7, 0, 7, 2, 9, 2),
    (1, 3, 10, 0, 10, 0, 10, 0),
    (2, 4, 6, 7, 13, 9, 15, 2),
    (3, 4, 5, 10, 15, 10, 15, 0),
    (3, 5, 4, 10, 14, 14, 18, 4),
    (4, 5, 3, 15, 18, 15, 18, 0),
    (5, 6, 2, 18, 20, 18, 20, 0),
)
NINE_EVENTS = (
    (1, 2, 8, 0, 8, 1, 9, 1),
    (1, 3, 10, 0, 10, 0, 10, 0),
    (1, 4, 9, 0, 9, 6, 15, 6),
    (2, 5, 6, 8, 14, 9, 15, 1),
    (2, 6, 4, 8, 12, 16, 20, 8),
    (3, 5, 5, 10, 15, 10, 15, 0),
    (4, 5, 0, 9, 9, 15, 15, 6),
    (4, 7, 7, 9, 16, 20, 27, 11),
    (5, 7, 12, 15, 27, 15, 27, 0),
    (5, 8, 15, 15, 30, 16, 31, 1),
    (6, 9, 18, 12, 30, 20, 38, 8),
    (7, 8, 4, 27, 31, 27, 31, 0),
    (8, 9, 7, 31, 38, 31, 38, 0),
)
Activity = tuple[int, int, int, int, int, int, int, int]


def solve(activities: tuple[Activity, ...]) -> tuple[dict[str, Times], float]:
    """An activity follows all that end at the event it starts from."""
    lengths = {f"{a}-{b}": float(duration) for a, b, duration, *_ in activities}
    arcs = [Arc(f"{a}-{b}", f"{c}-{d}", float(duration)) for a, b, duration, *_ in activities for c, d, *_ in activities if b == c]
    return times(lengths, arcs)


@pytest.mark.parametrize(("activities", "length"), [(SIX_EVENTS, 20), (NINE_EVENTS, 38)])
def test_starts_finishes_and_slack_are_those_printed(activities: tuple[Activity, ...], length: int) -> None:
    found, end = solve(activities)
    assert end == length
    for a, b, duration, early_start, early_finish, late_start, late_finish, slack in activities:
        at = found[f"{a}-{b}"]
        assert (at.start, at.start + duration) == (early_start, early_finish)
        assert (at.late_start, at.late_start + duration) == (late_start, late_finish)
        assert at.slack == slack
        assert at.critical == (slack == 0)


def test_the_critical_path_is_the_one_printed() -> None:
    found, _ = solve(SIX_EVENTS)
    assert [name for name, at in found.items() if at.critical] == ["1-3", "3-4", "4-5", "5-6"]  # printed: 1 - 3 - 4 - 5 - 6


def test_an_arc_that_points_back_is_refused() -> None:
    with pytest.raises(ValueError, match="behind"):
        times({"a": 1.0, "b": 1.0}, [Arc("b", "a", 1.0)])
