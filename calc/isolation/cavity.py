"""A cavity between two leaves: a layer of porous fill, then a layer of air."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.isolation.parameters import AIR_DENSITY, AIR_IMPEDANCE, SPEED_OF_SOUND, Parameters

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Matrix = tuple[Complex, Complex, Complex, Complex]  # A, B, C, D of [[A, B], [C, D]] on (pressure, velocity)
_GAMMA = 1.4  # ratio of specific heats of air


def multiply(left: Matrix, right: Matrix) -> Matrix:
    """Product of two 2 x 2 matrices whose entries are arrays that broadcast."""
    a, b, c, d = left
    e, f, g, h = right
    return a * e + b * g, a * f + b * h, c * e + d * g, c * f + d * h


def layer(wavenumber: Complex, impedance: Complex, sine: Array, frequency: Array, depth: Array) -> Matrix:
    """Transfer matrix of a fluid layer: wavenumber 1/m and characteristic impedance Pa s/m of the fluid, sine of the angle in the air
    outside, depth m. Allard & Atalla, Propagation of Sound in Porous Media (2009), ch. 11."""
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    normal = np.sqrt(wavenumber**2 - (k0 * sine) ** 2)
    normal = np.where(normal.imag > 0.0, -normal, normal)  # the wave that dies away, for exp(+jwt)
    across = impedance * wavenumber / normal
    cosine, sinus = np.cos(normal * depth), np.sin(normal * depth)
    return cosine, 1j * across * sinus, 1j * sinus / across, cosine


def air(frequency: Array, sine: Array, depth: Array, p: Parameters) -> Matrix:
    """Unfilled part of a cavity. A constant attenuation [Np/m] stands for what is lost sideways at frame and edges; a constant
    loss factor instead would lose too much at high frequency (study of the code table)."""
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    wavenumber = np.asarray(k0 - 1j * p.air_attenuation, dtype=np.complex128)
    return layer(wavenumber, AIR_IMPEDANCE * wavenumber / k0, sine, frequency, depth)


def fill(frequency: Array, sine: Array, depth: Array, resistivity: Array) -> Matrix:
    """Porous fill: isothermal air that meets a flow resistance [Pa s/m2]. Rayleigh / Zwikker & Kosten, Sound Absorbing Materials (1949)."""
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    q = np.sqrt(1.0 - 1j * resistivity / (AIR_DENSITY * 2.0 * np.pi * frequency))
    return layer(k0 * q * np.sqrt(_GAMMA), AIR_IMPEDANCE * q / np.sqrt(_GAMMA), sine, frequency, depth)


def add_spring(cavity: Matrix, transfer: Complex) -> Matrix:
    """A cavity with ties beside the air: ``transfer`` is the force per area over the difference of the leaves' velocities [Pa s/m]."""
    a, _, c, d = cavity
    z12 = 1.0 / c + transfer
    z11, z22 = a / c + transfer, d / c + transfer
    # z11 z22 - z12^2 written so that the large terms cancel on paper: AD - BC = 1, so a d / c^2 - 1 / c^2 = b / c
    determinant = cavity[1] / c + transfer * (a + d - 2.0) / c
    return z11 / z12, determinant / z12, 1.0 / z12, z22 / z12
