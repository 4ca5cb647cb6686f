"""Code and hazard numbers against outside sources; each check names its own."""

from __future__ import annotations

import pytest

from calc.codes import rule
from calc.headroom import code_limit, slope_rule
from calc.safety.escape import escape_limits, opening_shortfall, well_shortfall
from calc.safety.fuel import combustion_volume, indoor_opening, outdoor_opening
from calc.safety.health import niosh_hours, osha_hours
from calc.site import Site

INCH = 0.0254
FOOT = 0.3048
BTU_H = 0.2930711  # W


@pytest.mark.parametrize(("level", "hours"), [(85, 8), (88, 4), (91, 2), (94, 1), (97, 0.5), (100, 0.25)])
def test_niosh_times(level: float, hours: float) -> None:
    # NIOSH, criteria for a recommended standard, occupational noise exposure, 1998, table 1-1.
    assert niosh_hours(level) == pytest.approx(hours)


def test_niosh_and_osha_differ() -> None:
    # Recomputed from both formulas: 100 dBA 15 min against 2 h; 95 dBA 48 min against 4 h.
    assert osha_hours(100) == pytest.approx(2.0)
    assert niosh_hours(95) * 60 == pytest.approx(48, abs=0.5)
    assert osha_hours(95) == pytest.approx(4.0)


def test_combustion_air_example() -> None:
    # International Fuel Gas Code 304 example: 80,000 Btu/h in a 20 x 18 x 8 ft room needs 4,000 ft3, has 2,880: confined.
    needed = combustion_volume(80_000 * BTU_H)
    assert needed / FOOT**3 == pytest.approx(4000, rel=1e-4)
    assert needed > 20 * 18 * 8 * FOOT**3


def test_combustion_air_openings() -> None:
    # Same source, 100,000 Btu/h: horizontal ducts 50 in2 each, single opening 33.3, vertical or direct 25; indoors at least 100 in2 each.
    power = 100_000 * BTU_H
    for way, square_inches in {"horizontal": 50, "single": 33.3, "vertical": 25}.items():
        assert outdoor_opening(power, way) / INCH**2 == pytest.approx(square_inches, rel=0.002)
    assert indoor_opening(power) / INCH**2 == pytest.approx(100, rel=0.002)
    assert indoor_opening(2 * power) / INCH**2 == pytest.approx(200, rel=0.002)
    assert indoor_opening(power / 2) / INCH**2 == pytest.approx(100, rel=0.002)


@pytest.mark.parametrize(
    ("width", "height", "sill", "fails"),
    [
        (20.0, 24.0, 40.0, "clear area"),  # least width x least height is only 3.33 ft2
        (20.0, 41.1, 40.0, None),  # 20 in wide needs 41.04 in (recomputed)
        (20.0, 41.0, 40.0, "clear area"),
        (34.2, 24.0, 44.0, None),  # 24 in high needs 34.2 in
        (34.1, 24.0, 44.0, "clear area"),
        (19.9, 60.0, 40.0, "clear width"),
        (60.0, 23.9, 40.0, "clear height"),
        (40.0, 40.0, 44.1, "sill above the floor"),
    ],
)
def test_escape_sizes_of_the_model_code(width: float, height: float, sill: float, fails: str | None) -> None:
    # IRC 2024 R319 (2018, 2021: R310): 5.7 ft2, 24 in high, 20 in wide, sill 44 in.
    short = opening_shortfall(width * INCH, height * INCH, sill * INCH, "irc_2024_existing")
    assert (short[0] if short else None) == fails


def test_escape_sizes_in_canada() -> None:
    # National Building Code of Canada 9.9.10.1: 0.35 m2, no side under 380 mm.
    assert opening_shortfall(0.38, 0.93, 1.5, "nbc_2020") is None
    short = opening_shortfall(0.37, 1.0, 1.5, "nbc_2020")
    assert short is not None
    assert short[0] == "clear width"


@pytest.mark.parametrize(
    ("code", "habitable", "obstruction", "inches"),
    [
        ("irc_2018_2021", "yes", False, 84),  # R305.1
        ("irc_2018_2021", "yes", True, 76),
        ("irc_2018_2021", "no", False, 80),  # R305.1.1
        ("irc_2024_existing", "yes", False, 80),  # R313.1.2
        ("irc_2024_existing", "yes", True, 76),
        ("irc_2024_existing", "no", False, 80),
    ],
)
def test_ceiling_heights_of_the_model_codes(code: str, habitable: str, obstruction: bool, inches: float) -> None:
    limit = code_limit(code, habitable, obstruction)
    assert limit.height / INCH == pytest.approx(inches)
    assert "International Residential Code" in limit.source


def test_ceiling_height_in_canada() -> None:
    # National Building Code of Canada: living space 2.1 m over part of its area (second hand); 1.95 m under beams from memory.
    assert code_limit("nbc_2020", "yes", False).height == pytest.approx(2.1)
    assert code_limit("nbc_2020", "yes", True).height == pytest.approx(1.95)


def test_ceiling_and_stair_heights_in_ontario() -> None:
    # Ontario Building Code 2012 Table 9.5.3.1 item 3: a basement space, 2.1 m over 75 % of it, 1.95 m under beams and ducts; 9.8: 1.95 m.
    for habitable in ("yes", "no", "unknown"):
        assert code_limit("obc_2012", habitable, False).height == pytest.approx(2.1)
        assert code_limit("obc_2012", habitable, True).height == pytest.approx(1.95)
    assert slope_rule("obc_2012").share == 0.75
    assert rule("obc_2012", "stairs")["headroom"] == pytest.approx(1.95)


def test_slopes_and_stairs_of_the_us_model_code() -> None:
    # IRC R305.1 exception 1 (2024 R313.1): half of the required 70 ft2 at full height, none under 5 ft; R311.7 (2024 R318): 80 in, 36 in.
    slope, stairs = slope_rule("irc_2018_2021"), rule("irc_2018_2021", "stairs")
    assert slope.required_area is not None
    assert (slope.share, slope.lowest / FOOT) == (0.5, pytest.approx(5.0))
    assert slope.required_area / FOOT**2 == pytest.approx(70, abs=0.01)
    assert (stairs["headroom"] / INCH, stairs["width"] / INCH) == (pytest.approx(80), pytest.approx(36))


def test_fireblocks_along_a_wall() -> None:
    # IRC R302.11: 10 ft; Ontario and National Building Code of Canada 9.10.16: 20 m.
    assert rule("irc_2024_existing", "fireblocking")["horizontal"] / FOOT == pytest.approx(10)
    assert rule("nbc_2020", "fireblocking")["horizontal"] == 20.0


def test_wells_of_the_model_codes() -> None:
    # IRC R310.2.3 (2024 R319): 9 ft2, 36 in; Canada 9.9.10.1: 760 mm clear.
    site = Site(well="yes", well_width=36 * INCH, well_projection=36 * INCH)
    assert well_shortfall(site, escape_limits("irc_2024_existing")) is None
    tight = Site(well="yes", well_width=40 * INCH, well_projection=35 * INCH)
    short = well_shortfall(tight, escape_limits("irc_2024_existing"))
    assert short is not None
    assert short[0] == "clear projection"
    assert well_shortfall(tight, escape_limits("nbc_2020")) is None
