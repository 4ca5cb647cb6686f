"""Quantities that only findings about air write, in the person's system."""

from __future__ import annotations

POUND, POUND_FORCE, INCH_WATER = 0.45359237, 4.448222, 249.089


def water(kilograms: float, system: str) -> str:
    """Water, kg or lb."""
    return f"{kilograms / POUND:.1f} lb" if system == "imperial" else f"{kilograms:.1f} kg"


def force(newtons: float, system: str) -> str:
    """Force, N or lb."""
    return f"{newtons / POUND_FORCE:.0f} lb" if system == "imperial" else f"{newtons:.0f} N"


def draught(pascals: float, system: str) -> str:
    """Pressure of air in ducts, Pa or inches of water."""
    return f"{pascals / INCH_WATER:.2f} in. of water" if system == "imperial" else f"{pascals:.0f} Pa"


def distance(system: str) -> str:
    """How far a fresh-air opening stands from what soils its air; 10 ft of the model codes, from memory."""
    return "10 ft" if system == "imperial" else "3 m"
