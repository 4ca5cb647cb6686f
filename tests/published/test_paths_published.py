"""Openings, doors and duct-borne sound against published numbers."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import A_WEIGHTING, BANDS, a_weighted
from calc.isolation import duct_path
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.criteria import hearing_threshold
from calc.isolation.flanking import lid_flanking
from calc.isolation.materials import ply
from calc.isolation.opening import air_lock_gain, composite, series
from calc.isolation.predict import predict
from calc.isolation.source import source_ids, source_spectrum
from calc.options import lids
from calc.ratings import stc


def test_brick_wall_with_a_window() -> None:
    # Crocker & Arenas, Engineering Acoustics (2021), Example 12.13: printed 44.8 dB.
    window = 0.9 * 1.2
    assert composite([2.3 * 4.6 - window, window], [59.0, 35.0]) == pytest.approx(44.8, abs=0.05)


def test_one_percent_open_caps_any_door_at_20_db() -> None:
    # Crocker & Arenas (2021), Example 12.16: 50 dB door, 1 % open, printed 20 dB.
    assert composite([0.99, 0.01], [50.0, 0.0]) == pytest.approx(20.0, abs=0.05)


# Application Guide 125-1929 rev. 4 (2009), lined rectangular duct, dB/ft, 63 to 4000 Hz, by perimeter over area [1/ft]. The table is headed
# "two-inch"; all its cells equal the regression (Long 2nd ed. Table 14.2) for one inch with the natural attenuation added.
LINED = {
    12.0: [2.0, 2.06, 2.18, 3.66, 10.1, 10.36, 4.8],
    8.0: [1.08, 1.24, 1.6, 2.98, 7.62, 7.48, 3.98],
    6.0: [0.77, 0.9, 1.29, 2.57, 6.23, 5.94, 3.49],
    4.0: [0.56, 0.6, 0.96, 2.09, 4.7, 4.29, 2.9],
    1.0: [0.16, 0.16, 0.34, 1.03, 1.79, 1.41, 1.54],
}


@pytest.mark.parametrize(("ratio", "printed"), LINED.items())
def test_lined_duct_table(ratio: float, printed: list[float]) -> None:
    # 0.015: half a unit of the printed last place, and one of the seldom odd rounding.
    assert duct_path.lined_rate(ratio, 1.0) == pytest.approx(printed, abs=0.015)


def test_unlined_duct_below_three_per_foot() -> None:
    # Same guide, unlined rows at 1.417 and 2.167 per ft, 63 to 250 Hz, dB/ft.
    assert duct_path.unlined_rate(1.417)[:3] == pytest.approx([0.192, 0.128, 0.086], abs=0.002)
    assert duct_path.unlined_rate(2.167)[:3] == pytest.approx([0.260, 0.175, 0.117], abs=0.002)


# Bies, Hansen & Howard, Engineering Noise Control 5th ed., Table 8.14, flush end, dB at 63 to 2000 Hz by diameter in mm.
FLUSH = {150: [18, 12, 7, 3, 1, 0], 250: [14, 8, 4, 1, 0, 0], 400: [10, 5, 2, 1, 0, 0], 710: [6, 2, 1, 0, 0, 0], 1830: [1, 0, 0, 0, 0, 0]}


@pytest.mark.parametrize(("diameter", "printed"), FLUSH.items())
def test_end_reflection_table(diameter: int, printed: list[int]) -> None:
    # The formula stays within 0.8 dB of every cell, which are whole decibels.
    bands = np.array([63, 125, 250, 500, 1000, 2000], dtype=np.float64)
    assert duct_path.end_reflection(diameter / 1000.0, bands) == pytest.approx(printed, abs=0.8)


def test_lined_elbow_rows() -> None:
    # Bies, Hansen & Howard 5th ed., Table 8.11, square lined: 0 1 6 11 10 10 dB by width over wavelength. A 0.2 m duct has 0.037 at 63 Hz,
    # 0.073, 0.146, 0.29, 0.58, 1.17 at 2 kHz, 2.33 at 4 kHz.
    assert list(duct_path.elbow(0.2, "square, lined")) == [0.0, 0.0, 1.0, 6.0, 11.0, 10.0, 10.0]


def test_plenum_example() -> None:
    # Wells plenum, printed 17.3 dB (the print rounds the outlet of 0.25 m2 to 0.3); with the stated 0.25 m2 it is 18.1 dB.
    cosine = np.cos(np.radians(45.0))
    assert duct_path.plenum(0.30, 16.0, 0.65, 2.0, cosine) == pytest.approx(17.3, abs=0.05)
    assert duct_path.plenum(0.25, 16.0, 0.65, 2.0, cosine) == pytest.approx(18.1, abs=0.05)


def test_air_lock_is_sharps_double_leaf() -> None:
    # Vigran 2008 p. 280-296: R1 + R2 + 20 lg(2kd) up to fl = c/(2 pi d), R1 + R2 + 6 above. fl of 0.23 m is 237 Hz.
    gain = air_lock_gain(0.23)
    assert gain[BANDS > 240] == pytest.approx(6.02, abs=0.01)
    assert gain[BANDS == 100] == pytest.approx(20.0 * np.log10(2.0 * 2.0 * np.pi * 100.0 / 343.0 * 0.23), abs=1e-9)
    single = np.full(BANDS.size, 20.0)
    assert np.all(series(single, single, 0.001) >= single)


def test_hearing_threshold_row() -> None:
    # ISO 226:2003 Table 1: 44.0 dB at 50 Hz, 2.4 at 1 kHz, -5.4 at 4 kHz.
    row = dict(zip(BANDS, hearing_threshold(), strict=True))
    assert (row[50.0], row[1000.0], row[4000.0]) == (44.0, 2.4, -5.4)


@pytest.mark.parametrize("source", source_ids())
def test_a_source_has_the_level_asked_for(source: str) -> None:
    assert a_weighted(source_spectrum(source, 100.0)) == pytest.approx(100.0, abs=1e-9)


def test_music_spectrum_is_that_of_iso_717() -> None:
    # ISO 717-1 Annex B spectrum no. 2, A-weighted, 50-5000 Hz. Its whole decibels add up to 0.2 dB, ours to nothing.
    printed = [-25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15, -16, -18]
    offset = a_weighted(np.array(printed) - A_WEIGHTING)
    assert offset == pytest.approx(0.0, abs=0.3)
    assert source_spectrum("mixing", offset) + A_WEIGHTING == pytest.approx(printed, abs=0.01)


def test_a_tested_ceiling_on_clips_is_not_predicted_better_than_it_was() -> None:
    # ASTM E90 report of an accredited laboratory, July 2008: sheet vinyl, 13 mm underlayment, 16 mm plywood, 2x10 joists at 400 mm, 150 mm
    # batt, clips 1220 mm apart on channel rows of 600 mm, two plies of 16 mm board: STC 57. Lid and what the joists carry past it, taken
    # together; the careful side may be 3 points lower.
    board, deck = ply("gypsum board type X", 0.0159), (ply("plywood", 0.013), ply("plywood", 0.016))
    cavity = Cavity(0.235 + 0.041, "glass fibre", 0.150, "wood joist", 0.400, "isolation clip", 0.600, 1.220)
    lid = next(each for each in lids(make_brief()) if each.id == "lid-0-clip-2")
    tested = predict(Assembly("clips", "floor", (Leaf(deck), Leaf((board, board))), (cavity,)))
    both = composite([1.0, 1.0], np.stack([tested.tl, lid_flanking(lid)])) - 10.0 * np.log10(2.0)
    assert 54 <= stc(both) <= 57
