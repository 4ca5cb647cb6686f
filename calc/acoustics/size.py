"""The best size within what the shell allows: the room may be built shorter or narrower, at the cost of floor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.acoustics.modes import mode_table
from calc.acoustics.proportions import within_standard
from calc.catalogue import load

BEYOND = 1.15  # modes up to this share above the band still shape the response in it


@dataclass(frozen=True)
class Size:
    """A size to build. ``shorter`` and ``narrower`` [m]: how far a wall along the width or the length moves in; ``lost``: floor, m2.

    ``roughness`` is ``response_roughness`` [dB]; ``standard``: within the proportions of ITU-R BS.1116-3 and EBU Tech 3276.
    """

    length: float
    width: float
    height: float
    shorter: float
    narrower: float
    lost: float
    lost_share: float
    roughness: float
    standard: bool


def response_roughness(length: float, width: float, height: float, time: float) -> float:
    """How far the room's overall response strays from a smooth curve, 20 to 200 Hz, rms [dB]; smaller is smoother. Sides m, time s.

    The smooth curve is the best polynomial of second order. Source: Rindel, Acta Acustica 101 (2015) 1211 and "Preferred dimension ratios"
    (2021), after Meissner; there each mode has a damping of its own.
    """
    frequency, smooth = _band()
    response = modal_response(frequency, (length, width, height), time)
    return float(np.sqrt(np.mean((response - smooth @ response) ** 2)))


@cache
def _band() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Frequencies (n,) [Hz] of the judged band, and the (n, n) matrix that turns a response into its best parabola."""
    settings = load("acoustics")["size"]
    frequency = np.arange(settings["low"], settings["high"] + 0.5 * settings["resolution"], settings["resolution"])
    parabola = np.vander((frequency - frequency.mean()) / frequency.mean(), 3)
    return frequency, np.asarray(parabola @ np.linalg.pinv(parabola), dtype=np.float64)


def modal_response(frequency: NDArray[np.float64], sides: tuple[float, float, float], time: float) -> NDArray[np.float64]:
    """Level (n,) [dB, any reference] at frequencies (n,) [Hz], averaged over all places of source and ear: the energies of all modes added.

    Sides m; every mode damped for a reverberation time [s]; source of constant volume acceleration. Source: modal sum of Kuttruff, Room
    Acoustics; energies added as in Rindel, Acta Acustica 101 (2015) 1211.
    """
    natural = np.concatenate(([0.0], mode_table(*sides, BEYOND * float(frequency[-1]))[0]))
    omega = 2.0 * np.pi * frequency[:, None]
    damping = 3.0 * np.log(10.0) / time
    energy = np.sum(1.0 / (((2.0 * np.pi * natural) ** 2 - omega**2) ** 2 + (2.0 * damping * omega) ** 2), axis=1)
    return np.asarray(10.0 * np.log10(energy / np.prod(sides) ** 2), dtype=np.float64)


@lru_cache(maxsize=64)
def sizes(length: float, width: float, height: float, time: float) -> tuple[Size, ...]:
    """The whole room first, then smaller ones worth their lost floor; sides m, reverberation time s.

    For each share of floor in data/acoustics.toml the smoothest room, inside the standards' proportions and at all; then whatever is
    neither clearly smoother than all that lose less floor, nor as smooth and the first inside the proportions, is dropped.
    Source: as ``response_roughness``.
    """
    settings = load("acoustics")["size"]
    kept: list[Size] = []
    candidates = [_size(length, width, height, less, narrower, time) for less, narrower in _cuts(length, width)]
    for share in settings["shares"]:
        allowed = [size for size in candidates if size.lost_share <= share + 1e-9]
        pools = [pool for pool in ([size for size in allowed if size.standard], allowed) if pool]
        smoothest = [min(pool, key=lambda size: (size.roughness, size.lost)) for pool in pools]
        for best in sorted(smoothest, key=lambda size: size.lost):
            if _worth(best, kept, settings["gain"]):
                kept.append(best)
    return tuple(kept)


def _worth(size: Size, kept: list[Size], gain: float) -> bool:
    """A size earns its lost floor beside those kept, which lose less or as much; ``gain`` the least share by which it is smoother."""
    smoothest = min((other.roughness for other in kept), default=float("inf"))
    first_standard = size.standard and not any(other.standard for other in kept)
    return size.roughness <= smoothest * (1.0 - gain) or (first_standard and size.roughness <= smoothest)


def _cuts(length: float, width: float) -> Iterator[tuple[float, float]]:
    """How much to take off length and width [m]: the whole room, and every step that keeps the floor and the sides a room must have."""
    settings, least = load("acoustics")["size"], load("rules")["room_size"]
    yield 0.0, 0.0
    most = max(settings["shares"])
    for i in range(int(most * length / settings["step"]) + 1):
        for j in range(int(most * width / settings["step"]) + 1):
            a, b = length - i * settings["step"], width - j * settings["step"]
            if (i or j) and a * b >= (1.0 - most) * length * width and min(a, b) >= least["side"] and a * b >= least["area"]:
                yield i * settings["step"], j * settings["step"]


def _size(length: float, width: float, height: float, shorter: float, narrower: float, time: float) -> Size:
    a, b = length - shorter, width - narrower
    lost = length * width - a * b
    return Size(
        length=a,
        width=b,
        height=height,
        shorter=shorter,
        narrower=narrower,
        lost=lost,
        lost_share=lost / (length * width),
        roughness=response_roughness(a, b, height, time),
        standard=within_standard(a, b, height),
    )
