"""What to put into the bare room so that it rings as long as its use wants, and how much height that takes."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calc.acoustics.layout import Opening, Point
from calc.acoustics.reflections import Reflection
from calc.acoustics.reverberation import bare_absorption, floor_surface, room_time, surface_absorption, treatment_absorption
from calc.brief import Use
from calc.catalogue import load
from calc.geometry import Room
from calc.scheme import FloorOption

Array = NDArray[np.float64]
MOST_MOVES = 400  # far above what any room takes: the search ends at the shares of data/acoustics.toml
USED = 0.75  # of the tolerance above the target; the rest is left for what a whole number of pieces misses
NOTHING = ""  # neither added nor taken away
TINY = 1e-9
EFFORT_WEIGHT = 1e-5  # of a square metre against the distance from the target: decides only between rooms that ring alike


@dataclass(frozen=True)
class Treatment:
    """One kind of absorber: ``pieces`` of together ``area`` m2; ``thickness`` [m] of the material, ``depth`` with the air behind; mass kg.

    ``height_taken`` is what it takes below the lid [m]; ``points``: where pieces must hang [m], the rest is spread out as ``where`` says.
    """

    kind: str  # key of data/acoustics.toml, treatment
    label: str
    pieces: int
    area: float
    thickness: float
    depth: float
    height_taken: float
    mass: float
    absorption: tuple[float, ...]
    where: str
    points: tuple[Point, ...]
    source: str


WHERE = {
    "walls": "on the inner boards, ear height in the middle, no two bare patches face to face",
    "ceiling": "under the lid",
    "corners": "across the vertical corners, floor to lid, one at each corner that door and window leave free",
    "floor": "on the floor, under and before the player or the desk",
}


def cloud_kind(room: Room, least_height: float) -> str | None:
    """The thickest ceiling panel under which ``least_height`` [m] is left; None where none fits. Source: data/acoustics.toml."""
    rows = load("acoustics")["treatment"]
    kinds = sorted((kind for kind, row in rows.items() if row["place"] == "ceiling"), key=lambda kind: -_depth(kind))
    return next((kind for kind in kinds if room.height - _depth(kind) >= least_height - 1e-6), None)


def treated_absorption(room: Room, floor: FloorOption, pieces: Counter[str]) -> Array:
    """Absorption area (6,) [m2] with so many pieces of each kind: each adds its own and takes away the surface that it covers."""
    total = bare_absorption(room, floor)
    for kind, count in pieces.items():
        covered = floor_surface(floor) if load("acoustics")["treatment"][kind]["place"] == "floor" else "lining"
        total = total + count * piece_area(kind, room) * (treatment_absorption(kind) - surface_absorption(covered))
    return total


def piece_area(kind: str, room: Room) -> float:
    """Face of one piece [m2]; a corner piece runs from floor to lid. Source: data/acoustics.toml."""
    row = load("acoustics")["treatment"][kind]
    return float(row["face"] * room.height if row["place"] == "corners" else row["unit"])


@dataclass(frozen=True)
class Aim:
    """Reverberation ``target`` (6,) [s] and its ``tolerance`` as a share of it; what must stay free under the lid [m]; corners to use."""

    target: Array
    tolerance: float
    least_height: float
    corners: int


def choose_pieces(room: Room, floor: FloorOption, aim: Aim, first: Counter[str]) -> Counter[str]:
    """Pieces of each kind, never fewer than ``first``: from there one piece is added, taken away or exchanged, whichever serves best, until
    nothing does. Best is a room nearest to the zone from the target to the tolerance above it in every octave, and then the least effort.
    The long end of the zone is right, as furniture and people, not counted, absorb as well.

    Source: Sabine's formula (calc/acoustics/reverberation.py); shares and efforts of data/acoustics.toml.
    """
    kinds = _kinds(room, floor, aim.least_height)
    rows = load("acoustics")["treatment"]
    effort = {kind: EFFORT_WEIGHT * piece_area(kind, room) * rows[kind]["effort"] for kind in kinds}
    gain = {kind: treated_absorption(room, floor, Counter({kind: 1})) - bare_absorption(room, floor) for kind in kinds}
    effort[NOTHING], gain[NOTHING] = 0.0, np.zeros(len(aim.target))
    pieces = Counter(first)
    for _ in range(MOST_MOVES):
        absorption = treated_absorption(room, floor, pieces)
        adds = [kind for kind in kinds if pieces[kind] < most_pieces(kind, room, pieces, aim.corners)]
        drops = [kind for kind in kinds if pieces[kind] > first[kind]]
        moves = [(NOTHING, NOTHING), *((add, drop) for add in [*adds, NOTHING] for drop in [*drops, NOTHING] if add != drop)]
        misses = _miss(room, absorption + np.array([gain[add] - gain[drop] for add, drop in moves]), aim)
        scores = misses + np.array([effort[add] - effort[drop] for add, drop in moves])
        best = int(np.argmin(scores))
        if scores[best] >= scores[0] - TINY:
            break
        add, drop = moves[best]
        pieces[add] += 1
        pieces[drop] -= 1
        del pieces[NOTHING]
    return +pieces


def most_pieces(kind: str, room: Room, pieces: Counter[str], corners: int) -> int:
    """How many pieces of a kind find room, what else hangs on the same walls deducted. Source: shares of data/acoustics.toml."""
    rows = load("acoustics")["treatment"]
    row = rows[kind]
    if row["place"] == "corners":
        return corners
    place = {"walls": room.wall_area, "ceiling": room.floor_area, "floor": room.floor_area}[row["place"]]
    others = [other for other in pieces if other != kind and rows[other]["place"] == row["place"]]
    most = max(row["share"], *(rows[other]["share"] for other in others), 0.0)
    taken = sum(pieces[other] * piece_area(other, room) for other in others)
    return max(int(min(row["share"] * place, most * place - taken) / piece_area(kind, room) + 1e-9), 0)


def free_corners(room: Room, openings: tuple[Opening, ...]) -> int:
    """Vertical corners into which a bass absorber goes: none that a door or window comes nearer to than the absorber is wide."""
    row = load("acoustics")["treatment"]["bass_corner"]
    reach = row["face"]
    ends = {(1, False): 0, (1, True): 1, (2, False): 1, (2, True): 2, (3, False): 3, (3, True): 2, (4, False): 0, (4, True): 3}
    blocked = set()
    for opening in openings:
        if opening.start < reach:
            blocked.add(ends[opening.side, False])
        if opening.end > room.side_length(opening.side) - reach:
            blocked.add(ends[opening.side, True])
    return int(row["corners"]) - len(blocked)


def first_pieces(use: Use, found: tuple[Reflection, ...], room: Room, cloud: str | None, corners: int) -> Counter[str]:
    """Pieces that stand before any calculation: one panel at each early reflection on a wall, as much ceiling panel as spans those on the
    lid or covers a kit, and every free corner where the use has much bass (deep bass lies below the octaves that are calculated).

    Source: mirror images; else common practice, no source (data/acoustics.toml).
    """
    data = load("acoustics")["layout"]
    pieces: Counter[str] = Counter()
    pieces["wall_panel"] = sum(r.treat and r.surface.startswith("side") for r in found)
    pieces["bass_corner"] = corners if use.source in data["corners_first"] else 0
    over = [r.point for r in found if r.treat and r.surface == "ceiling"]
    if cloud is not None:
        area = 0.0
        if over:
            span = [max(p[axis] for p in over) - min(p[axis] for p in over) for axis in (0, 1)]
            area = (span[0] + data["panel_height"]) * (span[1] + data["panel_height"])
        area += data["cloud_over_kit"] if use.source in data["kits"] else 0.0
        pieces[cloud] = min(math.ceil(area / piece_area(cloud, room) - 1e-9), most_pieces(cloud, room, pieces, 0))
    pieces["wall_panel"] = min(pieces["wall_panel"], most_pieces("wall_panel", room, pieces, 0))
    return +pieces


def treatments(room: Room, pieces: Counter[str], found: tuple[Reflection, ...], kit: Point | None = None) -> tuple[Treatment, ...]:
    """The pieces as a list to build from, in the order of data/acoustics.toml; ``kit``: middle of the drum kit, where there is one [m]."""
    made = []
    for kind, row in load("acoustics")["treatment"].items():
        if not pieces[kind]:
            continue
        area = pieces[kind] * piece_area(kind, room)
        points = _points(kind, room, found, kit)
        first = "first at the points given; the rest " if points else ""
        made.append(
            Treatment(
                kind=kind,
                label=row["text"],
                pieces=pieces[kind],
                area=area,
                thickness=row["thickness"],
                depth=_depth(kind),
                height_taken=_depth(kind) if row["place"] == "ceiling" else 0.0,
                mass=row["mass"] * area,
                absorption=tuple(treatment_absorption(kind).tolist()),
                where=first + WHERE[row["place"]],
                points=points,
                source=row["source"] if row["source"] != "porous" else "computed from its depth and flow resistivity (Miki 1990)",
            )
        )
    return tuple(made)


def _miss(room: Room, absorption: Array, aim: Aim) -> Array:
    """How far (n,) rooms of absorption areas (n, 6) [m2] ring outside the zone: mean square over the octaves of what ln T has over."""
    off = np.log(room_time(room, absorption) / aim.target)
    outside = np.maximum(off - np.log1p(USED * aim.tolerance), 0.0) + np.minimum(off, 0.0)
    return np.asarray(np.mean(outside**2, axis=-1), dtype=np.float64)


def _kinds(room: Room, floor: FloorOption, least_height: float) -> list[str]:
    """Kinds that this room can take: one kind of ceiling panel at most, no rug on a carpet."""
    cloud = cloud_kind(room, least_height)
    rows = load("acoustics")["treatment"]
    no_rug = floor_surface(floor) == "carpet"
    return [k for k, row in rows.items() if (row["place"] != "ceiling" or k == cloud) and not (row["place"] == "floor" and no_rug)]


def _points(kind: str, room: Room, found: tuple[Reflection, ...], kit: Point | None) -> tuple[Point, ...]:
    """Where pieces must hang [m]: at the early reflections, and over the kit."""
    place = load("acoustics")["treatment"][kind]["place"]
    if place == "ceiling":
        over = ((kit[0], kit[1], room.height),) if kit else ()
        return tuple(r.point for r in found if r.treat and r.surface == "ceiling") + over
    if kind == "wall_panel":
        return tuple(r.point for r in found if r.treat and r.surface.startswith("side"))
    return ()


def _depth(kind: str) -> float:
    row = load("acoustics")["treatment"][kind]
    return float(row["thickness"] + row["gap"])
