"""What must hold for any basement: more people, more boards, more load never make things easier."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.brief import Joists, Obstruction
from calc.geometry import Room
from calc.headroom import headroom
from calc.scheme import AirPathOption, FloorOption, Layer, LidOption, Ply
from calc.structure import ENGINEER, PASSES, STOP, screen
from calc.ventilation import air, co2

PATH = AirPathOption("a", "a", 6.0, 0.025, 2, True, True)
BARE = FloorOption("bare", "bare slab", ())
ACTIVITIES = ("quiet_seated", "mixing", "seated_playing", "standing_playing", "drumming")
ORDER = {PASSES: 0, ENGINEER: 1, STOP: 2}
quick = settings(max_examples=50, deadline=None)

wood = st.builds(
    Joists,
    kind=st.just("sawn"),
    depth=st.sampled_from([0.140, 0.184, 0.235, 0.286]),
    breadth=st.just(0.038),
    spacing=st.sampled_from([0.305, 0.406, 0.488, 0.610]),
    span=st.floats(1.5, 7.0),
    species=st.sampled_from(["douglas_fir_larch", "hem_fir", "spruce_pine_fir", "southern_pine", "unknown"]),
    grade=st.sampled_from(["select", "no1", "no2", "no3", "unknown"]),
    damaged=st.just("no"),
)


def lid(thickness: float, mass: float = 0.0) -> LidOption:
    layers = (Layer("boards", thickness, mass),)
    return LidOption("t", "t", (), "none", 0.0, "isolation clip", 0.6, 1.2, 0.0, (Ply("b", thickness, mass),), False, layers, mass)


@quick
@given(st.integers(1, 11), st.sampled_from(ACTIVITIES), st.floats(3.0, 10.0), st.floats(3.0, 6.0), st.floats(600.0, 2000.0))
def test_more_people_never_need_less_air(people: int, activity: str, length: float, width: float, limit: float) -> None:
    room = Room(length, width, 2.2)
    few, more = (
        air(make_brief(use__people=count, use__activity=activity, air__co2_limit=limit), room, PATH) for count in (people, people + 1)
    )
    assert more.fresh_air >= few.fresh_air
    assert more.heat_sensible > few.heat_sensible
    assert more.co2_sealed_minutes < few.co2_sealed_minutes
    assert more.duct_diameter >= few.duct_diameter


@quick
@given(st.floats(0.0, 0.4), st.floats(0.0, 0.4), st.floats(1.9, 3.0), st.floats(1.7, 2.6))
def test_a_thicker_lid_never_gains_height(first: float, extra: float, height: float, underside: float) -> None:
    brief = make_brief(shell__height=height, shell__obstructions=(Obstruction("beam", underside, 0.2, False),))
    thin, thick = headroom(brief, lid(first), BARE), headroom(brief, lid(first + extra), BARE)
    assert thick.open_field.height <= thin.open_field.height
    assert min(zone.height for zone in thick.zones) <= min(zone.height for zone in thin.zones)
    assert thin.ok or not thick.ok


@quick
@given(wood, st.floats(0.0, 60.0), st.floats(0.0, 60.0))
def test_more_dead_load_never_passes_a_failed_joist(joists: Joists, mass: float, extra: float) -> None:
    brief = replace(make_brief(), shell=replace(make_brief().shell, joists=joists))
    light, heavy = screen(brief, lid(0.03, mass)), screen(brief, lid(0.03, mass + extra))
    assert ORDER[heavy.verdict] >= ORDER[light.verdict]
    assert light.allowed_span is not None
    assert heavy.allowed_span is not None
    assert heavy.allowed_span <= light.allowed_span


@quick
@given(wood, st.floats(0.0, 60.0))
def test_the_verdict_agrees_with_the_span(joists: Joists, mass: float) -> None:
    brief = replace(make_brief(), shell=replace(make_brief().shell, joists=joists))
    result = screen(brief, lid(0.03, mass))
    assert result.allowed_span is not None
    if abs(result.allowed_span - result.span) > 1e-6:
        assert (result.verdict == PASSES) == (result.allowed_span > result.span)


@quick
@given(st.floats(1e-6, 1e-3), st.floats(0.0, 0.2), st.floats(10.0, 200.0), st.floats(0.1, 6.0), st.floats(0.1, 0.9))
def test_co2_over_a_session_is_the_same_in_two_parts(given_off: float, flow: float, volume: float, hours: float, split: float) -> None:
    whole = co2.curve(np.array([hours]), flow, given_off, volume, 430.0)[0]
    middle = co2.curve(np.array([hours * split]), flow, given_off, volume, 430.0)[0]
    later = co2.curve(np.array([hours * (1.0 - split)]), flow, given_off, volume, 430.0, float(middle))[0]
    assert np.isfinite(whole)
    np.testing.assert_allclose(later, whole, rtol=1e-9)
