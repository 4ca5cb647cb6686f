"""Quantities that only findings about air write, in the person's system."""

from __future__ import annotations

from calc.unit_format import format_share, format_temperature
from calc.ventilation.climate import Season

POUND, POUND_FORCE, INCH_WATER, INCH = 0.45359237, 4.448222, 249.089, 0.0254


def water(kilograms: float, system: str) -> str:
    """Water, kg or lb."""
    return f"{kilograms / POUND:.1f} lb" if system == "imperial" else f"{kilograms:.1f} kg"


def force(newtons: float, system: str) -> str:
    """Force, N or lb."""
    return f"{newtons / POUND_FORCE:.0f} lb" if system == "imperial" else f"{newtons:.0f} N"


def draught(pascals: float, system: str) -> str:
    """Pressure of air in ducts, Pa or inches of water."""
    return f"{pascals / INCH_WATER:.2f} in. of water" if system == "imperial" else f"{pascals:.0f} Pa"


def duct_area(square_metres: float, system: str) -> str:
    """Free area of a duct or a grille, cm2 or square inches."""
    return f"{square_metres / INCH**2:.0f} sq in" if system == "imperial" else f"{square_metres * 1e4:.0f} cm²"


def distance(system: str) -> str:
    """How far a fresh-air opening stands from what soils its air; 10 ft of the model codes, from memory."""
    return "10 ft" if system == "imperial" else "3 m"


def winter_air(day: Season, system: str) -> str:
    """What the room's air settles at on a day of winter, without a full stop."""
    outdoors, dew = (format_temperature(each, system) for each in (day.outdoor, day.dew_point))
    return (
        f"With {outdoors} outdoors, people in the room and its air running, it settles near "
        f"{format_share(round(min(day.humidity, 1.0), 2))} relative humidity, dew point {dew}"
    )
