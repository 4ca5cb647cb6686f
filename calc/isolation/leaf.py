"""A leaf as a thin plate in bending, and masonry as ISO 12354-1 Annex B."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.isolation.assembly import Leaf
from calc.isolation.materials import material
from calc.isolation.parameters import SPEED_OF_SOUND, Parameters

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
_LIMP = 1e6  # Hz; critical frequency of a leaf taken as limp


@dataclass(frozen=True)
class Plate:
    """A leaf as a plate: mass kg/m2, critical frequency Hz, loss factor, spread of the bending stiffness over direction, and for masonry
    the plate of Annex B."""

    mass: float
    critical: float
    loss: float
    spread: float
    massive: Massive | None


@dataclass(frozen=True)
class Massive:
    """Mass kg/m2, critical frequency Hz, internal loss factor, density kg/m3, speed of longitudinal waves m/s."""

    mass: float
    critical: float
    loss: float
    density: float
    speed: float


def bending_stiffness(mass: float, critical: float) -> float:
    """Bending stiffness per width B [N m] of a plate, kg/m2 and Hz: m (c^2 / 2 pi fc)^2. Cremer & Heckl, Structure-Borne Sound."""
    return mass * (SPEED_OF_SOUND**2 / (2.0 * np.pi * critical)) ** 2


@lru_cache(maxsize=4096)
def plate(leaf: Leaf, p: Parameters) -> Plate:
    """The plate that a leaf acts as. Plies that are not glued slide: masses and stiffnesses add, so that two equal plies keep the
    critical frequency of one (study of the code table; Cremer & Heckl). Loss and spread are means weighted by stiffness."""
    facts = [material(ply.material) for ply in leaf.plies]
    masonry = [i for i, fact in enumerate(facts) if fact.massive]
    if masonry:
        heaviest = max(masonry, key=lambda i: leaf.plies[i].surface_mass)
        ply, fact = leaf.plies[heaviest], facts[heaviest]
        mass = leaf.surface_mass
        critical = 340.0**2 / (1.8 * fact.speed * ply.thickness)  # ISO 12354-1:2017 Annex B, c0 = 340 m/s
        # a loss given by name cannot stand on a massive material: the catalogue's tests hold that
        massive = Massive(mass, critical, float(fact.loss), ply.surface_mass / ply.thickness, fact.speed)
        return Plate(mass, _LIMP, p.loss_limp, 0.0, massive)
    criticals = [fact.coincidence / ply.thickness for ply, fact in zip(leaf.plies, facts, strict=True)]
    stiffness = np.array([bending_stiffness(ply.surface_mass, fc) for ply, fc in zip(leaf.plies, criticals, strict=True)])
    losses = np.array([fact.loss if isinstance(fact.loss, float) else getattr(p, f"loss_{fact.loss}") for fact in facts])
    spreads = np.array([p.orthotropy if fact.orthotropy is None else fact.orthotropy for fact in facts])
    total = float(stiffness.sum())
    mass = leaf.surface_mass
    critical = SPEED_OF_SOUND**2 / (2.0 * np.pi) * float(np.sqrt(mass / total))
    loss = float((losses * stiffness).sum() / total)
    if leaf.damped and len(leaf.plies) > 1:
        loss = max(loss, p.loss_damped)
    return Plate(mass, critical, loss, float((spreads * stiffness).sum() / total), None)


def impedance(frequency: Array, sine: Array, mass: Array, critical: Array, loss: Array, spread: Array) -> Complex:
    """Impedance of a thin plate [Pa s/m] for a wave at an angle; arrays broadcast. Cremer & Heckl: jwm [1 - (f/fc)^2 (1 + j eta) sin^4].

    ``spread`` scales the bending-wave speed of one direction of the board (1 + o), the other being 1 - o.
    """
    coincidence = (frequency / critical) ** 2 * (1.0 + 1j * loss) * sine**4 / (1.0 + spread) ** 2
    return np.asarray(2j * np.pi * frequency * mass * (1.0 - coincidence))


def forced_radiation(wavenumber: Array, long: float, short: float) -> Array:
    """Radiation efficiency of forced waves on a plate long x short [m], at most 2. ISO 12354-1:2017 Annex B (after Sewell)."""
    k = np.asarray(wavenumber, dtype=np.float64)
    correction = (
        -0.964
        - (0.5 + short / (np.pi * long)) * np.log(short / long)
        + 5.0 * short / (2.0 * np.pi * long)
        - 1.0 / (4.0 * np.pi * long * short * k**2)
    )
    return np.asarray(np.minimum(0.5 * (np.log(k * np.sqrt(long * short)) - correction), 2.0))


def free_radiation(frequency: Array, critical: Array | float, long: float, short: float) -> Array:
    """Radiation efficiency of free bending waves, at most 2; frequency and critical frequency Hz, (n,), sides long x short m.

    ISO 12354-1:2017 Annex B, B.3 (after Maidanik and Leppington; from memory, equal to every factor printed in its Annex L).
    """
    c0 = 340.0
    f = np.asarray(frequency, dtype=np.float64)
    fc = np.broadcast_to(np.asarray(critical, dtype=np.float64), f.shape)
    f11 = c0**2 / (4.0 * fc) * (1.0 / long**2 + 1.0 / short**2)
    above = 1.0 / np.sqrt(np.maximum(1.0 - fc / f, 1e-12))
    corner = 4.0 * long * short * (f / c0) ** 2
    edge = np.sqrt(2.0 * np.pi * f * (long + short) / (16.0 * c0))
    lam = np.sqrt(f / fc)
    inner = np.clip(1.0 - lam**2, 1e-9, None)
    delta1 = (inner * np.log((1.0 + lam) / np.maximum(np.abs(1.0 - lam), 1e-12)) + 2.0 * lam) / (4.0 * np.pi**2 * inner**1.5)
    corners = 8.0 * c0**2 * (1.0 - 2.0 * lam**2) / (fc**2 * np.pi**4 * long * short * lam * np.sqrt(inner))
    below = 2.0 * (long + short) / (long * short) * c0 / fc * delta1 + np.where(f > fc / 2.0, 0.0, corners)
    wide = np.where(f >= fc, above, below)
    wide = np.where((f < f11) & (wide > corner), corner, wide)
    narrow = np.where((f < fc) & (corner < edge), corner, np.where((f > fc) & (above < edge), above, edge))
    return np.asarray(np.minimum(np.where(f11 <= fc / 2.0, wide, narrow), 2.0))


def massive_loss(wall: Massive, loss: Array, long: float = 4.0, short: float = 2.75, built: bool = True) -> Array:
    """Sound reduction index [dB] at BANDS of masonry or concrete, (21,). ``loss`` is the total loss factor (21,), ``long`` >= ``short`` m.

    ISO 12354-1:2017 Annex B with c0 = 340 m/s and rho0 c0 = 1.29 x 340; that form, ``built`` False, gives every band of its Annex L.
    ``built`` walls differ in two ways, which halve the error against published walls (from 25 to 14 dB^2 over three block walls, two
    slabs and three bricks): the radiation factor is held to 1, since measured walls show no deep dip at coincidence, and the critical
    frequency rises as shear takes over, fc (x + sqrt(1 + x^2)) with x = 4.05 t f / cL (EN 12354-1:2000 Annex B, thick walls).
    """
    c0, z0 = 340.0, 1.29 * 340.0
    long, short = max(long, short), min(long, short)
    f = BANDS
    shear = 4.05 * wall.mass / wall.density * f / wall.speed if built else np.zeros_like(f)
    critical = wall.critical * (shear + np.sqrt(1.0 + shear**2))
    forced = forced_radiation(2.0 * np.pi * f / c0, long, short)
    free = np.minimum(free_radiation(f, critical, long, short), 1.0 if built else 2.0)
    scale = (z0 / (np.pi * f * wall.mass)) ** 2
    resonant = np.pi * critical * free**2 / (2.0 * f * loss)
    with np.errstate(divide="ignore"):
        below = 2.0 * forced / (1.0 - (f / critical) ** 2) ** 2 + resonant
    edge = 2.0 ** (1.0 / 6.0)
    inside = (f / edge <= wall.critical) & (wall.critical < f * edge)
    factor = np.where(inside, np.pi * free**2 / (2.0 * loss), np.where(f < critical, below, resonant))
    plateau = (4.0 * z0 / (1.1 * wall.density * wall.speed)) ** 2 * 0.02 / loss
    return np.asarray(-10.0 * np.log10(np.maximum(scale * factor, plateau)))


def laboratory_loss(wall: Massive) -> Array:
    """Total loss factor (21,) of a heavy element in a laboratory: eta_int + m' / (485 sqrt f). ISO 12354-1:2017 Annex C (from memory)."""
    return np.asarray(wall.loss + wall.mass / (485.0 * np.sqrt(BANDS)))
