"""A cavity between two leaves: a layer of porous fill, then a layer of air."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.isolation.parameters import AIR_DENSITY, AIR_IMPEDANCE, SPEED_OF_SOUND

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Matrix = tuple[Complex, Complex, Complex, Complex]  # A, B, C, D of [[A, B], [C, D]] on (pressure, velocity)
_GAMMA = 1.4  # ratio of specific heats of air
_PRANDTL = 0.71  # of air
_DEAF = 25.0  # Np; a layer that takes 217 dB is deep enough, and exp() of more would overflow in a stack of them


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
    phase = normal * depth
    there: Complex = np.exp(-1j * phase.real + np.maximum(phase.imag, -_DEAF))
    back = 1.0 / there
    cosine, sinus = 0.5 * (there + back), 0.5j * (there - back)
    return cosine, 1j * across * sinus, 1j * sinus / across, cosine


def air(frequency: Array, sine: Array, depth: Array, attenuation: Array) -> Matrix:
    """Unfilled part of a cavity. An attenuation [Np/m] that does not depend on frequency stands for what is lost at the cavity's faces,
    frame and edges; a constant loss factor instead would lose too much at high frequency (study of the code table)."""
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    wavenumber = np.asarray(k0 - 1j * attenuation, dtype=np.complex128)
    return layer(wavenumber, AIR_IMPEDANCE * wavenumber / k0, sine, frequency, depth)


def fill(frequency: Array, sine: Array, depth: Array, resistivity: Array) -> Matrix:
    """Porous fill of a flow resistivity [Pa s/m2]: inertia and resistance, and compression that turns from isothermal to adiabatic.

    Zwikker & Kosten, Sound Absorbing Materials (1949); thermal relaxation as Lafarge et al., J. Acoust. Soc. Am. 102 (1997) 1995, to
    first order with a thermal permeability of twice the viscous one (from memory).
    """
    omega = 2.0 * np.pi * frequency
    density = 1.0 - 1j * resistivity / (AIR_DENSITY * omega)
    thermal = 1.0 - 1j * resistivity / (2.0 * AIR_DENSITY * _PRANDTL * omega)
    softness = _GAMMA - (_GAMMA - 1.0) / thermal
    wavenumber: Complex = np.asarray(omega / SPEED_OF_SOUND * np.sqrt(density * softness), dtype=np.complex128)
    impedance: Complex = np.asarray(AIR_IMPEDANCE * np.sqrt(density / softness), dtype=np.complex128)
    return layer(wavenumber, impedance, sine, frequency, depth)


def add_spring(cavity: Matrix, transfer: Complex) -> Matrix:
    """A cavity with ties beside the air: ``transfer`` is the force per area over the difference of the leaves' velocities [Pa s/m]."""
    a, _, c, d = cavity
    z12 = 1.0 / c + transfer
    z11, z22 = a / c + transfer, d / c + transfer
    # z11 z22 - z12^2 written so that the large terms cancel on paper: AD - BC = 1, so a d / c^2 - 1 / c^2 = b / c
    determinant = cavity[1] / c + transfer * (a + d - 2.0) / c
    return z11 / z12, determinant / z12, 1.0 / z12, z22 / z12


def mass_air_mass(first: float, second: float, depth: float) -> float:
    """Resonance [Hz] of two masses [kg/m2] on an empty cavity [m], normal incidence. Hopkins, Sound Insulation (2007) eq. 4.73."""
    return mass_spring_mass(first, second, AIR_DENSITY * SPEED_OF_SOUND**2 / depth)


def mass_spring_mass(first: float, second: float, stiffness: float) -> float:
    """Resonance [Hz] of two masses [kg/m2] on a layer of stiffness per area [N/m3]. Hopkins, Sound Insulation (2007), sec. 4.3.8."""
    return float(np.sqrt(stiffness * (1.0 / first + 1.0 / second)) / (2.0 * np.pi))
