"""Single-number ratings against worked examples and identities."""

from __future__ import annotations

import numpy as np
import pytest

from calc.bands import A_WEIGHTING, BANDS, a_weighted, energy_sum, octave_loss
from calc.ratings import iic, lnw, nc, nic, octave_levels, oitc, rw, rw_wide, stc

# ISO 717-1 Annex C, Table C.1: sound reduction index 100-3150 Hz.
TABLE_C1 = [20.4, 16.3, 17.7, 22.6, 22.4, 22.7, 24.8, 26.6, 28.0, 30.5, 31.8, 32.5, 33.4, 33.0, 31.0, 25.5]
# The reference curve itself, ISO 717-1 Table 3.
REFERENCE = [33, 36, 39, 42, 45, 48, 51, 52, 53, 54, 55, 56, 56, 56, 56, 56]
# ISO 717-2 Annex C, Table C.1: a bare heavy floor and the same with a covering, impact levels 100-3150 Hz.
BARE_FLOOR = [62.1, 63.2, 63.5, 66.2, 68.5, 70.0, 71.7, 73.1, 73.8, 73.5, 73.8, 73.3, 73.1, 73.0, 72.4, 71.2]
COVERED_FLOOR = [59.1, 59.5, 61.6, 63.2, 65.3, 66.5, 67.7, 67.0, 67.1, 66.5, 66.1, 62.5, 57.9, 52.7, 47.0, 48.0]
# ASTM E413 contour 50 (500 Hz = 50), 125-4000 Hz.
CONTOUR_50 = 50.0 + np.array([-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4])


def test_iso_717_1_example_c1() -> None:
    rating = rw(TABLE_C1)
    assert (rating.value, rating.c, rating.ctr) == (30, -2, -3)


def test_iso_717_1_enlarged_range_of_the_same_example() -> None:
    # GOST R 56769-2015 (ISO 717-1:2013) Annex C prints 30(-2;-3;-2;-4); the five added bands are from memory
    wide = [18.7, 19.2, 20.0, *TABLE_C1, 26.8, 29.2]
    assert rw_wide(wide) == (-2, -4)
    assert rw(wide).value == 30


def test_reference_curve_rates_54_because_a_sum_of_exactly_32_is_allowed() -> None:
    assert rw(REFERENCE).value == 54


def test_e413_contour_rates_two_above_itself() -> None:
    assert stc(CONTOUR_50) == 52  # 16 deficiencies of 2 make exactly 32


def test_e413_eight_decibel_rule() -> None:
    dip = CONTOUR_50.copy()
    dip[5] -= 9.0
    assert stc(dip) == 49  # one deficiency of exactly 8 is allowed, 9 is not


def test_e413_rounds_each_band_first() -> None:
    assert stc(CONTOUR_50 + 0.4) == 52
    assert stc(CONTOUR_50 + 0.5) == 53


def test_nic_is_the_same_contour() -> None:
    assert nic(CONTOUR_50) == 52


@pytest.mark.parametrize(("levels", "rated", "class_"), [(BARE_FLOOR, 79, 29), (COVERED_FLOOR, 64, 46)])
def test_iso_717_2_examples(levels: list[float], rated: int, class_: int) -> None:
    # Ln,w printed in ISO 717-2 Annex C; the classes are recomputed with the 8 dB rule (acoustics reference, ASTM E989)
    assert lnw(levels) == rated
    assert iic(levels) == class_


def test_e1332_flat_loss_is_its_own_rating() -> None:
    assert oitc(np.full(21, 30.0)) == 30


def test_nc_example() -> None:
    # Crocker & Arenas, Engineering Acoustics (2021) Example 6.3: governed by 500 Hz, NC 46
    assert nc([61, 56, 54, 50, 44, 43, 39, 34]) == pytest.approx(46.0, abs=0.05)


def test_many_spectra_at_once_equal_one_by_one() -> None:
    many = np.random.default_rng(1).normal(45.0, 8.0, (40, 21))
    together = rw(many)
    assert list(stc(many)) == [stc(row) for row in many]
    assert list(together.value) == [rw(row).value for row in many]
    assert list(together.ctr) == [rw(row).ctr for row in many]


def test_a_weighting_sum_by_hand() -> None:
    # IEC 61672-1 Table 3: 0 dB at 1 kHz; equal levels of 60 dB in every band sum to 60 + 10 lg sum 10^(A/10)
    only = np.full(21, -200.0)
    only[list(BANDS).index(1000.0)] = 60.0
    assert a_weighted(only) == pytest.approx(60.0, abs=1e-6)
    assert a_weighted(np.full(21, 60.0)) == pytest.approx(60.0 + 10 * np.log10((10 ** (A_WEIGHTING / 10)).sum()))
    assert float(energy_sum([60.0, 60.0])) == pytest.approx(63.0103, abs=1e-3)


def test_octaves_of_flat_thirds() -> None:
    assert octave_loss(np.full(21, 40.0)) == pytest.approx(np.full(7, 40.0))
    assert octave_levels(np.full(21, 40.0)) == pytest.approx(np.full(7, 44.771), abs=1e-3)


@pytest.mark.parametrize("bad", [np.zeros(15), np.zeros((2, 3, 21)), np.full(21, np.nan)])
def test_wrong_shapes_and_values_are_refused(bad: np.ndarray) -> None:
    with pytest.raises(ValueError, match=r"bands|finite"):
        stc(bad)
