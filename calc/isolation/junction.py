"""Where two heavy elements meet: vibration reduction indices, loss factors as built, flanking paths.

EN 12354-1:2000 and ISO 12354-1:2017, Annexes C, D and E and Clause 4. M = lg(m_perp / m_i): the element across, over the element the path
starts in. The formulas were read in files that quote the standard; what was recalled says so and is checked against a printed example.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log10

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, energy_sum

Spectrum = NDArray[np.float64]
SPEED = 340.0  # m/s, as the annexes take it
IMPEDANCE = 1.29 * 340.0  # Pa s/m, as in Annex L
REFERENCE = 1000.0  # Hz, reference frequency of the annexes
LEAST_M = -14.1 / 11.4  # where the through formulas of a T turn up again: a lighter element across cannot block more


def _ratio(across: float, along: float) -> float:
    """M for masses kg/m2. Raises ValueError unless both are above zero."""
    if across <= 0.0 or along <= 0.0:
        raise ValueError("the elements of a junction must have mass")
    return log10(across / along)


def cross_through(across: float, along: float) -> float:
    """Kij [dB] straight through a rigid cross; masses per area kg/m2. EN 12354-1:2000 Annex E."""
    m = _ratio(across, along)
    return 8.7 + 17.1 * m + 5.7 * m**2


def cross_corner(across: float, along: float) -> float:
    """Kij [dB] round the corner of a rigid cross; masses per area kg/m2. EN 12354-1:2000 Annex E."""
    return 8.7 + 5.7 * _ratio(across, along) ** 2


def tee_through(across: float, along: float) -> float:
    """Kij [dB] straight through a rigid T, the element across being its stem; masses per area kg/m2. EN 12354-1:2000 Annex E.

    Held at its least value (-3.0 dB) for a stem lighter than 6 % of the element: own bound, the formula would rise again."""
    m = max(_ratio(across, along), LEAST_M)
    return 5.7 + 14.1 * m + 5.7 * m**2


def tee_corner(across: float, along: float) -> float:
    """Kij [dB] round the corner of a rigid T; masses per area kg/m2. EN 12354-1:2000 Annex E."""
    return 5.7 + 5.7 * _ratio(across, along) ** 2


def interlayer(frequency: float, corner: float = 125.0) -> float:
    """What one flexible interlayer adds to a Kij [dB] at a frequency [Hz], above its corner frequency. EN 12354-1:2000 Annex E."""
    return max(0.0, 10.0 * log10(frequency / corner))


def light_corner(across: float, along: float) -> float:
    """Kij [dB] between a heavy element and a light one fixed to it (façade form); masses kg/m2. EN 12354-1:2000 Annex E."""
    return 10.0 + 10.0 * abs(_ratio(across, along))


def light_through(across: float, along: float) -> float:
    """Kij [dB] between light elements on both sides of a heavy one (façade form), at least 5; masses kg/m2. EN 12354-1:2000 Annex E."""
    return max(5.0, 5.0 + 10.0 * _ratio(across, along))


def least(length: float, area_i: float, area_j: float) -> float:
    """Least Kij [dB] of a junction ``length`` m long between elements of these areas m2 (l0 = 1 m). EN 12354-1:2000 Annex E."""
    return 10.0 * log10(length * (1.0 / area_i + 1.0 / area_j))


def edge_absorption(parts: Sequence[tuple[float, float]]) -> float:
    """Absorption coefficient of an edge for bending waves: sum of sqrt(fc_j/fref) 10^(-Kij/10) over the elements that meet there,
    each (critical frequency Hz, Kij dB). ISO 12354-1:2017 Annex C, recalled; it gives the loss factor of Annex L's floor in all bands."""
    return float(sum((critical / REFERENCE) ** 0.5 * 10.0 ** (-k / 10.0) for critical, k in parts))


def loss_factor(internal: float, mass: float, critical: float, area: float, edges: float, radiation: Spectrum) -> Spectrum:
    """Total loss factor (21,) of an element as built: material, radiation to both sides, and what its edges carry away.

    ``mass`` kg/m2, ``critical`` Hz, ``area`` m2, ``edges`` sum of length x edge absorption [m], ``radiation`` efficiency (21,).
    ISO 12354-1:2017 Annex C, recalled; checked as ``edge_absorption``."""
    radiated = IMPEDANCE * radiation / (np.pi * BANDS * mass)
    carried = SPEED / (np.pi**2 * area * np.sqrt(BANDS * critical)) * edges
    return np.asarray(internal + radiated + carried)


