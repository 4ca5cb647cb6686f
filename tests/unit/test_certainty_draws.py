"""Likelihood and range of a level: fixed seed, and what must come out where the answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from calc.bands import A_WEIGHTING, BANDS
from calc.isolation.certainty import likely, raisers, source_uncertainty
from calc.isolation.path import Path

FAR = np.full(BANDS.size, 200.0)
QUIET = -60.0


def one_band(level: float, spread: float = 0.0, name: str = "one", doubt: str = "") -> Path:
    """Only 1 kHz counts, where A-weighting is nothing."""
    return Path(name, np.where(BANDS == 1000.0, level, QUIET), np.full(BANDS.size, spread), doubt)


def test_the_same_paths_give_the_same_answer() -> None:
    assert likely([one_band(30.0, 4.0)], 5.0, FAR, 33.0) == likely([one_band(30.0, 4.0)], 5.0, FAR, 33.0)


def test_a_source_alone_gives_the_share_of_the_normal_distribution() -> None:
    """Tables of the normal distribution: 0.841 of it lies below one standard deviation. Workmanship of 2 dB is on every built path."""
    spread = float(np.hypot(5.0, 2.0))
    found = likely([one_band(30.0)], 5.0, FAR, 30.0 + spread)
    assert found.likelihood == pytest.approx(0.841, abs=0.03)
    assert found.high - found.low == pytest.approx(2.0 * 1.645 * spread, rel=0.08)


def test_two_paths_of_unequal_fate_are_surer_than_one() -> None:
    """Errors of two equal paths are their own, so they partly cancel."""
    alone = likely([one_band(30.0, 6.0)], 0.0, FAR, 100.0)
    both = likely([one_band(27.0, 6.0), one_band(27.0, 6.0)], 0.0, FAR, 100.0)
    assert both.high - both.low < alone.high - alone.low


def test_bands_of_a_path_err_partly_together() -> None:
    """ISO 12999-1:2020 prints 1.2 dB for Rw where its bands have 1.8 to 3 dB: between 0.7 (apart) and 2.1 (as one) for eight bands."""
    bands = (BANDS >= 125.0) & (BANDS <= 630.0)
    spread = np.full(BANDS.size, np.sqrt(2.1**2 - 2.0**2))
    path = Path("eight bands", np.where(bands, 40.0 - A_WEIGHTING, QUIET), spread)
    found = likely([path], 0.0, FAR, 100.0)
    assert (found.high - found.low) / (2.0 * 1.645) == pytest.approx(1.2, abs=0.15)


@pytest.mark.parametrize("spread", [3.0, 6.0, 9.0])
def test_the_level_predicted_is_the_middle_of_the_draws(spread: float) -> None:
    """Scatter of the bands alone does not make a room louder than predicted: the engine is fitted to ratings that hold it already."""
    path = Path("all bands", 40.0 - A_WEIGHTING, np.full(BANDS.size, spread))
    total = 40.0 + 10.0 * np.log10(BANDS.size)
    assert likely([path], 0.0, FAR, float(total)).likelihood == pytest.approx(0.5, abs=0.03)


def test_of_several_ways_the_worse_one_decides() -> None:
    """Five equal ways, each as predicted in the middle: their sum is more likely over its prediction than under."""
    ways = [one_band(30.0, 6.0, str(i)) for i in range(5)]
    assert likely(ways, 0.0, FAR, 30.0 + 10.0 * float(np.log10(5.0))).likelihood < 0.45


def test_a_band_target_counts_beside_the_total() -> None:
    target = np.where(BANDS == 1000.0, 20.0, 200.0)
    assert likely([one_band(30.0)], 0.0, target, 200.0).likelihood == 0.0
    assert likely([one_band(10.0)], 0.0, target, 200.0).likelihood == 1.0


def test_raisers_name_what_the_doubt_is_about_and_only_what_helps() -> None:
    unsure = one_band(30.0, 7.0, "lid", "predicted")
    small = one_band(5.0, 7.0, "door", "door")
    found = raisers([unsure, small], source_uncertainty(measured=True))
    assert len(found) == 1
    assert "lid" in found[0]
    assert raisers([one_band(30.0, 0.0)], source_uncertainty(measured=False))[0].startswith("Read a sound level meter")
    assert raisers([one_band(30.0, 0.0)], source_uncertainty(measured=True)) == ()


def test_without_a_path_there_is_no_answer() -> None:
    with pytest.raises(ValueError, match="path"):
        likely([], 3.0, FAR, 30.0)
