"""Duct size by the air speed that a noise target allows, and the pressure that friction and fittings take."""

from __future__ import annotations

import math

import numpy as np

from calc.catalogue import load

INCH = 0.0254


def quiet_speed(noise_target: str) -> float:
    """Air speed [m/s] at a supply grille for a noise target, an NC number as text ("15"..."30"). Raises KeyError for others.

    Source: architectural acoustics textbook table by NC, and ASHRAE HVAC Applications 2019 chapter 49 Table 9 (data/air.toml).
    """
    return float(load("air")["grille_speed"][noise_target])


def quiet_return_speed(noise_target: str) -> float:
    """Air speed [m/s] at a return grille: a fifth faster. Raises as ``quiet_speed``. Source: as that (data/duct_flow.toml)."""
    return quiet_speed(noise_target) * float(load("duct_flow")["return_over_supply"]["ratio"])


def round_diameter(area: float) -> float:
    """Diameter [m] of a round duct of a free area [m2]. Source: geometry."""
    return math.sqrt(4.0 * area / math.pi)


def round_equivalent(width: float, height: float) -> float:
    """Diameter [m] of the round duct that takes as much pressure at the same flow as a rectangular one of width and height [m].

    Source: Huebscher, 1.30 (a b)^0.625 / (a + b)^0.25.
    """
    return 1.30 * float((width * height) ** 0.625 / (width + height) ** 0.25)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor of a full round duct.

    Source: Colebrook (1939), solved by iteration; laminar 64/Re below Re 2,300.
    """
    if reynolds < 2300.0:
        return 64.0 / reynolds
    root = 8.0  # 1/sqrt(f); any start converges
    for _ in range(50):
        root = -2.0 * math.log10(relative_roughness / 3.7 + 2.51 * root / reynolds)
    return 1.0 / root**2


def reynolds(speed: float, diameter: float) -> float:
    """Reynolds number of air at 20 degC: speed m/s, diameter m. Source: its definition."""
    air = load("air")["duct"]
    return float(air["air_density"] * speed * diameter / air["air_viscosity"])


def velocity_pressure(speed: float) -> float:
    """Pressure [Pa] of moving air [m/s] at 20 degC. Source: rho v^2 / 2."""
    return float(load("air")["duct"]["air_density"]) * speed**2 / 2.0


def friction(flow: float, diameter: float, length: float, roughness: float | None = None) -> float:
    """Pressure [Pa] that a straight round duct takes: flow m3/s; diameter, length, roughness m (galvanized steel unless given).

    Source: Darcy-Weisbach with Colebrook.
    """
    rough = float(load("air")["duct"]["roughness"]) if roughness is None else roughness
    speed = flow / (math.pi * diameter**2 / 4.0)
    factor = friction_factor(reynolds(speed, diameter), rough / diameter)
    return factor * length / diameter * velocity_pressure(speed)


def friction_square(flow: float, side: float, length: float, roughness: float) -> float:
    """Pressure [Pa] that a straight square duct takes: flow m3/s; free side, length, roughness m.

    Source: Darcy-Weisbach with Colebrook on the hydraulic diameter, which is the side.
    """
    speed = flow / side**2
    return friction_factor(reynolds(speed, side), roughness / side) * length / side * velocity_pressure(speed)


def elbow_coefficient(kind: str, ratio: float, number: float | None = None, degrees: float = 90.0) -> float:
    """Loss coefficient of an elbow of a kind of data/duct_flow.toml, straight lines between the ratios known; ``number`` is the Reynolds
    number, which counts for mitred ones. Raises KeyError for another kind.

    Source: SMACNA HVAC Systems Duct Design 4th ed. Table A-7.
    """
    data = load("duct_flow")
    row, bend, slow = data["elbow"][kind], data["angle_factor"], data["reynolds_factor"]
    found = float(np.interp(ratio, row["ratio"], row["coefficient"]) * np.interp(degrees, bend["degrees"], bend["factor"]))
    return found if number is None else found * float(np.interp(number, slow["reynolds"], slow["factor"]))


def compression_factor(diameter: float, compression: float) -> float:
    """Friction of flexible duct [m] squeezed together by a share 0..1, over that of the same duct stretched out.

    Source: ASHRAE Fundamentals, duct design, from memory (data/duct_flow.toml).
    """
    row = load("duct_flow")["flexible"]
    return 1.0 + float(row["slope"]) * 100.0 * compression * math.exp(-float(row["decay"]) * diameter / INCH)


def grille_coefficient(free_share: float) -> float:
    """Loss coefficient of a grille on the speed at its face, by the free share of the face 0..1.

    Source: Blevins, Applied Fluid Dynamics Handbook (1984), grille of square-edged bars, as the `fluids` library gives it.
    """
    return (0.5 * (1.0 - free_share) + 1.0 - free_share**2) / free_share**2
