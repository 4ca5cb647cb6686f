"""Air in ducts, fans and silencer boxes against published numbers and the `fluids` library; each check names its own."""

from __future__ import annotations

import math

import fluids
import numpy as np
import pytest
from conftest import make_brief

from calc.bands import OCTAVES
from calc.isolation import duct_path
from calc.scheme import AirPathOption
from calc.ventilation import climate, duct, noise, run, silencer
from calc.ventilation.checks import passive_pressure

CFM, FPM, INCH, FOOT = 0.3048**3 / 60.0, 0.00508, 0.0254, 0.3048
PATH = AirPathOption("p", "p", 3.0, 0.025, 2, True, True)


@pytest.mark.parametrize("number", [3000.0, 1e4, 3e4, 1e5, 1e6])
@pytest.mark.parametrize("rough", [0.0, 0.00045, 0.0045, 0.01])
def test_friction_factor_equals_that_of_fluids(number: float, rough: float) -> None:
    # fluids.friction.Colebrook solves the same equation analytically, by the Lambert W function.
    assert duct.friction_factor(number, rough) == pytest.approx(fluids.friction.Colebrook(number, rough), rel=1e-6)


def test_laminar_friction_equals_that_of_fluids() -> None:
    assert duct.friction_factor(1000.0, 0.001) == pytest.approx(fluids.friction_factor(Re=1000.0, eD=0.001))


@pytest.mark.parametrize(
    ("cfm", "inches", "pascals", "number", "factor"),
    [
        (50, 6, 0.1971, 13114, 0.02981), (60, 5, 0.6566, 18884, 0.02772), (60, 6, 0.2722, 15737, 0.0286), (100, 6, 0.6792, 26228, 0.02569),
        (100, 8, 0.169, 19671, 0.02694),
        (120, 6, 0.9443, 31474, 0.0248), (150, 8, 0.3493, 29507, 0.02474), (150, 10, 0.1189, 23605, 0.0257),
       
        (200, 8, 0.5873, 39342, 0.0234), (400, 10, 0.6987, 62947, 0.02124), (1000, 14, 0.7234, 112406, 0.01892),
    ],
)  # fmt: skip
def test_friction_of_galvanized_duct(cfm: float, inches: float, pascals: float, number: float, factor: float) -> None:
    # Recomputed with `fluids` at 0.0003 ft and 1.204 kg/m3, Pa per metre; its viscosity is 0.8 % lower than ours.
    flow, diameter = cfm * CFM, inches * INCH
    speed = flow / (math.pi * diameter**2 / 4)
    assert duct.reynolds(speed, diameter) == pytest.approx(number, rel=0.01)
    assert duct.friction_factor(number, 0.0003 * FOOT / diameter) == pytest.approx(factor, abs=0.00002)
    assert duct.friction(flow, diameter, 1.0) == pytest.approx(pascals, rel=0.005)


def test_textbook_duct_is_sized_by_its_head_loss() -> None:
    # Cengel & Cimbala, Fluid Mechanics, Example 8-4: 0.35 m3/s, 150 m, smooth, 20 m of head: D 0.267 m, V 6.24 m/s. Air at 35 degC there.
    def head(diameter: float) -> float:
        speed = 0.35 / (math.pi * diameter**2 / 4)
        return duct.friction_factor(speed * diameter / 1.655e-5, 0.0) * 150 / diameter * speed**2 / (2 * 9.81)

    low, high = 0.1, 0.5
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if head(middle) > 20.0 else (low, middle)
    assert high == pytest.approx(0.267, abs=0.0005)
    assert 0.35 / (math.pi * high**2 / 4) == pytest.approx(6.24, abs=0.01)


@pytest.mark.parametrize(("width", "height", "round_"), [(12, 8, 10.66), (10, 10, 10.93), (24, 12, 18.28)])
def test_round_equivalent(width: float, height: float, round_: float) -> None:
    # Huebscher's formula recomputed, inches.
    assert duct.round_equivalent(width * INCH, height * INCH) / INCH == pytest.approx(round_, abs=0.006)


def test_velocity_pressure_of_the_trade() -> None:
    # (V / 4005)^2 in of water: 4005 fpm is one inch.
    assert duct.velocity_pressure(4005 * FPM) / 249.089 == pytest.approx(1.0, rel=0.003)


@pytest.mark.parametrize(
    ("kind", "ratio", "printed"),
    [
        ("smooth round", 0.5, 0.71), ("smooth round", 1.0, 0.22), ("smooth round", 1.5, 0.15), ("smooth round", 2.5, 0.12),
        ("round, five pieces", 1.0, 0.33), ("round, five pieces", 1.5, 0.24), ("round, three pieces", 1.0, 0.42),
        ("rectangular, mitred", 1.0, 1.2), ("rectangular, mitred", 4.0, 0.92), ("smooth round", 1.25, 0.185),
    ],
)  # fmt: skip
def test_elbow_coefficients(kind: str, ratio: float, printed: float) -> None:
    # SMACNA HVAC Systems Duct Design 4th ed. Table A-7; the last between two rows.
    assert duct.elbow_coefficient(kind, ratio) == pytest.approx(printed)


