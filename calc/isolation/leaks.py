"""What leaks through a wall or a lid as built: cracks at its edges, electrical boxes, holes for pipes. Data: data/leaks.toml.

A leak in the room's own leaf opens the cavity, no more. What comes in spreads over the cavity and goes on through what stands behind:
of the power W that came in, tau W / 2 alpha, tau being the loss of the leaves behind and alpha the absorption of the cavity's faces (a
diffuse field between two faces that swallow alpha of it). Where the leaf behind leaks at the same place, its opening catches its share of
the wave that spreads from the first (a half cylinder from a crack, a half sphere from a hole: geometry). A crack under a plate that carries
both leaves is one slit from room to room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.assembly import Assembly
from calc.isolation.path import Together, each
from calc.isolation.predict import transmission_loss
from calc.isolation.slit import hole_loss, slit_loss
from calc.options import lid_assembly, wall_assembly
from calc.scheme import LidOption, WallOption

Spectrum = NDArray[np.float64]
SEALING = "inspected"  # what the plan asks for: its leak test is a hold point


@dataclass(frozen=True)
class Leak:
    """Area of the openings [m2], 0 for none; transmission loss (21,) [dB] as to that area; its standard uncertainty (21,) [dB].

    Of several constructions that leak over one area: a row each in what may differ."""

    area: float
    tl: Spectrum
    uncertainty: Spectrum


def _none() -> Leak:
    return Leak(0.0, np.zeros(BANDS.size), np.zeros(BANDS.size))


def joined(leaks: Sequence[Leak]) -> Leak:
    """Several leaks as one: areas and energies add; uncertainties as those of independent parts."""
    there = [leak for leak in leaks if leak.area > 0.0]
    if not there:
        return _none()
    power = [leak.area * _tau(leak.tl) for leak in there]
    total, area = np.asarray(sum(power)), sum(leak.area for leak in there)
    doubt = np.sqrt(sum((mine / total * leak.uncertainty) ** 2 for mine, leak in zip(power, there, strict=True)))
    return Leak(area, -10.0 * np.log10(total / area), doubt)


def _tau(loss: Spectrum) -> Spectrum:
    return np.asarray(10.0 ** (-loss / 10.0), dtype=np.float64)


@cache
def _behind(leaves: tuple[Any, ...], cavities: tuple[Any, ...], element: str) -> Spectrum:
    found: Spectrum = transmission_loss([Assembly("behind", element, leaves, cavities)])[0]
    found.setflags(write=False)
    return found


def behind(assembly: Assembly) -> Spectrum | None:
    """Transmission loss (21,) [dB] of what stands behind the room's own leaf, the last one; None for a single leaf.

    Source: calc.isolation.predict.
    """
    if len(assembly.leaves) < 2:
        return None
    return _behind(assembly.leaves[:-1], assembly.cavities[:-1], assembly.element)


def _beyond(assembly: Assembly, caught: Spectrum | float = 0.0) -> Spectrum:
    """Share (21,) of what enters the last cavity that comes out behind; ``caught``: share that finds an opening there."""
    rest = behind(assembly)
    if rest is None:
        return np.ones(BANDS.size)
    absorption = load("leaks")["cavity"]["empty" if assembly.cavities[-1].fill == "none" else "filled"]
    return np.asarray(np.minimum(_tau(rest) / (2.0 * absorption) + caught, 1.0), dtype=np.float64)


Layers = Assembly | Together[Assembly]


def crack_leak(assembly: Layers, length: float, sealing: str = SEALING, both: bool = False) -> Leak:
    """Crack of ``length`` m round the room's own leaf. ``both``: the leaf behind was built with it and has the same crack.

    Raises KeyError for an unknown sealing. Source: module text, data/leaks.toml.
    """
    row = load("leaks")["sealing"][sealing]
    if length <= 0.0:
        return _none()
    loss = each(assembly, lambda one: _crack_loss(one, sealing, both))
    return Leak(length * row["share"] * row["gap"], loss, np.full(BANDS.size, row["spread"]))


@lru_cache(maxsize=4096)
def _crack_loss(assembly: Assembly, sealing: str, both: bool) -> Spectrum:
    """Transmission loss (21,) [dB] of a crack as to its area; kept, callers must not change it."""
    row = load("leaks")["sealing"][sealing]
    gap, share, spot = row["gap"], row["share"], row["spot"] or np.inf
    leaf = assembly.leaves[-1]
    entering = _tau(slit_loss(gap, leaf.thickness, edge=True, length=spot))
    straight = np.zeros(BANDS.size)
    caught: Spectrum | float = 0.0
    if both and len(assembly.leaves) > 1:
        depth = sum(cavity.depth for cavity in assembly.cavities)
        if assembly.cavities[-1].frame in load("leaks")["cavity"]["one_plate"]:
            straight = share * _tau(slit_loss(gap, assembly.thickness, edge=True, length=spot))
        else:
            outer = _tau(slit_loss(gap, assembly.leaves[0].thickness, edge=True, length=spot))
            caught = np.minimum(share * gap / (np.pi * depth) * outer, 1.0)
    return np.asarray(-10.0 * np.log10(entering * _beyond(assembly, caught) + straight))


def box_leak(assembly: Layers, count: int, box: str = "surface", back_to_back: bool = False) -> Leak:
    """Flush electrical boxes in the room's own leaf; ``back_to_back``: each has one behind it in the other leaf.

    Raises KeyError for an unknown box. Source: module text, data/leaks.toml.
    """
    row = load("leaks")["box"][box]
    if count <= 0 or row["radius"] <= 0.0:
        return _none()
    loss = each(assembly, lambda one: _box_loss(one, row, back_to_back))
    return Leak(count * np.pi * row["radius"] ** 2, loss, np.full(BANDS.size, row["spread"]))


def _box_loss(assembly: Assembly, row: dict[str, Any], back_to_back: bool) -> Spectrum:
    """Transmission loss (21,) [dB] of a box as to its area."""
    opening = _tau(hole_loss(row["radius"], assembly.leaves[-1].thickness))
    caught: Spectrum | float = 0.0
    area = np.pi * row["radius"] ** 2
    if back_to_back and len(assembly.leaves) > 1:
        apart = max(sum(cavity.depth for cavity in assembly.cavities) - 2.0 * row["setback"], row["radius"])
        caught = np.minimum(area / (2.0 * np.pi * apart**2) * opening, 1.0)
    return np.asarray(-10.0 * np.log10(opening * _beyond(assembly, caught)))


def sleeve_leak(assembly: Layers, count: int, sealing: str = SEALING, both: bool = False) -> Leak:
    """Rings round ``count`` pipes or cable sleeves through the room's own leaf; ``both``: through the leaf behind as well.

    Raises KeyError for an unknown sealing. Source: module text, data/leaks.toml.
    """
    data, row = load("leaks")["sleeve"], load("leaks")["sealing"][sealing]
    if count <= 0:
        return _none()
    loss = each(assembly, lambda one: _sleeve_loss(one, sealing, both))
    return Leak(count * _ring() * data["gap"] * row["share"], loss, np.full(BANDS.size, row["spread"]))


def _ring() -> float:
    """Length of the ring round one sleeve [m]."""
    data = load("leaks")["sleeve"]
    return float(np.pi * (data["diameter"] + data["gap"]))


@lru_cache(maxsize=4096)
def _sleeve_loss(assembly: Assembly, sealing: str, both: bool) -> Spectrum:
    """Transmission loss (21,) [dB] of the ring round one sleeve as to its area; kept, callers must not change it."""
    data, row = load("leaks")["sleeve"], load("leaks")["sealing"][sealing]
    round_it = _ring()
    entering = _tau(slit_loss(data["gap"], assembly.leaves[-1].thickness, length=round_it))
    area = round_it * data["gap"] * row["share"]
    caught: Spectrum | float = 0.0
    if both and len(assembly.leaves) > 1:
        depth = sum(cavity.depth for cavity in assembly.cavities)
        caught = np.minimum(area / (2.0 * np.pi * depth**2) * entering, 1.0)
    return np.asarray(-10.0 * np.log10(entering * _beyond(assembly, caught)))


@lru_cache(maxsize=4096)
def wall_leak(
    assembly: Layers,
    length: float,
    height: float,
    sealing: str = SEALING,
    both: bool = False,
    boxes: int = 0,
    box: str = "surface",
    sleeves: int = 0,
) -> Leak:
    """All leaks of a wall ``length`` by ``height`` m: its foot and both ends (its head is the lid's edge), boxes and sleeves.

    ``both``: both leaves were built, as on an open side, not a lining before a wall that stands. Kept: callers must not change it.
    Source: module text, data/leaks.toml.
    """
    return joined(
        (
            crack_leak(assembly, length + 2.0 * height, sealing, both),
            box_leak(assembly, boxes, box),
            sleeve_leak(assembly, sleeves, sealing, both),
        )
    )


@lru_cache(maxsize=4096)
def lid_leak(assembly: Layers, perimeter: float, sealing: str = SEALING, sleeves: int = 0) -> Leak:
    """All leaks of a lid with edges of ``perimeter`` m into the joist space; the floor above stops what comes through. Kept, as wall_leak.

    Source: module text, data/leaks.toml.
    """
    return joined((crack_leak(assembly, perimeter, sealing), sleeve_leak(assembly, sleeves, sealing)))


@lru_cache(maxsize=256)
def _lids(brief: Brief, lid: LidOption | Together[LidOption]) -> Layers:
    if isinstance(lid, Together):
        return Together(tuple(lid_assembly(item, brief) for item in lid.items))
    return lid_assembly(lid, brief)


@lru_cache(maxsize=256)
def _walls(brief: Brief, kind: SideKind, wall: WallOption | Together[WallOption]) -> Layers:
    if isinstance(wall, Together):
        return Together(tuple(wall_assembly(item, kind, brief) for item in wall.items))
    return wall_assembly(wall, kind, brief)


def gaps_of_lid(brief: Brief, room: Room, lid: LidOption | Together[LidOption], sealing: str = SEALING) -> Leak:
    """Leaks of a lid with edges round the whole room and one sleeve for the supply. Source: as ``lid_leak``."""
    return lid_leak(_lids(brief, lid), room.perimeter, sealing, 1)


def gaps_of_wall(brief: Brief, room: Room, kind: SideKind, wall: WallOption | Together[WallOption], sealing: str = SEALING) -> Leak:
    """Leaks of all walls of one kind. Boxes are mounted on the surface, as the take-off buys them. Source: as ``wall_leak``."""
    lengths = [room.side_length(side.number) for side in brief.shell.sides if side.kind is kind]
    height = room.height * len(lengths)  # two ends to each
    return wall_leak(_walls(brief, kind, wall), sum(lengths), height, sealing, kind is SideKind.OPEN)
