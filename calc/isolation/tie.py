"""Ties: what joins two leaves mechanically, as a spring in the matrix and as a bridge beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.catalogue import load
from calc.isolation.assembly import Cavity
from calc.isolation.leaf import Plate
from calc.isolation.parameters import AIR_IMPEDANCE, SPEED_OF_SOUND, Parameters

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

FRAME_SPACING = 0.406  # m, where a description gives none; common practice, no source
SUPPORT_SPACING = 0.61  # m, rows of channel; common practice, no source
CLIP_SPACING = 1.22  # m along the channel, as in the clip tests of the reference list
FIXING_SPACING = 0.4  # m, screws of a channel or strap on masonry; common practice, no source
PLATE_SPACING = 1.2  # m, equivalent spacing of the lines that floor and head plates make; study of the code table


@dataclass(frozen=True)
class Tie:
    """What stands in one cavity. ``line`` compliance of the frame [m2/N], ``point`` of the support [m/N] at ``points`` per m2 (0: a
    line all the way); ``front`` and ``back`` spacing of the fixings [m] on the leaf before and after; ``plate``: share of the frame
    that stands on common plates ("", "one", "two", or "free": on another structure); ``sash``: panes that
    one frame holds all round."""

    tied: bool
    line: float
    point: float
    points: float
    front: float
    back: float
    plate: str
    joist: bool
    open: bool
    sash: bool


def frames() -> tuple[str, ...]:
    """Every frame word."""
    return tuple(load("ties")["frame"])


def supports() -> tuple[str, ...]:
    """Every support word."""
    return tuple(load("ties")["support"])


def _value(entry: Any, p: Parameters) -> float:
    return float(getattr(p, entry)) if isinstance(entry, str) else float(entry)


@lru_cache(maxsize=4096)
def tie(cavity: Cavity, p: Parameters, element: str = "wall") -> Tie:
    """Read a cavity's frame and support. Raises KeyError for words that are not in data/ties.toml."""
    frame, support = load("ties")["frame"][cavity.frame], load("ties")["support"][cavity.support]
    spacing = cavity.frame_spacing or FRAME_SPACING
    rows = cavity.support_spacing or SUPPORT_SPACING
    sash = element == "glazing" and cavity.frame == "none"
    opened = bool(frame.get("open", False)) or (cavity.frame == "none" and element in ("wall", "floor"))
    line = _value(frame["compliance"], p)
    if cavity.frame == "light steel stud":
        line *= cavity_stud(cavity) / float(frame["depth"])
    if frame.get("points", False):  # nailed to masonry at points: its compliance spread along the line
        line *= FIXING_SPACING
    if support["kind"] == "none":
        return Tie(bool(frame["tied"]), line, 0.0, 0.0, spacing, spacing, frame.get("plate", ""), "bridge" in frame, opened, sash)
    if cavity.frame == "none":
        spacing = FIXING_SPACING
    along = (cavity.clip_spacing or CLIP_SPACING) if support["kind"] == "clip" else spacing
    tied = bool(frame["tied"]) or cavity.frame == "none"
    plate = frame.get("plate", "") or support.get("plate", "")
    return Tie(tied, line, _value(support["compliance"], p), 1.0 / (along * rows), spacing, rows, plate, False, opened, sash)


def cavity_stud(cavity: Cavity) -> float:
    """Depth of the stud [m]: the cavity less 13 mm where a channel or clip stands in it too."""
    return max(cavity.depth - (0.013 if cavity.support != "absent" else 0.0), 0.02)


