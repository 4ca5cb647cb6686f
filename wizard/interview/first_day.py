"""The day on which the work begins."""

from __future__ import annotations

import datetime

from calc.schedule import first_monday
from wizard.interview import engine
from wizard.interview.answers import Answers


def first_day(answers: Answers, today: datetime.date) -> datetime.date:
    """The day answered; where nobody knows, the first Monday after ``today``, the plan's date."""
    day = engine.values_of(answers).value("start")
    return datetime.date.fromordinal(int(day)) if isinstance(day, float) else first_monday(today)
