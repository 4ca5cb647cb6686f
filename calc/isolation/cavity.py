"""A cavity between two leaves: a layer of porous fill, then a layer of air, as impedances that join the two faces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.isolation.parameters import AIR_DENSITY, AIR_IMPEDANCE, SPEED_OF_SOUND

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
# z11, z12, z22 of p1 = z11 v1 - z12 v2, p2 = z12 v1 - z22 v2: pressures at both faces over their velocities [Pa s/m]
Impedances = tuple[Complex, Complex, Complex]
_GAMMA = 1.4  # ratio of specific heats of air
_PRANDTL = 0.71  # of air


def layer(wavenumber: Complex, impedance: Complex, sine: Array, frequency: Array, depth: Array) -> Impedances:
    """A fluid layer: wavenumber 1/m and characteristic impedance Pa s/m of the fluid, sine of the angle in the air outside, depth m.

    Allard & Atalla, Propagation of Sound in Porous Media (2009), ch. 11; -j Z cot(kd) and -j Z / sin(kd) in the form that cannot
    overflow.
    """
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    normal = np.sqrt(wavenumber**2 - (k0 * sine) ** 2)
    normal = np.where(normal.imag > 0.0, -normal, normal)  # the wave that dies away, for exp(+jwt)
    across = impedance * wavenumber / normal
    there: Complex = np.exp(-1j * normal * depth)
    standing = across / (1.0 - there**2)
    own = standing * (1.0 + there**2)
    return own, 2.0 * standing * there, own


def air(frequency: Array, sine: Array, depth: Array, attenuation: Array) -> Impedances:
    """Unfilled part of a cavity. An attenuation [Np/m] that does not depend on frequency stands for what is lost at the cavity's faces,
    frame and edges; a constant loss factor instead would lose too much at high frequency (study of the code table)."""
    k0 = 2.0 * np.pi * frequency / SPEED_OF_SOUND
    wavenumber = np.asarray(k0 - 1j * attenuation, dtype=np.complex128)
    return layer(wavenumber, AIR_IMPEDANCE * wavenumber / k0, sine, frequency, depth)


def fill(frequency: Array, sine: Array, depth: Array, resistivity: Array) -> Impedances:
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


def join(first: Impedances, second: Impedances) -> Impedances:
    """Two layers one behind the other: one velocity where they meet."""
    a11, a12, a22 = first
    b11, b12, b22 = second
    flow = 1.0 / (a22 + b11)
    return a11 - a12**2 * flow, a12 * b12 * flow, b22 - b12**2 * flow


def mass_air_mass(first: float, second: float, depth: float) -> float:
    """Resonance [Hz] of two masses [kg/m2] on an empty cavity [m], normal incidence. Hopkins, Sound Insulation (2007) eq. 4.73."""
    return mass_spring_mass(first, second, AIR_DENSITY * SPEED_OF_SOUND**2 / depth)


def mass_spring_mass(first: float, second: float, stiffness: float) -> float:
    """Resonance [Hz] of two masses [kg/m2] on a layer of stiffness per area [N/m3]. Hopkins, Sound Insulation (2007), sec. 4.3.8."""
    return float(np.sqrt(stiffness * (1.0 / first + 1.0 / second)) / (2.0 * np.pi))
