"""CO2 that people give off and what it does in a room over time."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from calc.catalogue import load

PPM = 1e6


def generation(met: float, mass: float | None = None) -> float:
    """CO2 one adult gives off [m3/s] at a metabolic rate [met]; body mass kg, the careful one of data/air.toml unless given.

    Stated at 0 degC and 101 kPa as the source tabulates it; at room temperature the volume is 7 % larger.
    Source: Persily & de Jonge, Indoor Air 27 (2017) 868-879, with Schofield's basal rate (from memory; data/air.toml).
    """
    person = load("air")["person"]
    slope, offset = person["schofield"]
    basal = slope * (person["mass"] if mass is None else mass) + offset  # MJ/day
    return float(person["co2_per_bmr_met"] * basal * met) / 1000.0


def generation_by_body_surface(met: float, surface: float = 1.8, quotient: float = 0.83) -> float:
    """CO2 one adult gives off [m3/s] by body surface [m2] and respiratory quotient: the older form, about 7 % above ``generation``.

    Source: ASTM D6245 before 2018; ASHRAE Handbook Fundamentals chapter 9.
    """
    return 0.00276 * surface * met * quotient / (0.23 * quotient + 0.77) / 1000.0


def steady(flow: float, given_off: float, outdoor: float) -> float:
    """CO2 [ppm] a room settles at: fresh air and CO2 given off m3/s, outdoor ppm. Infinite without fresh air.

    Source: mass balance of a well-mixed room.
    """
    return outdoor + PPM * given_off / flow if flow > 0.0 else math.inf


def curve(
    hours: NDArray[np.float64], flow: float, given_off: float, volume: float, outdoor: float, start: float | None = None
) -> NDArray[np.float64]:
    """CO2 [ppm] at times (n,) [h] after people enter: flow and CO2 given off m3/s, volume m3; ``start`` is outdoor air unless given.

    Exact solution of the well-mixed balance C = Css + (C0 - Css) exp(-Q t / V), written so that it stays exact as the flow goes to zero.
    """
    first = outdoor if start is None else start
    seconds = 3600.0 * np.asarray(hours, dtype=np.float64)
    changes = flow * seconds / volume  # air changes since the start
    fresh = -np.expm1(-changes)  # share of the air that is no longer the first
    collected = np.divide(fresh, changes, out=np.ones_like(fresh), where=changes > 0.0)  # tends to 1: all of it stays
    return np.asarray(first + (outdoor - first) * fresh + PPM * given_off * seconds / volume * collected)


def flow_to_hold(limit: float, given_off: float, outdoor: float) -> float:
    """Fresh air [m3/s] that holds CO2 at a limit [ppm] for ever. Raises ValueError when the limit is not above outdoor air.

    Source: mass balance of a well-mixed room.
    """
    if limit <= outdoor:
        raise ValueError(f"a CO2 limit of {limit:.0f} ppm is not above outdoor air, {outdoor:.0f} ppm")
    return PPM * given_off / (limit - outdoor)


def sealed_minutes(limit: float, given_off: float, volume: float, outdoor: float) -> float:
    """Minutes until CO2 reaches a limit [ppm] with no fresh air at all; infinite with nobody in the room.

    Source: mass balance of a well-mixed room.
    """
    return (limit - outdoor) * volume / (PPM * given_off) / 60.0 if given_off > 0.0 else math.inf
