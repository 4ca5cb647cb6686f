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
from calc.isolation.tested import matching_test, without_compound
from calc.ratings import iic, rw, stc

Array = NDArray[np.float64]
_BATCH = 512  # assemblies to a batch, to bound the memory
WITHOUT_COMPOUND = "predicted, from the test of the same construction without compound: "


@dataclass(frozen=True)
class Prediction:
    """``tl`` and ``std_uncertainty`` [dB] in the 21 bands; ratings of exactly those bands; ``iic`` for floors or None;
    ``surface_mass`` kg/m2; ``basis`` is "predicted", "measured: SOURCE", or WITHOUT_COMPOUND and the source."""

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


@dataclass(frozen=True)
class _Anchor:
    """A published test; ``carried`` where it is of the same construction without compound."""

    test: Assembly
    carried: bool = False

    @property
    def measured(self) -> dict[str, Any]:
        return self.test.measured or {}

    @property
    def basis(self) -> str:
        return f"{WITHOUT_COMPOUND if self.carried else 'measured: '}{self.test.source or self.test.id}"


def _anchor(assembly: Assembly) -> _Anchor | None:
    """The test that fixes the level: the assembly's own measured STC, else that of a published test of the same construction, else of the
    same construction without compound, since compound takes nothing away. A test is carried over to nothing else."""
    if assembly.measured is not None and "stc" in assembly.measured:
        return _Anchor(assembly)
    plain = without_compound(assembly)
    for of, carried in ((assembly, False), (plain, True)):
        test = matching_test(of) if of is not None else None
        if test is not None:
            return _Anchor(test, carried)
    return None


def _loss_and_gain(assemblies: Sequence[Assembly]) -> tuple[Array, Array]:
    """Loss without compound and what compound adds to it, both (n, 21) [dB].

    Beside a resonance of the bays the model has up to half a decibel less with compound, finer than it can tell: counted as nothing."""
    twins = {i: twin for i, each in enumerate(assemblies) if (twin := without_compound(each)) is not None}
    found = transmission_loss([*assemblies, *twins.values()])
    plain, gain = found[: len(assemblies)], np.zeros((len(assemblies), BANDS.size))
    if twins:
        damped, bare = plain[list(twins)], found[len(assemblies) :]
        gain[list(twins)], plain[list(twins)] = np.maximum(damped - bare, 0.0), bare
    return plain, gain


def predictions(assemblies: Sequence[Assembly], use_measured: bool = True) -> tuple[Prediction, ...]:
    """Bands, ratings and uncertainty of many assemblies at once, in order.

    Where the same construction has a published test (or the description brings its own measured STC) and ``use_measured``, the
    predicted bands are shifted together until their rating is the measured one; nothing is ever added to a rating. Where only the same
    construction without compound has one, its shift is taken. Raises as ``transmission_loss``.
    """
    if not assemblies:
        return ()
    plain, gain = _loss_and_gain(assemblies)
    loss = plain + gain
    anchors = [_anchor(each) if use_measured else None for each in assemblies]
    carried = np.array([each is not None and each.carried for each in anchors])[:, None]
    known = np.where(carried, plain, loss)  # what the test, if any, is of
    impact = _impact(assemblies, loss, known, anchors)
    # a shift by whole decibels moves an STC by as much, so the rating of the shifted bands is the measured one
    now = np.asarray(stc(known))
    shift = [round(float(anchor.measured["stc"])) - int(now[i]) if anchor else 0 for i, anchor in enumerate(anchors)]
    loss = loss + np.array(shift)[:, None]
    classes, weighted = np.asarray(stc(loss)), rw(loss)
    values, c, ctr = (np.asarray(x) for x in (weighted.value, weighted.c, weighted.ctr))
    unsure = float(load("ties")["uncertainty"]["compound"]) * gain
    return tuple(
        Prediction(
            tl=loss[i],
            std_uncertainty=np.hypot(_uncertainty(anchor is not None), unsure[i]),
            stc=int(classes[i]),
            rw=int(values[i]),
            c=int(c[i]),
            ctr=int(ctr[i]),
            iic=impact[i],
            surface_mass=assembly.surface_mass,
            basis="predicted" if anchor is None else anchor.basis,
        )
        for i, (assembly, anchor) in enumerate(zip(assemblies, anchors, strict=True))
    )


def _impact(assemblies: Sequence[Assembly], loss: Array, known: Array, anchors: Sequence[_Anchor | None]) -> list[int | None]:
    """Impact class of the floors, with the difference to a measured one carried over; None for what is no floor. ``known`` (n, 21): loss of
    what was tested. The walked-on leaf has no compound, so that of the floor tested gives the same blow."""
    result: list[int | None] = [None] * len(assemblies)
    floors = [i for i, a in enumerate(assemblies) if a.element == "floor"]
    if floors:
        levels = [impact_level(assemblies[i], tl[i], parameters()) for tl in (loss, known) for i in floors]
        found, bare = np.split(np.asarray(iic(np.array(levels))), 2)
        for i, value, same in zip(floors, found, bare, strict=True):
            anchor = anchors[i]
            more = round(float(anchor.measured["iic"])) - int(same) if anchor and "iic" in anchor.measured else 0
            result[i] = int(value) + more
    return result


def predict(assembly: Assembly, use_measured: bool = True) -> Prediction:
    """As ``predictions`` for one assembly."""
    return predictions([assembly], use_measured)[0]
