"""Sound that leaves a duct or a silencer box through its wall. SI in, dB out; octaves 63 to 4000 Hz unless said."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES
from calc.catalogue import load
from calc.isolation.assembly import Assembly, Leaf
from calc.isolation.materials import ply
from calc.isolation.opening import series
from calc.isolation.predict import predict

Spectrum = NDArray[np.float64]
INCH, POUND_FOOT2 = 0.0254, 4.88243  # m; kg/m2
MOST = 45.0  # dB, what the formula is trusted for; same source


def wall_loss(width: float, height: float, mass: float) -> Spectrum:
    """Breakout transmission loss (7,) [dB] of a rectangular duct wall: inner width and height [m], surface mass [kg/m2]; at most 45 dB.

    Source: ASHRAE / SMACNA HVAC Systems Duct Design eqs. 11-52 to 11-54 (SMACNA seen; its constants as an engineering firm's help page
    quotes them).
    """
    a, b, q = width / INCH, height / INCH, mass / POUND_FOOT2
    plane = 10.0 * np.log10(OCTAVES * q**2 / (a + b)) + 17.0
    many = 20.0 * np.log10(q * OCTAVES) - 31.0
    return np.asarray(np.clip(np.where(np.sqrt(a * b) * OCTAVES < 24134.0, plane, many), 0.0, MOST), dtype=np.float64)


def effective_length(length: float, attenuation: Spectrum) -> Spectrum:
    """Length (7,) [m] of a duct without loss that radiates as much as one of a length [m] that loses ``attenuation`` (7,) [dB] inside.

    The far part of a duct that loses much counts little. Source: ASHRAE Handbook HVAC Applications 2007 chapter 47, effective length.
    """
    nepers = np.maximum(attenuation, 1e-6) * np.log(10.0) / 10.0
    return np.asarray(length * -np.expm1(-nepers) / nepers, dtype=np.float64)


def radiating(width: float, height: float, effective: float | Spectrum) -> Spectrum:
    """Wall that radiates over the duct's section (7,) [dB]: inner width and height [m], ``effective_length`` [m]. Source: geometry."""
    return np.asarray(10.0 * np.log10(2.0 * (width + height) * effective / (width * height)), dtype=np.float64)


@cache
def enclosure_loss() -> Spectrum:
    """Transmission loss (21,) [dB] of the boards round a boxed-in duct; read-only. Source: calc.isolation.predict, one leaf."""
    row = load("ducts")["casing"]["enclosure"]
    boards = (ply(row["material"], row["thickness"]),) * int(row["plies"])
    loss = np.asarray(predict(Assembly("enclosure", "wall", (Leaf(boards),), ()), use_measured=False).tl)
    loss.setflags(write=False)
    return loss


def enclosed(wall: Spectrum) -> Spectrum:
    """Loss (21,) [dB] of a duct wall (21,) and the boards round it, a filled gap between. Source: calc.isolation.opening.series."""
    return series(wall, enclosure_loss(), float(load("ducts")["casing"]["enclosure"]["gap"]))
