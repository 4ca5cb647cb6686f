"""What must hold for the stages of any scheme."""

from __future__ import annotations

import datetime
from dataclasses import replace

import numpy as np
from build_parts import builds
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import bellman_ford

from calc.brief import Brief
from calc.geometry import inner_room
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.schedule import Schedule, dates, last_day, schedule
from calc.schedule.network import Arc, times
from calc.scheme import Scheme

EPS = 1e-9
FROM_A_SHOP = {"survey", "hazards_test", "demolish"}  # before anything is delivered


def stages(brief: Brief, scheme: Scheme) -> Schedule:
    room = inner_room(brief, scheme)
    return schedule(brief, scheme, room, bill(brief, lines(brief, room, scheme)), ())


def paced(brief: Brief, hours: float, helpers: int) -> Brief:
    return replace(brief, means=replace(brief.means, hours_per_week=hours, helpers=helpers))


@settings(max_examples=25, deadline=None)
@given(builds())
def test_every_task_follows_its_predecessors_and_every_line_has_its_task(build) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    made = stages(brief, scheme)
    found = lines(brief, inner_room(brief, scheme), scheme)
    by_id = {task.id: task for task in made.tasks}
    assert [task.number for task in made.tasks] == list(range(1, len(made.tasks) + 1))
    for task in made.tasks:
        assert task.hours > 0.0
        assert task.start < task.finish <= task.ready <= made.weeks + EPS
        for before in task.after:
            assert by_id[before].number < task.number
            assert by_id[before].ready <= task.start + EPS
    # Work that no task takes would vanish from hours and shopping by stage.
    assert {line.task for line in found} <= set(by_id)
    # Nothing is closed in before the framing inspection.
    closing = [by_id[task] for task in ("insulate", "clips_channel", "boards_first", "boards_last") if task in by_id]
    assert all(by_id["inspect_frame"].ready <= task.start + EPS for task in closing)
    assert all(by_id[task].ready <= by_id["inspect_final"].start + EPS for task in ("door", "finish", "air_start"))


@settings(max_examples=25, deadline=None)
@given(builds())
def test_all_that_a_task_uses_is_delivered_before_it(build) -> None:  # type: ignore[no-untyped-def]
    made = stages(*build)
    by_id = {task.id: task for task in made.tasks}
    for task in made.tasks:
        assert bool(task.materials) == bool(task.supply)
        if task.id in FROM_A_SHOP or not task.materials:
            assert task.supply in ("", task.id)
        else:
            assert by_id[task.supply] in made.deliveries
            assert by_id[task.supply].ready <= task.start + EPS
            assert "order_materials" in behind(by_id[task.supply].id, made)
    # What is hired for the ceiling is there for its first board.
    boards = [task for task in made.tasks if task.id in ("boards_first", "boards_last")]
    lift = [task for task in made.tasks if any(each.item == "board_lift_hire" for each in task.materials)]
    if build[1].lid.plies:
        assert lift == (boards if len(build[1].lid.plies) > 1 else boards[-1:])


def behind(task_id: str, made: Schedule) -> set[str]:
    by_id = {task.id: task for task in made.tasks}
    return set(by_id[task_id].after).union(*(behind(before, made) for before in by_id[task_id].after))


@settings(max_examples=15, deadline=None)
@given(builds(), st.floats(2.0, 40.0), st.floats(1.0, 3.0), st.integers(0, 3))
def test_more_hours_or_hands_never_end_later_and_waits_stay(build, hours, factor, helpers) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    slow, fast = stages(paced(brief, hours, helpers), scheme), stages(paced(brief, hours * factor, helpers), scheme)
    helped = stages(paced(brief, hours, helpers + 1), scheme)
    for other in (fast, helped):
        assert other.weeks <= slow.weeks + EPS
        for before, after in zip(slow.tasks, other.tasks, strict=True):
            assert (before.id, before.wait_days) == (after.id, after.wait_days)
            assert after.finish <= before.finish + EPS
            assert after.hours == before.hours


