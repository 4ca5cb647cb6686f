"""Level at every listener: source spectrum less each path, summed on energy, against the target.

Likelihood: the margin in each band, and of the A-weighted total, is taken as normal with the standard uncertainty of that band; the
likelihood shown is the least of them. Paths are taken as independent of each other, bands of one path as moving together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

from calc.bands import A_WEIGHTING, BANDS, a_weighted, energy_sum
from calc.brief import Brief, Listener, SideKind
from calc.geometry import Room
from calc.isolation import paths as ways
from calc.isolation.assembly import Assembly
from calc.isolation.criteria import target_dba, target_spectrum
from calc.isolation.opening import door_loss, window_loss
from calc.isolation.path import Loss, Path
from calc.isolation.predict import Prediction, predictions
from calc.options import lid_assembly, wall_assembly
from calc.ratings import rw, stc
from calc.scheme import Scheme

Spectrum = NDArray[np.float64]
# dB a band; players and instruments differ. Practice rooms have standard deviations of 3.5 to 5.9 dB (Phillips & Mace 2008), part of which
# is in the level that the person states; what is left: common practice, no source.
SOURCE_UNCERTAINTY = 3.0
_MEMO: dict[Assembly, Prediction] = {}
_MEMO_SIZE = 4000


@dataclass(frozen=True)
class PathLevel:
    """One path: band levels at the listener (21,) [dB] and their A-weighted total [dB]."""

    name: str
    levels: Spectrum
    level_dba: float


@dataclass(frozen=True)
class ListenerResult:
    """``margin`` is the least of target minus level over the bands and the A-weighted total [dB]; negative fails.
    ``worst_band_hz`` is where it is least; None where that is the A-weighted total and no single band.

    ``paths`` run loudest first."""

    listener: Listener
    levels: Spectrum
    level_dba: float
    target_levels: Spectrum
    target_dba: float
    margin: float
    worst_band_hz: float | None
    likelihood: float
    paths: tuple[PathLevel, ...]


@dataclass(frozen=True)
class ElementResult:
    """A part of the boundary of the room: area m2, ratings and transmission loss (21,) [dB]."""

    name: str
    boundary: str
    option_id: str
    label: str
    area: float
    stc: int
    rw: int
    c: int
    ctr: int
    tl: Spectrum
    basis: str


@dataclass(frozen=True)
class IsolationResult:
    """``most_critical`` indexes the listener with the least margin, None when there is none."""

    listeners: tuple[ListenerResult, ...]
    most_critical: int | None
    elements: tuple[ElementResult, ...]


def predicted(assemblies: Sequence[Assembly]) -> tuple[Prediction, ...]:
    """Predictions, each assembly computed once in the life of the process. Source: calc.isolation.predict."""
    new = list(dict.fromkeys(a for a in assemblies if a not in _MEMO))
    if len(_MEMO) + len(new) > _MEMO_SIZE:
        _MEMO.clear()
        new = list(dict.fromkeys(assemblies))
    _MEMO.update(zip(new, predictions(new), strict=True))
    return tuple(_MEMO[a] for a in assemblies)


def loss(prediction: Prediction) -> Loss:
    """Loss and uncertainty of a prediction."""
    return Loss(prediction.tl, prediction.std_uncertainty)


def _predictions(brief: Brief, scheme: Scheme) -> tuple[Prediction, dict[SideKind, Prediction]]:
    assemblies = [lid_assembly(scheme.lid, brief), *(wall_assembly(wall, kind, brief) for kind, wall in scheme.walls)]
    lid, *walls = predicted(assemblies)
    return lid, {kind: found for (kind, _), found in zip(scheme.walls, walls, strict=True)}


def listener_paths(brief: Brief, scheme: Scheme, room: Room, listener: Listener) -> tuple[Path, ...]:
    """Every path of a scheme to one listener."""
    lid, walls = _predictions(brief, scheme)
    found = list(ways.lid_paths(brief, room, listener, scheme.lid, loss(lid)))
    for kind, wall in scheme.walls:
        found += ways.wall_paths(brief, room, listener, kind, wall, loss(walls[kind]))
    found += ways.door_paths(brief, listener, scheme.door)
    found += ways.air_paths(brief, listener, scheme.air_path)
    return (*found, *ways.fixed_paths(brief, listener))


def normal_share(deviations: float) -> float:
    """Share of a standard normal distribution below ``deviations``. Source: definition."""
    return 0.5 * (1.0 + erf(deviations / sqrt(2.0)))


def judge(listener: Listener, found: Sequence[Path]) -> ListenerResult:
    """Sum of paths against the target of a listener. Raises ValueError without paths."""
    if not found:
        raise ValueError(f"no path leads to {listener.label}")
    each = np.stack([path.levels for path in found])
    total = energy_sum(each, axis=0)
    share = 10.0 ** ((each - total) / 10.0)
    spread = np.sqrt(np.sum((share * np.stack([path.uncertainty for path in found])) ** 2, axis=0) + SOURCE_UNCERTAINTY**2)
    target, dba, limit = target_spectrum(listener), a_weighted(total), target_dba(listener)
    weight = 10.0 ** ((total + A_WEIGHTING - dba) / 10.0)
    margins = np.append(target - total, limit - dba)
    deviations = margins / np.append(spread, float(weight @ spread))
    worst = int(np.argmin(margins))
    ranked = sorted((PathLevel(p.name, p.levels, a_weighted(p.levels)) for p in found), key=lambda p: -p.level_dba)
    return ListenerResult(
        listener=listener,
        levels=total,
        level_dba=dba,
        target_levels=target,
        target_dba=limit,
        margin=float(margins[worst]),
        worst_band_hz=float(BANDS[worst]) if worst < BANDS.size else None,
        likelihood=normal_share(float(deviations.min())),
        paths=tuple(ranked),
    )


def _element(name: str, boundary: str, option_id: str, label: str, area: float, tl: Spectrum, basis: str) -> ElementResult:
    rating = rw(tl)
    return ElementResult(name, boundary, option_id, label, area, int(stc(tl)), int(rating.value), int(rating.c), int(rating.ctr), tl, basis)


def _elements(brief: Brief, scheme: Scheme, room: Room) -> tuple[ElementResult, ...]:
    lid, walls = _predictions(brief, scheme)
    found = [_element("lid", "lid", scheme.lid.id, scheme.lid.label, room.floor_area, lid.tl, lid.basis)]
    for kind, wall in scheme.walls:
        area = sum(room.side_area(side.number) for side in brief.shell.sides if side.kind is kind)
        found.append(_element(ways.NAMES[kind], kind.value, wall.id, wall.label, area, walls[kind].tl, walls[kind].basis))
    door = scheme.door
    found.append(_element("door", "door", door.id, door.label, door.area, door_loss(door.id), "published spectra, see data/doors.toml"))
    if ways.window_area(brief):
        area, basis = ways.window_area(brief), "published spectrum, see data/doors.toml"
        found.append(_element("escape window", "window", "second_sash", "escape window with a second sash", area, window_loss(), basis))
    return tuple(found)


def isolation(brief: Brief, scheme: Scheme, room: Room) -> IsolationResult:
    """Levels at all listeners and ratings of all parts.

    Source: diffuse-field levels with ISO 12354 path sums; each path names its own source in calc.isolation.paths.
    """
    results = tuple(judge(listener, listener_paths(brief, scheme, room, listener)) for listener in brief.listeners)
    critical = min(range(len(results)), key=lambda i: results[i].margin) if results else None
    return IsolationResult(results, critical, _elements(brief, scheme, room))
