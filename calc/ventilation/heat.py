"""Heat and moisture of people, equipment and light, and the cold wall that moisture may find."""

from __future__ import annotations

from collections.abc import Sequence

import psychrolib

from calc.catalogue import load

psychrolib.SetUnitSystem(psychrolib.SI)  # a global of that library; set here once, SI for all of calc


def people_heat(people: int, activity: str) -> tuple[float, float]:
    """Sensible and latent heat [W] of people at an activity of data/air.toml. Raises KeyError for an unknown one.

    Source: ASHRAE Handbook Fundamentals 2013 (SI) chapter 18 Table 1.
    """
    row = load("air")["activity"][activity]
    return people * float(row["sensible"]), people * float(row["latent"])


def carried_by_air(flow: float, difference: float) -> float:
    """Sensible heat [W] that air [m3/s] carries at a temperature difference [K].

    Source: q = rho c Q dT, the trade's 1.21 W per L/s and K.
    """
    return float(load("air")["heat"]["air_heat_capacity"]) * flow * difference


def fresh_air_heat(flow: float, inside: float, outside: float, recovery: float = 0.0) -> float:
    """Heat [W] that warms outdoor air [m3/s, degC] to the room's temperature behind a unit that recovers a share 0..1; never negative.

    Source: sensible effectiveness, supply = outside + e (inside - outside).
    """
    return max(carried_by_air(flow, (1.0 - recovery) * (inside - outside)), 0.0)


def moisture(latent: float) -> float:
    """Water given off [kg/h] with a latent heat [W]. Source: heat of vaporisation of water at 20 degC."""
    return 3600.0 * latent / float(load("air")["heat"]["vaporisation"])


def dew_point(temperature: float, humidity: float) -> float:
    """Dew point [degC] (frost point below 0 degC) of air at degC and relative humidity 0..1.

    Raises ValueError outside -100..200 degC or 0..1. Source: ASHRAE Handbook Fundamentals 2017 chapter 1, by psychrolib.
    """
    return float(psychrolib.GetTDewPointFromRelHum(temperature, humidity))


def surface_humidity(temperature: float, humidity: float, surface: float) -> float:
    """Relative humidity at a surface [degC] that room air reaches; above 1, water condenses. Temperatures degC, humidity 0..1.

    Source: RH pws(room) / pws(surface); pws of ASHRAE Handbook Fundamentals 2017 chapter 1, by psychrolib.
    """
    return humidity * float(psychrolib.GetSatVapPres(temperature)) / float(psychrolib.GetSatVapPres(surface))


def surface_temperature(inside: float, outside: float, before: float, behind: Sequence[float]) -> float:
    """Temperature [degC] of a plane in a wall, heat resistance ``before`` it on the room side and ``behind`` it outward [m2K/W].

    Source: steady heat flow in series, ISO 6946.
    """
    return inside - (inside - outside) * before / (before + sum(behind))
