"""Counts and volumes of the take-off. One rule, one function; SI in, SI or counts out."""

from __future__ import annotations

import math
from collections.abc import Sequence

SHEET_LENGTH = 2.4384  # m, 8 ft
SHEET_WIDTH = 1.2192  # m, 4 ft
SHEET_AREA = SHEET_LENGTH * SHEET_WIDTH

LITRES = 1000.0  # L per m3: tubes and pails are listed in litres
FLUID_OUNCE = 2.95735295625e-5  # m3, US fluid ounce (NIST Handbook 44, appendix C)

# Two tubes, or 1/11 of a 5 gal pail, on a 4 x 8 ft sheet: 640/11 = 58.2 fl oz. Source: coverage printed by compound makers (two tubes
# of 28 to 29 fl oz a
# sheet; a 5 gal pail for 11 sheets).
DAMPING_FILM = 640.0 / 11.0 * FLUID_OUNCE / SHEET_AREA  # m

# Joint compound 5 US gal and tape 380 ft per 1,000 ft2 of board face. Source: Estimating in Building Construction (Dagostino,
# Peterson), ch. 16.
JOINT_COMPOUND = 5.0 * 128.0 * FLUID_OUNCE / 92.90304  # m3 per m2
JOINT_TAPE = 380.0 * 0.3048 / 92.90304  # m per m2

_EPS = 1e-9  # a whole number that arithmetic left a hair above itself stays that number


def whole(quantity: float) -> int:
    """Smallest whole number not below ``quantity`` [1], forgiving rounding noise."""
    return math.ceil(quantity - _EPS * max(1.0, abs(quantity)))


def sheets(areas: Sequence[float], sheet_area: float, waste: float) -> int:
    """Sheets to order: whole sheets for each surface, the waste share on their sum, whole again.

    Parameters: surface areas [m2], area of one sheet [m2], waste share [1].
    Source: Estimating in Building Construction (Dagostino, Peterson), ch. 16, Example 16-3.
    """
    return whole(sum(whole(area / sheet_area) for area in areas) * (1.0 + waste))


def packages(quantity: float, package: float, waste: float) -> int:
    """Whole packages that hold ``quantity`` and its waste share; quantity and package in the same unit."""
    return whole(quantity * (1.0 + waste) / package)


def rows(span: float, spacing: float) -> int:
    """Rows of studs, joists, channel or clips over a span [m] at most ``spacing`` [m] apart, with a row at both edges.

    Raises ValueError for a spacing that is not positive.
    Source: the framing rule ceil(L / spacing) + 1 a wall (common practice).
    """
    if spacing <= 0.0:
        raise ValueError(f"spacing must be above 0 m, not {spacing}")
    return whole(max(span, 0.0) / spacing) + 1


def screws_per_sheet(framing_spacing: float, screw_spacing: float) -> int:
    """Screws in one 4 x 8 ft sheet laid across framing [m] with screws at ``screw_spacing`` [m] along each framing member.

    Source: geometry; the spacings are those of IRC Table R702.3.5 (from memory).
    """
    return (math.floor(SHEET_LENGTH / framing_spacing + 1e-6) + 1) * (math.floor(SHEET_WIDTH / screw_spacing + 1e-6) + 1)


def screw_length(buried: float, penetration: float, lengths: Sequence[float]) -> float:
    """Shortest stock screw [m] that passes ``buried`` board [m] and bites ``penetration`` [m].

    Never a longer one: a screw that reaches the joist or stud behind a channel bridges the isolation. Raises ValueError when no stock
    length is long enough.
    """
    enough = [length for length in sorted(lengths) if length + 0.0005 >= buried + penetration]
    if not enough:
        raise ValueError(f"no board screw passes {buried * 1000:.0f} mm of board and bites {penetration * 1000:.0f} mm")
    return enough[0]


def bead_volume(length: float, diameter: float) -> float:
    """Volume [m3] of a round bead of sealant of a length [m] and a diameter [m]."""
    return math.pi / 4.0 * diameter**2 * length


def stock_lengths(longest: float) -> tuple[float, ...]:
    """Lengths [m] that lumber and studs are sold in: 8 to 16 ft in steps of 2 ft, more only for a piece that needs it (common practice, no
    source).
    """
    step = 0.6096
    return tuple(step * n for n in range(4, max(8, whole(longest / step)) + 1))
