"""The ways round the room's boundaries: slab, foundation walls and party wall by EN ISO 12354-1, joists and light walls by flanking.py.

Each function depends on one choice alone besides the brief, since calc/choose.py adds the energies of single choices. A path whose two
elements could both be lined takes the listener's side as the bare structure that stands there.
"""

from __future__ import annotations

from functools import lru_cache
from math import sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS
from calc.brief import Brief, Listener, Side, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.assembly import Assembly, Leaf
from calc.isolation.built import floor_above, light, slab, standing, wall_above
from calc.isolation.criteria import listener_kinds, room_absorption
from calc.isolation.flanking import (
    flanking_to_neighbour,
    flanking_uncertainty,
    lid_flanking,
    massive_uncertainty,
    subfloor_flanking,
    wall_flanking,
)
from calc.isolation.junction import Element, apparent, least, light_corner, light_through, path_loss, tee_corner, tee_through
from calc.isolation.path import Path, Together, each, house, in_room, kept, where
from calc.isolation.predict import predictions
from calc.isolation.source import source_spectrum
from calc.kept import as_heard, keep
from calc.options import bare_floor_assembly, existing_wall
from calc.scheme import FloorOption, LidOption, WallOption

Spectrum = NDArray[np.float64]
DOUBT = "flanking"  # what would make these ways surer, a raiser of data/certainty.toml
NO_WAY = np.full(BANDS.size, np.inf)  # the loss of what passes nothing on [dB]
AREA = 10.0  # m2; what path losses are referred to here, without effect on a level
_MEMO = 512  # ways kept: an answer changed makes new ones
REACHED = ("above", "hall", "beside", "neighbour")  # places that touch the same structure
TRIVIAL = 0.01  # share of a heavy element's mass that a light wall across it is taken to have
NAMES = {
    SideKind.FOUNDATION_BELOW: "foundation wall below ground",
    SideKind.FOUNDATION_ABOVE: "foundation wall partly above ground",
    SideKind.OPEN: "wall to the rest of the basement",
    SideKind.PARTY: "party wall",
}


def _data() -> dict[str, Any]:
    return load("flanking")


# ---- where things are


def _ground(listener: Listener) -> float:
    """Floor area of the listener's room [m2]."""
    return float(listener_kinds()[listener.kind]["volume"] / house()["storey"])


def _sides(brief: Brief, kind: SideKind) -> tuple[Side, ...]:
    return tuple(side for side in brief.shell.sides if side.kind is kind)


def _length(brief: Brief, room: Room, kind: SideKind) -> float:
    return sum(room.side_length(side.number) for side in _sides(brief, kind))


def _corners(brief: Brief, kind: SideKind, other: SideKind) -> list[Side]:
    """Sides of one kind, once for each corner where they meet a side of the other kind. Sides run round the room in order."""
    by_number = {side.number: side for side in brief.shell.sides}
    return [
        side for side in _sides(brief, kind) for step in (1, -1) if by_number[(side.number - 1 + step) % len(by_number) + 1].kind is other
    ]


def _path(brief: Brief, listener: Listener, name: str, loss: Spectrum | None, gain: Spectrum, soil: bool) -> Path | None:
    """The path of a bare flanking loss referred to ``AREA``, with what the chosen lining adds to it."""
    if loss is None:
        return None
    inside = source_spectrum(brief.use.source, brief.use.level)
    return Path(name, in_room(inside, loss + gain, AREA, room_absorption(listener.kind)), massive_uncertainty(soil), DOUBT)


def _light_path(brief: Brief, listener: Listener, name: str, loss: Spectrum, area: float) -> Path:
    inside = source_spectrum(brief.use.source, brief.use.level)
    return Path(name, in_room(inside, loss, area, room_absorption(listener.kind)), np.full(BANDS.size, flanking_uncertainty()), DOUBT)


# ---- what linings add


@lru_cache(_MEMO)
def _bare(assembly: Assembly) -> Spectrum:
    return predictions([assembly])[0].tl


def lining_gain(brief: Brief, kind: SideKind, lined: Spectrum) -> Spectrum:
    """What a lining adds (21,) [dB] to the wall that stands on a side; 0 on an open side. ``lined`` is the loss with it (21,).

    ISO 12354-1:2017 Annex D: the lined less the bare wall; the same is taken for flanking."""
    board = existing_wall(kind, brief)
    if board is None:
        return np.zeros(BANDS.size)
    return lined - _bare(Assembly("bare wall", "wall", (Leaf((board,)),), ()))


def lid_gain(brief: Brief, lined: Spectrum) -> Spectrum:
    """What a lid adds (21,) [dB] to the bare floor above. ``lined`` is the loss with it (21,). As ``lining_gain``."""
    return lined - _bare(bare_floor_assembly(brief))


