"""What must hold of the air of any room."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.air_options import air_paths
from calc.catalogue import load
from calc.choose import choose
from calc.geometry import Room, inner_room
from calc.isolation.listener import isolation
from calc.scheme import AirPathOption, Scheme
from calc.ventilation import air, checks, climate, co2, design_rules, duct, run, silencer
from calc.ventilation.design import design
from calc.ventilation.session import timetable
from calc.ventilation.systems import compare

PATH = AirPathOption("a", "a", 3.0, 0.025, 2, True, True)
ROOM = Room(5.8, 4.0, 2.3)
ACTIVITIES = ("quiet_seated", "mixing", "seated_playing", "standing_playing", "drumming")
EACH, OUTDOOR = 0.0065e-3, 430.0
quick = settings(max_examples=40, deadline=None)
words = st.fixed_dictionaries(
    {"air__breaks": st.sampled_from(["none", "hourly", "rare"]), "air__arrivals": st.sampled_from(["together", "one_by_one"])}
)
sessions = st.tuples(st.integers(1, 8), st.floats(0.25, 8.0), st.sampled_from([0.0, 0.5, 0.75, 2.0]), st.sampled_from([0.0, 0.25, 0.5]))


@quick
@given(sessions, st.floats(0.0, 0.5))
def test_a_timetable_is_the_session_and_never_fuller_than_its_people(session: tuple[int, float, float, float], over: float) -> None:
    people, hours, play, pause = session
    found = timetable(people, hours, play, pause, over)
    assert math.isclose(sum(stretch.hours for stretch in found), hours)
    assert all(0 <= stretch.people <= people for stretch in found)
    assert found[0].people >= 1


@quick
@given(sessions, st.floats(0.0, 4.0), st.floats(0.0, 0.2), st.floats(20.0, 120.0))
def test_a_longer_session_never_peaks_lower(session: tuple[int, float, float, float], longer: float, flow: float, volume: float) -> None:
    people, hours, play, pause = session
    short, long = (
        co2.session(timetable(people, each, play, pause, 0.5), flow, EACH, volume, OUTDOOR, step=0.5)[1] for each in (hours, hours + longer)
    )
    assert long.max() >= short.max() - 1e-6


@quick
@given(st.integers(1, 8), st.floats(0.25, 8.0), st.floats(0.0, 4.0), st.floats(0.0, 0.2), st.floats(20.0, 120.0), st.floats(0.0, 0.5))
def test_a_longer_session_without_breaks_never_ends_fresher(
    people: int, hours: float, longer: float, flow: float, volume: float, over: float
) -> None:
    # Late arrivals: people only come, so the air only grows staler.
    ends = [
        co2.session(timetable(people, each, 0.0, 0.0, over), flow, EACH, volume, OUTDOOR)[1][-1] for each in (hours, hours + longer)
    ]  # fmt: skip
    assert ends[1] >= ends[0] - 1e-6


@quick
@given(sessions, st.floats(0.0, 0.2), st.floats(0.0, 0.2))
def test_more_air_is_never_staler(session: tuple[int, float, float, float], less: float, extra: float) -> None:
    few, more = (co2.session(timetable(*session, 0.5), flow, EACH, 50.0, OUTDOOR)[1] for flow in (less, less + extra))
    assert np.all(more <= few + 1e-6)


@quick
@given(words, st.integers(1, 8), st.sampled_from(ACTIVITIES), st.floats(0.5, 6.0), st.floats(600.0, 2000.0))
def test_the_air_holds_the_limit_with_any_breaks(said: dict[str, str], people: int, activity: str, hours: float, limit: float) -> None:
    found = air(make_brief(use__people=people, use__activity=activity, use__session=hours, air__co2_limit=limit, **said), ROOM, PATH)
    assert found.co2_peak <= limit + 1e-6
    assert found.fresh_air_for_session <= found.fresh_air + 1e-9
    assert found.co2_final <= found.co2_peak
    assert len(found.people) == len(found.co2_curve[0])
    assert max(found.people) <= people
    assert found.co2_off[1][-1] >= found.co2_curve[1][-1] - 1e-6


@quick
@given(st.integers(1, 7), st.sampled_from(ACTIVITIES), st.floats(0.0, 1000.0), st.floats(-30.0, 20.0))
def test_more_people_and_more_watts_never_need_less(people: int, activity: str, watts: float, winter: float) -> None:
    few, more = (
        air(make_brief(use__people=n, use__activity=activity, use__equipment=watts * n, air__winter_design=winter), ROOM, PATH)
        for n in (people, people + 1)
    )
    assert more.fresh_air >= few.fresh_air
    assert more.heat_sensible >= few.heat_sensible
    assert more.cooling_W >= few.cooling_W
    assert more.heating_size >= few.heating_size
    assert more.heating_size >= more.heating_W


@quick
@given(st.floats(15.0, 45.0), st.sampled_from(["dry", "mild", "muggy", "unknown"]), st.floats(0.005, 0.2), st.booleans())
def test_a_damper_summer_never_dries_the_room(summer: float, damp: str, flow: float, outdoors: bool) -> None:
    brief = make_brief(air__summer_design=summer, air__summer_damp=damp)
    hot = climate.season(brief, climate.SUMMER, flow, 0.5, outdoors)
    dry = climate.season(replace(brief, air=replace(brief.air, summer_damp="dry")), climate.SUMMER, flow, 0.5, outdoors)
    assert hot.humidity >= dry.humidity - 1e-9
    worst = climate.season(replace(brief, air=replace(brief.air, summer_damp="muggy")), climate.SUMMER, flow, 0.5, outdoors)
    assert climate.season(replace(brief, air=replace(brief.air, summer_damp="unknown")), climate.SUMMER, flow, 0.5, outdoors) == worst


@quick
@given(st.floats(0.005, 0.1), st.floats(0.1, 0.4), st.floats(0.5, 20.0), st.floats(0.0, 20.0), st.integers(0, 4), st.integers(0, 3))
def test_longer_or_narrower_ducts_never_take_less(flow: float, side: float, reach: float, extra: float, elbows: int, chambers: int) -> None:
    path = replace(PATH, elbows=elbows)
    first = run.run(run.SUPPLY, flow, 1, side, path, reach, 2.0, chambers)
    assert run.run(run.SUPPLY, flow, 1, side, path, reach + extra, 2.0, chambers).pressure >= first.pressure - 1e-9
    assert run.run(run.SUPPLY, flow, 1, side * 1.2, path, reach, 2.0, chambers).pressure <= first.pressure + 1e-9
    assert run.run(run.SUPPLY, flow, 1, side, path, reach, 2.0, chambers + 1).pressure > first.pressure
    assert run.run(run.SUPPLY, flow, 1, side, replace(path, elbows=elbows + 1), reach, 2.0, chambers).pressure > first.pressure


@quick
@given(st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.1, 0.4))
def test_flexible_duct_squeezed_more_takes_more(first: float, extra: float, diameter: float) -> None:
    assert duct.compression_factor(diameter, first + extra) >= duct.compression_factor(diameter, first) >= 1.0


@settings(max_examples=10, deadline=None)
@given(st.lists(st.floats(0.0, 40.0), min_size=7, max_size=7), st.floats(0.0, 15.0), st.floats(0.12, 0.30))
def test_a_box_does_what_is_asked_or_says_what_it_lacks(asked: list[float], less: float, side: float) -> None:
    needed = np.array(asked)
    box = silencer.smallest(needed, side)
    assert np.all(box.loss + box.short >= needed - 1e-9)
    assert np.all(np.array(box.outside) <= np.array(load("duct_flow")["silencer"]["most_outside"]) + 1e-9)
    easier = silencer.smallest(np.maximum(needed - less, 0.0), side)
    assert silencer.rank(easier) <= silencer.rank(box)


@settings(max_examples=6, deadline=None)
@given(st.floats(0.0, 25.0), st.floats(10.0, 45.0))
def test_walls_of_a_box_are_counted_too(needed: float, walls: float) -> None:
    box = silencer.smallest(np.full(7, needed), 0.2, np.full(21, walls))
    assert np.all(box.wall + np.repeat(box.short, 3) >= walls - 1e-9)
    assert box.volume >= silencer.smallest(np.full(7, needed), 0.2).volume - 1e-9


@cache
def scheme() -> Scheme:
    return choose(make_brief(), explain=False).scheme


@settings(max_examples=12, deadline=None)
@given(
    st.integers(1, 20), st.sampled_from(ACTIVITIES), st.floats(600.0, 3000.0), st.booleans(), st.integers(0, 50),
    st.sampled_from(["forced air", "none", "unknown"]), st.sampled_from(["yes", "no", "unknown"]), st.sampled_from([0.0, 20.0, 300.0]),
    st.floats(0.5, 60.0), st.sampled_from(["none", "sealed", "natural draft", "unknown"]),
)  # fmt: skip
def test_any_room_gets_a_design_a_comparison_and_findings(
    people: int, activity: str, limit: float, recording: bool, which: int, system: str, out: str, left: float, reach: float, burner: str
) -> None:
    brief = make_brief(
        use__people=people, use__activity=activity, use__recording=recording, air__co2_limit=limit, air__system=system,
        air__duct_outdoors=out, air__duct_reach=reach, shell__basement_volume_left=left, shell__appliance=burner,
    )  # fmt: skip
    paths = air_paths(brief)
    option = paths[which % len(paths)]
    made = replace(scheme(), air_path=option)
    room = inner_room(brief, made)
    heard, need = isolation(brief, made, room), air(brief, room, option)
    planned, compared = design(brief, room, option, need, heard), compare(brief, room, option, heard)
    assert (planned.silencer is None) == planned.needs.met
    assert compared.systems[0].id == compared.chosen
    assert compared.systems[0].option.fan_unit == option.fan_unit
    assert compared.systems[0].option.house_ducts == option.house_ducts
    assert (compared.best == "") == (not any(one.fits for one in compared.systems))
    assert compared.best == "" or compared.named(compared.best).fits
    assert all(each.title and each.remedy for each in design_rules.findings(brief, need, planned, compared))
    for one in compared.systems:
        assert 0.0 < one.flow <= need.fresh_air + 1e-9
        assert all(check.sentence.endswith(".") for check in one.checks)


@settings(max_examples=15, deadline=None)
@given(st.integers(1, 6), st.sampled_from(["forced air", "hydronic"]), st.sampled_from(["house", "basement"]), st.floats(0.01, 0.1))
def test_more_exchange_with_the_house_never_makes_the_room_staler(people: int, system: str, end: str, flow: float) -> None:
    brief = make_brief(use__people=people, use__activity="standing_playing", air__system=system)
    found = air(brief, ROOM, PATH)
    zone = checks.source(brief, end, found)
    slow, fast = (checks.shared_peak(brief, ROOM, found, zone, each) for each in (flow, 1.5 * flow))
    assert fast <= slow + 1e-6
    assert slow >= zone.settled - 1e-6
    assert checks.shared_peak(brief, ROOM, found, zone, 1.5 * flow) >= co2.steady(math.inf, 0.0, OUTDOOR) - 1e-6
