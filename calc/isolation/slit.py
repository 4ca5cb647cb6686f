"""Sound through straight slits and round holes.

A slit is an air column with a radiation load at each end. Without friction this is the formula of Gomperts & Kihlman, The sound
transmission loss of circular and slit-shaped apertures in walls, Acustica 18 (1967) 144-150 (from memory, and derived again: see
``gomperts``). Friction and heat at the walls of a narrow slit come in by the wave numbers of Allard & Atalla, Propagation of Sound in
Porous Media 2nd ed. 2009, chapter 4 (from memory; tests hold them to Poiseuille's flow resistance and to free air). A hole takes the same
form with its own ends. Slits are straight: a gap with a stop in it passes less at its resonances.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.bands import EXACT_BANDS
from calc.isolation.parameters import AIR_DENSITY, SPEED_OF_SOUND

Values = NDArray[np.float64]
Waves = NDArray[np.complex128]

VISCOSITY = 1.84e-5  # Pa s, air at 20 degC. Allard & Atalla 2009, Table of air at 18 degC: 1.84e-5
PRANDTL = 0.71  # same source
HEAT_RATIO = 1.4  # same source
EULER = 0.5772156649  # Euler's constant, in the end correction of a slit
LINES = 9  # frequencies a third-octave band, so that a sharp resonance is averaged
TIGHT = 1e-5  # m; a narrower gap is no gap: friction stops it, and the formulas lose their digits. Ours
# What a gap built to one width measures here and there: -30, -15, 0, +15, +30 %. Common practice, no source.
SPREAD = np.array([0.7, 0.85, 1.0, 1.15, 1.3])


def end_correction(width: ArrayLike, frequency: ArrayLike) -> Values:
    """Length [m] by which each end lengthens a slit of ``width`` m in a large wall: w/pi (ln(8/kw) - 0.577), never under 0.

    Source: Gomperts & Kihlman 1967 (from memory); the imaginary part of the load on a narrow strip that radiates into half space.
    """
    k_width = 2.0 * np.pi * np.asarray(frequency, dtype=np.float64) / SPEED_OF_SOUND * np.asarray(width, dtype=np.float64)
    return np.asarray(np.asarray(width) / np.pi * np.maximum(np.log(8.0 / k_width) - EULER, 0.0), dtype=np.float64)


def gomperts(width: ArrayLike, depth: ArrayLike, frequency: ArrayLike, edge: bool = False, diffuse: bool = True) -> Values:
    """Transmission coefficient of a frictionless slit; width and depth m, frequency Hz, broadcast together.

    ``edge``: along the edge of a wall against another surface, else in the middle. Holds for kw well under 1.
    Source: Gomperts & Kihlman 1967, from memory. The same follows from an air column between two loads rho c (kw/2n + j tan ke), with the
    fourth power of kw left out.
    """
    wide, deep, hertz = (np.asarray(each, dtype=np.float64) for each in (width, depth, frequency))
    k = 2.0 * np.pi * hertz / SPEED_OF_SOUND
    k_width, k_depth, k_end = k * wide, k * deep, k * end_correction(wide, hertz)
    m, n = (8.0 if diffuse else 4.0), (0.5 if edge else 1.0)
    column = np.sin(k_depth + 2.0 * k_end) ** 2 / np.cos(k_end) ** 2
    load = k_width**2 / (2.0 * n**2) * (1.0 + np.cos(k_depth + 2.0 * k_end) * np.cos(k_depth))
    return np.asarray(m * k_width * np.cos(k_end) ** 2 / (2.0 * n**2 * (column + load)), dtype=np.float64)


def _narrow(half: Values, omega: Values) -> tuple[Waves, Waves]:
    """Impedance over rho c and wave number [rad/m] of air between two walls ``2 half`` m apart."""
    reach = half * np.sqrt(1j * omega * AIR_DENSITY / VISCOSITY)
    warm = reach * np.sqrt(PRANDTL)
    density = 1.0 / (1.0 - np.tanh(reach) / reach)
    softness = 1.0 + (HEAT_RATIO - 1.0) * np.tanh(warm) / warm
    return np.sqrt(density / softness), omega / SPEED_OF_SOUND * np.sqrt(density * softness)


def _column(impedance: Waves, wave: Waves, depth: Values, load: Waves) -> Values:
    """Speed of the air at the far end, squared, for a unit blocked pressure over rho c at the near one."""
    inner = 2.0 * load * np.cos(wave * depth) + 1j * np.sin(wave * depth) * (impedance + load**2 / impedance)
    return np.asarray(1.0 / np.abs(inner) ** 2, dtype=np.float64)


def slit(
    width: ArrayLike, depth: ArrayLike, frequency: ArrayLike, edge: bool = False, diffuse: bool = True, length: float = np.inf
) -> Values:
    """Transmission coefficient of a slit with friction; width and depth m, frequency Hz, broadcast together.

    Wider than half a wavelength it lets everything through (Hopkins, Sound Insulation 2007, eq. 4.102), and the load goes over to that of
    a wide one in between, kw/2 -> kw/2 over sqrt(1 + (kw/2)^2): both limits are exact, the way between is ours. A slit of a ``length`` [m]
    short against the wave radiates as a hole of its area, k^2 wl/2pi in place of kw/2, joined in the same way. Source: module text.
    """
    wide, deep, omega = np.broadcast_arrays(*(np.asarray(each, dtype=np.float64) for each in (width, depth, frequency)))
    omega = 2.0 * np.pi * omega
    k_width = omega / SPEED_OF_SOUND * wide
    n = 0.5 if edge else 1.0
    strip = 1.0 / np.sqrt(1.0 + (k_width / (2.0 * n)) ** 2)  # what a strip radiates, and what a diffuse field drives it with, over narrow
    short = 1.0 / np.sqrt(1.0 + (np.pi * SPEED_OF_SOUND / (omega * length)) ** 2)
    resistance = k_width / (2.0 * n) * strip * short
    load = resistance + 1j * np.tan(omega / SPEED_OF_SOUND * end_correction(wide, omega / (2.0 * np.pi)))
    impedance, wave = _narrow(wide / 2.0, omega)
    drive = (8.0 if diffuse else 4.0) / n * (strip if diffuse else 1.0)
    plane = drive * resistance * _column(impedance, wave, deep, load)
    return np.asarray(np.where(k_width > np.pi, np.maximum(plane, 1.0), plane), dtype=np.float64)


def hole(radius: ArrayLike, depth: ArrayLike, frequency: ArrayLike) -> Values:
    """Transmission coefficient of a round hole in a diffuse field; radius and depth m, frequency Hz, broadcast together.

    An air column between two flanged pistons (Kinsler et al., Fundamentals of Acoustics: resistance (ka)^2/2, end correction 8a/3pi), the
    plane-wave model of Wilson & Soroka, J. Sound Vib. 2 (1965), written anew; friction as in a slit as wide as the hole's radius. A hole of
    ka over 2 lets everything through (Hopkins 2007, eq. 4.102).
    """
    a, deep, omega = np.broadcast_arrays(*(np.asarray(each, dtype=np.float64) for each in (radius, depth, frequency)))
    omega = 2.0 * np.pi * omega
    k_radius = omega / SPEED_OF_SOUND * a
    piston = 1.0 / (1.0 + k_radius**2 / 2.0)  # (ka)^2/2 for a small piston, 1 for a large one
    resistance = k_radius**2 / 2.0 * piston
    load = resistance + 1j * 8.0 * k_radius / (3.0 * np.pi) * piston
    impedance, wave = _narrow(a / 2.0, omega)
    plane = 8.0 * piston * resistance * _column(impedance, wave, deep, load)
    return np.asarray(np.where(k_radius > 2.0, np.maximum(plane, 1.0), plane), dtype=np.float64)


def _lines() -> Values:
    """Frequencies (21, LINES) [Hz] evenly over the logarithm of each third-octave band."""
    steps = (np.arange(LINES) + 0.5) / LINES - 0.5
    return np.asarray(EXACT_BANDS[:, None] * 10.0 ** (steps[None, :] / 10.0), dtype=np.float64)


def _kept(tau: Values) -> Values:
    """A transmission coefficient as a loss that may be kept: read-only."""
    loss = np.asarray(-10.0 * np.log10(tau), dtype=np.float64)
    loss.setflags(write=False)
    return loss


@cache
def slit_loss(width: float, depth: float, edge: bool = False, length: float = np.inf) -> Values:
    """Transmission loss (21,) [dB], read-only, of a slit of nominal ``width``, ``depth``, ``length`` m, as to that width.

    Mean over each band, and over the widths that a gap has along its length. Raises ValueError for a width under ``TIGHT``.
    """
    if not width >= TIGHT:
        raise ValueError(f"a slit needs a width of at least {TIGHT} m")
    widths = width * SPREAD
    tau = slit(widths[:, None, None], depth, _lines()[None], edge, length=length).mean(axis=-1)
    return _kept((tau * SPREAD[:, None]).mean(axis=0))


@cache
def hole_loss(radius: float, depth: float) -> Values:
    """Transmission loss (21,) [dB], read-only, of a round hole of ``radius`` and ``depth`` m; may be negative at a resonance.

    Raises ValueError for a radius not above zero.
    """
    if not radius > 0.0:
        raise ValueError("a hole needs a radius above zero")
    return _kept(hole(radius, depth, _lines()).mean(axis=-1))
