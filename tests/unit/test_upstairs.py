"""One stair, one assumption: the hall, the rooms above and the windows above hear the same door, or the same open stair."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import BANDS
from calc.brief import Listener
from calc.isolation.opening import door_loss
from calc.isolation.path import db
from calc.isolation.paths import door_paths
from calc.isolation.upstairs import stair_difference, up_from_basement
from calc.options import doors

AT_500 = int(np.flatnonzero(BANDS == 500.0)[0])
UP = ("stair_hall", "living_above", "bedroom_above")
DOOR = doors(make_brief())[0]


def level(kind: str, door: str) -> np.ndarray:
    brief = make_brief(house__stair_door=door)
    (path,) = door_paths(brief, Listener(kind, kind, "quiet_for_sleep", 25.0, 10.0, "closed"), DOOR)
    return path.levels


def test_an_open_stair_takes_off_about_eleven_decibels_at_its_head() -> None:
    assert stair_difference(False, "stair_hall")[AT_500] == pytest.approx(11.0)


@pytest.mark.parametrize("kind", UP)
def test_a_door_adds_its_own_loss_to_the_stair(kind: str) -> None:
    assert stair_difference(True, kind) - stair_difference(False, kind) == pytest.approx(door_loss("hollow"))


def test_no_room_above_is_louder_than_the_hall_it_opens_from() -> None:
    for door in (True, False):
        hall, living, bedroom = (stair_difference(door, kind) for kind in UP)
        assert np.all(hall < living)
        assert np.all(living < bedroom)


@pytest.mark.parametrize("kind", [*UP, "garden_neighbour"])
def test_without_the_door_every_listener_up_there_hears_more(kind: str) -> None:
    assert np.all(level(kind, "no") > level(kind, "yes"))


@pytest.mark.parametrize("kind", ["rest_of_basement", "room_beside"])
def test_down_in_the_basement_the_door_is_nothing(kind: str) -> None:
    assert np.array_equal(level(kind, "no"), level(kind, "yes"))


def test_the_bare_floor_beside_the_stair_bounds_what_a_door_can_do() -> None:
    brief = make_brief(house__stair_door="yes")
    for kind in UP:
        both, stair = up_from_basement(brief, kind), stair_difference(True, kind)
        floor = -db(10.0 ** (-both / 10.0) - 10.0 ** (-stair / 10.0))
        assert np.all(both < stair)
        assert 20.0 < floor[AT_500] < 45.0
