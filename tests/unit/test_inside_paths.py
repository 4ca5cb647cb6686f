"""The room itself, listening to the house: each way depends on one choice, and better building is quieter."""

from __future__ import annotations

from dataclasses import replace
from inspect import signature

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import BANDS, EXACT_BANDS, a_weighted
from calc.brief import Brief, House, Listener, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation import inside
from calc.isolation.criteria import target_kinds
from calc.isolation.impact import impact_level
from calc.isolation.listener import loss, predicted
from calc.isolation.parameters import parameters
from calc.isolation.path import Loss, Path
from calc.options import air_paths, doors, lid_assembly, lids, wall_assembly, walls
from calc.ratings import stc
from calc.scheme import AirPathOption, DoorOption, LidOption, WallOption

ITSELF = Listener("this_room", "the room itself", "nc_20", 22.0, 0.0, "closed")
NOISY = House(walking="children", plumbing="yes", machine="laundry", outdoors=60.0)
ROOM = Room(6.1, 4.3, 2.4)


def noisy(**changes: object) -> Brief:
    return make_brief(**{"house": NOISY, **changes})


def by_lid(brief: Brief, *ids: str) -> list[dict[str, Path]]:
    """Ways through lids, by name."""
    chosen = [next(lid for lid in lids(brief) if lid.id == each) for each in ids]
    losses = [loss(each) for each in predicted([lid_assembly(lid, brief) for lid in chosen])]
    return [{p.name: p for p in inside.lid_inside(brief, ROOM, ITSELF, lid, each)} for lid, each in zip(chosen, losses, strict=True)]


def steps(paths: dict[str, Path]) -> np.ndarray:
    return next(path.levels for name, path in paths.items() if name.startswith("steps"))


def test_a_heavier_lid_lowers_footfall_in_every_band() -> None:
    light, heavy, own = by_lid(noisy(), "lid-0-clip-1", "lid-0-clip-3", "lid-0-below-3")
    assert np.all(steps(heavy) <= steps(light) + 1e-9)
    assert np.all((steps(own) < steps(heavy))[:6])


def test_every_way_through_a_lid_is_quieter_under_a_better_one() -> None:
    bare, best = by_lid(noisy(), "lid-0-direct-1", "lid-0-below-3")
    assert set(bare) == set(best)
    assert len(bare) == 5
    assert all(a_weighted(best[name].levels) < a_weighted(bare[name].levels) - 5.0 for name in bare if "gaps" not in name)


def test_steps_are_less_sure_than_voices() -> None:
    (paths,) = by_lid(noisy(), "lid-0-clip-2")
    spread = {name: path.uncertainty for name, path in paths.items()}
    voices, footfall = (next(each for name, each in spread.items() if name.startswith(word)) for word in ("voices", "steps"))
    assert np.all(footfall > voices)


def test_who_walks_decides_how_loud_and_how_deep() -> None:
    def heard(walking: str, floor: str = "wood") -> dict[str, Path]:
        return by_lid(noisy(house=replace(NOISY, walking=walking), shell__floor_above=floor), "lid-0-clip-2")[0]

    soft, children, hard = (steps(heard(who)) for who in ("soft", "children", "hard"))
    assert np.all(children[:8] > soft[:8])
    assert np.allclose(hard[:1], soft[:1], atol=1.0)  # the same heel, with a click on top of it
    assert np.all((hard - soft)[BANDS >= 200] > 10.0)
    assert not any(name.startswith("steps") for name in heard("nobody"))
    carpet_hard, carpet_soft = (inside.step_force(who, "carpet") for who in ("hard", "soft"))
    assert np.allclose(carpet_hard, carpet_soft)


def test_a_step_is_deep_and_far_under_the_tapping_machine_above_100_hz() -> None:
    # Blazier 1996 (J. Acoust. Soc. Am., abstract 4pAA2): a walker peaks far below 100 Hz and is unlike the machine above it
    force = inside.step_force("soft", "wood")
    assert np.all(np.diff(force) < 0.0)
    assert force[0] > -10.0
    assert np.all(force[BANDS >= 200] < -30.0)


