"""Criteria against what others print: noise curves, the threshold of hearing, traffic spectra."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import A_WEIGHTING, BANDS, OCTAVES, energy_sum
from calc.brief import Listener
from calc.isolation.criteria import hearing_threshold, target_spectrum
from calc.isolation.inside import street
from calc.ratings import CTR_SPECTRUM_WIDE, NC_CURVES, NC_NUMBERS, NR_OCTAVES, nc, nr, nr_curve

# Noise rating curves as a public calculator's page prints them, octaves 31.5-8000 Hz. It has 23.4 dB at 500 Hz for NR 20, a slip
# (the formula of ISO/R 1996 gives 24.3), and is rounded or read off a chart elsewhere: all rows within 0.6 dB.
PRINTED_NR = {
    20: [69.0, 51.2, 39.4, 30.6, None, 20.0, 16.8, 14.4, 12.6],
    30: [75.7, 59.2, 48.2, 40.0, 33.8, 30.0, 27.0, 24.5, 22.9],
    40: [82.4, 67.1, 56.9, 49.4, 44.2, 40.0, 37.2, 34.7, 33.2],
}


@pytest.mark.parametrize("number", PRINTED_NR)
def test_nr_curves_as_printed(number: int) -> None:
    for ours, printed in zip(nr_curve(number), PRINTED_NR[number], strict=True):
        assert printed is None or ours == pytest.approx(printed, abs=0.6)


@pytest.mark.parametrize("number", [0, 15, 20, 25, 35, 60])
def test_a_curve_rates_as_itself_and_its_highest_octave_decides(number: int) -> None:
    curve = nr_curve(number)
    assert nr(curve) == pytest.approx(number)
    assert nr(curve[1:]) == pytest.approx(number)
    for octave in range(NR_OCTAVES.size):
        raised = curve.copy()
        raised[octave] += 5.0
        assert number + 4.0 < float(nr(raised)) < number + 8.0
    assert nr(np.stack([curve, curve - 10.0]))[0] == pytest.approx(number)


def test_nr_is_its_level_at_1_khz() -> None:
    # ISO/R 1996: the number of a curve is its level in the octave of 1 kHz
    assert nr_curve(37.0)[NR_OCTAVES == 1000.0] == pytest.approx(37.0)


@pytest.mark.parametrize("shape", [(7,), (10,), (2, 7), (2, 2, 9)])
def test_nr_refuses_other_octaves(shape: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="octave bands"):
        nr(np.zeros(shape))


@pytest.mark.parametrize("number", [15, 20, 25])
@pytest.mark.parametrize("curve", ["nc", "nr"])
def test_a_room_that_just_keeps_its_target_rates_as_its_curve(curve: str, number: int) -> None:
    allowed = target_spectrum(Listener("this_room", "room", f"{curve}_{number}", 22.0, 0.0, "closed"))
    octaves = np.array([float(energy_sum(allowed[3 * n : 3 * n + 3])) for n in range(OCTAVES.size)])
    rated = {"nc": nc, "nr": nr}[curve](np.append(octaves, 0.0))
    # where the threshold of hearing lies above a curve, nothing below it is asked
    assert rated == pytest.approx(number, abs=0.05 if number > 15 else 0.6)


def test_nc_20_at_63_and_1000_hz() -> None:
    # ANSI/ASA S12.2 Table 1: NC-20 is 51 dB at 63 Hz and 22 dB at 1 kHz
    row = NC_CURVES[list(NC_NUMBERS).index(20.0)]
    assert (row[0], row[4]) == (51.0, 22.0)


def test_threshold_of_hearing() -> None:
    # ISO 226:2003 Table 1: 44.0 dB at 50 Hz, 26.5 at 100, 2.4 at 1 kHz, -6.0 at 3150 Hz, lowest there
    threshold = hearing_threshold()
    for frequency, level in ((50, 44.0), (100, 26.5), (500, 4.4), (1000, 2.4), (3150, -6.0), (5000, -1.5)):
        assert threshold[frequency == BANDS] == pytest.approx(level)
    assert BANDS[np.argmin(threshold)] == 3150


def test_street_is_the_traffic_spectrum_of_iso_717() -> None:
    # ISO 717-1 Annex B spectrum 2 is A-weighted and sums to 0 dB
    levels = street(make_brief(house__outdoors=60.0)) + A_WEIGHTING - 60.0
    assert levels == pytest.approx(CTR_SPECTRUM_WIDE, abs=0.6)
