"""Elements of the house as they stand: slab, foundation and party walls with what soil and edges take from them; boards on frames.

Source: ISO 12354-1:2017 Annexes B and C; what is assumed stands in data/flanking.toml.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.isolation.assembly import Leaf
from calc.isolation.junction import IMPEDANCE, Element, absorption_length, loss_factor
from calc.isolation.leaf import free_radiation, massive_loss, plate
from calc.isolation.materials import material, ply
from calc.isolation.parameters import parameters
from calc.isolation.path import house
from calc.options import deck, existing_wall
from calc.scheme import Ply

Spectrum = NDArray[np.float64]
_MEMO = 512  # elements kept; a new size of room makes new ones


def _data() -> dict[str, Any]:
    return load("flanking")


def _soil_loss(mass: float) -> Spectrum:
    """Loss factor (21,) of a plate of ``mass`` kg/m2 by radiation into the soil behind it. Source: data/flanking.toml."""
    row = _data()["soil"]
    return np.asarray(row["share"] * row["density"] * row["speed"] / (2.0 * np.pi * BANDS * mass))


@lru_cache(_MEMO)
def heavy(board: Ply, long: float, short: float, soil: float) -> Element:
    """A heavy element as built, sides [m], ``soil`` the share of it that soil backs. ISO 12354-1:2017 Annexes B and C, edges and soil
    by data/flanking.toml. Raises ValueError for a board that is not massive."""
    massive = plate(Leaf((board,)), parameters()).massive
    if massive is None:
        raise ValueError(f"{board.material} is not a heavy element")
    long, short = max(long, short), min(long, short)
    edges = 2.0 * (long + short) * _data()["edges"]["absorption"]
    radiation = np.minimum(free_radiation(BANDS, massive.critical, long, short), 1.0)
    eta = loss_factor(massive.loss, massive.mass, massive.critical, long * short, edges, radiation) + soil * _soil_loss(massive.mass)
    return Element(massive_loss(massive, eta, long, short), long * short, absorption_length(long * short, eta), massive.mass)


@lru_cache(_MEMO)
def light(plies: tuple[Ply, ...], bay: tuple[float, float], area: float) -> Element:
    """Boards on a frame with bays of these sides [m]: resonant transmission only, which is what a junction carries; a is the area over 1 m.

    ISO 12354-1:2017 Clause 4.2 and Annex B (resonant term)."""
    board = plate(Leaf(plies), parameters())
    sigma = np.minimum(free_radiation(BANDS, board.critical, max(bay), min(bay)), 1.0)
    resonant = (IMPEDANCE / (np.pi * BANDS * board.mass)) ** 2 * np.pi * board.critical * sigma**2 / (2.0 * BANDS * board.loss)
    return Element(np.maximum(-10.0 * np.log10(resonant), 0.0), area, np.full(BANDS.size, area), board.mass)


def slab(long: float, short: float) -> Element:
    """The basement slab over a floor of these sides [m], soil under all of it. Source: data/flanking.toml."""
    row = _data()["slab"]
    return heavy(ply(row["material"], row["thickness"]), long, short, 1.0)


def _soil(kind: SideKind) -> float:
    """Share of a wall that soil backs. Source: data/options.toml, house."""
    return {SideKind.FOUNDATION_BELOW: 1.0, SideKind.FOUNDATION_ABOVE: 1.0 - float(house()["above_ground"])}.get(kind, 0.0)


def standing(kind: SideKind, brief: Brief, length: float, height: float) -> Element | None:
    """The wall that stands on a side, None where it is light or there is none."""
    board = existing_wall(kind, brief)
    if board is None or not material(board.material).massive:
        return None
    return heavy(board, length, height, _soil(kind))


def floor_above(brief: Brief, area: float) -> Element:
    """The floor over the room, ``area`` m2 of it. Source: data/options.toml, deck."""
    joists = brief.shell.joists
    return light(deck(brief), (joists.spacing, joists.span), area)


def wall_above(length: float) -> Element:
    """Inner board of a wall of the house above, ``length`` m of it. Source: data/flanking.toml."""
    row, storey = _data()["wall_above"], float(house()["storey"])
    return light((ply(row["material"], row["thickness"]),), (0.406, storey), length * storey)