def test_elbow_factors() -> None:
    # Same table: a bend of 45 degrees has 0.60 of the loss; at Re 10,000 an elbow has 1.40 times that at 140,000.
    assert duct.elbow_coefficient("smooth round", 1.0, degrees=45.0) == pytest.approx(0.60 * 0.22)
    assert duct.elbow_coefficient("rectangular, mitred", 1.0, 1e4) == pytest.approx(1.40 * 1.2)
    assert duct.elbow_coefficient("rectangular, mitred", 1.0, 5e5) == pytest.approx(1.2)


@pytest.mark.parametrize("share", [0.3, 0.5, 0.6, 0.8, 1.0])
def test_grille_equals_that_of_fluids(share: float) -> None:
    assert duct.grille_coefficient(share) == pytest.approx(fluids.square_edge_grill(share))


@pytest.mark.parametrize("inches", [6, 8, 10])
def test_squeezed_flexible_duct(inches: float) -> None:
    # Abushakra, Walker & Sherman, abstract: about four times the friction for moderate compression, near ten for heavy, at 6 to 10 in.
    assert 3.0 < duct.compression_factor(inches * INCH, 0.15) < 5.5
    assert 5.5 < duct.compression_factor(inches * INCH, 0.30) < 10.0
    assert duct.compression_factor(inches * INCH, 0.0) == 1.0


def test_return_speeds_of_the_noise_table() -> None:
    # Textbook table, fpm at the low end by NC 15, 20, 25, 30: return 300, 360, 420, 510; ASHRAE 2019 ch. 49 Table 9: 2.2 m/s at RC 25.
    for target, fpm in {"15": 300, "20": 360, "25": 420, "30": 510}.items():
        assert duct.quiet_return_speed(target) == pytest.approx(fpm * FPM, rel=0.005)
    assert duct.quiet_return_speed("25") == pytest.approx(2.2, rel=0.04)


@pytest.mark.parametrize(("inches", "pascals", "fpm"), [(6, 5.1, 306), (7, 2.6, 225), (8, 1.5, 172)])
def test_worked_path(inches: float, pascals: float, fpm: float) -> None:
    # Recomputed path: 60 cfm, 25 ft and four elbows of 0.15, entry 0.5, exit 1.0.
    flow, diameter = 60 * CFM, inches * INCH
    speed = flow / (math.pi * diameter**2 / 4)
    fittings = 4 * duct.elbow_coefficient("smooth round", 1.5) + 0.5 + 1.0
    assert speed / FPM == pytest.approx(fpm, abs=1.0)
    assert duct.friction(flow, diameter, 25 * FOOT) + fittings * duct.velocity_pressure(speed) == pytest.approx(pascals, abs=0.06)


def test_grille_for_60_cfm_at_250_fpm() -> None:
    # Recomputed: 34.6 in2 of free area.
    found = run.grille(60 * CFM, 250 * FPM)
    assert found.free_area / INCH**2 == pytest.approx(34.6, abs=0.05)
    assert found.width * found.height * 0.6 >= found.free_area
    assert found.free_speed <= 250 * FPM


def test_run_adds_up_by_hand() -> None:
    # 30 L/s through 0.15 m square, 3 m lined and 2.4 m bare after 0.6 m of connectors, two elbows, to a hood: each part by its formula.
    found = run.run(run.SUPPLY, 0.030, 1, 0.15, PATH, 6.0, 1.78)
    parts = {part.name: part.pressure for part in found.parts}
    speed = 0.030 / 0.0225
    push = 1.204 * speed**2 / 2
    number = 1.204 * speed * 0.15 / 1.825e-5
    lined = fluids.friction.Colebrook(number, 0.0009 / 0.15) * 3.0 / 0.15 * push
    assert parts["lined duct"] == pytest.approx(lined, rel=1e-6)
    assert parts["bare duct"] == pytest.approx(fluids.friction.Colebrook(number, 0.00009 / 0.15) * 2.4 / 0.15 * push, rel=1e-6)
    assert parts["elbows"] == pytest.approx(2 * 1.2 * np.interp(number, [1e4, 2e4], [1.40, 1.26]) * push, rel=1e-6)
    assert parts["far end"] == pytest.approx(2.0 * push)
    assert found.pressure == pytest.approx(sum(parts.values()))
    assert run.flow_at(4.0 * found.pressure, found) == pytest.approx(0.060)


