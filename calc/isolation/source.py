"""What is played: the spectrum in the room. Data and sources: data/sources.toml."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import a_weighted, energy_sum
from calc.catalogue import load


@dataclass(frozen=True)
class Source:
    """One kind of use. ``level`` is the default A-weighted level in the room [dB]; ``activity`` a key of data/air.toml."""

    id: str
    label: str
    level: float
    level_source: str
    activity: str


def source_ids() -> tuple[str, ...]:
    """Ids of all sources, in the order of the catalogue."""
    return tuple(load("sources")["source"])


@cache
def source(source_id: str) -> Source:
    """Facts of one source. Raises KeyError for an unknown id. Source: data/sources.toml."""
    row = load("sources")["source"][source_id]
    return Source(source_id, row["label"], row["level"], row["level_source"], row["activity"])


@cache
def source_spectrum(source_id: str, level_dba: float) -> NDArray[np.float64]:
    """Band levels (21,) in the room [dB] whose A-weighted total is ``level_dba``; read-only.

    Several shapes are summed on energy, each with an equal A-weighted share. Raises KeyError for an unknown id.
    Source: shapes of data/sources.toml.
    """
    data = load("sources")
    shapes = np.array([data["shape"][name]["levels"] for name in data["source"][source_id]["shapes"]], dtype=np.float64)
    shape = energy_sum(shapes, axis=0)
    levels = np.asarray(shape - a_weighted(shape) + level_dba, dtype=np.float64)
    levels.setflags(write=False)
    return levels


def source_label(source_id: str) -> str:
    """Plain words for a source. Raises KeyError for an unknown id."""
    return source(source_id).label
