"""Single-number ratings of band spectra.

Every rating takes one spectrum (bands,) or many (n, bands) and gives one number or an array of them. Spectra have
the 21 bands of calc.bands, or exactly the bands that the rating uses.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calc.bands import BANDS, octave_loss

Array = NDArray[np.float64]

# ASTM E413 contour relative to its value at 500 Hz, 125-4000 Hz (rules seen on several pages).
STC_CONTOUR: Array = np.array([-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4], dtype=np.float64)
# ISO 717-1:2020 Table 3, reference values 100-3150 Hz [dB].
RW_REFERENCE: Array = np.array([33, 36, 39, 42, 45, 48, 51, 52, 53, 54, 55, 56, 56, 56, 56, 56], dtype=np.float64)
# ISO 717-1 Table 4, spectra 1 (C) and 2 (Ctr), 100-3150 Hz [dB].
C_SPECTRUM: Array = np.array([-29, -26, -23, -21, -19, -17, -15, -13, -12, -11, -10, -9, -9, -9, -9, -9], dtype=np.float64)
CTR_SPECTRUM: Array = np.array([-20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15], dtype=np.float64)
# ISO 717-1 Annex B, spectra for 50-5000 Hz [dB].
C_SPECTRUM_WIDE: Array = np.array(
    [-41, -37, -34, -30, -27, -24, -22, -20, -18, -16, -14, -13, -12, -11, -10, -10, -10, -10, -10, -10, -10], dtype=np.float64
)
CTR_SPECTRUM_WIDE: Array = np.array(
    [-25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15, -16, -18], dtype=np.float64
)
# ISO 717-2:2020 Table 3, reference values of impact level 100-3150 Hz [dB]; ASTM E989 uses the same contour.
IMPACT_REFERENCE: Array = np.array([62, 62, 62, 62, 62, 62, 61, 60, 59, 58, 57, 54, 51, 48, 45, 42], dtype=np.float64)
# ASTM E1332 Table 1, A-weighted reference source spectrum 80-4000 Hz [dB] and its total.
_OITC_SOURCE: Array = np.array([103, 102, 101, 98, 97, 95, 94, 93, 93, 91, 90, 89, 89, 88, 88, 87, 85, 84], dtype=np.float64)
_OITC_A: Array = np.array([-22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2, -1.9, -0.8, 0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0])
# NC curves, ANSI/ASA S12.2 Table 1 (Beranek 1957), octaves 63-8000 Hz [dB].
NC_OCTAVES: Array = np.array([63, 125, 250, 500, 1000, 2000, 4000, 8000], dtype=np.float64)
NC_NUMBERS: Array = np.arange(15.0, 71.0, 5.0)
NC_CURVES: Array = np.array(
    [
        [47, 36, 29, 22, 17, 14, 12, 11],
        [51, 40, 33, 26, 22, 19, 17, 16],
        [54, 44, 37, 31, 27, 24, 22, 21],
        [57, 48, 41, 35, 31, 29, 28, 27],
        [60, 52, 45, 40, 36, 34, 33, 32],
        [64, 56, 50, 45, 41, 39, 38, 37],
        [67, 60, 54, 49, 46, 44, 43, 42],
        [71, 64, 58, 54, 51, 49, 48, 47],
        [74, 67, 62, 58, 56, 54, 53, 52],
        [77, 71, 67, 63, 61, 59, 58, 57],
        [80, 75, 71, 68, 66, 64, 63, 62],
        [83, 79, 75, 72, 71, 70, 69, 68],
    ],
    dtype=np.float64,
)
# NR curves, octave levels a + b NR [dB], 31.5-8000 Hz. ISO/R 1996:1971 (coefficients seen on several pages).
NR_OCTAVES: Array = np.array([31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000], dtype=np.float64)
NR_A: Array = np.array([55.4, 35.5, 22.0, 12.0, 4.8, 0.0, -3.5, -6.1, -8.0])
NR_B: Array = np.array([0.681, 0.79, 0.87, 0.93, 0.974, 1.0, 1.015, 1.025, 1.03])


@dataclass(frozen=True)
class Rw:
    """Weighted sound reduction index and its adaptation terms [dB]; each an int, or an int array for many spectra."""

    value: int | NDArray[np.int64]
    c: int | NDArray[np.int64]
    ctr: int | NDArray[np.int64]


def _select(levels: ArrayLike, first: float, last: float) -> Array:
    """The bands ``first``..``last`` of spectra of 21 bands, as (n, bands). Raises ValueError for another number of bands."""
    values = np.atleast_2d(np.asarray(levels, dtype=np.float64))
    wanted = (first <= BANDS) & (last >= BANDS)
    if values.ndim == 2 and values.shape[-1] == BANDS.size:
        values = values[:, wanted]
    if values.ndim != 2 or values.shape[-1] != int(wanted.sum()):
        some = f"{int(wanted.sum())} bands ({first:g}-{last:g} Hz)"
        raise ValueError(f"wanted {BANDS.size} bands or {some}, not an array of shape {np.shape(levels)}")

    if not np.isfinite(values).all():
        raise ValueError("a rating needs finite levels")
    return values


def _like(result: Array, levels: ArrayLike) -> int | NDArray[np.int64]:
    whole = np.asarray(result).astype(np.int64)
    return int(whole[0]) if np.ndim(levels) == 1 else whole


def _highest(values: Array, contour: Array, limit_sum: float, limit_one: float | None) -> Array:
    """Highest whole shift of ``contour`` that keeps the deficiencies of ``values`` within the limits, (n, bands) -> (n,)."""
    low = np.floor((values - contour).min(axis=1))  # no deficiency at all
    high = low + 1.0 + np.ceil((values - contour).max(axis=1) - low + limit_sum)  # certain breach
    while True:
        wide = high - low > 1.0
        if not wide.any():
            return np.asarray(low)
        middle = np.where(wide, np.floor((low + high) / 2.0), low)
        deficiency = np.maximum(contour + middle[:, None] - values, 0.0)
        good = deficiency.sum(axis=1) <= limit_sum + 1e-9
        if limit_one is not None:
            good &= deficiency.max(axis=1) <= limit_one + 1e-9
        low = np.where(good, middle, low)
        high = np.where(good, high, np.minimum(high, middle))


def _nearest(values: Array) -> Array:
    """Whole numbers, halves upward."""
    return np.asarray(np.floor(values + 0.5))


def stc(loss: ArrayLike) -> int | NDArray[np.int64]:
    """Sound transmission class of transmission loss [dB], 21 bands or the 16 of 125-4000 Hz; one spectrum or (n, bands).

    ASTM E413: losses rounded to whole decibels, sum of deficiencies <= 32 dB, none over 8 dB. Raises ValueError for a
    wrong number of bands or values that are not finite.
    """
    values = _nearest(_select(loss, 125.0, 4000.0))
    return _like(_highest(values, STC_CONTOUR, 32.0, 8.0), loss)


def smooth_stc(loss: ArrayLike) -> Array:
    """STC before any rounding, (n, bands) -> (n,): the highest contour, to 0.001 dB, within both limits of E413. For fitting only."""
    values = _select(loss, 125.0, 4000.0)
    low = (values - STC_CONTOUR).min(axis=1)
    high = low + 40.0
    for _ in range(16):
        middle = (low + high) / 2.0
        deficiency = np.maximum(STC_CONTOUR + middle[:, None] - values, 0.0)
        good = (deficiency.sum(axis=1) <= 32.0) & (deficiency.max(axis=1) <= 8.0)
        low, high = np.where(good, middle, low), np.where(good, high, middle)
    return np.asarray(low)


def _adaptation(values: Array, spectrum: Array, rating: Array) -> Array:
    """ISO 717-1 clause 4.5: round(-10 lg sum 10^((L - R)/10)) - Rw."""
    weighted = np.asarray(-10.0 * np.log10(np.sum(10.0 ** ((spectrum - values) / 10.0), axis=1)))
    return np.asarray(_nearest(weighted) - rating)


def rw(loss: ArrayLike) -> Rw:
    """Rw (C; Ctr) of sound reduction index [dB], 21 bands or the 16 of 100-3150 Hz; one spectrum or (n, bands).

    ISO 717-1:2020: values taken to one decimal, sum of unfavourable deviations <= 32.0 dB. Raises ValueError as ``stc``.
    """
    values = np.floor(_select(loss, 100.0, 3150.0) * 10.0 + 0.5) / 10.0
    rating = _highest(values, RW_REFERENCE, 32.0, None) + 52.0  # value of the shifted curve at 500 Hz
    return Rw(
        _like(rating, loss), _like(_adaptation(values, C_SPECTRUM, rating), loss), _like(_adaptation(values, CTR_SPECTRUM, rating), loss)
    )


def rw_wide(loss: ArrayLike) -> tuple[int | NDArray[np.int64], int | NDArray[np.int64]]:
    """C50-5000 and Ctr50-5000 [dB] of 21 bands. ISO 717-1:2020 Annex B. Raises ValueError as ``stc``."""
    values = np.floor(_select(loss, 50.0, 5000.0) * 10.0 + 0.5) / 10.0
    rating = _highest(values[:, 3:19], RW_REFERENCE, 32.0, None) + 52.0
    return _like(_adaptation(values, C_SPECTRUM_WIDE, rating), loss), _like(_adaptation(values, CTR_SPECTRUM_WIDE, rating), loss)


def nic(noise_reduction: ArrayLike) -> int | NDArray[np.int64]:
    """Noise isolation class of level differences [dB]; bands as ``stc``. ASTM E413, which rates NR by the same contour."""
    return stc(noise_reduction)


def oitc(loss: ArrayLike) -> int | NDArray[np.int64]:
    """Outdoor-indoor transmission class, 21 bands or the 18 of 80-4000 Hz. ASTM E1332 Table 1. Raises ValueError as ``stc``."""
    values = _select(loss, 80.0, 4000.0)
    total = 10.0 * np.log10(np.sum(10.0 ** ((_OITC_SOURCE + _OITC_A) / 10.0)))  # 100.13
    return _like(_nearest(total - 10.0 * np.log10(np.sum(10.0 ** ((_OITC_SOURCE + _OITC_A - values) / 10.0), axis=1))), loss)


def lnw(levels: ArrayLike) -> int | NDArray[np.int64]:
    """Weighted normalised impact level Ln,w [dB], 21 bands or the 16 of 100-3150 Hz. ISO 717-2:2020. Raises ValueError as ``stc``."""
    values = np.floor(_select(levels, 100.0, 3150.0) * 10.0 + 0.5) / 10.0
    return _like(60.0 - _highest(-values, -IMPACT_REFERENCE, 32.0, None), levels)


def iic(levels: ArrayLike) -> int | NDArray[np.int64]:
    """Impact insulation class of impact levels [dB], 21 bands or the 16 of 100-3150 Hz. Raises ValueError as ``stc``.

    ASTM E989: 110 less the contour at 500 Hz, sum <= 32 dB, none over 8 dB (the rule of the editions that the code
    table's ratings rest on; whether the newest keeps it was not seen).
    """
    values = _nearest(_select(levels, 100.0, 3150.0))
    return _like(50.0 + _highest(-values, -IMPACT_REFERENCE, 32.0, 8.0), levels)


def nc(octave_levels: ArrayLike) -> float | Array:
    """NC rating of octave levels 63-8000 Hz [dB], (8,) or (n, 8), interpolated between curves (tangent method).

    ANSI/ASA S12.2 Table 1. Levels under NC-15 or over NC-70 are carried on at the end slope. Raises ValueError for a wrong shape.
    """
    values = np.atleast_2d(np.asarray(octave_levels, dtype=np.float64))
    if values.ndim != 2 or values.shape[-1] != NC_OCTAVES.size:
        raise ValueError(f"nc takes 8 octave bands (63-8000 Hz), not an array of shape {np.shape(octave_levels)}")
    bands = np.arange(NC_OCTAVES.size)
    upper = np.clip((NC_CURVES[:, None, :] < values).sum(axis=0), 1, len(NC_CURVES) - 1)  # the first curve not under the level, (n, 8)
    below = NC_CURVES[upper - 1, bands]
    worst = (NC_NUMBERS[upper - 1] + 5.0 * (values - below) / (NC_CURVES[upper, bands] - below)).max(axis=1)
    return float(worst[0]) if np.ndim(octave_levels) == 1 else worst


def nr_curve(number: float) -> Array:
    """Octave levels (9,) [dB] of an NR curve, 31.5-8000 Hz. ISO/R 1996:1971."""
    return np.asarray(NR_A + NR_B * number)


def nr(octave_levels: ArrayLike) -> float | Array:
    """NR rating of octave levels 31.5-8000 Hz [dB], (9,) or (n, 9), or of the eight from 63 Hz; the highest curve that any octave reaches.

    Not rounded. ISO/R 1996:1971. Raises ValueError for a wrong shape.
    """
    values = np.atleast_2d(np.asarray(octave_levels, dtype=np.float64))
    if values.ndim != 2 or values.shape[-1] not in (NR_OCTAVES.size, NR_OCTAVES.size - 1):
        raise ValueError(f"nr takes 9 octave bands (31.5-8000 Hz) or 8 (63-8000 Hz), not an array of shape {np.shape(octave_levels)}")
    first = NR_OCTAVES.size - values.shape[-1]
    worst = ((values - NR_A[first:]) / NR_B[first:]).max(axis=1)
    return float(worst[0]) if np.ndim(octave_levels) == 1 else np.asarray(worst)


def octave_levels(levels: ArrayLike) -> Array:
    """Octave levels 63 Hz-4 kHz [dB] from 21 third-octave levels, (..., 21) -> (..., 7): the sum of energy."""
    return np.asarray(-octave_loss(-np.asarray(levels, dtype=np.float64)) + 10.0 * np.log10(3.0))


__all__ = ["Rw", "iic", "lnw", "nc", "nic", "nr", "nr_curve", "octave_levels", "oitc", "rw", "rw_wide", "smooth_stc", "stc"]
