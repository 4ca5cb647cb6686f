"""Level at every listener: source spectrum less each path, summed on energy, against the target.

Likelihood and range: calc.isolation.certainty.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, a_weighted, energy_sum
from calc.brief import Brief, Listener, SideKind
from calc.geometry import Room
from calc.isolation import paths as ways
from calc.isolation.assembly import Assembly
from calc.isolation.certainty import Likely, likely, raisers, source_uncertainty
from calc.isolation.criteria import target_dba, target_spectrum
from calc.isolation.opening import door_loss, window_loss
from calc.isolation.path import Loss, Path, where
from calc.isolation.predict import Prediction, predictions
from calc.kept import Kept, as_heard
from calc.options import lid_assembly, wall_assembly
from calc.ratings import rw, stc
from calc.scheme import Scheme

Spectrum = NDArray[np.float64]
_MEMO: dict[Assembly, Prediction] = {}
_MEMO_SIZE = 4000
_RESULTS: Kept[ListenerResult] = Kept(256)
_HEARD: Kept[_Heard] = Kept(512)
_RATINGS: Kept[tuple[int, int, int, int]] = Kept(256)


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

    ``low_dba`` and ``high_dba``: 5th and 95th percentile of the level; ``likelihood`` of keeping the target; ``raisers``: what would make
    it surer, a sentence each. ``paths`` run loudest first."""

    listener: Listener
    levels: Spectrum
    level_dba: float
    target_levels: Spectrum
    target_dba: float
    margin: float
    worst_band_hz: float | None
    low_dba: float
    high_dba: float
    likelihood: float
    raisers: tuple[str, ...]
    paths: tuple[PathLevel, ...]

    @property
    def needed_dba(self) -> float:
        """A-weighted level [dB] at which this sound would just keep the target: below ``target_dba`` where a single band stands out."""
        return self.level_dba + self.margin


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


@dataclass(frozen=True)
class _Heard:
    """The paths to a listener and what is drawn of them."""

    paths: tuple[Path, ...]
    drawn: Likely


def predicted(assemblies: Sequence[Assembly]) -> tuple[Prediction, ...]:
    """Predictions, each assembly computed once in the life of the process. Source: calc.isolation.predict."""
    known = [_MEMO.get(each) for each in assemblies]
    new = [each for each, found in zip(assemblies, known, strict=True) if found is None]
    if new:
        if len(_MEMO) + len(new) > _MEMO_SIZE:
            _MEMO.clear()
        new = list(dict.fromkeys(new))
        made = dict(zip(new, predictions(new), strict=True))
        _MEMO.update(made)
        known = [made[each] if found is None else found for each, found in zip(assemblies, known, strict=True)]
    return tuple(found for found in known if found is not None)


def loss(prediction: Prediction) -> Loss:
    """Loss and uncertainty of a prediction."""
    return Loss(prediction.tl, prediction.std_uncertainty, prediction.basis.startswith("measured"))


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
    found += ways.floor_paths(brief, room, listener, scheme.floor)
    return (*found, *ways.fixed_paths(brief, listener))


def judge(listener: Listener, found: Sequence[Path], source_spread: float, drawn: Likely | None = None) -> ListenerResult:
    """Sum of paths against the target of a listener; ``source_spread`` is the source's standard uncertainty [dB]; ``drawn``: what
    calc.isolation.certainty finds of them, where it is known.

    Raises ValueError without paths. Source: energy sum; calc.isolation.certainty.
    """
    if not found:
        raise ValueError(f"no path leads to {listener.label}")
    total = energy_sum(np.stack([path.levels for path in found]), axis=0)
    target, dba, limit = target_spectrum(listener), a_weighted(total), target_dba(listener)
    margins = _margins(listener, total)
    worst = int(np.argmin(margins))
    sure = drawn or likely(found, source_spread, target, limit)
    return ListenerResult(
        listener=listener,
        levels=total,
        level_dba=dba,
        target_levels=target,
        target_dba=limit,
        margin=float(margins[worst]),
        worst_band_hz=float(BANDS[worst]) if worst < BANDS.size else None,
        low_dba=sure.low,
        high_dba=sure.high,
        likelihood=sure.likelihood,
        raisers=raisers(found, source_spread),
        paths=tuple(sorted((PathLevel(p.name, p.levels, a_weighted(p.levels)) for p in found), key=lambda p: -p.level_dba)),
    )


