"""Diffuse-field transmission of many assemblies with the same number of leaves at once."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import EXACT_BANDS
from calc.catalogue import load
from calc.isolation.assembly import Assembly
from calc.isolation.cavity import Matrix, add_spring, air, fill, multiply
from calc.isolation.leaf import Plate, impedance, laboratory_loss, massive_loss, plate
from calc.isolation.parameters import AIR_IMPEDANCE, SPEED_OF_SOUND, Parameters
from calc.isolation.tie import Plates, Ties, bridge, spring, tie

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
SUB_BANDS = 3  # frequencies in a band
_ALL, _NEAR = slice(None), slice(-1, None)  # all angles; the one nearest to normal incidence
ANGLES = 12  # Gauss points over the cosine; with 3 frequencies an STC is within 0.1 of a grid of 9 x 48 (feasibility study)


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
    return 1.0 / np.sqrt(np.where(mu < p, grazing, mu) ** 2 + q**2)


class Group:
    """Arrays of assemblies that have the same number of leaves, and their transmission."""

    def __init__(self, assemblies: Sequence[Assembly], p: Parameters) -> None:
        self.p = p
        self.f = frequencies()
        self.mu, self.weight = angles()
        self.sine = np.sqrt(1.0 - self.mu**2)
        self.walls: list[list[Plate]] = [[plate(leaf, p) for leaf in a.leaves] for a in assemblies]
        self.leaves = [Plates.of(list(column)) for column in zip(*self.walls, strict=True)]
        self.spread = np.array([[q.spread for q in row] for row in self.walls])
        self.airborne_critical = np.array([[q.critical for q in row] for row in self.walls])
        small = np.array([a.element in ("glazing", "door") for a in assemblies])
        self.size = np.where(small, p.size_opening, p.size)[:, None, None]
        count = len(assemblies[0].cavities)
        self.ties = [Ties.of([tie(a.cavities[i], p, a.element) for a in assemblies], p) for i in range(count)]
        fills = load("fills")["fill"]
        depth = np.array([[c.depth for c in a.cavities] for a in assemblies]).reshape(len(assemblies), count)
        self.depth = depth
        wanted = np.array([[c.fill_thickness if c.fill != "none" else 0.0 for c in a.cavities] for a in assemblies])
        self.filled = np.minimum(wanted.reshape(depth.shape), depth)
        # masonry is uneven and its pores are open behind a lining, so the air there is deeper than the drawing says
        rough = np.array(
            [[float(row[i].massive is not None or row[i + 1].massive is not None) for i in range(count)] for row in self.walls]
        )
        self.empty = depth - self.filled + p.masonry_depth * rough.reshape(depth.shape)
        resistivity = [[float(fills[c.fill]["resistivity"]) * p.resistance for c in a.cavities] for a in assemblies]
        self.resistivity = np.array(resistivity).reshape(depth.shape)

    def loss(self) -> Array:
        """Transmission loss [dB], (assemblies, 21)."""
        tau = self._through() + self._bridges()
        tau = tau.reshape(tau.shape[0], -1, SUB_BANDS).mean(axis=2)
        tau = tau * self._masonry()
        return np.asarray(-10.0 * np.log10(np.maximum(tau, 1e-20) + self._perimeter()))

    def _leaf(self, i: int, angle: slice) -> Complex:
        """Impedance of leaf i, (assemblies, frequencies, directions of the board, angles)."""
        leaf = self.leaves[i]
        return impedance(
            self.f[None, :, None, None],
            self.sine[angle],
            leaf.mass[:, :, None, None],
            self.airborne_critical[:, i, None, None, None],
            leaf.loss[:, :, None, None],
            self.spread[:, i, None, None, None] * np.array([[1.0], [-1.0]]),
        )

    def _cavity(self, i: int, angle: slice) -> Matrix:
        """Matrix of cavity i with its ties, (assemblies, frequencies, 1, angles)."""
        f, sine = self.f[None, :, None, None], self.sine[angle]
        attenuation = self._attenuation(i)[:, :, None, None]
        space = air(f, sine, self.empty[:, i, None, None, None], attenuation)
        if self.filled[:, i].any():
            porous = fill(f, sine, self.filled[:, i, None, None, None], self.resistivity[:, i, None, None, None])
            space = multiply(porous, space)
        tied = spring(self.f[None, :], self.ties[i], self.leaves[i], self.leaves[i + 1], self.p)
        return add_spring(space, tied[:, :, None, None])

    def _attenuation(self, i: int) -> Array:
        """Attenuation of the air in cavity i [Np/m], (assemblies, 1): bays closed by studs lose less than a cavity that is open sideways,
        and losses at the faces weigh more where they are close together."""
        base = np.where(self.ties[i].open > 0.0, self.p.open_attenuation, self.p.air_attenuation)
        depth = np.maximum(self.depth[:, i, None], 0.005)
        return np.asarray(base * (0.1 / depth) ** self.p.attenuation_exponent)

    def _chain(self, first: int, last: int, angle: slice = _ALL) -> Matrix:
        """Matrix of leaves first..last with the cavities between them."""
        one = np.ones((1, 1, 1, 1), dtype=np.complex128)
        total: Matrix = (one, self._leaf(first, angle), 0.0 * one, one)
        for i in range(first, last):
            total = multiply(total, self._cavity(i, angle))
            a, b, c, d = total
            z = self._leaf(i + 1, angle)
            total = (a, a * z + b, c, c * z + d)
        return total

    def _passed(self, matrix: Matrix, angle: slice = _ALL) -> Array:
        """Squared magnitude of the pressure that passes, mean of both directions of the boards, (assemblies, frequencies, angles)."""
        a, b, c, d = matrix
        mu = self.mu[angle]
        return np.asarray((np.abs(2.0 / (a + b * (mu / AIR_IMPEDANCE) + c * (AIR_IMPEDANCE / mu) + d)) ** 2).mean(axis=2))

    def _diffuse(self, matrix: Matrix) -> Array:
        """Transmission coefficient in a diffuse field with finite radiation, (assemblies, frequencies)."""
        radiated = np.minimum(finite_radiation(self.f, self.mu, self.size) * self.mu, 1.0)
        return np.asarray((self._passed(matrix) * (radiated * self.weight)).sum(axis=2))

    def _through(self) -> Array:
        """Transmission coefficient through leaves and cavities, (assemblies, frequencies)."""
        return self._diffuse(self._chain(0, len(self.leaves) - 1))

    def _bridges(self) -> Array:
        """Transmission coefficient of all ties, each carried on by the leaves outside it at near-normal incidence."""
        last = len(self.leaves) - 1
        total = np.zeros((self.spread.shape[0], self.f.size))
        for i, ties in enumerate(self.ties):
            through = bridge(self.f[None, :], ties, self.leaves[i], self.leaves[i + 1], self.p)
            if i > 0:
                through = through * self._carried(0, i, i)
            if i + 1 < last:
                through = through * self._carried(i + 1, last, i + 1)
            total += through
        return total

    def _carried(self, first: int, last: int, own: int) -> Array:
        """Energy that a chain of leaves passes over what the one leaf at the bridge passes alone, (assemblies, frequencies)."""
        return np.asarray(self._diffuse(self._chain(first, last)) / self._diffuse(self._chain(own, own)))

    def _masonry(self) -> Array:
        """Transmission of masonry by ISO 12354-1 Annex B over that of the limp leaf that stands for it in the matrix, (assemblies, 21)."""
        factor = np.ones((len(self.walls), EXACT_BANDS.size))
        for i, leaf in enumerate(self.leaves):
            rows = np.flatnonzero(leaf.massive[:, 0])
            if rows.size == 0:
                continue
            limp = self._diffuse(self._chain(i, i))
            limp = limp.reshape(limp.shape[0], -1, SUB_BANDS).mean(axis=2)
            for row in rows:
                factor[row] *= self._annex_b(int(row), i) / limp[row]
        return factor

    def _annex_b(self, row: int, i: int) -> Array:
        wall = self.walls[row][i].massive
        assert wall is not None
        return np.asarray(10.0 ** (-massive_loss(wall, laboratory_loss(wall)) / 10.0))

    def _perimeter(self) -> Array:
        """What passes linings of masonry by its edges and by the building, (assemblies, 21): the masonry less a fitted gain."""
        total = np.zeros((len(self.walls), EXACT_BANDS.size))
        if len(self.leaves) == 1:
            return total
        for row, plates in enumerate(self.walls):
            heavy = [i for i, q in enumerate(plates) if q.massive]
            if heavy:
                product = np.prod([self._annex_b(row, i) for i in heavy], axis=0)
                total[row] = product * 10.0 ** (self.p.masonry_cap / 10.0)
        return total