def absorption_length(area: float, loss: Spectrum) -> Spectrum:
    """Equivalent absorption length a (21,) [m] of an element, 2.2 pi^2 S / (c0 Ts) sqrt(fref/f) with Ts = 2.2/(f eta).

    ISO 12354-1:2017 Clause 4.2.2."""
    return np.asarray(np.pi**2 * area * loss * np.sqrt(BANDS * REFERENCE) / SPEED)


@dataclass(frozen=True)
class Element:
    """An element as built: sound reduction index (21,) [dB], area m2, absorption length a (21,) [m], mass kg/m2.

    For a light, well damped element a is its area over 1 m (ISO 12354-1 Clause 4.2)."""

    loss: Spectrum
    area: float
    absorption: Spectrum
    mass: float


def path_loss(
    source: Element, receiver: Element, k: float | Spectrum, length: float, area: float, lining: float | Spectrum = 0.0
) -> Spectrum:
    """Flanking loss Rij (21,) [dB] referred to ``area`` m2, over a junction ``length`` m long with vibration reduction index ``k``.

    Ri/2 + Rj/2 + lining + (Kij - 10 lg(lij/sqrt(ai aj))) + 10 lg(Ss/sqrt(Si Sj)). ``lining`` is what linings on both add.
    ISO 12354-1:2017 Clause 4.2.3."""
    difference = k - 10.0 * np.log10(length / np.sqrt(source.absorption * receiver.absorption))
    spread = 10.0 * log10(area / (source.area * receiver.area) ** 0.5)
    return np.asarray(source.loss / 2.0 + receiver.loss / 2.0 + lining + difference + spread)


def apparent(paths: Sequence[Spectrum]) -> Spectrum:
    """Apparent sound reduction index (21,) [dB] of paths referred to one area. ISO 12354-1 Clause 4.1. Raises ValueError without paths."""
    if not len(paths):
        raise ValueError("an apparent sound reduction index needs at least one path")
    return -energy_sum(-np.stack(paths), axis=0)


# ---- the simplified model: single numbers


def rated_path(source: float, receiver: float, k: float, area: float, length: float, linings: Sequence[float] = ()) -> float:
    """Rij,w [dB] of the simplified model, l0 = 1 m; of two linings the better counts in full, the other by half.

    EN 12354-1:2000 Clause 4.4."""
    best = sorted(linings, reverse=True)
    return (source + receiver) / 2.0 + sum(gain / (1 + n) for n, gain in enumerate(best)) + k + 10.0 * log10(area / length)


def rated_lining(resonance: float, rating: float) -> float:
    """Rating of what a lining adds [dB] on a wall of ``rating`` Rw [dB], by the lining's ``resonance`` [Hz], read at its third octave.

    ISO 12354-1:2017 Table D.1. Raises ValueError outside 30 to 5000 Hz or Rw 20 to 60; 1600 Hz, printed twice, counts to the lower row."""
    if not (30.0 <= resonance <= 5000.0 and 20.0 <= rating <= 60.0):
        raise ValueError("the table of linings covers resonances of 30 to 5000 Hz on walls of Rw 20 to 60")
    band = round(10.0 * log10(resonance / 1000.0))  # thirds from 1 kHz
    if band <= -8:
        nominal = {-15: 31.5, -14: 40.0, -13: 50.0, -12: 63.0, -11: 80.0, -10: 100.0, -9: 125.0, -8: 160.0}[max(band, -15)]
        return max(0.0, 74.4 - 20.0 * log10(nominal) - rating / 2.0)
    steps = {-7: -1.0, -6: -3.0, -5: -5.0, -4: -7.0, -3: -9.0}
    return steps.get(band, -10.0 if band <= 2 else -5.0)


def rated_impact(mass: float, covering: float, flanking: float) -> float:
    """Weighted impact level L'n,w [dB] under a heavy floor of ``mass`` kg/m2: 164 - 35 lg m - covering + K. EN 12354-2:2000 Annex E."""
    return 164.0 - 35.0 * log10(mass) - covering + flanking
