"""The isolation engine and the ratings against independent programs.

Each was run once and its numbers written down here: together they bring 640 MB of other packages, and 3 s of imports each, so they are
no dependencies.
"""

from __future__ import annotations

import numpy as np
import pytest

from calc.isolation.cavity import fill, layer
from calc.isolation.leaf import impedance
from calc.isolation.matrix import transmitted
from calc.isolation.parameters import AIR_IMPEDANCE
from calc.ratings import rw

# An independent transfer-matrix program, pyva-toolbox 1.3.0 (its TMmodel.transmission_coefficient, air of 1.21 kg/m3 and 343 m/s),
# 63-4000 Hz in octaves; angle of incidence in degrees.
OCTAVES = np.array([63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0])
PYVA = {
    ("board",): {0: [13.33, 19.13, 25.11, 31.12, 37.14, 43.16, 49.18], 60: [7.87, 13.25, 19.09, 24.94, 30.44, 34.02, 29.71]},
    ("board", 0.09, "deck"): {
        0: [13.81, 25.91, 48.57, 66.76, 81.67, 77.18, 95.41],
        60: [12.88, 13.88, 25.61, 47.7, 63.03, 63.24, 76.26],
    },
    ("board", 0.05, "board", 0.2, "deck"): {
        0: [17.46, 16.46, 71.07, 98.95, 116.5, 141.33, 153.67],
        60: [12.1, 17.01, 17.02, 70.01, 94.57, 95.47, 125.68],
    },
}


def plate_impedance(name: str, sine: float) -> np.ndarray:
    """A thin plate of the oracle: Young's modulus, density, thickness; Poisson's ratio 0.3, loss factor 0.03."""
    modulus, density, thickness = {"board": (2.5e9, 760.0, 0.0125), "deck": (3.8e9, 620.0, 0.018)}[name]
    bending = modulus * thickness**3 / (12.0 * (1.0 - 0.3**2))
    critical = 343.0**2 / (2.0 * np.pi) * np.sqrt(density * thickness / bending)
    return impedance(*(np.asarray(v) for v in (OCTAVES, sine, density * thickness, critical, 0.03, 0.0)))


@pytest.mark.parametrize("stack", list(PYVA))
@pytest.mark.parametrize("angle", [0, 60])
def test_against_an_independent_transfer_matrix(stack: tuple[str | float, ...], angle: int) -> None:
    sine, mu, z0 = np.sin(np.radians(angle)), np.cos(np.radians(angle)), 1.21 * 343.0
    wavenumber = (2.0 * np.pi * OCTAVES / 343.0).astype(complex)
    leaves, spaces = [], []
    for part in stack:
        if isinstance(part, float):
            spaces.append(layer(wavenumber, np.full(7, z0, dtype=complex), np.array(sine), OCTAVES, np.array(part)))
        else:
            leaves.append(plate_impedance(part, sine))
    found = -10.0 * np.log10(transmitted(leaves, spaces, np.array(z0 / mu)))
    # its air is a little lossy, which shows where a cavity is half a wave deep
    assert found == pytest.approx(PYVA[stack][angle], abs=0.1)


@pytest.mark.parametrize(
    ("angle", "printed"), [(0, [10.24, 30.64, 51.23, 68.31, 81.61, 95.52, 110.68]), (60, [5.73, 24.78, 44.94, 61.27, 72.81, 71.04, 104.0])]
)
def test_porous_fill_against_another_model(angle: int, printed: list[float]) -> None:
    # the same program with its fibre of a rigid frame (Champoux & Allard; 7000 Pa s/m2, porosity 0.98, tortuosity 1.02) in the second
    # wall above; ours has neither tortuosity nor characteristic lengths
    sine, outside = np.sin(np.radians(angle)), AIR_IMPEDANCE / np.cos(np.radians(angle))
    leaves = [plate_impedance(part, sine) for part in ("board", "deck")]
    found = -10.0 * np.log10(transmitted(leaves, [fill(OCTAVES, np.array(sine), np.array(0.09), np.array(7000.0))], np.array(outside)))
    error = np.abs(found - printed)
    assert error[OCTAVES <= 500.0].max() <= 1.5
    assert error.max() <= 4.0  # above 1 kHz, where the wall loses 70 dB and more


# acoustic-toolbox 0.2.2 (building.rw, rw_c, rw_ctr). 100-3150 Hz; Rw, Rw + C, Rw + Ctr.
RATED = [
    ([34.2, 35.1, 31.4, 36.0, 38.3, 41.2, 43.1, 46.4, 48.2, 51.3, 53.0, 56.1, 58.4, 60.2, 62.1, 64.0], (49, 48.03, 44.00)),
    ([20.4, 21.3, 27.9, 33.2, 38.6, 43.4, 47.5, 51.0, 54.2, 56.9, 58.8, 59.6, 56.4, 48.3, 46.9, 50.8], (46, 42.83, 36.69)),
    ([20.2, 20.8, 22.1, 23.9, 25.4, 27.0, 28.4, 29.7, 30.8, 31.2, 31.6, 32.1, 31.0, 28.2, 30.4, 33.6], (31, 30.04, 28.87)),
]


@pytest.mark.parametrize(("bands", "rated"), RATED)
def test_ratings_against_an_independent_library(bands: list[float], rated: tuple[int, float, float]) -> None:
    found = rw(bands)
    assert (found.value, found.value + found.c, found.value + found.ctr) == (rated[0], round(rated[1]), round(rated[2]))
