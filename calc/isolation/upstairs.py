"""From the rest of the basement up to the rooms of the house: by the stair, with a door or without, and through the bare floor beside it.

One answer, ``Brief.house.stair_door``, sets it for the hall, the rooms above and the windows above alike. Data: data/criteria.toml.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import OCTAVES
from calc.brief import Brief
from calc.catalogue import load
from calc.isolation.assembly import Assembly
from calc.isolation.criteria import listener_kinds, octaves_to_thirds, room_absorption
from calc.isolation.opening import door_loss
from calc.isolation.path import db, house
from calc.isolation.predict import predictions
from calc.options import bare_floor_assembly

Spectrum = NDArray[np.float64]


def stair_difference(door: bool, kind: str) -> Spectrum:
    """Level difference (21,) [dB] by the stair alone to a kind of listener. Raises KeyError for one who is not up there.

    Source: data/criteria.toml (common practice, no source); the door as hung, data/doors.toml."""
    row = load("criteria")["stair"]
    bare = octaves_to_thirds(list(OCTAVES), row["open"]) + octaves_to_thirds(list(OCTAVES), listener_kinds()[kind]["from_hall"])
    return bare + door_loss(row["door"]) if door else bare


@lru_cache(maxsize=256)
def _up(floor: Assembly, door: bool, kind: str) -> Spectrum:
    area = load("criteria")["stair"]["floor_share"] * listener_kinds()[kind]["volume"] / house()["storey"]
    through_floor = predictions([floor])[0].tl - db(area / room_absorption(kind))
    both = 10.0 ** (-stair_difference(door, kind) / 10.0) + 10.0 ** (-through_floor / 10.0)
    found = np.asarray(-db(both))
    found.setflags(write=False)
    return found


def up_from_basement(brief: Brief, kind: str) -> Spectrum:
    """Level difference (21,) [dB] from the rest of the basement up to a kind of listener, by stair and floor together; read-only.

    Raises KeyError for a listener who is not up there. Source: as ``stair_difference``; the bare floor by ISO 12354-1, diffuse fields."""
    return _up(bare_floor_assembly(brief), brief.house.stair_door == "yes", kind)
