"""Diffuse-field transmission of many assemblies with the same number of leaves at once."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from functools import cache, lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from calc.bands import EXACT_BANDS
from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity
from calc.isolation.cavity import Impedances, air, fill, join
from calc.isolation.leaf import Massive, Plate, laboratory_loss, massive_loss, plate
from calc.isolation.materials import material
from calc.isolation.parameters import AIR_IMPEDANCE, SPEED_OF_SOUND, Parameters
from calc.isolation.tie import Plates, Ties, bridge, spring, tie
from calc.scheme import Ply

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Key = TypeVar("Key", bound=Hashable)
Result = TypeVar("Result")
SUB_BANDS = 3  # frequencies in a band
ANGLES = 12  # Gauss points over the cosine; with 3 frequencies an STC is within 0.1 of a grid of 9 x 48 (feasibility study)


@cache
def frequencies() -> Array:
    """Frequencies of the calculation [Hz], (63,): SUB_BANDS to a band, evenly spaced on a log scale."""
    offsets = (np.arange(SUB_BANDS) - (SUB_BANDS - 1) / 2.0) / SUB_BANDS
    return np.asarray((EXACT_BANDS[:, None] * 10.0 ** (offsets / 10.0)).ravel())


@cache
def angles() -> tuple[Array, Array]:
    """Cosines of the angle of incidence and their weights in a diffuse field, (ANGLES,): 2 mu d mu over 0..1."""
    nodes, weights = np.polynomial.legendre.leggauss(ANGLES)
    mu = 0.5 * (nodes + 1.0)
    return mu, weights * mu


def finite_radiation(frequency: Array, mu: Array, size: Array | float) -> Array:
    """Radiation efficiency of a forced wave at an angle, square plate of side ``size`` m, (..., frequencies, angles).

    Davy, J. Acoust. Soc. Am. 126 (2009) 171 (from memory): finite at grazing incidence, 1 / mu elsewhere.
    """
    k = 2.0 * np.pi * frequency[:, None] / SPEED_OF_SOUND
    half = np.asarray(size) / 2.0
    p = np.minimum(1.3 * np.sqrt(np.pi / (2.0 * k * half)), 1.0)
    h = 1.0 / (2.0 / 3.0 * np.sqrt(2.0 * k * half / np.pi) - 0.124)
    h = np.where(h > 0.0, h, 1e3)
    q = np.pi / (2.0 * k**2 * half**2)
    grazing = h - (h / p - 1.0) * mu
    return np.asarray(1.0 / np.sqrt(np.where(mu < p, grazing, mu) ** 2 + q**2))


@lru_cache(maxsize=64)
def _diffuse_weight(size: float) -> Array:
    """Weight of each angle in the transmission coefficient of a diffuse field, finite radiation included, (frequencies, ANGLES)."""
    mu, weight = angles()
    return np.asarray(np.minimum(finite_radiation(frequencies(), mu, size) * mu, 1.0) * weight)


def _bands(tau: Array) -> Array:
    """Mean over the frequencies of each band, (n, 63) -> (n, 21)."""
    return np.asarray(tau.reshape(tau.shape[0], -1, SUB_BANDS).mean(axis=2))


@lru_cache(maxsize=1024)
def _annex_b(wall: Massive) -> Array:
    """Transmission coefficient (21,) of masonry in a laboratory. ISO 12354-1 Annex B."""
    return np.asarray(10.0 ** (-massive_loss(wall, laboratory_loss(wall)) / 10.0))


@lru_cache(maxsize=1024)
def _limp(mass: float, size: float) -> Array:
    """Transmission coefficient (21,) of a limp leaf of a mass [kg/m2]."""
    omega = 2.0 * np.pi * frequencies()[:, None]
    passed = 1.0 / (1.0 + (omega * mass * angles()[0] / (2.0 * AIR_IMPEDANCE)) ** 2)
    return np.asarray(_bands((passed * _diffuse_weight(size)).sum(axis=1)[None])[0])


def transmitted(leaves: Sequence[Complex], spaces: Sequence[Impedances], outside: Array) -> Array:
    """Transmission coefficient of a plane wave, of impedances [Pa s/m] that broadcast: of the leaves, of the spaces between them, and of
    the air outside over the cosine of the angle.

    One equation a leaf: its impedance and those of the spaces at its faces times its velocity, less what its neighbours push through
    the spaces. The system is tridiagonal: the velocity of the last leaf is the product of the couplings over the determinant, and that
    follows by recursion.
    """
    left = [outside, *(z22 for _, _, z22 in spaces)]
    right = [*(z11 for z11, _, _ in spaces), outside]
    determinant: Complex = leaves[0] + (left[0] + right[0])
    before: Complex | float = 1.0  # the determinant of one leaf less
    passed: Array = (2.0 * outside) ** 2
    for i, (_, coupling, _) in enumerate(spaces, start=1):
        longer = leaves[i] + (left[i] + right[i])
        longer *= determinant
        longer -= coupling * coupling * before
        before, determinant = determinant, longer
        passed = passed * (coupling.real**2 + coupling.imag**2)
    return np.asarray(passed / (determinant.real**2 + determinant.imag**2))


class Group:
    """Assemblies that have the same number of leaves, and their transmission. Equal leaves and equal cavities are computed once."""

    def __init__(self, assemblies: Sequence[Assembly], p: Parameters) -> None:
        self.p = p
        self.outside = AIR_IMPEDANCE / angles()[0]  # of the rooms on both sides, for a wave at an angle
        self.walls = [[plate(leaf, p) for leaf in a.leaves] for a in assemblies]
        self.small = [p.size_opening if a.element in ("glazing", "door") else p.size for a in assemblies]
        self.leaves = [Plates.of(list(column)) for column in zip(*self.walls, strict=True)]
        self.impedance = _each_once(self.walls, plate_impedances)
        ties = [[tie(cavity, p, a.element) for cavity in a.cavities] for a in assemblies]
        self.ties = [Ties.of(list(column), p) for column in zip(*ties, strict=True)]
        pairs = zip(self.ties, self.leaves, self.leaves[1:], strict=False)
        self.springs = [spring(frequencies(), t, first, second, p)[:, :, None] for t, first, second in pairs]
        fillings = [
            [_filling(a.cavities[i], row[i].open, a.leaves[i].plies[-1], a.leaves[i + 1].plies[0], a.element, p) for i in range(len(row))]
            for a, row in zip(assemblies, ties, strict=True)
        ]
        self.space = _each_once(fillings, _spaces)

    def loss(self) -> Array:
        """Transmission loss [dB], (assemblies, 21)."""
        tau = _bands(self._through(0, len(self.leaves) - 1) + self._bridges()) * self._masonry()
        return np.asarray(-10.0 * np.log10(np.maximum(tau, 1e-20) + self._perimeter()))

    def _through(self, first: int, last: int) -> Array:
        """Transmission coefficient through leaves first..last and the cavities between them, (assemblies, frequencies)."""
        if first < last:
            return np.array([self._row(row, first, last) for row in range(len(self.walls))])
        alone: dict[tuple[Plate, float], Array] = {}
        for row, wall in enumerate(self.walls):
            if (wall[first], self.small[row]) not in alone:
                alone[wall[first], self.small[row]] = self._row(row, first, first)
        return np.array([alone[wall[first], size] for wall, size in zip(self.walls, self.small, strict=True)])

    def _row(self, row: int, first: int, last: int) -> Array:
        """The same of one assembly, (frequencies,). Arrays as small as those of one assembly stay in the processor's cache."""
        leaves = self.impedance[row][first : last + 1]
        spaces = [_stiffened(self.space[row][i], self.springs[i][row]) for i in range(first, last)]
        along, across = transmitted(leaves, spaces, self.outside)
        return np.asarray((0.5 * (along + across) * _diffuse_weight(self.small[row])).sum(axis=1))

    def _bridges(self) -> Array:
        """Transmission coefficient of all ties, each carried on by the leaves outside it, (assemblies, frequencies)."""
        last = len(self.leaves) - 1
        total = np.zeros((len(self.walls), frequencies().size))
        for i, ties in enumerate(self.ties):
            through = bridge(frequencies(), ties, self.leaves[i], self.leaves[i + 1], self.p)
            if i > 0:
                through = through * self._through(0, i) / self._through(i, i)
            if i + 1 < last:
                through = through * self._through(i + 1, last) / self._through(i + 1, i + 1)
            total += through
        return total

    def _masonry(self) -> Array:
        """Transmission of masonry by ISO 12354-1 Annex B over that of the limp leaf that stands for it in the matrix, (assemblies, 21)."""
        factor = np.ones((len(self.walls), EXACT_BANDS.size))
        for row, plates in enumerate(self.walls):
            for q in plates:
                if q.massive:
                    factor[row] *= _annex_b(q.massive) / _limp(q.mass, self.small[row])
        return factor

    def _perimeter(self) -> Array:
        """What passes linings of masonry by its edges and by the building, (assemblies, 21): the masonry less a fitted gain."""
        total = np.zeros((len(self.walls), EXACT_BANDS.size))
        if len(self.leaves) > 1:
            for row, plates in enumerate(self.walls):
                heavy = [_annex_b(q.massive) for q in plates if q.massive]
                if heavy:
                    total[row] = np.prod(heavy, axis=0) * 10.0 ** (self.p.masonry_cap / 10.0)
        return total


