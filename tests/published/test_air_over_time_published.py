"""CO2 of a session, moist air and heat through the ground against independent solutions; each check names its own."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest
from scipy.integrate import solve_ivp

from calc.ventilation import climate, co2, fresh_air, heat
from calc.ventilation.co2 import Interval
from calc.ventilation.session import timetable

EACH, VOLUME, OUTDOOR = 0.0065e-3, 48.0, 425.0


def integrated(intervals: tuple[Interval, ...], flow: float) -> float:
    """dC/dt = (Q (Co - C) + 1e6 G) / V by an eighth-order Runge-Kutta method, interval by interval."""
    level = OUTDOOR
    for stretch in intervals:
        slope = lambda _, c, people=stretch.people: (flow * (OUTDOOR - c) + 1e6 * people * EACH) / VOLUME  # noqa: E731
        level = float(solve_ivp(slope, (0.0, 3600.0 * stretch.hours), [level], method="DOP853", rtol=1e-11, atol=1e-9).y[0, -1])
    return level


@pytest.mark.parametrize("flow", [0.0, 0.005, 0.030, 0.2])
@pytest.mark.parametrize(("play", "pause", "over"), [(0.0, 0.0, 0.0), (0.75, 0.25, 0.5), (2.0, 0.25, 0.0)])
def test_session_against_numerical_integration(flow: float, play: float, pause: float, over: float) -> None:
    intervals = timetable(4, 3.1, play, pause, over)
    times, levels = co2.session(intervals, flow, EACH, VOLUME, OUTDOOR)
    assert times[-1] == pytest.approx(3.1)
    assert levels[-1] == pytest.approx(integrated(intervals, flow), abs=1e-4)


def test_time_to_the_limit_is_where_the_curve_crosses_it() -> None:
    intervals = timetable(4, 3.0, 0.75, 0.25, 0.5)
    for flow in (0.0, 0.010, 0.020):
        minutes = co2.minutes_to(1000.0, intervals, flow, EACH, VOLUME, OUTDOOR)
        times, levels = co2.session(intervals, flow, EACH, VOLUME, OUTDOOR, step=1.0 / 3600.0)
        assert minutes == pytest.approx(60.0 * times[np.argmax(levels >= 1000.0)], abs=0.02)
    # 48 m3, four people at once, 425 to 1000 ppm without air: 17.69 min by hand
    assert co2.minutes_to(1000.0, timetable(4, 3.0, 0.0, 0.0, 0.0), 0.0, EACH, VOLUME, OUTDOOR) == pytest.approx(17.69, abs=0.01)
    assert math.isinf(co2.minutes_to(1000.0, timetable(4, 30.0, 0.0, 0.0, 0.0), 0.0455, EACH, VOLUME, OUTDOOR))


def test_two_zones_against_numerical_integration() -> None:
    # A room of 48 m3 with four people and a house of 350 m3 with two, 30 L/s between them, 38 L/s of outdoor air into the house.
    def slope(_: float, c: np.ndarray) -> list[float]:
        room = (0.030 * (c[1] - c[0]) + 1e6 * 4 * EACH) / 48.0
        house = (0.030 * (c[0] - c[1]) + 0.038 * (430.0 - c[1]) + 1e6 * 2 * 0.0048e-3) / 350.0
        return [room, house]

    hours = np.array([0.5, 1.0, 3.0])
    exact = solve_ivp(slope, (0.0, 10800.0), [600.0, 700.0], method="DOP853", rtol=1e-11, atol=1e-9, t_eval=3600.0 * hours).y.T
    found = co2.two_zones(hours, (600.0, 700.0), (48.0, 350.0), 0.030, (0.0, 0.038), (0.0, 430.0), (4 * EACH, 2 * 0.0048e-3))
    np.testing.assert_allclose(found, exact, atol=1e-3)


def test_two_zones_settle_at_the_balance_of_all_their_air() -> None:
    # All CO2 leaves with the house's outdoor air: 430 + 1e6 (G1 + G2) / Q there, and 1e6 G1 / q more in the room.
    settled = co2.two_zones(np.array([500.0]), (430.0, 430.0), (48.0, 350.0), 0.03, (0.0, 0.038), (0.0, 430.0), (26e-6, 10e-6))[0]
    assert settled[1] == pytest.approx(430.0 + 36.0 / 0.038, rel=1e-6)
    assert settled[0] - settled[1] == pytest.approx(26.0 / 0.030, rel=1e-6)
    with pytest.raises(ValueError, match="both"):
        co2.two_zones(np.array([1.0]), (430.0, 430.0), (48.0, 350.0), 0.0, (0.0, 0.038), (0.0, 430.0), (0.0, 0.0))


@pytest.mark.parametrize(("temperature", "humidity"), [(-12.0, 0.8), (21.0, 0.4), (21.0, 0.6), (33.0, 0.55)])
def test_humidity_both_ways_against_psychrolib(temperature: float, humidity: float) -> None:
    water = climate.water_in(temperature, humidity)
    assert climate.relative_humidity(temperature, water) == pytest.approx(humidity, rel=1e-4)
    assert climate.relative_humidity(temperature, water) == pytest.approx(
        psychrolib.GetRelHumFromHumRatio(temperature, water, 101325.0), rel=1e-4
    )


def test_handbook_example_gives_its_water() -> None:
    # ASHRAE Handbook Fundamentals 2017 chapter 1 Example 1: 100 F, 13 % (12.8): 0.00523 read off the chart, 0.00519 by psychrolib.
    assert climate.water_in((100 - 32) / 1.8, 0.128) == pytest.approx(0.0052, abs=0.00003)


def test_duct_insulation_puts_the_surface_at_the_dew_point() -> None:
    # 21 degC and 50 %: dew point 10.19 degC. At a duct of -12 degC the film of 0.13 m2K/W holds 10.81 of 33 K: R 0.267 m2K/W, 10.7 mm.
    thickness = climate.insulation_against_sweat(21.0, 0.50, -12.0)
    assert thickness == pytest.approx(0.0107, abs=0.0001)
    surface = heat.surface_temperature(21.0, -12.0, 0.13, [thickness / 0.04])
    assert surface == pytest.approx(heat.dew_point(21.0, 0.50), abs=1e-9)
    assert climate.insulation_against_sweat(21.0, 0.50, 12.0) == 0.0
    assert math.isinf(climate.insulation_against_sweat(21.0, 1.0, 5.0))


def test_heat_through_a_floor_in_the_ground() -> None:
    # ISO 13370 recomputed: 10 x 8 m all exposed, slab on grade without insulation (Rf 0), ground 2.0 W/mK, walls 0.3 m: B' 4.44 m,
    # dt 0.3 + 2 (0.17 + 0.04) = 0.72 m; U = 2 x 2 / (pi 4.44 + 0.72) ln(pi 4.44 / 0.72 + 1) = 0.822 W/m2K.
    assert climate.floor_conductance(80.0, 36.0, 0.0, 0.0) / 80.0 == pytest.approx(0.822, abs=0.001)
    deep = climate.floor_conductance(80.0, 36.0, 2.4, 0.0)
    assert deep < climate.floor_conductance(80.0, 36.0, 0.0, 0.0)


def test_heat_through_a_wall_in_the_ground() -> None:
    # ISO 13370 recomputed: depth 2.4 m, R 0.13 + 2.5: dw 2 x 2.67 = 5.34 m; U = 4 / (pi 2.4) (1 + 0.5 x 5.34 / 7.74) ln(2.4 / 5.34 + 1)
    # = 0.265 W/m2K, less than the wall alone in air, 1 / 2.67 = 0.375.
    assert climate.buried_wall_conductance(10.0, 2.4, 2.63) / 10.0 == pytest.approx(0.265, abs=0.001)


def test_rate_of_62_2_worked_example() -> None:
    # ASHRAE 62.2 worked: 2,400 ft2, 3 bedrooms: 102 cfm; the SI form rounds 2 % lower.
    assert fresh_air.dwelling_rate(2400 * 0.3048**2, 3) / (0.3048**3 / 60.0) == pytest.approx(102.0, rel=0.025)
    # The same house with 30 cfm of infiltration: 72 cfm, 144 at half the time; the credit stops at two thirds.
    assert fresh_air.dwelling_fan_rate(102.0, 30.0) == pytest.approx(72.0)
    assert fresh_air.dwelling_fan_rate(102.0, 30.0, 0.5) == pytest.approx(144.0)
    assert fresh_air.dwelling_fan_rate(102.0, 100.0) == pytest.approx(34.0)
    with pytest.raises(ValueError, match="never runs"):
        fresh_air.dwelling_fan_rate(102.0, 30.0, 0.0)
