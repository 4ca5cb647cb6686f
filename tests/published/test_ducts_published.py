"""Sound in ducts against published numbers: elbows, flow noise, breakout, mouths.

The lined-duct table, end reflection and the plenum example stand in test_paths_published.py.
"""

from __future__ import annotations

import numpy as np
import pytest
from conftest import make_brief

from calc.air_options import air_paths
from calc.bands import OCTAVES
from calc.brief import SideKind
from calc.isolation import breakout, duct_path
from calc.isolation.duct_way import Box, box_loss, duct_way, flow_noise, lining_absorption
from calc.isolation.predict import predict
from calc.options import wall_assembly, walls

FOOT = 0.3048

# Bies, Hansen & Howard, Engineering Noise Control 5th ed., Table 8.11: dB by duct width over wavelength, below 0.14, 0.28, 0.55, 1.11,
# 2.22, above.
ELBOWS = {"square, bare": [0, 1, 5, 8, 4, 3], "square, lined": [0, 1, 6, 11, 10, 10], "round, bare": [0, 1, 2, 3, 3, 3]}


@pytest.mark.parametrize(("kind", "printed"), ELBOWS.items())
def test_elbow_table(kind: str, printed: list[int]) -> None:
    # a width of half of each edge's wavelength over it at 1 kHz falls in the row: 0.343 m of wavelength
    widths = [0.343 * share for share in (0.1, 0.2, 0.4, 0.8, 1.6, 3.2)]
    assert [duct_path.elbow(width, kind)[OCTAVES == 1000][0] for width in widths] == printed


def test_noise_of_air_in_a_vaned_elbow() -> None:
    # Application Guide 125-1929 rev. 4 (2009), worked example: 1250 ft/min, 12 ft2, 15 vanes of 0.8 ft chord; whole decibels off charts.
    found = duct_path.elbow_noise(1250.0 * FOOT / 60.0, 12.0 * FOOT**2, 0.0, 15, 0.8 * FOOT)
    assert found == pytest.approx([40, 41, 39, 35, 28, 18, 4], abs=1.1)


def test_noise_of_air_rises_as_fifty_log_speed() -> None:
    slow, fast = (duct_path.elbow_noise(speed, 0.04, 0.2) for speed in (2.0, 2.02))
    assert np.all(fast > slow)


def test_slow_air_is_not_heard() -> None:
    # 250 ft/min through an 8 in elbow makes under 0 dB in every octave; the room's own ducts are sized for little more.
    assert np.all(duct_path.elbow_noise(250.0 * FOOT / 60.0, np.pi / 4.0 * 0.2032**2, 0.2032) < 0.0)
    brief = make_brief()
    assert all(flow_noise(brief, path).max() < 20.0 for path in air_paths(brief))


def test_breakout_has_its_two_regions() -> None:
    # SMACNA HVAC Systems Duct Design eqs. 11-52 to 11-54: 12 by 24 in of sheet steel at 1.0 lb/ft2. The regions part at 1422 Hz,
    # 24134/sqrt(288); below, 10 lg(f q2/(a + b)) + 17 is 3 dB an octave, above, 20 lg(q f) - 31.
    steel = breakout.wall_loss(24 * 0.0254, 12 * 0.0254, 4.88243)
    assert steel[:5] == pytest.approx(10.0 * np.log10(OCTAVES[:5] / 36.0) + 17.0, abs=0.01)
    assert steel[5] == pytest.approx(20.0 * np.log10(2000.0) - 31.0, abs=0.01)
    assert breakout.wall_loss(0.3, 0.3, 50.0).max() == 45.0


def test_a_long_quiet_duct_radiates_with_its_first_metres() -> None:
    # ASHRAE Handbook HVAC Applications 2007 ch. 47: effective length; without loss inside it is the whole length.
    lossless = breakout.radiating(0.2, 0.2, breakout.effective_length(3.0, np.zeros(7)))
    assert lossless == pytest.approx(10.0 * np.log10(0.8 * 3.0 / 0.04), abs=1e-4)
    lossy = breakout.radiating(0.2, 0.2, breakout.effective_length(3.0, np.full(7, 40.0)))
    assert lossy == pytest.approx(lossless - 10.0 * np.log10(4.0 * np.log(10.0)), abs=0.01)


def test_a_small_mouth_gathers_what_reciprocity_asks() -> None:
    # Far below ka = 1 a flush mouth radiates 2 (ka)^2 of its wave: it takes 8 times what falls on its area (9.0 dB), the pressure
    # doubled at the wall. 0.7 c/(pi f D) in the end reflection is sqrt(1/2)/(ka): 0.1 dB off.
    assert duct_path.gathering(0.2, np.array([5.0, 10.0])) == pytest.approx(9.03, abs=0.15)
    assert duct_path.gathering(0.2, np.array([4000.0])) == pytest.approx(0.0)


def test_two_equal_chambers_lose_twice_what_one_does() -> None:
    one, two = (box_loss(Box(0.9, 0.6, 0.4, count, 0.05, 1), 0.04) for count in (1, 2))
    assert two == pytest.approx(2.0 * one)
    # By hand: 0.9 x 0.6 x 0.4 m has 2.28 m2; absorption 0.67 at 250 Hz; from corner to corner 1.007 m, cosine 0.894.
    direct = 0.8938 / (2.0 * np.pi * 1.0069**2)
    assert one[2] == pytest.approx(-10.0 * np.log10(0.04 * (direct + 0.33 / (2.28 * 0.67))), abs=0.02)


def test_box_lining_is_that_of_the_table() -> None:
    # Barron, Industrial Noise Control and Acoustics (2003), Appendix D: 2 in glass-fibre formboard, 250 Hz to 4 kHz.
    printed = np.array([0.67, 0.99, 0.99, 0.94, 0.90])
    assert lining_absorption(0.050)[2:] == pytest.approx(np.minimum(printed, 0.95))


def test_the_best_air_path_lets_less_through_than_the_wall() -> None:
    # At least 6 dB under the best wall to the rest of the basement, band by band, for two drummers: the sum is then within 1 dB of
    # the wall's own. Past 85 dB of wall the structure round it carries more than either.
    brief = make_brief()
    losses = [predict(wall_assembly(each, SideKind.OPEN, brief)).tl for each in walls(brief, SideKind.OPEN)]
    wall = np.minimum(max(losses, key=lambda loss: float(loss.min())), 85.0) - 10.0 * np.log10(6.1 * 2.2)
    way = duct_way(brief, next(path for path in air_paths(brief) if path.id == "air-long-thick-3-large-boxed-basement"))
    air = -10.0 * np.log10(10.0 ** (-way.mouth / 10.0) + 10.0 ** (-way.casing / 10.0)) - 10.0 * np.log10(way.area)
    assert np.all(air >= wall + 6.0), (air - wall).round(1)
