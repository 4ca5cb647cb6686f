"""What a schedule is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.finding import Finding
from calc.materials.screws import FaceScrews
from calc.schedule.network import TINY


@dataclass(frozen=True)
class Material:
    """What a task uses: ``quantity`` in ``unit``, ``cuts`` the pieces of lumber (pieces, length m).

    Waste and whole packages are not in it: they are counted once for the whole job, in the bill, and the tasks sum to its ``used``.
    """

    item: str
    label: str
    quantity: float
    unit: str
    cuts: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Task:
    """One task of the build.

    ``steps``, ``checks`` and ``warnings`` may hold {length:NAME}: a length of ``lengths`` [m], to be written in the person's units.
    ``hours`` are a person's hours, ``trade_hours`` those of licensed trades. ``people`` is the fewest that may do it, ``crew`` how many are
    counted on. ``supply`` is the task that brings its goods: itself where they come from a shop, "" where it uses none.

    Times are weeks from the first day. ``start`` and ``finish`` are the earliest, of the work alone; then come ``wait_days`` for
    ``wait_for`` before what follows. ``late_start`` is the latest start that leaves the last day where it is.
    """

    id: str
    number: int
    name: str
    stage: str
    after: tuple[str, ...]
    who: str
    people: int
    crew: int
    hours: float
    trade_hours: float
    wait_days: float
    wait_for: str
    spare_days: float  # room for a weekend that those keep who come on weekdays
    start: float
    finish: float
    late_start: float
    hold_point: str
    weekdays: str  # "all": begins and ends from Monday to Friday, as trades and offices do; "first": only begins; "": any day
    hold_before: bool  # the hold point stands before the task's first hour, not behind its last
    supply: str
    steps: tuple[str, ...]
    checks: tuple[str, ...]
    warnings: tuple[str, ...]
    findings: tuple[Finding, ...]
    lengths: Mapping[str, float]
    materials: tuple[Material, ...]
    screws: tuple[FaceScrews, ...]

    @property
    def ready(self) -> float:
        """When what follows may start [weeks]: the work done and the waiting over."""
        return self.finish + (self.wait_days + self.spare_days) / 7.0

    @property
    def late_finish(self) -> float:
        """Latest end of the work [weeks]."""
        return self.late_start + self.finish - self.start

    @property
    def slack(self) -> float:
        """How much later it may start with the last day left where it is [weeks]."""
        return max(0.0, self.late_start - self.start)

    @property
    def critical(self) -> bool:
        """Whether every day lost here is lost at the end."""
        return self.slack < TINY


@dataclass(frozen=True)
class Schedule:
    """The tasks in order.

    ``hours_total`` are a person's hours; ``weeks`` run from the first day to the last, waiting for inspections, letters and drying
    included.
    """

    tasks: tuple[Task, ...]
    hours_total: float
    trade_hours: float
    weeks: float

    @property
    def hold_points(self) -> tuple[Task, ...]:
        return tuple(task for task in self.tasks if task.hold_point)

    @property
    def critical(self) -> tuple[Task, ...]:
        """The tasks that set the last day."""
        return tuple(task for task in self.tasks if task.critical)

    @property
    def alone(self) -> tuple[Task, ...]:
        """What one person can do."""
        return tuple(task for task in self.tasks if task.people == 1)

    @property
    def together(self) -> tuple[Task, ...]:
        """What needs two."""
        return tuple(task for task in self.tasks if task.people > 1)

    @property
    def deliveries(self) -> tuple[Task, ...]:
        """The tasks that bring goods for others."""
        brought = {task.supply for task in self.tasks if task.supply != task.id}
        return tuple(task for task in self.tasks if task.id in brought)