@dataclass(frozen=True)
class Ties:
    """Ties of one cavity of many assemblies; every array (assemblies, 1)."""

    tied: Array
    line: Array
    point: Array
    points: Array
    front: Array
    back: Array
    plate: Array  # energy factor of the coupling through plates and perimeter, 0 where none
    gain: Array  # energy factor on the plain bridge formula
    open: Array  # the frame leaves the cavity open sideways, between two rows
    sash: Array  # 1 where one frame holds both panes all round, else 0

    @classmethod
    def of(cls, ties: list[Tie], p: Parameters) -> Ties:
        plate = {
            "": 0.0,
            "one": 10.0 ** (p.plate_one / 10.0),
            "two": 10.0 ** (p.plate_two / 10.0),
            "free": 10.0 ** ((p.plate_two + p.plate_free) / 10.0),
        }
        decibels = [p.bridge_point if t.points else p.bridge_joist if t.joist else p.bridge_gain for t in ties]
        rows = [
            (t.tied, t.line, t.point, t.points, t.front, t.back, plate[t.plate], 10.0 ** (g / 10.0), t.open, t.sash)
            for t, g in zip(ties, decibels, strict=True)
        ]
        columns = np.array(rows, dtype=np.float64).T[:, :, None]
        return cls(*columns)


@dataclass(frozen=True)
class Plates:
    """One leaf of many assemblies; every array (assemblies, 1). ``critical`` is the true one, also of masonry."""

    mass: Array
    critical: Array
    loss: Array
    spread: Array
    limp_critical: Array  # as the matrix sees it: masonry is limp there
    massive: NDArray[np.bool_]

    @classmethod
    def of(cls, plates: list[Plate]) -> Plates:
        rows = [(q.mass, q.massive.critical if q.massive else q.critical, q.loss, q.spread, q.critical) for q in plates]
        mass, critical, loss, spread, limp = np.array(rows, dtype=np.float64).T[:, :, None]
        return cls(mass, critical, loss, spread, limp, np.array([[q.massive is not None] for q in plates]))


def softening(frequency: Array, first: Plates, second: Plates, p: Parameters) -> Array:
    """Factor on the compliance of light steel and channels, (assemblies, bands): falls with frequency above ``rolloff`` and with the
    leaves' mass. That it does: Davy, Guigou-Carter & Villot 2012 (from memory); the two constants are fitted."""
    reduced = first.mass * second.mass / (first.mass + second.mass)
    return np.asarray((reduced / 5.5) ** p.mass_exponent / (1.0 + (frequency / p.rolloff) ** 2))


def _bay(omega: Array, plates: Plates, spacing: Array, loss: float) -> Complex:
    """Compliance per area [m3/N] that a board adds by bending between its fixings: periodic line force, first three orders.

    After the smeared-spring idea of Wang, Lu, Woodhouse, Langley & Evans (J. Sound Vib. 2005); derived for this engine.
    At low frequency b^4 / (720 B). Masonry does not bend between fixings.
    """
    stiffness = plates.mass * (SPEED_OF_SOUND**2 / (2.0 * np.pi * plates.critical)) ** 2
    total = np.zeros(np.broadcast_shapes(omega.shape, plates.mass.shape), dtype=np.complex128)
    for order in (1, 2, 3):
        wave = (2.0 * np.pi * order / spacing) ** 4
        total += 2.0 / (stiffness * wave * (1.0 + 1j * np.maximum(plates.loss, loss)) - plates.mass * omega**2)
    return np.where(plates.massive, 0.0, total)


def spring(frequency: Array, ties: Ties, first: Plates, second: Plates, p: Parameters) -> Complex:
    """Force per area over the velocity difference of two leaves [Pa s/m], (assemblies, frequencies); 0 where nothing ties them."""
    omega = 2.0 * np.pi * frequency
    per_area = ties.line * ties.front + np.divide(ties.point, ties.points, out=np.zeros_like(ties.point), where=ties.points > 0.0)
    steel = per_area * softening(frequency, first, second, p) * (1.0 / (1.0 + 1j * p.loss_tie))
    compliance = steel + _bay(omega, first, ties.front, p.loss_bay) + _bay(omega, second, ties.back, p.loss_bay)
    return np.where(ties.tied > 0.0, 1.0 / (1j * omega * compliance + 1e-12), 0.0)


