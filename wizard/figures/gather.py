"""Every figure of a plan."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from calc.acoustics.modes import modes, schroeder_frequency
from calc.acoustics.reverberation import target_time
from calc.acoustics.sound import HIGHEST_MODE
from calc.assess import Assessment
from calc.catalogue import load
from calc.isolation.criteria import background_spectrum
from calc.isolation.path import where
from wizard.figures import boards, charts
from wizard.figures.constructions import lid_section, wall_section
from wizard.figures.details import details
from wizard.figures.ducts import duct_sketch
from wizard.figures.figure import Figure, stem
from wizard.figures.gantt import gantts
from wizard.figures.plan import floor_plan
from wizard.figures.section import section
from wizard.figures.silencers import silencers
from wizard.figures.stack import height_stack


def figures(assessment: Assessment, units: str | None = None) -> tuple[Figure, ...]:
    """Every figure that applies, in the order of the plan. ``units``: imperial | metric; the brief's own unless given.

    The same assessment gives the same figures, byte for byte.
    """
    units = units or assessment.brief.units
    return (*_drawings(assessment, units), *_quiet(assessment), *_air(assessment, units), *_sound(assessment), *_build(assessment, units))


def _drawings(a: Assessment, units: str) -> Iterator[Figure]:
    yield floor_plan(a, units)
    yield section(a, units)
    yield height_stack(a, units)
    yield lid_section(a, units)
    for kind, option in a.scheme.walls:
        yield wall_section(a, kind, option, units)
    yield from details(a, units)


def _quiet(a: Assessment) -> Iterator[Figure]:
    for i, result in enumerate(a.isolation.listeners, start=1):
        heard = result.listener
        yield charts.band_chart(
            f"sound-{i}-{stem(heard.kind)}",
            heard.label,
            [float(level) for level in result.levels],
            [float(level) for level in result.target_levels],
            None if where(heard) == "inside" else [float(level) for level in background_spectrum(heard.background)],
            (result.level_dba, result.low_dba, result.high_dba, result.target_dba),
        )
    if a.choice.ladder:
        rungs = [(rung.cost, min(rung.margins), rung.asked, rung.affordable) for rung in a.choice.ladder]
        yield charts.ladder_chart(rungs, a.brief.means.budget, a.brief.means.currency)


def _air(a: Assessment, units: str) -> Iterator[Figure]:
    air = a.air
    yield charts.co2_chart(air.co2_curve, air.co2_off, a.brief.air.co2_limit, air.co2_session_minutes, float(load("air")["co2"]["outdoor"]))

    yield duct_sketch(a, units)
    yield from silencers(a, units)


def _sound(a: Assessment) -> Iterator[Figure]:
    room = a.room
    if min(room.length, room.width, room.height) <= 0.0:
        return
    found = modes(room.length, room.width, room.height, HIGHEST_MODE)
    steps = [(low.frequency, high.frequency) for low, high in pairwise(found)]
    widest = max(steps, key=lambda step: step[1] - step[0], default=(0.0, 0.0))
    yield charts.modes_chart(found, schroeder_frequency(room.volume, target_time(a.brief.use, room.volume)), widest)


def _build(a: Assessment, units: str) -> Iterator[Figure]:
    yield from boards.faces(a, units)
    if a.schedule.tasks:
        yield from gantts(a.schedule.tasks, a.schedule.weeks)
