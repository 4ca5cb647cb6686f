"""Random-incidence absorption of a layer of wool before a hard wall, with or without air behind it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.isolation.parameters import SPEED_OF_SOUND

Array = NDArray[np.float64]
ANGLES = np.linspace(0.0, np.pi / 2.0, 91)[:-1] + np.pi / 360.0  # midpoints of 1 degree
THIRDS = 10.0 ** (np.array([-1.0, 0.0, 1.0]) / 10.0)  # the three thirds of an octave


def layer_absorption(frequency: Array, thickness: float, gap: float, resistivity: float) -> Array:
    """Absorption coefficient, 0..1, shape of ``frequency`` (n,) [Hz], of a layer of wool; thickness and gap m, resistivity Pa s/m2.

    Impedance and wavenumber of the wool: Miki, J. Acoust. Soc. Jpn. (E) 11 (1990) 19. Sound runs
    on inside wool and gap at each angle of incidence; averaged over a diffuse field (Paris' formula).
    Good for f/resistivity of about 0.01 to 1 m3/kg; deep bass lies below, where it is an estimate. Raises ValueError for a layer of no
    thickness or resistance.
    """
    if thickness <= 0.0 or resistivity <= 0.0:
        raise ValueError("A porous layer needs a thickness and a flow resistivity above 0")
    ratio = frequency / resistivity
    impedance = 1.0 + 0.070 * ratio**-0.632 - 0.107j * ratio**-0.632
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    wavenumber = k0 * (1.0 + 0.109 * ratio**-0.618 - 0.160j * ratio**-0.618)
    sine, cosine = np.sin(ANGLES), np.cos(ANGLES)
    along = np.outer(k0, sine)
    normal = np.sqrt(wavenumber[:, None] ** 2 - along**2)
    across = (impedance * wavenumber)[:, None] / normal
    turn = np.tan(normal * thickness)
    if gap > 0.0:
        behind = -1j / (np.tan(np.outer(k0, cosine) * gap) * cosine)
        surface = across * (behind + 1j * across * turn) / (across + 1j * behind * turn)
    else:
        surface = -1j * across / turn
    seen = surface * cosine
    by_angle = 1.0 - np.abs((seen - 1.0) / (seen + 1.0)) ** 2
    weight = sine * cosine
    return np.asarray(np.sum(by_angle * weight, axis=1) / np.sum(weight), dtype=np.float64)


def octave_absorption(octaves: Array, thickness: float, gap: float, resistivity: float) -> Array:
    """``layer_absorption`` as the mean of the three third octaves of each octave (n,) [Hz]."""
    thirds = layer_absorption(np.outer(octaves, THIRDS).ravel(), thickness, gap, resistivity)
    return np.asarray(thirds.reshape(-1, 3).mean(axis=1), dtype=np.float64)
