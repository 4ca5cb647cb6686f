"""Modes of a rectangular room with rigid walls, and how evenly they lie."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.isolation.parameters import SPEED_OF_SOUND

Array = NDArray[np.float64]
KINDS = ("", "axial", "tangential", "oblique")  # by how many of the three orders are not zero
THIRD_OCTAVES = np.array([20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0])
COINCIDENT_ALLOWED = 5  # modes in a third octave from which Bonello lets two coincide; from memory
COINCIDENT = 0.005  # modes closer than this share of their frequency count as one; common practice, no source


@dataclass(frozen=True)
class Mode:
    """``order`` along length, width, height; frequency Hz; ``kind`` axial | tangential | oblique."""

    frequency: float
    order: tuple[int, int, int]
    kind: str


@dataclass(frozen=True)
class ThirdOctave:
    """Modes whose frequency lies in one third octave (centre Hz). ``falls``: fewer than one below; ``coincide``: two at one place."""

    centre: float
    count: int
    falls: bool
    coincide: bool


def mode_table(length: float, width: float, height: float, highest: float) -> tuple[Array, NDArray[np.int64]]:
    """Frequencies (n,) [Hz] in ascending order, and orders (n, 3), of all modes up to ``highest`` [Hz]; sides in m.

    f = c/2 sqrt((p/L)^2 + (q/W)^2 + (r/H)^2), rigid walls. Raises ValueError when a side is not above zero.
    Source: Kuttruff, Room Acoustics, rectangular room with rigid walls.
    """
    sides = np.array([length, width, height])
    if np.any(sides <= 0.0):
        raise ValueError(f"A room's sides must be above 0 m, not {length:g} x {width:g} x {height:g}")
    most = np.floor(2.0 * highest * sides / SPEED_OF_SOUND).astype(np.int64)
    orders = np.stack(np.meshgrid(*(np.arange(n + 1) for n in most), indexing="ij"), axis=-1).reshape(-1, 3)[1:]
    frequencies = np.asarray(SPEED_OF_SOUND / 2.0 * np.sqrt(np.sum((orders / sides) ** 2, axis=1)), dtype=np.float64)
    kept = frequencies <= highest
    frequencies, orders = frequencies[kept], orders[kept]
    rank = np.argsort(frequencies, kind="stable")
    return frequencies[rank], orders[rank]


@cache
def modes(length: float, width: float, height: float, highest: float) -> tuple[Mode, ...]:
    """The modes of ``mode_table``, one by one."""
    frequencies, orders = mode_table(length, width, height, highest)
    return tuple(
        Mode(float(frequency), (int(order[0]), int(order[1]), int(order[2])), KINDS[int(np.count_nonzero(order))])
        for frequency, order in zip(frequencies, orders, strict=True)
    )


def weyl_count(length: float, width: float, height: float, frequency: float) -> float:
    """Smooth estimate of how many modes lie under ``frequency`` [Hz]: 4pi V f^3/3c^3 + pi S f^2/4c^2 + L f/8c, L the sum of the 12 edges.

    Source: Kuttruff, Room Acoustics, number of eigenfrequencies (Weyl's estimate with surface and edge terms).
    """
    per_metre = frequency / SPEED_OF_SOUND
    volume = length * width * height
    surface = 2.0 * (length * width + length * height + width * height)
    edges = 4.0 * (length + width + height)
    return 4.0 * np.pi / 3.0 * volume * per_metre**3 + np.pi / 4.0 * surface * per_metre**2 + edges / 8.0 * per_metre


def modal_density(length: float, width: float, height: float, frequency: float) -> float:
    """Modes per hertz at ``frequency`` [Hz]: the slope of ``weyl_count``."""
    volume = length * width * height
    surface = 2.0 * (length * width + length * height + width * height)
    edges = 4.0 * (length + width + height)
    c = SPEED_OF_SOUND
    return 4.0 * np.pi * volume * frequency**2 / c**3 + np.pi / 2.0 * surface * frequency / c**2 + edges / (8.0 * c)


def schroeder_frequency(volume: float, time: float) -> float:
    """Frequency [Hz] above which modes overlap so that statistics hold: 2000 sqrt(T/V); volume m3, reverberation time s.

    Source: Schroeder, J. Acoust. Soc. Am. 99 (1996) 3240, as quoted in textbooks.
    """
    return float(2000.0 * np.sqrt(time / volume))


def spacings(frequencies: Array) -> Array:
    """Steps (n-1,) [Hz] from mode to mode of ascending frequencies (n,)."""
    return np.diff(frequencies)


def bonello(frequencies: Array) -> tuple[ThirdOctave, ...]:
    """Modes in each third octave from 20 to 200 Hz: the count should never fall, nor two modes coincide where there are few.

    Source: Bonello, J. Audio Eng. Soc. 29 (1981) 597, from memory.
    """
    found: list[ThirdOctave] = []
    before = 0
    for centre in THIRD_OCTAVES:
        exact = 1000.0 * 10.0 ** (round(10.0 * np.log10(centre / 1000.0)) / 10.0)
        inside = frequencies[(frequencies >= exact * 10.0**-0.05) & (frequencies < exact * 10.0**0.05)]
        close = bool(np.any(np.diff(inside) < COINCIDENT * inside[:-1])) if len(inside) > 1 else False
        found.append(ThirdOctave(float(centre), len(inside), len(inside) < before, close and len(inside) < COINCIDENT_ALLOWED))
        before = len(inside)
    return tuple(found)
