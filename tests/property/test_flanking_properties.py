"""Flanking: what must hold for any junction, lining and room."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.bands import BANDS, energy_sum
from calc.brief import Brief, Listener, Side, SideKind
from calc.geometry import Room
from calc.isolation import junction as j
from calc.isolation.built import heavy
from calc.isolation.massive import floor_gain, floor_ways, lid_ways, wall_ways
from calc.isolation.materials import ply
from calc.options import floors, lids, walls

MASS = st.floats(5.0, 900.0)
FLAT = np.zeros(BANDS.size)
ROOM = Room(6.1, 4.3, 2.4)


def brief_with(kinds: tuple[SideKind, ...], foundation: str = "poured concrete", thickness: float = 0.2) -> Brief:
    sides = tuple(Side(n + 1, 6.1 if n % 2 == 0 else 4.3, kind) for n, kind in enumerate(kinds))
    return make_brief(shell__sides=sides, shell__foundation=foundation, shell__foundation_thickness=thickness)


def who(kind: str) -> Listener:
    return Listener(kind, kind, "quiet_for_sleep", 25.0, 10.0, "closed")


SIDES = st.tuples(*[st.sampled_from(list(SideKind))] * 4)
LISTENERS = st.sampled_from(["bedroom_above", "stair_hall", "rest_of_basement", "attached_neighbour"])


@given(across=MASS, along=MASS, more=st.floats(1.0, 5.0))
def test_a_heavier_element_across_never_lets_more_straight_through(across: float, along: float, more: float) -> None:
    assert j.tee_through(across * more, along) >= j.tee_through(across, along) - 1e-9
    assert j.light_through(across * more, along) >= j.light_through(across, along)
    if across > along:  # as the cross formula falls with a stem much lighter than the element
        assert j.cross_through(across * more, along) >= j.cross_through(across, along)


@given(first=MASS, second=MASS)
def test_corners_are_the_same_both_ways(first: float, second: float) -> None:
    for corner in (j.tee_corner, j.cross_corner, j.light_corner):
        assert corner(first, second) == pytest.approx(corner(second, first))


@pytest.mark.parametrize("bad", [0.0, -1.0])
def test_an_element_without_mass_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="mass"):
        j.cross_corner(bad, 100.0)


@given(losses=st.lists(st.floats(20.0, 90.0), min_size=1, max_size=6), more=st.floats(20.0, 90.0))
def test_one_more_path_never_lowers_the_level(losses: list[float], more: float) -> None:
    spectra = [np.full(BANDS.size, loss) for loss in losses]
    with_it = j.apparent([*spectra, np.full(BANDS.size, more)])
    assert np.all(with_it <= j.apparent(spectra) + 1e-9)
    assert np.all(with_it <= min(losses) + 1e-9)


def test_paths_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one"):
        j.apparent([])


@settings(max_examples=40, deadline=None)
@given(kinds=SIDES, kind=LISTENERS, gain=st.floats(0.0, 40.0), pick=st.integers(0, 9))
def test_a_better_lining_or_lid_is_never_louder(kinds: tuple[SideKind, ...], kind: str, gain: float, pick: int) -> None:
    brief, listener = brief_with(kinds), who(kind)
    for side in dict.fromkeys(kinds):
        found = walls(brief, side)
        wall = found[pick % len(found)]
        bare, lined = (wall_ways(brief, ROOM, listener, side, wall, FLAT + each) for each in (0.0, gain))
        assert [p.name for p in bare] == [p.name for p in lined]
        for before, after in zip(bare, lined, strict=True):
            assert np.all(after.levels <= before.levels + 1e-9)
    lid = lids(brief)[pick]
    for before, after in zip(*(lid_ways(brief, ROOM, listener, lid, FLAT + each) for each in (0.0, gain)), strict=True):
        assert np.all(after.levels <= before.levels + 1e-9)


@settings(max_examples=30, deadline=None)
@given(kinds=SIDES, kind=LISTENERS, foundation=st.sampled_from(["poured concrete", "hollow block", "brick or stone", "wood", "unknown"]))
def test_every_way_is_finite_sure_enough_and_rings_with_the_source(kinds: tuple[SideKind, ...], kind: str, foundation: str) -> None:
    brief, listener = brief_with(kinds, foundation), who(kind)
    louder = replace(brief, use=replace(brief.use, level=brief.use.level + 7.0))

    def ways(each: Brief) -> list[np.ndarray]:
        found = list(floor_ways(each, ROOM, listener, None)) + list(lid_ways(each, ROOM, listener, lids(each)[0], FLAT))
        for side in dict.fromkeys(kinds):
            found += wall_ways(each, ROOM, listener, side, walls(each, side)[0], FLAT)
        assert all(np.all(path.uncertainty >= 2.0) for path in found)
        return [path.levels for path in found]

    for quiet, loud in zip(ways(brief), ways(louder), strict=True):
        assert np.all(np.isfinite(quiet))
        assert loud - quiet == pytest.approx(np.full(BANDS.size, 7.0))


@pytest.mark.parametrize("kind", ["garden_neighbour", "this_room"])
def test_nobody_outdoors_or_inside_is_reached_through_the_structure(kind: str) -> None:
    brief, listener = brief_with((SideKind.FOUNDATION_ABOVE, SideKind.OPEN, SideKind.PARTY, SideKind.FOUNDATION_BELOW)), who(kind)
    assert not floor_ways(brief, ROOM, listener, None)
    assert not lid_ways(brief, ROOM, listener, lids(brief)[0], FLAT)
    assert not [way for side in SideKind for way in wall_ways(brief, ROOM, listener, side, walls(brief, side)[0], FLAT)]


def test_a_heavier_foundation_never_passes_more_to_the_room_above() -> None:
    def level(thickness: float) -> float:
        brief = brief_with((SideKind.FOUNDATION_BELOW,) * 3 + (SideKind.OPEN,), thickness=thickness)
        wall = walls(brief, SideKind.FOUNDATION_BELOW)[0]
        heavy = wall_ways(brief, ROOM, who("bedroom_above"), SideKind.FOUNDATION_BELOW, wall, FLAT)[0]
        return float(energy_sum(heavy.levels))

    levels = [level(t) for t in (0.15, 0.20, 0.25, 0.30)]
    assert levels == sorted(levels, reverse=True)


@pytest.mark.parametrize("material", ["concrete", "hollow concrete block, normal weight, sealed", "brick"])
def test_soil_only_ever_takes(material: str) -> None:
    dry, backed = (heavy(ply(material, 0.2), 5.0, 2.4, soil) for soil in (0.0, 1.0))
    assert np.all(backed.loss >= dry.loss - 1e-9)
    assert np.all(backed.absorption > dry.absorption)


def test_only_corners_pass_along_the_foundation() -> None:
    # a foundation wall that meets no open side passes nothing into the rest of the basement; one that meets two passes twice what one does
    def along(kinds: tuple[SideKind, ...]) -> list[np.ndarray]:
        brief = brief_with(kinds)
        wall = walls(brief, SideKind.FOUNDATION_BELOW)[0]
        return [p.levels for p in wall_ways(brief, ROOM, who("rest_of_basement"), SideKind.FOUNDATION_BELOW, wall, FLAT)]

    below, opened, party = SideKind.FOUNDATION_BELOW, SideKind.OPEN, SideKind.PARTY
    assert along((below, party, opened, party)) == []
    (one,), (two,) = along((below, opened, party, party)), along((below, opened, party, opened))
    assert two - one == pytest.approx(np.full(BANDS.size, 3.01), abs=0.01)


def test_a_floor_on_a_spring_loses_at_its_resonance_and_gains_above() -> None:
    by_id = {floor.id: floor_gain(floor) for floor in floors(make_brief())}
    assert np.all(by_id["paint"] == 0.0)
    assert np.all(by_id["carpet"] == 0.0)
    springy = by_id["rubber_plywood"]
    assert springy.min() < -3.0
    assert abs(springy[0]) < 0.6
    assert springy[-1] - springy[-4] == pytest.approx(30.0 * np.log10(BANDS[-1] / BANDS[-4]), abs=1.0)