def test_fan_power_of_the_reference() -> None:
    # 40 + 10 lg Q + 20 lg P, Q m3/s, P Pa (engineering reference): 1 m3/s at 100 Pa is 80 dB, then its spectrum and the blades' tone.
    found = noise.fan_power(1.0, 100.0, "mixed flow")
    assert found == pytest.approx(80.0 + np.array([-12, -11, -10, -10, -13, -17, -22]) + 5.0)
    assert noise.fan_power(2.0, 100.0, "mixed flow") - found == pytest.approx(np.full(7, 3.01), abs=0.01)
    assert noise.fan_power(1.0, 200.0, "mixed flow") - found == pytest.approx(np.full(7, 6.02), abs=0.01)


def test_room_effect_falls_with_frequency_as_printed() -> None:
    # Ceiling array of the application guide for its room, dB below the power: 3 lg f - 2.1 = 3.3, 4.2, 5.1, 6.0, 6.9, 7.8, 8.7.
    found = noise.room_effect(100.0, 1.5)
    assert found - found[0] == pytest.approx(3.3 - np.array([3.3, 4.2, 5.1, 6.0, 6.9, 7.8, 8.7]), abs=0.05)
    # Schultz: 10 dB a tenfold distance, 5 dB a tenfold volume; 10 ft and 1000 ft3 at 1 kHz: 25 - 10 - 15 - 9 = -9 dB.
    assert noise.room_effect(1000 * FOOT**3, 10 * FOOT)[4] == pytest.approx(-9.0, abs=1e-9)


def test_a_spectrum_on_an_nc_curve_is_that_curve() -> None:
    # ANSI/ASA S12.2 Table 1: NC-25 is 54 44 37 31 27 24 22 dB.
    curve = noise.nc_curve(25.0)
    assert curve.tolist() == [54, 44, 37, 31, 27, 24, 22]
    judged = noise.judge(curve, np.full(7, -50.0), 25.0)
    assert judged.nc == pytest.approx(25.0, abs=0.01)
    assert judged.short.max() < 0.01
    assert not noise.judge(curve + 3.0, np.full(7, -50.0), 25.0).quiet


def test_rc_of_its_own_line() -> None:
    line = 30.0 - 5.0 * np.log2(OCTAVES / 1000.0)
    assert noise.rc(line) == (pytest.approx(30.0, abs=0.01), False, False)
    rumbling = line + np.array([6.0, 0, 0, 0, 0, 0, 0])
    assert noise.rc(rumbling)[1:] == (True, False)


def test_slow_air_in_an_8_inch_elbow_is_not_heard_and_fast_air_is() -> None:
    # Recomputed from the guide's formula: 500 fpm 16 12 6 0 dB, 700 fpm 27 23 18 12 5 dB from 63 Hz on.
    area = math.pi / 4 * (8 * INCH) ** 2
    fast = duct_path.elbow_noise(500 * FPM, area, 8 * INCH)
    assert fast[:4] == pytest.approx([16, 12, 6, 0], abs=0.8)
    faster = duct_path.elbow_noise(700 * FPM, area, 8 * INCH)
    assert faster[:5] == pytest.approx([27, 23, 18, 12, 5], abs=0.8)


def test_chambers_by_the_plenum_formula() -> None:
    # Wells 1958 by hand at 250 Hz: 0.8 x 0.6 x 0.4 m, openings of 0.04 m2 at opposite corners; 50 mm lining absorbs 0.67.
    found = silencer.chamber_loss((0.8, 0.6, 0.4), 2, 0.2, 0.050)[2]
    surface, distance = 2 * (0.48 + 0.32 + 0.24), math.sqrt(0.64 + 0.16 + 0.04)
    direct = (0.8 / distance) / (2 * math.pi * distance**2)
    assert found == pytest.approx(-20 * math.log10(0.04 * (direct + 0.33 / (surface * 0.67))), abs=0.01)


def test_passage_by_the_lined_duct_table() -> None:
    # Application Guide 125-1929 rev. 4: P/A 4 per ft with 1 in lining: 0.56 0.60 0.96 2.09 4.70 4.29 2.90 dB/ft. A square of 1 ft has it.
    found = silencer.passage_loss((2 * FOOT, FOOT, FOOT), 1, INCH)
    assert found == pytest.approx(2 * np.array([0.56, 0.60, 0.96, 2.09, 4.70, 4.29, 2.90]), abs=0.02)


def test_residual_heat_and_supply_of_a_recovery_unit() -> None:
    # Recomputed: -10 to 20 degC at 0.70: 11 degC into the room.
    brief = make_brief(air__winter_design=-10.0, air__room_temperature=20.0)
    season = climate.season(brief, climate.WINTER, 0.0283, 0.0, True)
    assert season.supply == pytest.approx(11.0)


def test_stack_pressure() -> None:
    # By hand: 1.204 x 9.81 x 1.8 m x 3 K / 296.15 K = 0.215 Pa.
    assert passive_pressure(3.0, 20.0) == pytest.approx(0.215, abs=0.001)
