"""How sure a level at a listener is: Monte Carlo over what is uncertain, with a fixed seed, and what would make it surer.

Data and sources: data/certainty.toml. Every path errs on its own; the bands of a path err partly together. The source errs as a whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import A_WEIGHTING, BANDS, energy_sum
from calc.catalogue import load
from calc.isolation.path import Path
from calc.kept import Kept

Spectrum = NDArray[np.float64]
Draws = NDArray[np.float32]
_LN = np.log(10.0) / 10.0
_ONES = np.ones(BANDS.size, dtype=np.float32)
_NOTHING = np.float32(1e-30)
_A_SHARES = (10.0 ** (A_WEIGHTING / 10.0)).astype(np.float32)
_MOVED: Kept[Draws] = Kept(64)  # the drawn energy of a path, 170 kB: most paths of a scheme are those of the one looked at before
_ABREAST = 20  # draws taken in one row, a divisor of their number: numpy is slow on many short rows
_DEAF = 30.0  # dB; a path that stays so far under the sum in every band, its spread thrice taken in, is left out of the draws


@dataclass(frozen=True)
class Likely:
    """``likelihood`` 0..1 of keeping the target in every band and in total; ``low`` and ``high`` bound the A-weighted level [dB]."""

    likelihood: float
    low: float
    high: float


def _data() -> dict[str, Any]:
    return load("certainty")


def source_uncertainty(measured: bool) -> float:
    """Standard uncertainty of the source [dB] by where its level comes from. Source: data/certainty.toml."""
    return float(_data()["source_measured" if measured else "source_stated"])


def _spread(path: Path) -> Spectrum:
    """Standard uncertainty (21,) [dB] of a path as built."""
    return np.asarray(np.hypot(path.uncertainty, _data()["workmanship"]), dtype=np.float64)


@cache
def _normals(paths: int) -> tuple[Draws, Draws]:
    """Standard normal draws: (paths, draws, 21) of paths, their bands partly together, and (draws,) of the source."""
    data = _data()
    share, draws = float(data["common_share"]), int(data["draws"])
    generator = np.random.default_rng(int(data["seed"]))
    source = generator.standard_normal(draws, dtype=np.float32)
    each = generator.standard_normal((draws, paths, BANDS.size + 1), dtype=np.float32)
    by_path = each.transpose(1, 0, 2)
    together = np.multiply(by_path[:, :, 1:], np.float32(np.sqrt(1.0 - share)), order="C")
    together += np.float32(np.sqrt(share)) * by_path[:, :, :1]
    return together, source


def likely(found: Sequence[Path], source_spread: float, target: Spectrum, limit: float) -> Likely:
    """Likelihood that the sum of paths keeps ``target`` (21,) [dB] and ``limit`` [dBA], and its range.

    ``source_spread`` [dB] moves all paths together. Raises ValueError without paths. Source: Monte Carlo as JCGM 101:2008; spreads as the
    paths and data/certainty.toml name them.
    """
    if not found:
        raise ValueError("a likelihood needs a path")
    levels, spreads = np.stack([p.levels for p in found]), np.stack([_spread(p) for p in found])
    heard = np.any(levels + 3.0 * spreads > energy_sum(levels, axis=0) - _DEAF, axis=1)
    levels, spreads = levels[heard], spreads[heard]
    normals, source = _normals(int(2 ** np.ceil(np.log2(max(len(levels), 4)))))
    loudest = float(levels.max())  # energies are shares of this one's, so that single precision holds them
    energy = _drawn_energy(normals, 10.0 ** ((levels - loudest) / 10.0), _LN * spreads)
    louder = source_spread * source
    total = 10.0 * np.log10(np.maximum(energy @ _A_SHARES, 1e-30)) + loudest + louder
    energy *= 10.0 ** (louder[:, None] / 10.0)
    within = _abreast(energy) <= np.tile(_single(10.0 ** ((target - loudest) / 10.0)), _ABREAST)
    bands = within.reshape(energy.shape).astype(np.float32) @ _ONES  # quicker than to ask whether all of a short row are true
    kept = (bands == BANDS.size) & (total <= limit)
    low, high = np.interp(np.array(_data()["range"]) * (total.size - 1), np.arange(total.size), np.sort(total))
    return Likely(float(kept.mean()), float(low), float(high))


def _drawn_energy(normals: Draws, shares: Spectrum, spreads: Spectrum) -> Draws:
    """Summed energy (draws, 21) of paths with shares and spreads (paths, 21); path by path, which stays in the processor's cache.

    Each path is moved until the middle of its drawn A-weighted totals is the predicted one.

    A sum of energies rises when its bands scatter, but the engine is fitted to ratings of measured bands, which hold that scatter already.
    What remains is real: of several paths the one that turns out worse decides.
    """
    energy = np.zeros(normals.shape[1:], dtype=np.float32)
    summed = _abreast(energy)
    for place, (share, spread) in enumerate(zip(shares.astype(np.float32), spreads.astype(np.float32), strict=True)):
        key = (len(normals), place, share.tobytes(), spread.tobytes())
        summed += _MOVED.get(key, partial(_moved, normals[place], share, spread))
    return energy


def _moved(normal: Draws, share: Draws, spread: Draws) -> Draws:
    """Drawn energy of one path of ``share`` and ``spread`` (21,), several draws to a row; kept, callers must not change it."""
    lifts = np.empty_like(normal)
    wide = _abreast(lifts)
    np.exp(np.multiply(_abreast(normal), np.tile(spread, _ABREAST), out=wide), out=wide)
    weights = share * _A_SHARES
    middle = _median(lifts @ weights)
    wide *= np.tile(share, _ABREAST) * (weights.sum() / max(middle, _NOTHING))
    return wide


def _abreast(draws: Draws) -> Draws:
    """The same draws (n, 21), several to a row."""
    return draws.reshape(-1, _ABREAST * BANDS.size)


def _single(values: Spectrum) -> Draws:
    """The greatest number of single precision that is not over each value: whatever of single precision keeps one keeps the other."""
    near = values.astype(np.float32)
    return np.where(near > values, np.nextafter(near, np.float32(-np.inf)), near)


def _median(values: Draws) -> np.float32:
    """As numpy's, which looks for what is no number as well and takes twice as long."""
    low, high = (values.size - 1) // 2, values.size // 2
    return np.float32(np.partition(values, (low, high))[[low, high]].mean())