def floor_gain(floor: FloorOption) -> Spectrum:
    """What a floor finish adds (21,) [dB] to the slab: a stiff board on a spring loses at its resonance and gains 30 lg(f/f0) far above.

    160 sqrt(s'/m') Hz with s' in MN/m3 (ISO 12354-1:2017 Annex D, recalled); springs and damping: data/flanking.toml."""
    stiffness = _data()["spring"]
    springs = [stiffness[layer.name] for layer in floor.layers if layer.name in stiffness]
    mass = sum(layer.surface_mass for layer in floor.layers if layer.name not in stiffness)
    if not springs or mass <= 0.0:
        return np.zeros(BANDS.size)
    resonance = 160.0 * sqrt(1.0 / sum(1.0 / each for each in springs) / mass)
    ratio = (BANDS / resonance) ** 1.5
    return np.asarray(10.0 * np.log10((1.0 - ratio) ** 2 + _data()["floating"]["damping"] ** 2 * ratio))


# ---- the ways


def _through(element: Element, receiver: Element, length: float) -> float:
    """Straight on under or behind a light wall: the T with hardly any stem, never under the least value of a junction."""
    k = tee_through(TRIVIAL * element.mass, element.mass)
    return max(k, least(length, element.area, receiver.area))


def _behind_party(brief: Brief, room: Room, ground: float) -> tuple[Element, Element, float] | None:
    """The party wall, the slab of the neighbour's room of ``ground`` m2 and the length they share; None without a party wall."""
    length = _length(brief, room, SideKind.PARTY)
    wall = standing(SideKind.PARTY, brief, length, room.height) if length else None
    return None if wall is None else (wall, slab(length, ground / length), length)


@keep(_MEMO)
def _slab_loss(brief: Brief, room: Room, place: str, ground: float) -> Spectrum | None:
    """The bare slab, on under the walls: to the rest of the basement, or to a neighbour's slab and party wall."""
    here, length, party = slab(room.length, room.width), _length(brief, room, SideKind.OPEN), _behind_party(brief, room, ground)
    if place == "beside" and length:
        other = slab(length, ground / length)
        return path_loss(here, other, _through(here, other, length), length, AREA)
    if place == "neighbour" and party:
        wall, other, length = party
        on = path_loss(here, other, tee_through(wall.mass, here.mass), length, AREA)
        return apparent([on, path_loss(here, wall, tee_corner(wall.mass, here.mass), length, AREA)])
    return None


@keep(_MEMO)
def _foundation_loss(brief: Brief, room: Room, place: str, ground: float, kind: SideKind) -> Spectrum | None:
    """Bare foundation walls of one kind: up through the sill, and on past a corner to the rest of the basement or to the neighbour."""
    losses: list[Spectrum] = []
    if place == "above":
        for side in _sides(brief, kind):
            length = room.side_length(side.number)
            foundation = standing(kind, brief, length, room.height)
            if foundation is None:
                return None
            for above in (floor_above(brief, min(room.floor_area, ground)), wall_above(length)):
                losses.append(path_loss(foundation, above, light_corner(above.mass, foundation.mass), length, AREA))
    for side in _corners(brief, kind, SideKind.OPEN) if place == "beside" else ():
        wall, onward = (standing(kind, brief, length, room.height) for length in (room.side_length(side.number), sqrt(ground)))
        if wall and onward:
            losses.append(path_loss(wall, onward, _through(wall, onward, room.height), room.height, AREA))
    party = _behind_party(brief, room, ground)
    for side in _corners(brief, kind, SideKind.PARTY) if place == "neighbour" and party else ():
        wall, onward = (standing(kind, brief, length, room.height) for length in (room.side_length(side.number), sqrt(ground)))
        if wall and onward and party:
            losses.append(path_loss(wall, onward, tee_through(party[0].mass, wall.mass), room.height, AREA))
            losses.append(path_loss(wall, party[0], tee_corner(party[0].mass, wall.mass), room.height, AREA))
    return apparent(losses) if losses else None


@keep(_MEMO)
def _party_loss(brief: Brief, room: Room, place: str, ground: float) -> Spectrum | None:
    """The bare party wall: on upwards beside the room above, and into the neighbour's slab and foundation walls."""
    party = _behind_party(brief, room, ground)
    if party is None:
        return None
    wall, floor, length = party
    if place == "above":
        upper = standing(SideKind.PARTY, brief, length, float(house()["storey"]))
        return path_loss(wall, upper, _through(wall, upper, length), length, AREA) if upper else None
    if place != "neighbour":
        return None
    losses = [path_loss(wall, floor, tee_corner(wall.mass, floor.mass), length, AREA)]
    for kind in (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE):
        for _ in _corners(brief, kind, SideKind.PARTY):
            other = standing(kind, brief, sqrt(ground), room.height)
            if other:
                losses.append(path_loss(wall, other, tee_corner(wall.mass, other.mass), room.height, AREA))
    return apparent(losses)