def _margins(listener: Listener, total: Spectrum) -> Spectrum:
    """Target less level (22,) [dB]: every band, then the A-weighted total."""
    return np.append(target_spectrum(listener) - total, target_dba(listener) - a_weighted(total))


def _element(name: str, boundary: str, option_id: str, label: str, area: float, tl: Spectrum, basis: str) -> ElementResult:
    def work() -> tuple[int, int, int, int]:
        rating = rw(tl)
        return int(stc(tl)), int(rating.value), int(rating.c), int(rating.ctr)

    return ElementResult(name, boundary, option_id, label, area, *_RATINGS.get(tl.tobytes(), work), tl, basis)


def _elements(brief: Brief, scheme: Scheme, room: Room) -> tuple[ElementResult, ...]:
    lid, walls = _predictions(brief, scheme)
    found = [_element("lid", "lid", scheme.lid.id, scheme.lid.label, room.floor_area, lid.tl, lid.basis)]
    for kind, wall in scheme.walls:
        area = sum(room.side_area(side.number) for side in brief.shell.sides if side.kind is kind)
        found.append(_element(ways.NAMES[kind], kind.value, wall.id, wall.label, area, walls[kind].tl, walls[kind].basis))
    door = scheme.door
    found.append(_element("door", "door", door.id, door.label, door.area, door_loss(door.id), "leaf as published, see section 15"))
    if ways.window_area(brief):
        area, basis = ways.window_area(brief), "published, see section 15"
        found.append(_element("escape window", "window", "second_sash", "escape window with a second sash", area, window_loss(), basis))
    return tuple(found)


def result_of(brief: Brief, scheme: Scheme, room: Room, listener: Listener) -> ListenerResult:
    """Result of one listener, worked out once. As ``isolation``."""

    def work() -> ListenerResult:
        found = _heard(brief, scheme, room, listener)
        return judge(listener, found.paths, _spread(brief, listener), found.drawn)

    return _RESULTS.get((as_heard(brief), scheme, room, listener), work)


def likelihood_of(brief: Brief, scheme: Scheme, room: Room, listener: Listener) -> float:
    """Likelihood that one listener's target is kept, as in ``result_of``, without the rest of the result."""
    return _heard(brief, scheme, room, listener).drawn.likelihood


def margin_of(brief: Brief, scheme: Scheme, room: Room, listener: Listener) -> float:
    """Margin of one listener [dB], as in ``result_of``, without the rest of the result."""
    paths = _heard(brief, scheme, room, listener).paths
    return float(_margins(listener, energy_sum(np.stack([path.levels for path in paths]), axis=0)).min())


def _heard(brief: Brief, scheme: Scheme, room: Room, listener: Listener) -> _Heard:
    """What leads to a listener and what is drawn of it, worked out once: the search for a likelihood asks first, the result after it."""

    def work() -> _Heard:
        found = listener_paths(brief, scheme, room, listener)
        return _Heard(found, likely(found, _spread(brief, listener), target_spectrum(listener), target_dba(listener)))

    return _HEARD.get((as_heard(brief), scheme, room, listener), work)


def _spread(brief: Brief, listener: Listener) -> float:
    """Standard uncertainty of the source [dB] for a listener."""
    # what the room itself hears is not the music, and each of its ways carries the spread of its own noise
    # a level that nobody knows is taken on the careful side already: to let it spread as well would count one doubt twice
    use = brief.use
    return 0.0 if where(listener) == "inside" else source_uncertainty(use.level_measured or use.level_careful)


def results_of(brief: Brief, scheme: Scheme, room: Room) -> Iterator[ListenerResult]:
    """Results of the listeners, one after another, each worked out when it is asked for, and kept. As ``isolation``."""
    return (result_of(brief, scheme, room, listener) for listener in brief.listeners)


def isolation(brief: Brief, scheme: Scheme, room: Room) -> IsolationResult:
    """Levels at all listeners and ratings of all parts.

    Source: diffuse-field levels with ISO 12354 path sums; each path names its own source in calc.isolation.paths.
    """
    results = tuple(results_of(brief, scheme, room))
    critical = min(range(len(results)), key=lambda i: results[i].margin) if results else None
    return IsolationResult(results, critical, _elements(brief, scheme, room))
