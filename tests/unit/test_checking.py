"""What pink noise should show after the build."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.bands import BANDS, a_weighted
from calc.isolation.checking import noise_check

music = np.linspace(95.0, 60.0, BANDS.size)
silence = np.full(BANDS.size, -40.0)


def test_an_even_difference_is_found_in_every_octave_and_in_the_total() -> None:
    found = noise_check(music, music - 33.0, silence, 90.0)
    assert found.octaves == pytest.approx(33.0)
    assert found.a_weighted == pytest.approx(33.0)
    assert not found.hidden.any()


def test_one_leaky_third_sets_its_octave() -> None:
    """Thirds of 20, 40 and 40 dB: mean transmission (0.01 + 2 * 0.0001) / 3, by hand 24.69 dB."""
    loss = np.full(BANDS.size, 40.0)
    loss[3] = 20.0  # 100 Hz, in the octave of 125 Hz
    found = noise_check(music, music - loss, silence, 90.0)
    assert found.octaves[1] == pytest.approx(24.69, abs=0.01)
    assert np.delete(found.octaves, 1) == pytest.approx(40.0)


def test_pink_noise_loses_more_than_music_heavy_in_bass_where_the_bass_is_let_through() -> None:
    loss = np.linspace(20.0, 80.0, BANDS.size)
    found = noise_check(music, music - loss, silence, a_weighted(music))
    assert found.a_weighted > a_weighted(music) - a_weighted(music - loss)


@given(st.floats(60.0, 110.0), st.floats(10.0, 50.0))
def test_what_the_background_hides_is_said_and_bounded(room: float, quiet: float) -> None:
    """Background as flat as the noise: in every octave room less background can be shown, no more."""
    flat = np.zeros(BANDS.size) - a_weighted(np.zeros(BANDS.size))
    found = noise_check(music, music - 45.0, flat + quiet, room)
    assert found.readable == pytest.approx(room - quiet)
    assert found.a_readable == pytest.approx(room - quiet)
    assert bool(found.a_hidden) == (found.a_readable < 45.0)


def test_another_number_of_bands_is_refused() -> None:
    with pytest.raises(ValueError, match="21 bands"):
        noise_check(music[:7], music[:7], silence[:7], 90.0)