def raisers(found: Sequence[Path], source_spread: float) -> tuple[str, ...]:
    """What would make the A-weighted level surer, the most first: a sentence each, with the range it leaves, 5th to 95th percentile.

    Variances are carried to the total to first order, so the numbers are for ranking. Only steps that narrow the range by at least a
    tenth, and by a decibel as it is shown, are named, three at most. Source: law of propagation of uncertainty (JCGM 100:2008, 5.1.2);
    data/certainty.toml.
    """
    shares = _variances(found, source_spread)
    total = sum(variance for _, _, variance, _ in shares)
    named: dict[str, tuple[float, str]] = {}
    for doubt, name, variance, size in shares:
        row = _data()["raiser"].get(doubt)
        if row is None or size <= row["left"]:
            continue
        left = total - variance * (1.0 - (row["left"] / size) ** 2)
        named[doubt] = min(named.get(doubt, (total, "")), (left, str(row["text"]).format(name=name)))
    ranked = sorted(named.values())
    wide = 1.645
    return tuple(
        f"{text}: the range narrows from ±{wide * total**0.5:.0f} dB to ±{wide * left**0.5:.0f} dB."
        for left, text in ranked[:3]
        if left**0.5 <= 0.9 * total**0.5 and round(wide * left**0.5) < round(wide * total**0.5)
    )


def _variances(found: Sequence[Path], source_spread: float) -> list[tuple[str, str, float, float]]:
    """Kind of doubt, name, variance of the A-weighted level [dB2] and the doubt's own mean spread [dB], the source first."""
    levels = np.stack([path.levels for path in found]) + A_WEIGHTING
    weight = 10.0 ** ((levels - energy_sum(levels.ravel(), axis=0)) / 10.0)
    share = float(_data()["common_share"])
    rows = [("source", "", source_spread**2, source_spread)]
    for path, mine in zip(found, weight, strict=True):
        moved = mine * _spread(path)
        variance = share * float(moved.sum()) ** 2 + (1.0 - share) * float((moved**2).sum())
        rows.append((path.doubt, path.name, variance, float(moved.sum() / mine.sum())))
    return rows
