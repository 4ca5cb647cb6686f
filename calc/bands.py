"""One-third-octave bands 50 Hz to 5 kHz, A-weighting, sums of energy."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

# Nominal band frequencies [Hz], ISO 266:1997.
BANDS: NDArray[np.float64] = np.array(
    [50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000], dtype=np.float64
)
# Exact mid-band frequencies [Hz], base ten, IEC 61260-1:2014 eq. (2): 1000 * 10^(k/10), k = -13..7.
EXACT_BANDS: NDArray[np.float64] = 1000.0 * 10.0 ** (np.arange(-13, 8) / 10.0)
# A-weighting [dB] at BANDS, IEC 61672-1:2013 Table 3.
A_WEIGHTING: NDArray[np.float64] = np.array(
    [
        -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2, -1.9, -0.8, 0.0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5
    ]
)  # fmt: skip
OCTAVES: NDArray[np.float64] = np.array([63, 125, 250, 500, 1000, 2000, 4000], dtype=np.float64)

for _array in (BANDS, EXACT_BANDS, A_WEIGHTING, OCTAVES):
    _array.setflags(write=False)


def energy_sum(levels: ArrayLike, axis: int = -1) -> NDArray[np.float64]:
    """Sum of levels [dB] on energy along ``axis``: 10 lg sum 10^(L/10). An empty axis gives -inf."""
    values = np.asarray(levels, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return np.asarray(10.0 * np.log10(np.sum(10.0 ** (values / 10.0), axis=axis)))


def a_weighted(levels: ArrayLike) -> float:
    """A-weighted level [dB] of 21 band levels [dB]. Raises ValueError for another number of bands. IEC 61672-1:2013 Table 3."""
    values = np.asarray(levels, dtype=np.float64)
    if values.shape != BANDS.shape:
        raise ValueError(f"a_weighted takes {BANDS.size} bands, not an array of shape {values.shape}")
    return float(energy_sum(values + A_WEIGHTING))


def octave_loss(loss: ArrayLike) -> NDArray[np.float64]:
    """Transmission loss [dB] in the octaves 63 Hz..4 kHz from 21 third-octave values, (..., 21) -> (..., 7).

    Mean of the three transmission coefficients: the octave value a laboratory prints.
    """
    tau = 10.0 ** (-np.asarray(loss, dtype=np.float64) / 10.0)
    return np.asarray(-10.0 * np.log10(tau.reshape(*tau.shape[:-1], 7, 3).mean(axis=-1)))