def _each_once(rows: list[list[Key]], work: Callable[[list[Key]], Iterable[Result]]) -> list[list[Result]]:
    """What ``work`` gives for each entry, worked out once for equal entries."""
    kinds: dict[Key, int] = {}
    places = [[kinds.setdefault(key, len(kinds)) for key in row] for row in rows]
    results = list(work(list(kinds))) if kinds else []
    return [[results[place] for place in row] for row in places]


def _stiffened(space: Impedances, spring: Complex) -> Impedances:
    """A cavity with ties beside the air."""
    return space[0] + spring, space[1] + spring, space[2] + spring


def plate_impedances(plates: Sequence[Plate]) -> Complex:
    """Impedance of leaves, (leaves, directions of the board, frequencies, angles); masonry as limp.

    A thin plate in bending, Cremer & Heckl: jwm [1 - (f/fc)^2 (1 + j eta) sin^4], as in calc.isolation.leaf.impedance; the speed of
    bending waves is 1 + spread in one direction of the board and 1 - spread in the other.
    """
    mass, critical, loss, spread = np.array([(q.mass, q.critical, q.loss, q.spread) for q in plates]).T[:, :, None, None, None]
    f, sine = frequencies()[:, None], np.sqrt(1.0 - angles()[0] ** 2)
    direction = np.array([1.0, -1.0])[:, None, None]
    bending = mass / (critical * (1.0 + spread * direction)) ** 2 * (2.0 * np.pi * f**3 * sine**4)
    z = np.empty(bending.shape, dtype=np.complex128)
    z.real = bending * loss
    z.imag = 2.0 * np.pi * f * mass - bending
    return z