@keep(_MEMO)
def _sole_plate_loss(brief: Brief, room: Room, place: str, ground: float, wall: WallOption) -> Spectrum | None:
    """Boards fixed to studs, down their sole plate into the slab and out beside; boards on channels or clips pass next to nothing on."""
    length = _length(brief, room, SideKind.OPEN)
    if place != "beside" or wall.support != "absent" or not length:
        return None
    boards = light(wall.inner_plies, (wall.stud_spacing, room.height), length * room.height)
    beside = slab(length, ground / length)
    return path_loss(boards, beside, light_corner(boards.mass, beside.mass), length, AREA)


def _sole_plates(brief: Brief, room: Room, place: str, ground: float, wall: WallOption | Together[WallOption]) -> Spectrum | None:
    """As ``_sole_plate_loss``; of several walls those that pass nothing on lose without end."""
    if not isinstance(wall, Together):
        return _sole_plate_loss(brief, room, place, ground, wall)
    found = [_sole_plate_loss(brief, room, place, ground, item) for item in wall.items]
    return None if all(loss is None for loss in found) else np.stack([NO_WAY if loss is None else loss for loss in found])


def floor_ways(brief: Brief, room: Room, listener: Listener, floor: FloorOption | Together[FloorOption] | None) -> tuple[Path, ...]:
    """Ways through the slab, taken as running on under the walls, by the floor finish alone; None: the bare slab.

    Source: EN ISO 12354-1; data/flanking.toml."""
    if where(listener) not in REACHED:
        return ()
    loss = _slab_loss(as_heard(brief, by_air=False), room, where(listener), _ground(listener))
    gain = np.zeros(BANDS.size) if floor is None else each(floor, floor_gain)
    return kept(_path(brief, listener, "under the walls, through the slab", loss, gain, True))


def wall_ways(
    brief: Brief, room: Room, listener: Listener, kind: SideKind, wall: WallOption | Together[WallOption], gain: Spectrum
) -> tuple[Path, ...]:
    """Ways round all walls of one kind, by the wall chosen for it alone. ``gain`` (21,) as ``lining_gain``.

    EN ISO 12354-1 for what is heavy; boards to the joists overhead by data/flanking.toml."""
    place, word = where(listener), NAMES[kind]
    if place not in REACHED:
        return ()
    ground, heard = _ground(listener), as_heard(brief, by_air=False)
    if kind is SideKind.OPEN:
        loss, name = _sole_plates(heard, room, place, ground, wall), f"down the {word} and through the slab"
    elif kind is SideKind.PARTY:
        loss, name = _party_loss(heard, room, place, ground), f"along the {word}"
    else:
        loss = _foundation_loss(heard, room, place, ground, kind)
        name = f"up the {word} and over its sill" if place == "above" else f"along the {word}"
    heavy_way = _path(brief, listener, name, loss, gain, kind is not SideKind.PARTY)
    far = place == "neighbour" and not _sides(brief, SideKind.PARTY)
    if place != "above" and not (place == "hall" and kind is SideKind.OPEN) and not far:
        return kept(heavy_way)
    on_wood = brief.shell.foundation == "wood" and kind is not SideKind.PARTY
    over = each(wall, lambda one: wall_flanking(one, on_wood))
    share = room.floor_area * _length(brief, room, kind) / room.perimeter
    more = flanking_to_neighbour() if far else 0.0
    return kept(heavy_way, _light_path(brief, listener, f"round the {word}, into the joists", over + more, share))


def lid_ways(brief: Brief, room: Room, listener: Listener, lid: LidOption | Together[LidOption], gain: Spectrum) -> tuple[Path, ...]:
    """Ways round the lid, by the lid alone. ``gain`` (21,) as ``lid_gain``. Source: data/flanking.toml; EN 12354-1 across a party wall."""
    place = where(listener)
    party = _behind_party(brief, room, _ground(listener)) if place == "neighbour" else None
    if place == "above" or (place == "neighbour" and party is None):
        more = flanking_to_neighbour() if place == "neighbour" else 0.0
        return (_light_path(brief, listener, "round the lid, through the joists", each(lid, lid_flanking) + more, room.floor_area),)
    length = _length(brief, room, SideKind.OPEN) if place in ("beside", "hall") else party[2] if party else 0.0
    if not length:
        return ()
    over = light_through(party[0].mass, floor_above(brief, AREA).mass) if party else 0.0
    loss = subfloor_flanking() + np.maximum(gain, 0.0) + over
    return (_light_path(brief, listener, "through the lid and along the floor above", loss, length * room.height),)
