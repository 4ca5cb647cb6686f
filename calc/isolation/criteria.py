"""How low the sound must be at a listener. Data and sources: data/criteria.toml."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import A_WEIGHTING, BANDS, OCTAVES, a_weighted
from calc.brief import Listener
from calc.catalogue import load
from calc.ratings import NC_CURVES, NC_NUMBERS, nr_curve, octave_levels

Spectrum = NDArray[np.float64]


def listener_kinds() -> dict[str, dict[str, Any]]:
    """Listener kinds by id: label, where, target, background_day, background_night [dB], volume [m3], reverberation [s]."""
    return dict(load("criteria")["listener"])


def target_kinds() -> dict[str, dict[str, Any]]:
    """Target kinds by id: whom it is of ("people" or "room"), label, rule, source, day_only where true, and the rule's numbers [dB]."""
    return dict(load("criteria")["target"])


def places() -> dict[str, dict[str, Any]]:
    """Kinds of place by id: label, outdoor level by day and by night [dBA], what it adds indoors [dB]. Source: data/criteria.toml."""
    return dict(load("criteria")["place"])


def hearing_threshold() -> Spectrum:
    """Threshold of hearing (21,) [dB]. Source: ISO 226:2003 Table 1."""
    return np.array(load("criteria")["hearing_threshold"], dtype=np.float64)


def octaves_to_thirds(bands: list[float], values: list[float]) -> Spectrum:
    """Values (21,) at the third-octave bands, straight lines over log frequency between octave values, level beyond the ends.

    Source: interpolation, common practice.
    """
    return np.asarray(np.interp(np.log(BANDS), np.log(bands), values), dtype=np.float64)


def background_spectrum(level_dba: float) -> Spectrum:
    """Background (21,) [dB] with an A-weighted total of ``level_dba``.

    Source: shape of data/criteria.toml (neutral RC curve, Blazier 1981, from memory).
    """
    slope = float(load("criteria")["background_slope_db_per_octave"])
    shape = slope * np.log2(BANDS / 1000.0)
    return np.asarray(shape - a_weighted(shape) + level_dba, dtype=np.float64)


def _octave_limit(target: dict[str, Any]) -> list[float]:
    """Octave levels 63 Hz to 4 kHz [dB] of the curve of an NC or NR target."""
    if target["rule"] == "nr":
        return list(nr_curve(target["curve"])[1 : 1 + OCTAVES.size])
    return list(NC_CURVES[int(np.flatnonzero(target["curve"] == NC_NUMBERS)[0])][: OCTAVES.size])


def target_spectrum(listener: Listener) -> Spectrum:
    """Highest allowed band levels (21,) at the listener [dB]; never under the threshold of hearing.

    Raises KeyError for an unknown target, ValueError for a stated number that is missing. Source: data/criteria.toml, a source beside
    each target.
    """
    target = target_kinds()[listener.target]
    if target["rule"] == "background":
        allowed = background_spectrum(listener.background) - target["below"]
    elif target["rule"] == "level":
        allowed = target["level"] - target["band_share"] - A_WEIGHTING
    elif target["rule"] == "limit":
        allowed = _stated(listener) - A_WEIGHTING  # a number in dBA says nothing of single bands: each may use it up
    else:
        limit = _octave_limit(target)
        thirds = octaves_to_thirds(list(OCTAVES), limit)
        allowed = thirds - np.repeat(octave_levels(thirds) - limit, 3)  # three that keep it use their octave up, and no more
    return np.asarray(np.maximum(allowed, hearing_threshold()), dtype=np.float64)


def _stated(listener: Listener) -> float:
    if listener.limit <= 0.0:
        raise ValueError(f"{listener.label}: a target by law needs its number")
    return listener.limit


def target_dba(listener: Listener) -> float:
    """Highest allowed A-weighted total at the listener [dB]: the stated level, else the total of the allowed bands.

    Raises as ``target_spectrum``. Source: data/criteria.toml.
    """
    target = target_kinds()[listener.target]
    if target["rule"] == "limit":
        return _stated(listener)
    return float(target["level"]) if target["rule"] == "level" else float(a_weighted(target_spectrum(listener)))


def room_absorption(kind: str) -> float:
    """Absorption area [m2] of the listener's room, 0.16 V/T. Raises KeyError for an unknown kind, and for the room itself.

    Source: Sabine; volume and reverberation time of data/criteria.toml (common practice, no source).
    """
    row = listener_kinds()[kind]
    return 0.16 * float(row["volume"]) / float(row["reverberation"])


@cache
def from_basement(kind: str) -> Spectrum:
    """Level difference (21,) [dB] from the rest of the basement to a listener in it; read-only.

    Raises KeyError for a kind that is reached another way. Source: data/criteria.toml (common practice, no source).
    """
    difference = octaves_to_thirds(list(OCTAVES), listener_kinds()[kind]["from_basement"])
    difference.setflags(write=False)
    return difference