Filling = tuple[float, float, float, float]


def _filling(cavity: Cavity, opened: bool, before: Ply, after: Ply, element: str, p: Parameters) -> Filling:
    """Depth of the air [m] and its attenuation [Np/m], depth of the fill [m] and its flow resistivity [Pa s/m2] between two plies."""
    faces = [(material(ply.material), ply.thickness) for ply in (before, after)]
    pores = sum(p.block_pores * thickness for facts, thickness in faces if facts.hollow)
    filled = min(cavity.fill_thickness, cavity.depth) if cavity.fill != "none" else 0.0
    if any(facts.massive for facts, _ in faces):
        attenuation = p.masonry_attenuation
    elif element == "glazing":  # lost at the reveal, whatever the depth
        attenuation = p.reveal_attenuation
    elif opened:  # sideways, which loses more than a bay closed by studs
        attenuation = p.open_attenuation
    else:
        attenuation = p.air_attenuation
    if element != "glazing":
        attenuation *= (0.1 / max(cavity.depth, 0.005)) ** p.attenuation_exponent  # losses at the faces weigh more where they are close
    empty = max(cavity.depth - filled + pores, 1e-5)
    return empty, attenuation, filled, float(load("fills")["fill"][cavity.fill]["resistivity"]) * p.resistance


def _spaces(fillings: Sequence[Filling]) -> list[Impedances]:
    """Impedances of cavities without their ties, each (frequencies, angles)."""
    empty, attenuation, filled, resistivity = np.array(fillings).T[:, :, None, None]
    f, sine = frequencies()[:, None], np.sqrt(1.0 - angles()[0] ** 2)
    space = air(f, sine, empty, attenuation)
    joined = list(zip(*space, strict=True))
    porous = np.flatnonzero(filled.ravel() > 0.0)
    if porous.size:
        bare = space[0][porous], space[1][porous], space[2][porous]
        both = join(fill(f, sine, filled[porous], resistivity[porous]), bare)
        for i, row in zip(porous, zip(*both, strict=True), strict=True):
            joined[i] = row
    return joined