def _line_impedance(frequency: Array, plates: Plates) -> Complex:
    """Driving impedance of a plate for a line force [N s/m2]. Cremer & Heckl."""
    return np.asarray(2.0 * (1.0 + 1j) * plates.mass * SPEED_OF_SOUND * np.sqrt(frequency / plates.critical))


def _point_impedance(plates: Plates) -> Array:
    """Driving impedance of a plate at a point [N s/m]. Cremer & Heckl: 8 sqrt(B m)."""
    return np.asarray(8.0 * plates.mass * SPEED_OF_SOUND**2 / (2.0 * np.pi * plates.critical))


def _line_bridge(frequency: Array, compliance: Array, spacing: Array | float, first: Plates, second: Plates) -> Array:
    omega = 2.0 * np.pi * frequency
    z1, z2 = _line_impedance(frequency, first), _line_impedance(frequency, second)
    passed = np.abs(z1 / (z1 + z2 + 1j * omega * compliance * z1 * z2)) ** 2
    tau = 16.0 * AIR_IMPEDANCE**2 * SPEED_OF_SOUND / second.critical * passed / (np.pi * omega**2 * first.mass**2 * spacing)
    return np.asarray(tau)


def _point_bridge(frequency: Array, compliance: Array, points: Array, first: Plates, second: Plates) -> Array:
    omega = 2.0 * np.pi * frequency
    z1, z2 = _point_impedance(first), _point_impedance(second)
    passed = np.abs(z1 / (z1 + z2 + 1j * omega * compliance * z1 * z2)) ** 2
    tau = 64.0 * points * AIR_IMPEDANCE**2 * (SPEED_OF_SOUND / second.critical) ** 2 * passed / (np.pi**3 * omega**2 * first.mass**2)
    return np.asarray(tau)


def bridge(frequency: Array, ties: Ties, first: Plates, second: Plates, p: Parameters) -> Array:
    """Transmission coefficient of the sound that the ties carry, radiated near them, (assemblies, frequencies).

    Near-field radiation of a line (2 lambda_c / pi per metre) or point (8 lambda_c^2 / pi^3): Sharp, Noise Control Eng. 1978; equal to
    Davy's line formula. A board on a stud is held at its screws: along a line while half a bending wave is longer than their spacing, at
    points above (Craik & Smith, Appl. Acoust. 61 (2000) 247, from memory). The gains are fitted.
    """
    soft = softening(frequency, first, second, p)
    line = _line_bridge(frequency, ties.line * soft, ties.front, first, second)
    line = line * frequency**2 / (frequency**2 + (SPEED_OF_SOUND / (2.0 * ties.front)) ** 2)
    screws = _point_bridge(frequency, ties.line * soft / p.screws, 1.0 / (p.screws * ties.front), first, second)
    turn = SPEED_OF_SOUND**2 / (4.0 * p.screws**2 * np.maximum(first.critical, second.critical))
    share = 1.0 / (1.0 + (frequency / turn) ** 2)
    line = share * line + (1.0 - share) * np.minimum(screws, line)
    per_point = ties.point + ties.line * ties.front * ties.points  # the frame's share of one point
    point = _point_bridge(frequency, per_point * soft, ties.points, first, second)
    point = point * frequency**2 / (frequency**2 + ties.points * SPEED_OF_SOUND**2 / (2.0 * np.pi))
    tied = np.where(ties.points > 0.0, point, line) * ties.tied * ties.gain
    plates = _line_bridge(frequency, np.zeros_like(ties.line), PLATE_SPACING, first, second) * ties.plate
    plates = plates / (1.0 + (frequency / p.plate_rolloff) ** 2)
    if ties.sash.any():  # panes are held all round: a rigid line as long as the perimeter of the opening, over its area
        tied = tied + _line_bridge(frequency, np.zeros_like(ties.line), p.size_opening / 4.0, first, second) * ties.sash
    return np.asarray(tied + plates)
