"""Habits of the trade that the numbers should bear out. Marked: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from conftest import make_brief

from calc.brief import SideKind
from calc.headroom import headroom
from calc.isolation.flanking import lid_flanking
from calc.isolation.opening import composite, door_loss
from calc.isolation.predict import transmission_loss
from calc.materials import takeoff
from calc.materials.cost import unit_cost
from calc.options import doors, floors, lid_assembly, lids, wall_assembly, walls
from calc.ratings import stc
from calc.scheme import LidOption

FOOT = 0.3048


def _lid(key: str, height: float = 2.4) -> LidOption:
    return next(lid for lid in lids(make_brief(shell__height=height)) if lid.id == key)


@pytest.mark.parametrize(("feet", "keeps"), [(7.0, False), (8.0, True)])
def test_seven_feet_lose_habitable_height_under_two_plies_on_clips_and_eight_keep_it(feet: float, keeps: bool) -> None:
    # common practice, no source; limit: IRC 2018/2021 R305.1, 7 ft
    brief = make_brief(shell__height=feet * FOOT, shell__slab_unevenness=0.0, shell__obstructions=(), code="irc_2018_2021")
    assert headroom(brief, _lid("lid-0-clip-2"), floors(brief)[0]).open_field.ok_code is keeps


def test_a_second_door_in_series_beats_one_heavier_door_of_the_same_cost() -> None:
    # common practice, no source. Not even a single door that costs more than the pair is as quiet.
    brief = make_brief()
    by_id = {door.id: door for door in doors(brief)}
    cost = {key: unit_cost(brief, takeoff.door_lines(brief, door)) for key, door in by_id.items()}
    pair = door_loss("pair_sealed")
    single = [key for key, door in by_id.items() if door.leaves == 1]
    assert cost["factory"] > cost["pair_sealed"] > cost["heavy_sealed"]
    for key in single:
        assert stc(pair) > stc(door_loss(key))
        assert np.all(pair[:9] > door_loss(key)[:9])  # 50 to 315 Hz, where music decides


def test_low_density_fill_serves_as_well_as_dense() -> None:
    # common practice, no source: within 2 STC points, less than two laboratories differ by on the same build (1 to 3); lid and what the
    # joists carry past it taken together, as a listener has them
    brief = make_brief()
    for key in ("lid-0-channel-2", "lid-0-clip-2", "lid-0-below-2"):
        light = _lid(key)
        assert light.fill == "glass fibre"
        losses = transmission_loss([lid_assembly(light, brief), lid_assembly(replace(light, fill="mineral wool"), brief)])
        glass, dense = (int(stc(composite([1.0, 1.0], np.stack([tl, lid_flanking(light)])))) for tl in losses)
        assert abs(glass - dense) <= 2


def test_frames_stand_an_inch_apart() -> None:
    # common practice, no source: 1 in between frame and wall, or between two rows
    brief = make_brief()
    free = [w for kind in SideKind for w in walls(brief, kind) if w.carries_lid]
    assert free
    assert all(wall.gap == pytest.approx(0.0254, abs=0.001) for wall in free)


def test_decoupling_beats_mass_on_the_same_studs() -> None:
    # Board on channel or in two rows gains more than a second board on both sides of rigid studs. National Building Code of Canada 2020,
    # Table 9.10.3.1.-A: rigid 1/1 36, rigid 2/2 38, channel 45 to 48, two rows 57.
    brief = make_brief()
    by_id = {w.id: w for w in walls(brief, SideKind.OPEN)}
    keys = ("wall-single-1", "wall-single-2", "wall-channel-1", "wall-two_rows-1")
    one, two, channel, rows = (int(stc(tl)) for tl in transmission_loss([wall_assembly(by_id[k], SideKind.OPEN, brief) for k in keys]))
    assert one < two < channel < rows
    assert two - one < channel - one
