"""The critical path: earliest and latest starts of tasks tied by delays between their starts.

A delay from start to start says all that stages need: the work and the waiting of a predecessor, or the hours that a crew is busy with it.
Source: critical path method, J. E. Kelley and M. R. Walker, "Critical-path planning and scheduling", 1959 (from memory); the forward and
backward pass is checked against a published textbook in tests/published/test_critical_path.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

TINY = 1e-9  # slack below which a task is critical, in the unit of time


@dataclass(frozen=True)
class Arc:
    """``after`` starts no sooner than ``delay`` from the start of ``before``."""

    before: str
    after: str
    delay: float


@dataclass(frozen=True)
class Times:
    """Earliest and latest start of a task that leaves the end of the whole where it is."""

    start: float
    late_start: float

    @property
    def slack(self) -> float:
        """How much later the task may start."""
        return max(0.0, self.late_start - self.start)

    @property
    def critical(self) -> bool:
        return self.slack < TINY


def times(lengths: Mapping[str, float], arcs: Sequence[Arc]) -> tuple[dict[str, Times], float]:
    """The times of every task and the length of the whole, all in the unit of ``lengths``.

    ``lengths``: how long each task keeps the end away from its own start, in an order in which every arc points forward. Raises ValueError
    for an arc that does not.
    """
    place = {task: n for n, task in enumerate(lengths)}
    if any(place[arc.before] >= place[arc.after] for arc in arcs):
        raise ValueError("every task must stand behind those it waits for")
    into: dict[str, list[Arc]] = {task: [] for task in lengths}
    out: dict[str, list[Arc]] = {task: [] for task in lengths}
    for arc in arcs:
        into[arc.after].append(arc)
        out[arc.before].append(arc)
    early: dict[str, float] = {}
    for task in lengths:
        early[task] = max((early[arc.before] + arc.delay for arc in into[task]), default=0.0)
    end = max((early[task] + length for task, length in lengths.items()), default=0.0)
    late: dict[str, float] = {}
    for task in reversed(list(lengths)):
        late[task] = min([end - lengths[task], *(late[arc.after] - arc.delay for arc in out[task])])
    return {task: Times(early[task], late[task]) for task in lengths}, end