@settings(max_examples=15, deadline=None)
@given(builds(), st.floats(2.0, 40.0))
def test_late_starts_keep_the_order_and_the_last_day(build, hours) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    made = stages(paced(brief, hours, 1), scheme)
    by_id = {task.id: task for task in made.tasks}
    assert made.critical
    for task in made.tasks:
        assert task.start <= task.late_start + EPS
        assert task.late_finish + task.wait_days / 7.0 <= made.weeks + EPS
        for before in task.after:
            assert by_id[before].late_finish + by_id[before].wait_days / 7.0 <= task.late_start + EPS


@settings(max_examples=15, deadline=None)
@given(builds(), st.floats(2.0, 60.0), st.dates(datetime.date(2020, 1, 1), datetime.date(2040, 1, 1)))
def test_dates_keep_the_order_and_offices_are_met_on_weekdays(build, hours, start) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    made = stages(paced(brief, hours, 1), scheme)
    found = dict(zip((task.id for task in made.tasks), dates(made, start), strict=True))
    assert found["survey"].first == start
    assert max(days.last for days in found.values()) <= last_day(made, start)
    for task in made.tasks:
        days = found[task.id]
        assert days.first <= days.last <= days.ready + datetime.timedelta(days=1)
        for before in task.after:
            assert found[before].last <= days.first
            assert found[before].ready <= days.first
        assert (days.hold is None) == (not task.hold_point)
        if days.hold and task.wait_for:
            assert days.hold.weekday() < 5
            assert days.last < days.hold <= days.ready
        if task.who == "building official":
            assert task.weekdays == "all"
        if task.weekdays:
            assert days.first.weekday() < 5
        if task.weekdays == "all":
            assert days.last.weekday() < 5
            worked = [n for n in range((days.last - days.first).days + 1) if (days.first + datetime.timedelta(days=n)).weekday() < 5]
            assert 8.0 * len(worked) >= task.trade_hours
    # Whoever is licensed keeps weekdays, and nobody tapes before the board was seen.
    assert all(found[each].first.weekday() < 5 for each in ("structure", "air_design", "rough_hvac", "rough_electric", "air_start"))
    assert found["finish"].first >= found["inspect_board"].ready >= found["inspect_board"].hold


@st.composite
def networks(draw: st.DrawFn) -> tuple[dict[str, float], list[Arc]]:
    names = [f"t{n}" for n in range(draw(st.integers(1, 12)))]
    lengths = {name: float(draw(st.integers(0, 20))) for name in names}
    ties = draw(st.lists(st.tuples(st.sampled_from(names), st.sampled_from(names), st.integers(0, 20)), max_size=30))
    return lengths, [Arc(a, b, float(delay)) for a, b, delay in ties if names.index(a) < names.index(b)]


@given(networks())
def test_the_whole_is_as_long_as_the_longest_path(network: tuple[dict[str, float], list[Arc]]) -> None:
    """Oracle: shortest paths over negated delays, Bellman-Ford of scipy."""
    lengths, arcs = network
    found, end = times(lengths, arcs)
    place = {name: n + 1 for n, name in enumerate(lengths)}
    size = len(lengths) + 2
    graph = np.full((size, size), np.nan)  # nan: no arc; source first, end last
    graph[0, 1:-1] = 0.0
    for name, length in lengths.items():
        graph[place[name], -1] = -length
    for arc in arcs:
        old = graph[place[arc.before], place[arc.after]]
        graph[place[arc.before], place[arc.after]] = -arc.delay if np.isnan(old) else min(old, -arc.delay)
    rows, columns = np.nonzero(~np.isnan(graph))
    # Explicit zeros are arcs, too.
    longest = -bellman_ford(csr_matrix((graph[rows, columns], (rows, columns)), shape=(size, size)), indices=0)
    assert end == longest[-1]
    assert all(found[name].start == longest[place[name]] for name in lengths)
    # A task that starts at its latest leaves the end where it is; one that starts later moves it.
    for name, length in lengths.items():
        later = [*arcs, Arc("start", name, found[name].late_start)]
        assert times({"start": 0.0, **lengths}, later)[1] == end
        assert times({"start": 0.0, **lengths}, [*arcs, Arc("start", name, found[name].late_start + 1.0)])[1] == end + 1.0
        assert length >= 0.0
