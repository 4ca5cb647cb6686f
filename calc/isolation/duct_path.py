"""Parts that sound meets as it follows the air: mouth, lined duct, elbow, box, open end. Joined in calc/isolation/duct_way.py.

SI in, dB out; octaves 63 to 4000 Hz unless said.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES
from calc.isolation.parameters import SPEED_OF_SOUND

Spectrum = NDArray[np.float64]
FOOT, INCH = 0.3048, 0.0254

# Reynolds & Bledsoe regression for lined rectangular duct; constants in Long, Architectural Acoustics 2nd ed., Table 14.2. 63-4000 Hz.
LINED_B = np.array([0.0133, 0.0574, 0.2710, 1.0147, 1.7700, 1.3920, 1.5180])
LINED_C = np.array([1.959, 1.410, 0.824, 0.500, 0.695, 0.802, 0.451])
LINED_D = np.array([0.917, 0.941, 1.079, 1.087, 0.0, 0.0, 0.0])
LINED_CAP = 40.0  # dB, same source
# Elbows: Bies, Hansen & Howard, Engineering Noise Control 5th ed., Table 8.11; upper edges of duct width over wavelength.
ELBOW_EDGES = np.array([0.14, 0.28, 0.55, 1.11, 2.22])
ELBOWS = {
    "square, lined": np.array([0.0, 1.0, 6.0, 11.0, 10.0, 10.0]),
    "square, bare": np.array([0.0, 1.0, 5.0, 8.0, 4.0, 3.0]),
    "round, bare": np.array([0.0, 1.0, 2.0, 3.0, 3.0, 3.0]),
}


def perimeter_over_area(width: float, height: float) -> float:
    """Perimeter over area [1/ft] of a free opening [m]: what the regressions of this trade run on."""
    return 2.0 * (width + height) / (width * height) * FOOT


def unlined_rate(ratio: float) -> Spectrum:
    """Natural attenuation (7,) [dB/ft] of bare rectangular duct by perimeter over area [1/ft].

    Source: Reynolds & Bledsoe, from memory; reproduces the printed table 63-250 Hz to 0.001 dB/ft.
    """
    low = 17.0 * ratio**-0.25 * OCTAVES**-0.85 if ratio >= 3.0 else 1.64 * ratio**0.73 * OCTAVES**-0.58
    return np.asarray(np.where(OCTAVES <= 250.0, low, 0.02 * ratio**0.8), dtype=np.float64)


def lined_rate(ratio: float, lining: float) -> Spectrum:
    """Attenuation (7,) [dB/ft] of lined rectangular duct, natural part included; perimeter over area [1/ft] of the free opening, lining
    inches.

    Source: Reynolds & Bledsoe; Long 2nd ed. Table 14.2. Equals all forty cells of Application Guide 125-1929 rev. 4 at 1 in.
    """
    return np.asarray(LINED_B * ratio**LINED_C * lining**LINED_D + unlined_rate(ratio), dtype=np.float64)


def lined_duct(width: float, height: float, length: float, lining: float) -> Spectrum:
    """Insertion loss (7,) [dB] of a lined duct, at most 40 dB: free width, height, length, lining thickness [m].

    Good to about 3 m of length. Source: as ``lined_rate``.
    """
    if length <= 0.0 or lining <= 0.0:
        return np.zeros(OCTAVES.size)
    rate = lined_rate(perimeter_over_area(width, height), lining / INCH)
    return np.asarray(np.minimum(rate * length / FOOT, LINED_CAP), dtype=np.float64)


def bare_duct(width: float, height: float, length: float) -> Spectrum:
    """Insertion loss (7,) [dB] of a bare duct: width, height, length [m]. Source: as ``unlined_rate``."""
    return np.asarray(unlined_rate(perimeter_over_area(width, height)) * length / FOOT, dtype=np.float64)


def part_lined(width: float, height: float, lined: float, lining: float, length: float) -> Spectrum:
    """Insertion loss (7,) [dB] of a duct whose first part is lined: free width, height, lined part, lining thickness, whole length [m].

    The bare rest is taken as wide as the lined part's opening. What the lining adds stops at the cap of ``lined_duct``, for the whole way:
    more lining never does less. Source: ``lined_duct``, ``bare_duct``.
    """
    bare, ratio = bare_duct(width, height, length), perimeter_over_area(width, height)
    if lined <= 0.0 or lining <= 0.0:
        return bare
    added = (lined_rate(ratio, lining / INCH) - unlined_rate(ratio)) * lined / FOOT
    return np.asarray(np.minimum(bare + added, np.maximum(bare, LINED_CAP)), dtype=np.float64)


def elbow(width: float, kind: str) -> Spectrum:
    """Attenuation (7,) [dB] of one elbow of a kind of ``ELBOWS``; width in the plane of the bend [m]. Raises KeyError for another kind.

    Source: Bies, Hansen & Howard, Engineering Noise Control 5th ed., Table 8.11.
    """
    return np.asarray(ELBOWS[kind][np.searchsorted(ELBOW_EDGES, width * OCTAVES / SPEED_OF_SOUND, side="right")], dtype=np.float64)


def end_reflection(diameter: float, frequencies: NDArray[np.float64] = OCTAVES) -> Spectrum:
    """Loss [dB] at a duct end flush in a wall, per frequency [Hz]; equivalent diameter [m].

    Source: within 0.8 dB of Bies, Hansen & Howard 5th ed. Table 8.14.
    """
    return np.asarray(10.0 * np.log10(1.0 + (0.7 * SPEED_OF_SOUND / (np.pi * frequencies * diameter)) ** 2), dtype=np.float64)


def gathering(diameter: float, frequencies: NDArray[np.float64] = OCTAVES) -> Spectrum:
    """What a duct mouth flush in a wall takes from a diffuse field over what falls on its area [dB], per frequency [Hz]; 9 dB where it is
    small against the wavelength, never under 0. Equivalent diameter [m].

    A mouth that radiates evenly into a half space, 1 - r of its wave, takes (1 - r) wavelength^2 / (pi S) from one. Source: reciprocity,
    own derivation, with r by ``end_reflection``.
    """
    wavelength = SPEED_OF_SOUND / frequencies
    taken = 10.0 * np.log10(wavelength**2 / (np.pi**2 * diameter**2 / 4.0)) - end_reflection(diameter, frequencies)
    return np.asarray(np.maximum(taken, 0.0), dtype=np.float64)


def plenum(outlet: float, surface: float, absorption: NDArray[np.float64] | float, distance: float, cosine: float) -> NDArray[np.float64]:
    """Loss [dB] of a lined box: outlet area and inner surface [m2], absorption coefficient(s) 0..1, distance inlet to outlet [m],
    cosine of the angle off the inlet's axis; shape of ``absorption``. Never negative.

    Source: Wells 1958 as given in building-acoustics handbooks; low-frequency values are careful by 5 to 10 dB (sound engineers' handbook).
    """
    alpha = np.asarray(absorption, dtype=np.float64)
    passed = outlet * (cosine / (2.0 * np.pi * distance**2) + (1.0 - alpha) / (surface * alpha))
    return np.asarray(np.maximum(-10.0 * np.log10(passed), 0.0), dtype=np.float64)


def silencer_box(
    length: float, width: float, height: float, chambers: int, opening: float, absorption: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Loss [dB] of a row of equal lined chambers: length, width, height of one inside its lining [m], the free area of the openings [m2],
    which stand at opposite corners of its ends, absorption coefficients of the lining; shape of ``absorption``.

    Source: ``plenum``, chambers in a row adding up (common practice, no source).
    """
    surface = 2.0 * (length * width + length * height + width * height)
    across = width - float(np.sqrt(opening)), height - float(np.sqrt(opening))
    distance = float(np.sqrt(length**2 + across[0] ** 2 + across[1] ** 2))
    return np.asarray(chambers * plenum(opening, surface, absorption, distance, length / distance), dtype=np.float64)


def elbow_noise(speed: float, area: float, height: float, vanes: int = 0, chord: float = 0.0) -> Spectrum:
    """Sound power (7,) [dB re 1 pW] that air makes in a square elbow: speed [m/s], section [m2], height of the elbow in the plane of the
    bend [m], or number and chord [m] of its turning vanes. No floor is put under values far below hearing.

    Source: Application Guide 125-1929 rev. 4 (2009), after ASHRAE (Reynolds & Bledsoe); its printed K of an elbow without vanes does not
    follow from its own formula, which is used.
    """
    feet, size = speed / FOOT * 60.0, (chord if vanes else height) / FOOT
    strouhal = np.log10(60.0 * OCTAVES * size / feet)
    if vanes:
        # the power of 2.5 needs a Strouhal number over 1; below it the curve is flat
        shape, extra = -47.5 - 7.69 * np.maximum(strouhal, 0.0) ** 2.5, 10.0 * np.log10(vanes) - 107.0
    else:
        shape, extra = -9.22 - 16.48 * strouhal - 5.05 * strouhal**2, -107.0
    flow = 50.0 * np.log10(feet) + 10.0 * np.log10(area / FOOT**2) + 10.0 * np.log10(size)
    return np.asarray(shape + 10.0 * np.log10(OCTAVES) + flow + extra, dtype=np.float64)
