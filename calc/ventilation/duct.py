"""Duct size by the air speed that a noise target allows, and the pressure that friction takes."""

from __future__ import annotations

import math

from calc.catalogue import load


def quiet_speed(noise_target: str) -> float:
    """Air speed [m/s] at a grille for a noise target, an NC number as text ("15"..."30"). Raises KeyError for others.

    Source: architectural acoustics textbook table by NC, and ASHRAE HVAC Applications 2019 chapter 49 Table 9 (data/air.toml).
    """
    return float(load("air")["grille_speed"][noise_target])


def round_diameter(area: float) -> float:
    """Diameter [m] of a round duct of a free area [m2]. Source: geometry."""
    return math.sqrt(4.0 * area / math.pi)


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


def friction(flow: float, diameter: float, length: float, roughness: float | None = None) -> float:
    """Pressure [Pa] that a straight round duct takes: flow m3/s; diameter, length, roughness m (galvanized steel unless given).

    Source: Darcy-Weisbach with Colebrook.
    """
    duct = load("air")["duct"]
    rough = float(duct["roughness"]) if roughness is None else roughness
    speed = flow / (math.pi * diameter**2 / 4.0)
    reynolds = duct["air_density"] * speed * diameter / duct["air_viscosity"]
    return float(friction_factor(reynolds, rough / diameter) * length / diameter * duct["air_density"] * speed**2 / 2.0)
