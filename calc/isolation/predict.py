"""Transmission loss and ratings of assemblies."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.catalogue import load
from calc.isolation.assembly import Assembly
from calc.isolation.impact import impact_level
from calc.isolation.matrix import Group
from calc.isolation.parameters import Parameters, parameters
from calc.isolation.tested import matching_test
from calc.ratings import iic, rw, stc

Array = NDArray[np.float64]
_BATCH = 512  # assemblies to a batch, to bound the memory


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
        for start in range(0, len(members), _BATCH):
            batch = members[start : start + _BATCH]
            result[batch] = Group([assemblies[i] for i in batch], constants).loss()
    return result


@cache
def _uncertainty(anchored: bool) -> Array:
    """Standard uncertainty of a band [dB], (21,): spread between laboratories, with what the model leaves. ISO 12999-1:2020 Table 2."""
    table = load("ties")["uncertainty"]
    laboratory = np.array(table["bands"], dtype=np.float64)
    model = np.full(BANDS.size, float(table["anchored"])) if anchored else np.array(table["model"], dtype=np.float64)
    both = np.asarray(np.hypot(laboratory, model))
    both.setflags(write=False)
    return both


def _anchor(assembly: Assembly) -> Assembly | None:
    """The test that fixes the level: the assembly's own measured STC, else that of a published test of the same construction."""
    if assembly.measured is not None and "stc" in assembly.measured:
        return assembly
    return matching_test(assembly)


def predictions(assemblies: Sequence[Assembly], use_measured: bool = True) -> tuple[Prediction, ...]:
    """Bands, ratings and uncertainty of many assemblies at once, in order.

    Where the same construction has a published test (or the description brings its own measured STC) and ``use_measured``, the
    predicted bands are shifted together until their rating is the measured one; nothing is ever added to a rating. Raises as
    ``transmission_loss``.
    """
    if not assemblies:
        return ()
    loss = transmission_loss(assemblies)
    tests = [_anchor(a) if use_measured else None for a in assemblies]
    measured = [test.measured if test is not None and test.measured is not None else {} for test in tests]
    impact = _impact(assemblies, loss, measured)
    # a shift by whole decibels moves an STC by as much, so the rating of the shifted bands is the measured one
    found = np.asarray(stc(loss))
    loss = loss + np.array([round(float(m["stc"])) - now if m else 0 for m, now in zip(measured, found, strict=True)])[:, None]
    classes, weighted = np.asarray(stc(loss)), rw(loss)
    values, c, ctr = (np.asarray(x) for x in (weighted.value, weighted.c, weighted.ctr))
    return tuple(
        Prediction(
            tl=loss[i],
            std_uncertainty=_uncertainty(test is not None),
            stc=int(classes[i]),
            rw=int(values[i]),
            c=int(c[i]),
            ctr=int(ctr[i]),
            iic=impact[i],
            surface_mass=assembly.surface_mass,
            basis=f"measured: {test.source or test.id}" if test is not None else "predicted",
        )
        for i, (assembly, test) in enumerate(zip(assemblies, tests, strict=True))
    )


def _impact(assemblies: Sequence[Assembly], loss: Array, measured: Sequence[dict[str, Any]]) -> list[int | None]:
    """Impact class of the floors, the measured one where there is one; None for what is no floor."""
    result: list[int | None] = [None] * len(assemblies)
    floors = [i for i, a in enumerate(assemblies) if a.element == "floor"]
    if floors:
        classes = np.asarray(iic(np.array([impact_level(assemblies[i], loss[i], parameters()) for i in floors])))
        for i, value in zip(floors, classes, strict=True):
            result[i] = round(float(measured[i]["iic"])) if "iic" in measured[i] else int(value)
    return result


def predict(assembly: Assembly, use_measured: bool = True) -> Prediction:
    """As ``predictions`` for one assembly."""
    return predictions([assembly], use_measured)[0]
