"""Transmission loss and ratings of assemblies."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.catalogue import load
from calc.isolation.assembly import Assembly
from calc.isolation.impact import impact_level
from calc.isolation.matrix import Group
from calc.isolation.parameters import Parameters, parameters
from calc.isolation.tested import matching_test
from calc.ratings import Rw, iic, rw, stc

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Prediction:
    """``tl`` and ``std_uncertainty`` [dB] in the 21 bands; ratings of exactly those bands; ``iic`` for floors or None;
    ``surface_mass`` kg/m2; ``basis`` is "predicted" or "measured: SOURCE"."""

    tl: Array
    std_uncertainty: Array
    stc: int
    rw: int
    c: int
    ctr: int
    iic: int | None
    surface_mass: float
    basis: str


def transmission_loss(assemblies: Sequence[Assembly], p: Parameters | None = None) -> Array:
    """Predicted transmission loss [dB] of assemblies as a laboratory would measure it, (n, 21). Never looks at measured ratings.

    Assemblies with the same number of leaves are computed together. Method and sources: calc.isolation.matrix, leaf, cavity
    and tie; constants: data/ties.toml. Raises KeyError for a material, fill, frame or support that is not in the catalogue.
    """
    constants = p or parameters()
    result = np.empty((len(assemblies), BANDS.size))
    groups: dict[int, list[int]] = defaultdict(list)
    for index, assembly in enumerate(assemblies):
        groups[len(assembly.leaves)].append(index)
    for members in groups.values():
        result[members] = Group([assemblies[i] for i in members], constants).loss()
    return result


def _uncertainty(anchored: bool) -> Array:
    """Standard uncertainty of a band [dB], (21,): spread between laboratories, with what the model leaves. ISO 12999-1:2020 Table 2."""
    table = load("ties")["uncertainty"]
    laboratory = np.array(table["bands"], dtype=np.float64)
    model = np.full(BANDS.size, float(table["anchored"])) if anchored else np.array(table["model"], dtype=np.float64)
    return np.asarray(np.hypot(laboratory, model))


def _anchor(assembly: Assembly) -> Assembly | None:
    """The test that fixes the level: the assembly's own measured STC, else that of a published test of the same construction."""
    if assembly.measured is not None and "stc" in assembly.measured:
        return assembly
    return matching_test(assembly)


def predictions(assemblies: Sequence[Assembly], use_measured: bool = True) -> tuple[Prediction, ...]:
    """As ``predict`` for many assemblies at once, in order."""
    return tuple(_finish(a, tl, use_measured) for a, tl in zip(assemblies, transmission_loss(assemblies), strict=True))


def predict(assembly: Assembly, use_measured: bool = True) -> Prediction:
    """Bands, ratings and uncertainty of one assembly.

    Where the same construction has a published test (or the description brings its own measured STC) and ``use_measured``, the
    predicted bands are shifted together until their rating is the measured one; nothing is ever added to a rating. Raises as
    ``transmission_loss``.
    """
    return predictions([assembly], use_measured)[0]


def _finish(assembly: Assembly, tl: Array, use_measured: bool) -> Prediction:
    test = _anchor(assembly) if use_measured else None
    basis = "predicted"
    impact = int(iic(impact_level(assembly, tl, parameters()))) if assembly.element == "floor" else None
    if test is not None and test.measured is not None:
        # a shift by whole decibels moves an STC by as much, so the rating of the shifted bands is the measured one
        tl = tl + (round(float(test.measured["stc"])) - int(stc(tl)))
        basis = f"measured: {test.source or test.id}"
        impact = round(float(test.measured["iic"])) if "iic" in test.measured and assembly.element == "floor" else impact
    rating: Rw = rw(tl)
    return Prediction(
        tl=tl,
        std_uncertainty=_uncertainty(test is not None),
        stc=int(stc(tl)),
        rw=int(rating.value),
        c=int(rating.c),
        ctr=int(rating.ctr),
        iic=impact,
        surface_mass=assembly.surface_mass,
        basis=basis,
    )