def test_the_short_blow_is_the_tapping_machine_of_the_engine_where_wood_does_not_soften_it() -> None:
    # one reciprocity for both: what the engine takes off for wood's yielding is next to nothing in the lowest band
    row, brief = load("house_noise")["steps"], noisy()
    for lid in lids(brief)[:6]:
        assembly = lid_assembly(lid, brief)
        tl = predicted([assembly])[0].tl
        short = row["reciprocity"] + 30.0 * np.log10(EXACT_BANDS) - tl
        engine = impact_level(assembly, tl, parameters())
        assert np.all(engine <= short + 1e-6)
        assert engine[0] == pytest.approx(short[0], abs=1.5)


def test_no_way_depends_on_two_choices() -> None:
    choices = {LidOption, WallOption, DoorOption, AirPathOption}
    names = {each.__name__ for each in choices}
    for way in (inside.lid_inside, inside.wall_inside, inside.door_inside, inside.air_inside, inside.fixed_inside):
        taken = [str(each.annotation) for each in signature(way).parameters.values()]
        assert sum(any(name in each for name in names) for each in taken) <= 1


def test_noise_goes_only_where_it_is() -> None:
    quiet = noisy(house=House(walking="nobody", plumbing="no", machine="none", outdoors=30.0))
    (paths,) = by_lid(quiet, "lid-0-clip-2")
    assert all(name.startswith("voices") for name in paths)
    assert not [path for door in doors(quiet) for path in inside.door_inside(quiet, ITSELF, door)]
    assert not inside.fixed_inside(noisy(shell__escape="none"), ITSELF)
    wall = walls(quiet, SideKind.OPEN)[0]
    flat = Loss(np.full(21, 30.0), np.full(21, 2.0))
    assert not inside.wall_inside(quiet, ROOM, ITSELF, SideKind.OPEN, wall, flat)
    assert not inside.wall_inside(noisy(), ROOM, ITSELF, SideKind.FOUNDATION_BELOW, wall, flat)
    assert not inside.wall_inside(noisy(), ROOM, ITSELF, SideKind.PARTY, wall, flat)  # no side is one


def test_better_walls_doors_and_ducts_are_quieter() -> None:
    brief = noisy()
    door = {each.id: a_weighted(inside.door_inside(brief, ITSELF, each)[0].levels) for each in doors(brief)}
    assert door["pair_sealed"] < door["solid_perimeter"] - 15.0
    for kind in (SideKind.OPEN, SideKind.FOUNDATION_ABOVE):
        options = walls(brief, kind)
        found = predicted([wall_assembly(each, kind, brief) for each in options])
        levels = [
            a_weighted(inside.wall_inside(brief, ROOM, ITSELF, kind, wall, loss(each))[0].levels)
            for wall, each in zip(options, found, strict=True)
        ]
        ratings = [int(stc(each.tl)) for each in found]
        assert levels[int(np.argmax(ratings))] < levels[int(np.argmin(ratings))] - 5.0
    assert all(inside.air_inside(brief, ITSELF, option) for option in air_paths(brief))


def test_the_street_rises_one_for_one() -> None:
    quiet, loud = (inside.fixed_inside(noisy(house__outdoors=level), ITSELF)[0].levels for level in (50.0, 60.0))
    assert loud - quiet == pytest.approx(np.full(21, 10.0))


def test_noises_have_the_level_they_state() -> None:
    brief = noisy()
    assert a_weighted(inside.street(brief)) == pytest.approx(60.0)
    for machine, row in load("house_noise")["machine"].items():
        noise = inside.basement(noisy(house__machine=machine))
        assert (noise is None) == (machine == "none")
        assert noise is None or a_weighted(noise) == pytest.approx(row["level"])
    assert load("house_noise")["drain"]["most"].keys() >= {lid.support for lid in lids(brief)}


def test_targets_for_the_room_are_curves_and_those_for_people_are_not() -> None:
    for row in target_kinds().values():
        assert (row["rule"] in ("nc", "nr")) == (row["of"] == "room")
        assert row["source"]
