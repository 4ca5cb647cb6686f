"""Options are built from parts: which exist, what they take and weigh, and which must not."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from conftest import make_brief
from hypothesis import given
from hypothesis import strategies as st

from calc.assess import assess
from calc.brief import Listener, SideKind
from calc.catalogue import load
from calc.materials.support import grid
from calc.options import (
    air_paths,
    deck,
    doors,
    existing_wall,
    fill_thickness,
    floors,
    lid_assembly,
    lids,
    ply,
    wall_assembly,
    walls,
)
from calc.site import Site
from calc.structure import clip_grid, clip_load

BRIEF = make_brief()
LIDS = {lid.id: lid for lid in lids(BRIEF)}


def test_every_lid_asked_for_exists() -> None:
    for between in (0, 1, 2):
        for support in ("channel", "clip", "interleaved", "below"):
            for plies in ("1", "2", "2d", "3", "3d"):
                assert f"lid-{between}-{support}-{plies}" in LIDS


def test_ids_are_unique() -> None:
    groups = [lids(BRIEF), doors(BRIEF), air_paths(BRIEF), floors(BRIEF), *(walls(BRIEF, kind) for kind in SideKind)]
    for group in groups:
        ids = [option.id for option in group]
        assert len(ids) == len(set(ids))


def test_no_door_without_seals_at_head_and_jambs_is_offered() -> None:
    table = load("doors")
    edges = [table["edge"][table["door"][door.id]["edge"]] for door in doors(BRIEF)]
    assert all(edge["stop"] < table["edge"]["hung"]["stop"] for edge in edges)
    assert {door.sealed for door in doors(BRIEF)} == {True, False}


def test_height_of_two_plies_on_clips() -> None:
    # 41 mm of clip and channel and two boards of 15.9 mm
    assert LIDS["lid-0-clip-2"].height_taken == pytest.approx(0.041 + 2 * 0.0159)


def test_boards_between_the_joists_take_no_height_but_weigh() -> None:
    bare, lined = LIDS["lid-0-clip-2"], LIDS["lid-2-clip-2"]
    assert lined.height_taken == bare.height_taken
    assert lined.hung_mass > bare.hung_mass + 20.0


def test_an_independent_lid_hangs_nothing_but_fill_on_the_joists() -> None:
    assert LIDS["lid-0-below-3"].hung_mass < 3.0
    assert LIDS["lid-0-clip-3"].hung_mass > 33.0


def test_interleaved_joists_lose_less_height_than_joists_below() -> None:
    assert LIDS["lid-0-interleaved-2"].height_taken < LIDS["lid-0-below-2"].height_taken - 0.1


def test_no_lid_is_a_triple_leaf() -> None:
    for lid in LIDS.values():
        assembly = lid_assembly(lid, BRIEF)
        assert len(assembly.leaves) == 2
        assert assembly.leaves[0].plies == (*deck(BRIEF), *lid.between_joists)


def test_fill_follows_the_cavity() -> None:
    for lid in LIDS.values():
        cavity = lid_assembly(lid, BRIEF).cavities[0]
        assert cavity.fill_thickness <= cavity.depth
    for kind in SideKind:
        for wall in walls(BRIEF, kind):
            cavity = wall_assembly(wall, kind, BRIEF).cavities[0]
            assert 0.0 < cavity.fill_thickness <= cavity.depth
    assert fill_thickness(0.235) == pytest.approx(0.229)
    assert fill_thickness(0.01) == 0.0


def test_cavity_of_a_lid_reaches_from_the_boards_above_to_those_below() -> None:
    cavity = lid_assembly(LIDS["lid-1-clip-2"], BRIEF).cavities[0]
    assert cavity.depth == pytest.approx(0.235 - 0.0159 + 0.041)
    below = LIDS["lid-0-below-1"]
    assert lid_assembly(below, BRIEF).cavities[0].depth == pytest.approx(0.235 + 0.013 + below.own_joist_depth)


def test_joists_that_may_not_be_touched_leave_independent_lids() -> None:
    found = lids(make_brief(limits__joists_may_be_touched=False))
    assert found
    assert all(lid.support == "independent joists" and not lid.between_joists for lid in found)


def test_trusses_take_nothing_between_them() -> None:
    found = lids(make_brief(shell__joists__kind="truss"))
    assert all(not lid.between_joists and "interleaved" not in lid.id for lid in found)
    assert any(lid.support == "isolation clip" for lid in found)


def test_shallow_joists_have_no_room_for_interleaved_ones() -> None:
    found = lids(make_brief(shell__joists__depth=0.089))
    assert not [lid for lid in found if "interleaved" in lid.id]


def test_a_heavier_lid_gets_a_closer_clip_grid() -> None:
    # 150 N a clip: 13 kg/m2 on 0.61 x 1.219 is 95 N; 25 kg/m2 would be 182 N there
    assert clip_grid(13.0, 150.0, 0.4064) == (0.610, pytest.approx(1.2192))  # every third joist at 16 in
    assert clip_grid(25.0, 150.0, 0.4064) == (0.406, pytest.approx(1.2192))
    assert clip_grid(36.0, 150.0, 0.4064) == (0.406, pytest.approx(0.8128))


def test_clips_along_a_row_stand_on_joists_and_carry_the_cell_between_those() -> None:
    assert clip_grid(25.0, 150.0, 0.6096) == (0.406, pytest.approx(1.2192))  # every second joist at 24 in
    # At 625 mm two joists are 1.25 m apart, further than 1.219 m: every joist. 36.5 kg/m2 on 0.61 x 0.625 m is 136 N, on 0.406 m 91 N.
    assert clip_grid(36.5, 150.0, 0.625) == (0.610, 0.625)
    assert clip_grid(36.5, 135.0, 0.625) == (0.406, 0.625)
    assert clip_grid(36.5, 90.0, 0.625) is None  # 0.406 m along a row would carry less, but there no clip finds a joist
    assert clip_grid(1.0, 150.0, 1.3) is None  # joists further apart than a channel may span


@given(across=st.floats(1.5, 12.0), along=st.floats(1.5, 12.0), joists=st.floats(0.2, 1.22), rating=st.floats(60.0, 400.0))
def test_no_clip_carries_more_than_the_plan_says(across: float, along: float, joists: float, rating: float) -> None:
    """The clips that are bought, where they are bought for, against the load that is printed and held to the rating."""
    brief = make_brief(shell__joists__spacing=joists, site=Site(clip_rating=rating))
    for lid in (each for each in lids(brief) if each.support == "isolation clip"):
        made = grid(across, along, lid.support_spacing, lid.clip_spacing, joists)
        steps = [(b - a) / joists for a, b in pairwise(made.points)]
        assert steps == pytest.approx([round(step) for step in steps])  # on joists
        assert max(steps, default=0.0) == pytest.approx(lid.clip_spacing / joists) or len(made.points) <= lid.clip_spacing / joists + 1
        mass = sum(layer.surface_mass for layer in lid.layers) + lid.fill_thickness * load("options")["fill"]["density"]
        widest = _share(made.rows, across) * _share(made.points, along)
        assert mass * 9.80665 * widest <= clip_load(lid) * 1.0001
        assert clip_load(lid) <= rating


def _share(places: tuple[float, ...], extent: float) -> float:
    """The most that one place carries: half way to its neighbours, or to the edge."""
    bounds = [0.0, *((a + b) / 2.0 for a, b in pairwise(places)), extent]
    return max(b - a for a, b in pairwise(bounds))


def test_a_weaker_clip_gets_a_closer_grid_and_then_no_such_lid() -> None:
    assert clip_grid(25.0, 100.0, 0.4064) == (0.406, pytest.approx(0.8128))  # 25 kg/m2 on 0.330 m2 is 81 N
    assert clip_grid(25.0, 30.0, 0.4064) is None  # 40 N on the closest grid, 0.165 m2
    for rating in (150.0, 100.0, 60.0, 45.0):
        site = Site(clip_rating=rating)
        hung = [lid for lid in lids(make_brief(site=site)) if lid.support == "isolation clip"]
        assert hung
        assert all(clip_load(lid) <= rating for lid in hung)
    areas = [
        lid.support_spacing * lid.clip_spacing
        for rating in (300.0, 150.0, 60.0)
        for lid in lids(make_brief(site=Site(clip_rating=rating)))
        if lid.id == "lid-0-clip-2"
    ]
    assert areas == sorted(areas, reverse=True)
    assert len(set(areas)) == 3
    assert not [lid for lid in lids(make_brief(site=Site(clip_rating=20.0))) if lid.support == "isolation clip"]


def test_walls_for_each_side() -> None:
    for kind in SideKind:
        for wall in walls(BRIEF, kind):
            assert kind in wall.sides
            assert bool(wall.outer_plies) is (kind is SideKind.OPEN)
            assert (existing_wall(kind, BRIEF) is None) is (kind is SideKind.OPEN)


def test_wall_thickness_counts_every_layer() -> None:
    by_id = {w.id: w for w in walls(BRIEF, SideKind.OPEN)}
    assert by_id["wall-two_rows-2"].thickness == pytest.approx(4 * 0.0159 + 2 * 0.089 + 0.025)
    lined = {w.id: w for w in walls(BRIEF, SideKind.FOUNDATION_BELOW)}
    assert lined["wall-frame-1"].thickness == pytest.approx(0.0159 + 0.089 + 0.025)


def test_only_free_frames_carry_a_lid() -> None:
    for kind in SideKind:
        carrying = {w.frame for w in walls(BRIEF, kind) if w.carries_lid}
        assert carrying == ({"separate rows of wood stud"} if kind is SideKind.OPEN else {"independent wood stud"})


@pytest.mark.parametrize("foundation", ["poured concrete", "hollow block", "brick or stone", "wood", "unknown"])
def test_every_foundation_has_a_wall_behind_the_lining(foundation: str) -> None:
    brief = make_brief(shell__foundation=foundation)
    wall = walls(brief, SideKind.FOUNDATION_ABOVE)[0]
    assert wall_assembly(wall, SideKind.FOUNDATION_ABOVE, brief).leaves[0].plies == (existing_wall(SideKind.FOUNDATION_ABOVE, brief),)


@pytest.mark.parametrize("subfloor", ["plywood or OSB", "boards", "unknown"])
@pytest.mark.parametrize("finish", ["carpet", "wood", "tile", "vinyl", "unknown"])
def test_unknown_floors_above_count_as_the_lightest(subfloor: str, finish: str) -> None:
    found = make_brief(shell__subfloor=subfloor, shell__floor_above=finish)
    unknown = replace(found, shell=replace(found.shell, subfloor="unknown", floor_above="unknown"))
    assert sum(b.surface_mass for b in deck(unknown)) <= sum(b.surface_mass for b in deck(found))


def test_the_wall_to_a_neighbour_is_what_it_was_said_to_be_and_else_the_lightest() -> None:
    behind = {word: existing_wall(SideKind.PARTY, make_brief(shell__party=word)) for word in load("options")["party"]}
    assert behind["brick"] == ply("brick", 0.215)
    masses = {word: wall.surface_mass for word, wall in behind.items() if wall is not None}
    assert len(set(masses.values())) == len(masses) - 1
    assert masses["unknown"] == masses["hollow block"] == min(masses.values())


@pytest.mark.parametrize("heavier", ["poured concrete", "solid block", "brick"])
def test_a_neighbour_hears_less_through_a_heavier_wall(heavier: str) -> None:
    sides = tuple(replace(side, kind=SideKind.PARTY) if side.number == 1 else side for side in BRIEF.shell.sides)
    listener = Listener("attached_neighbour", "neighbour", "quiet_for_sleep", 25.0, 0.0, "closed")
    brief = make_brief(shell__sides=sides, listeners=(listener,))
    scheme = assess(brief, explain=False).scheme

    def heard(party: str) -> dict[str, float]:
        other = replace(brief, shell=replace(brief.shell, party=party))
        (result,) = assess(other, scheme, explain=False).isolation.listeners
        return {path.name: path.level_dba for path in result.paths}

    light, heavy = heard("unknown"), heard(heavier)
    assert heavy["party wall"] < light["party wall"]
    assert heavy["along the party wall"] < light["along the party wall"]
