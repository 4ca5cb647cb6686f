"""Who is in the room when: arrivals and breaks of a session."""

from __future__ import annotations

from itertools import pairwise

from calc.brief import Brief
from calc.catalogue import load
from calc.ventilation.co2 import Interval


def intervals(brief: Brief) -> tuple[Interval, ...]:
    """The brief's session, cut where somebody comes or all go out or come back. Raises KeyError for a word not in data/air.toml."""
    rows = load("air")
    pause, comes = rows["breaks"][brief.air.breaks], rows["arrivals"][brief.air.arrivals]
    return timetable(brief.use.people, brief.use.session, float(pause["play"]), float(pause["pause"]), float(comes["over"]))


def timetable(people: int, hours: float, play: float, pause: float, over: float) -> tuple[Interval, ...]:
    """A session of ``hours``: all take a break of ``pause`` [h] after each ``play`` [h] (no breaks when either is 0);
    people come evenly over the first ``over`` [h], the first at once.

    A longer session begins as a shorter one does. Source: own timetable.
    """
    cuts = {0.0, hours}
    arrivals = [over * n / (people - 1) if people > 1 else 0.0 for n in range(people)]
    cuts.update(time for time in arrivals if time < hours)
    resting = play > 0.0 and pause > 0.0
    if resting:
        starts = [n * (play + pause) + play for n in range(int(hours / (play + pause)) + 1)]
        cuts.update(time for start in starts for time in (start, start + pause) if time < hours)
    times, found = sorted(cuts), []
    for first, last in pairwise(times):
        middle = (first + last) / 2.0
        out = resting and middle % (play + pause) > play
        found.append(Interval(last - first, 0 if out else sum(time <= middle for time in arrivals)))
    return tuple(found)
