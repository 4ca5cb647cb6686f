"""Out of the house through the rim of the joists: by the boards of the lid into the bays, and out through the board that closes them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.brief import Brief, SideKind
from calc.geometry import Room
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.flanking import lid_flanking
from calc.isolation.materials import ply
from calc.isolation.path import db, house
from calc.isolation.predict import transmission_loss
from calc.scheme import LidOption

Spectrum = NDArray[np.float64]
FOUNDATIONS = (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE)  # the joists lie on them, above ground


def rim_area(brief: Brief, room: Room) -> float:
    """Area of the rim over the foundation walls of the room [m2]. Source: geometry."""
    length = sum(room.side_length(side.number) for side in brief.shell.sides if side.kind in FOUNDATIONS)
    return length * brief.shell.joists.depth


@lru_cache(maxsize=256)
def _loss(boards: Leaf, cavity: Cavity) -> Spectrum:
    row = house()["rim"]
    rim = Leaf((ply(row["material"], row["thickness"]),))
    found: Spectrum = transmission_loss([Assembly("rim", "wall", (boards, rim), (cavity,))])[0]
    found.setflags(write=False)
    return found


def rim_loss(brief: Brief, lid: LidOption) -> Spectrum:
    """Transmission loss (21,) [dB] from the room through the lid's boards, a filled or empty bay and the rim, referred to the rim's area.

    Two leaves with a cavity as deep as the joists between; beside it what holds the boards shakes the joists and with them the rim, taken
    as it shakes the floor above. Source: calc.isolation.matrix; data/options.toml, data/flanking.toml."""
    through = _loss(Leaf(lid.plies, lid.damped), Cavity(brief.shell.joists.depth, lid.fill, lid.fill_thickness))
    return np.asarray(-db(10.0 ** (-through / 10.0) + 10.0 ** (-lid_flanking(lid) / 10.0)))


def rim_uncertainty() -> Spectrum:
    """Standard uncertainty (21,) [dB] of ``rim_loss``. Source: data/options.toml (common practice, no source)."""
    return np.full(BANDS.size, float(house()["rim_uncertainty"]))
