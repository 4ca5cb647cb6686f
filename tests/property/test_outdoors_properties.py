"""What must hold of any way out of the house and of any duct."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.bands import BANDS
from calc.brief import Listener
from calc.isolation.outdoors import barrier, neighbour_facade, outdoor_level, outdoor_uncertainty, transfer

EAR = Listener("garden_neighbour", "across the garden", "quiet_for_sleep", 25.0, 12.0, "closed")
FLAT, NONE = np.full(BANDS.size, 100.0), np.zeros(BANDS.size)
DISTANCES = st.floats(0.0, 500.0)


@settings(max_examples=50, deadline=None)
@given(DISTANCES, DISTANCES)
def test_farther_is_never_louder(one: float, other: float) -> None:
    near, far = (replace(EAR, distance=each) for each in sorted((one, other)))
    assert np.all(transfer(near) >= transfer(far) - 1e-9)


@settings(max_examples=50, deadline=None)
@given(st.floats(2.0, 60.0), st.floats(0.01, 0.99), st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_a_higher_barrier_is_never_louder(distance: float, share: float, one: float, other: float) -> None:
    low, high = (replace(EAR, distance=distance, barrier_height=each, barrier_distance=share * distance) for each in sorted((one, other)))
    assert np.all(transfer(low) >= transfer(high) - 1e-9)
    assert np.all(barrier(high) <= 20.0)
    assert np.all(outdoor_uncertainty(high) >= outdoor_uncertainty(EAR))


def test_a_barrier_that_does_not_stand_between_does_nothing() -> None:
    for place in (0.0, 12.0, 30.0):
        assert np.array_equal(transfer(replace(EAR, barrier_height=3.0, barrier_distance=place)), transfer(EAR))


def test_an_open_window_lets_in_more() -> None:
    assert np.all(neighbour_facade("open") < neighbour_facade("closed"))
    assert np.all(transfer(replace(EAR, window="open")) > transfer(EAR))


@settings(max_examples=25, deadline=None)
@given(st.floats(0.01, 20.0), st.floats(0.0, 60.0))
def test_more_area_and_less_loss_are_louder(area: float, loss: float) -> None:
    level = outdoor_level(FLAT, NONE + loss, area, EAR)
    assert np.all(outdoor_level(FLAT, NONE + loss, 2.0 * area, EAR) > level)
    assert np.all(outdoor_level(FLAT, NONE + loss + 1.0, area, EAR) < level)
