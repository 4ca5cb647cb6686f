"""A silencer box designed to size: the smallest that loses what is needed in every band, through its far end and through its walls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, OCTAVES
from calc.catalogue import load
from calc.isolation import duct_path
from calc.isolation.duct_way import lining_absorption, through_wall

Spectrum = NDArray[np.float64]
CHAMBERS, PASSAGES = "lined chambers in a row", "one lined passage, folded"


@dataclass(frozen=True)
class Silencer:
    """A box: its kind; chambers or passages; length, width, height of one inside its lining [m]; lining [m]; layers of panel; whether
    boards stand round it; outside measures [m]; loss through it, and through its walls, in octaves 63 to 4000 Hz (7,) [dB] and in third
    octaves (21,) [dB].

    ``short`` (7,) [dB] is what it still lacks against the loss asked: all 0 where it does what was asked.
    """

    kind: str
    count: int
    inside: tuple[float, float, float]
    lining: float
    layers: int
    enclosed: bool
    outside: tuple[float, float, float]
    loss: Spectrum
    wall: Spectrum
    short: Spectrum

    @property
    def volume(self) -> float:
        """Space it takes [m3]."""
        return float(np.prod(self.outside))

    @property
    def enough(self) -> bool:
        """It loses what was asked in every band."""
        return bool(np.all(self.short <= 0.0))


@dataclass(frozen=True)
class _Shape:
    kind: str
    count: int
    inside: tuple[float, float, float]
    lining: float
    loss: Spectrum

    def outside(self, layers: int) -> tuple[float, float, float]:
        """Length, width, height over all [m]; neighbours share the panel between them, lined on both faces."""
        panel = layers * float(load("ducts")["box"]["panel"])
        skin, (length, width, height) = 2.0 * self.lining + panel, self.inside
        if self.kind == CHAMBERS:
            return self.count * (length + skin) + panel, width + skin + panel, height + skin + panel
        return length + skin + panel, self.count * (width + skin) + panel, height + skin + panel


def octaves_needed(needed: Spectrum) -> Spectrum:
    """The most that the three bands of each octave ask for: (21,) to (7,) [dB]; (7,) as it is. Raises ValueError for another shape."""
    if needed.shape == BANDS.shape:
        return np.asarray(needed.reshape(OCTAVES.size, 3).max(axis=1))
    if needed.shape != OCTAVES.shape:
        raise ValueError(f"the loss needed takes {BANDS.size} or {OCTAVES.size} bands, not {needed.shape}")
    return needed


def chamber_loss(inside: tuple[float, float, float], count: int, side: float, lining: float) -> Spectrum:
    """Loss (7,) [dB] of a row of lined chambers on a duct of a free side [m]; inner sizes, lining [m]. Source: duct_path.silencer_box."""
    return duct_path.silencer_box(*inside, count, side**2, lining_absorption(lining))


def passage_loss(inside: tuple[float, float, float], count: int, lining: float) -> Spectrum:
    """Loss (7,) [dB] of a lined passage of length, width, height [m], folded ``count`` times: two lined elbows at each turn.

    Source: duct_path.lined_duct and elbow; a turn as two elbows is common practice, no source.
    """
    length, width, height = inside
    along = duct_path.lined_duct(width, height, count * length, lining)
    return np.asarray(along + 2 * (count - 1) * duct_path.elbow(width, "square, lined"), dtype=np.float64)


@lru_cache(maxsize=16)
def _shapes(side: float) -> tuple[_Shape, ...]:
    return (*_chambers(side), *_passages(side))


def _chambers(side: float) -> Iterator[_Shape]:
    data: dict[str, Any] = load("duct_flow")["silencer"]
    row = data["chambers"]
    for lining, count, *ratios in product(data["linings"], row["counts"], row["lengths"], row["widths"], row["heights"]):
        length, width, height = (float(ratio) * side for ratio in ratios)
        yield _Shape(CHAMBERS, count, (length, width, height), lining, chamber_loss((length, width, height), count, side, lining))


def _passages(side: float) -> Iterator[_Shape]:
    data: dict[str, Any] = load("duct_flow")["silencer"]
    row = data["passages"]
    for lining, count, length, ratio in product(data["linings"], row["counts"], row["lengths"], row["widths"]):
        if count * length <= row["most_length"]:
            inside = float(length), float(ratio) * side, side / float(ratio)
            yield _Shape(PASSAGES, count, inside, lining, passage_loss(inside, count, lining))


def wall_loss(shape: tuple[float, float, float], count: int, layers: int, loss: Spectrum, enclosed: bool) -> Spectrum:
    """Loss (21,) [dB] from what enters a box to what its walls radiate: inner sizes [m] of one part, parts, layers of panel, and what it
    loses inside (7,) [dB]. Source: calc.isolation.breakout."""
    length, width, height = shape
    mass = layers * float(load("ducts")["box"]["panel_mass"])
    return through_wall(width, height, length * count, mass, loss, enclosed)


def smallest(needed: Spectrum, side: float, walls_needed: Spectrum | None = None, enclosed: tuple[bool, ...] = (False, True)) -> Silencer:
    """The box of least outside volume that loses what is needed on a duct of a free side [m].

    ``needed`` (21,) or (7,) [dB] from its inlet to its outlet, ``walls_needed`` (21,) [dB] from its inlet through its walls (not asked when
    None); ``enclosed``: whether boards may stand round it, the first tried first. Where none does all of it, the one whose worst band lacks
    least: see ``Silencer.short``. Raises ValueError for another number of bands.

    Source: search over the sizes of data/duct_flow.toml; loss by Wells' plenum, Reynolds & Bledsoe, and the breakout formulas.
    """
    asked = octaves_needed(needed)
    limits, most = np.array(load("duct_flow")["silencer"]["most_outside"]), max(load("duct_flow")["silencer"]["layers"])
    fitting = [shape for shape in _shapes(side) if np.all(np.array(shape.outside(most)) <= limits)]
    if not fitting:
        raise ValueError(f"no silencer box for a duct of {side:.2f} m goes down a stair")
    lacks = np.array([np.max(np.maximum(asked - shape.loss, 0.0)) for shape in fitting])
    best = lacks.min()
    enough = sorted(
        (shape for shape, lack in zip(fitting, lacks, strict=True) if lack <= best), key=lambda shape: np.prod(shape.outside(1))
    )
    return min((_cased(shape, asked, walls_needed, enclosed) for shape in enough[:40]), key=rank)


def rank(box: Silencer) -> tuple[float, float]:
    """The better of two boxes is the one that lacks less, then the smaller one."""
    return float(np.max(box.short)), box.volume


def _cased(shape: _Shape, asked: Spectrum, walls_needed: Spectrum | None, boards: tuple[bool, ...]) -> Silencer:
    """The shape with the thinnest casing that its walls need; the heaviest where none is enough."""
    wanted = np.full(BANDS.size, -np.inf) if walls_needed is None else walls_needed
    found: list[Silencer] = []
    for enclosed, layers in product(boards, load("duct_flow")["silencer"]["layers"]):
        wall = wall_loss(shape.inside, shape.count, layers, shape.loss, enclosed)
        lacks = np.maximum(octaves_needed(wanted - wall), 0.0)
        short = np.maximum(np.maximum(asked - shape.loss, 0.0), lacks)
        box = Silencer(
            shape.kind, shape.count, shape.inside, shape.lining, layers, enclosed, shape.outside(layers), shape.loss, wall, short
        )  # fmt: skip
        if np.all(lacks <= 0.0):
            return box
        found.append(box)
    return min(found, key=rank)


def pressure_coefficient(box: Silencer, mitred: float) -> float:
    """Loss coefficient of a box on the velocity pressure in its openings: an exit and an entry a chamber; two mitred elbows a turn.

    Source: ends of data/duct_flow.toml; elbow coefficient given.
    """
    ends = load("duct_flow")["end"]
    return box.count * float(ends["exit"] + ends["entry"]) if box.kind == CHAMBERS else 2.0 * (box.count - 1) * mitred
