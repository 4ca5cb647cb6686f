"""How far predictions, made without the ratings, are from published ones. Bounds are a little over what was measured when the constants
were fitted, so a change that costs accuracy shows. Data and sources: data/tested.toml, tests/bench/spectra.toml."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
from isolation_data import family, rated, spectra

from calc.isolation.predict import predictions, transmission_loss
from calc.ratings import stc


@pytest.fixture(scope="module")
def errors() -> tuple[np.ndarray, np.ndarray]:
    """STC errors of the code table, and the family of each row."""
    tests, published = rated()
    return np.asarray(stc(transmission_loss(tests))) - published, np.array([family(a) for a in tests])


def test_stc_of_the_code_table(errors: tuple[np.ndarray, np.ndarray]) -> None:
    error, _ = errors
    assert np.abs(error).mean() <= 1.5  # measured 1.35
    assert (np.abs(error) <= 3).mean() >= 0.90  # measured 0.94


def test_no_family_is_biased(errors: tuple[np.ndarray, np.ndarray]) -> None:
    error, families = errors
    for name in set(families):
        assert abs(error[families == name].mean()) <= 2.0, name


def test_iic_of_the_code_table() -> None:
    tests, _ = rated()
    floors = [a for a in tests if a.element == "floor"]
    error = [p.iic - (a.measured or {})["iic"] for a, p in zip(floors, predictions(floors, use_measured=False), strict=True)]
    assert np.abs(error).mean() <= 4.0  # measured 2.4


def test_thirds_under_125_hz() -> None:
    # NRC Canada IR-761 as quoted: rigid, on channels, light steel, double row, bare block; 29 values
    data = spectra()
    error = data.errors(transmission_loss(data.assemblies))[data.thirds]
    assert np.sqrt(np.nanmean(error**2)) <= 2.5  # measured 2.3
    assert np.nanmean(np.abs(error) <= 4.0, where=~np.isnan(error)) >= 0.89  # measured 26 of 29; worst 5.6 dB at 50 Hz


def test_channel_loses_at_the_bottom_and_gains_above() -> None:
    # same source: a resilient channel on a rigid wood wall loses 3 to 6 dB at 50-80 Hz and gains 15 dB at 125 Hz
    data = spectra()
    loss = dict(zip((a.id for a in data.assemblies), transmission_loss(data.assemblies), strict=True))
    gain = loss["LF-wood-channel"] - loss["LF-wood-rigid"]
    assert gain[1] < 0.0
    assert gain[4] > 6.0


def test_octaves_of_double_walls() -> None:
    # other laboratories than the code table's, which read 2 to 4 dB higher
    data = spectra()
    double = np.array([f == "double light" for f in data.families])
    error = data.errors(transmission_loss(data.assemblies))[double][:, 1:]
    assert np.sqrt(np.nanmean(error**2)) <= 4.5  # measured 4.4
    assert -3.0 <= np.nanmean(error) <= 0.0


def test_octaves_of_double_glazing_and_of_all_double_leaves() -> None:
    # nine double glazings, near-equal ones of which differ by up to 20 dB between sources; and the light walls with them
    data = spectra()
    families = np.array(data.families)
    error = data.errors(transmission_loss(data.assemblies))[:, 1:]
    glazing, light = (error[families == f] for f in ("double glazing", "double light"))
    assert np.sqrt(np.nanmean(glazing**2)) <= 4.7  # measured 4.6
    assert np.sqrt(np.nanmean(np.concatenate([glazing, light]) ** 2)) <= 4.5  # measured 4.49
