"""The stages: which tasks a scheme needs, in an order that respects predecessors and inspections, with times, hold points and warnings."""

from calc.schedule.build import SETTLE, schedule
from calc.schedule.calendar import Days, dates, first_monday, last_day
from calc.schedule.rows import HIRED_STAGES, in_order, labour_hours, work_hours
from calc.schedule.task import Material, Schedule, Task

__all__ = [
    "HIRED_STAGES",
    "SETTLE",
    "Days",
    "Material",
    "Schedule",
    "Task",
    "dates",
    "first_monday",
    "in_order",
    "labour_hours",
    "last_day",
    "schedule",
    "work_hours",
]
