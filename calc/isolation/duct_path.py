"""Sound that follows the air: insertion loss of lined ducts, elbows, boxes and open ends.

SI in, dB out; octaves 63 to 4000 Hz unless said.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES
from calc.catalogue import load
from calc.isolation.criteria import octaves_to_thirds
from calc.isolation.parameters import SPEED_OF_SOUND
from calc.scheme import AirPathOption

Spectrum = NDArray[np.float64]
FOOT, INCH = 0.3048, 0.0254
UNCERTAINTY = 4.0  # dB a band: plenum +-3 dB (sound engineers' handbook), regression and elbows added; common practice, no source

# Reynolds & Bledsoe regression for lined rectangular duct; constants in Long, Architectural Acoustics 2nd ed., Table 14.2. 63-4000 Hz.
LINED_B = np.array([0.0133, 0.0574, 0.2710, 1.0147, 1.7700, 1.3920, 1.5180])
LINED_C = np.array([1.959, 1.410, 0.824, 0.500, 0.695, 0.802, 0.451])
LINED_D = np.array([0.917, 0.941, 1.079, 1.087, 0.0, 0.0, 0.0])
LINED_CAP = 40.0  # dB, same source
# Square elbow, lined: Bies, Hansen & Howard 5th ed. Table 8.11; upper edges of duct width over wavelength.
ELBOW_EDGES = np.array([0.14, 0.28, 0.55, 1.11, 2.22])
ELBOW_LINED = np.array([0.0, 1.0, 6.0, 11.0, 10.0, 10.0])


def unlined_rate(perimeter_over_area: float) -> Spectrum:
    """Natural attenuation (7,) [dB/ft] of bare rectangular duct; ``perimeter_over_area`` 1/ft.

    Source: Reynolds & Bledsoe, from memory; reproduces the printed table 63-250 Hz to 0.001 dB/ft.
    """
    ratio = perimeter_over_area
    low = 17.0 * ratio**-0.25 * OCTAVES**-0.85 if ratio >= 3.0 else 1.64 * ratio**0.73 * OCTAVES**-0.58
    return np.asarray(np.where(OCTAVES <= 250.0, low, 0.02 * ratio**0.8), dtype=np.float64)


def lined_rate(perimeter_over_area: float, lining: float) -> Spectrum:
    """Attenuation (7,) [dB/ft] of lined rectangular duct, natural part included; ratio 1/ft of the free opening, lining inches.

    Source: Reynolds & Bledsoe; Long 2nd ed. Table 14.2. Equals all forty cells of Application Guide 125-1929 rev. 4 at 1 in.
    """
    return np.asarray(LINED_B * perimeter_over_area**LINED_C * lining**LINED_D + unlined_rate(perimeter_over_area), dtype=np.float64)


def lined_duct(width: float, height: float, length: float, lining: float) -> Spectrum:
    """Insertion loss (7,) [dB] of a lined duct, at most 40 dB: free width, height, length, lining thickness [m].

    Good to about 3 m of length. Source: as ``lined_rate``.
    """
    if length <= 0.0 or lining <= 0.0:
        return np.zeros(OCTAVES.size)
    ratio = 2.0 * (width + height) / (width * height) * FOOT
    return np.asarray(np.minimum(lined_rate(ratio, lining / INCH) * length / FOOT, LINED_CAP), dtype=np.float64)


def lined_elbow(width: float) -> Spectrum:
    """Attenuation (7,) [dB] of one square elbow, lined; width in the plane of the bend [m].

    Source: Bies, Hansen & Howard, Engineering Noise Control 5th ed., Table 8.11.
    """
    return np.asarray(ELBOW_LINED[np.searchsorted(ELBOW_EDGES, width * OCTAVES / SPEED_OF_SOUND, side="right")], dtype=np.float64)


def end_reflection(diameter: float, frequencies: NDArray[np.float64] = OCTAVES) -> Spectrum:
    """Loss [dB] at a duct end flush in a wall, per frequency [Hz]; equivalent diameter [m].

    Source: within 0.8 dB of Bies, Hansen & Howard 5th ed. Table 8.14.
    """
    return np.asarray(10.0 * np.log10(1.0 + (0.7 * SPEED_OF_SOUND / (np.pi * frequencies * diameter)) ** 2), dtype=np.float64)


def plenum(outlet: float, surface: float, absorption: NDArray[np.float64] | float, distance: float, cosine: float) -> NDArray[np.float64]:
    """Loss [dB] of a lined box: outlet area and inner surface [m2], absorption coefficient(s) 0..1, distance inlet to outlet [m],
    cosine of the angle off the inlet's axis; shape of ``absorption``. Never negative.

    Source: Wells 1958 as given in building-acoustics handbooks; low-frequency values are careful by 5 to 10 dB (sound engineers' handbook).
    """
    alpha = np.asarray(absorption, dtype=np.float64)
    passed = outlet * (cosine / (2.0 * np.pi * distance**2) + (1.0 - alpha) / (surface * alpha))
    return np.asarray(np.maximum(-10.0 * np.log10(passed), 0.0), dtype=np.float64)


def silencer_box() -> Spectrum:
    """Loss (7,) [dB] of the box of data/options.toml with its openings at opposite corners. Source: ``plenum``."""
    air = load("options")["air"]
    box = air["box"]
    length, width, height = box["length"], box["width"], box["height"]
    surface = 2.0 * (length * width + length * height + width * height)
    distance = float(np.hypot(length, width))
    return plenum(air["width"] * air["height"], surface, np.array(box["absorption"]), distance, length / distance)


@cache
def insertion_loss(option: AirPathOption) -> Spectrum:
    """Loss (21,) [dB] of one duct from room to far end, both end reflections included, before its opening area is counted; read-only.

    Source: the parts above; octaves are joined by straight lines over log frequency.
    """
    air = load("options")["air"]
    width, height = air["width"], air["height"]
    diameter = float(np.sqrt(4.0 * width * height / np.pi))
    loss = lined_duct(width, height, option.lined_length, option.lining) + option.elbows * lined_elbow(width)
    loss = loss + 2.0 * end_reflection(diameter)
    if option.silencer_box:
        loss = loss + silencer_box()
    thirds = octaves_to_thirds(list(OCTAVES), list(loss))
    thirds.setflags(write=False)
    return thirds


def opening_area() -> float:
    """Free area of all ducts of an air path [m2]. Source: data/options.toml."""
    air = load("options")["air"]
    return float(air["ducts"] * air["width"] * air["height"])
