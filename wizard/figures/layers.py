"""Constructions as layers with looks and names: what every drawing of a wall, lid or floor reads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.materials.wall import FRAME_TOP_GAP
from calc.options import deck, existing_wall
from calc.scheme import FloorOption, LidOption, Ply, WallOption
from wizard.figures.hatch import look_of

STRAPPING = "wood strapping"  # the frame word of straps on the wall as found: no plates
FOUND = "as found"  # of what stands there already


@dataclass(frozen=True)
class Layer:
    """``part`` tells what it is to the drawing: found | board | compound | gap | frame | support. Thickness m."""

    part: str
    name: str
    look: str
    thickness: float


def boards(plies: Iterable[Ply], damped: bool = False) -> list[Layer]:
    """Plies one by one, the damping compound between each two."""
    film = load("options")["damping"]["thickness"]
    made: list[Layer] = []
    for n, ply in enumerate(plies):
        if damped and n:
            made.append(Layer("compound", "damping compound", "compound", film))
        made.append(Layer("board", ply.material, look_of(ply.material), ply.thickness))
    return made


def wall_layers(option: WallOption, kind: SideKind, brief: Brief) -> tuple[Layer, ...]:
    """A wall from outside in, what stands there already first. The new layers together are as thick as the option says."""
    existing = existing_wall(kind, brief)
    first = (
        [] if existing is None else [Layer("found", f"{_found_name(existing)}, {FOUND}", look_of(existing.material), existing.thickness)]
    )
    outer, inner = boards(option.outer_plies), boards(option.inner_plies, option.damped)
    support = load("options")["wall"]["support"][option.support]
    taken = sum(layer.thickness for layer in (*outer, *inner)) + support + option.gap
    frame = option.thickness - taken
    middle: list[Layer] = []
    if option.two_rows:
        rows = Layer("frame", option.frame, "wood", frame / 2.0)
        middle = [rows, Layer("gap", "air gap between the rows", "air", option.gap), rows]
    else:
        if option.gap > 0.0:
            middle.append(Layer("gap", "air gap, nothing touches", "air", option.gap))
        middle.append(Layer("frame", option.frame, "wood", frame))
    if support > 0.0:
        middle.append(Layer("support", support_name(option.support), "steel", support))
    return (*first, *outer, *middle, *inner)


def support_name(support: str) -> str:
    return "isolation clips with channel" if support == "isolation clip" else support


def _found_name(existing: Ply) -> str:
    return existing.material.split(",")[0]


def frame_head(wall: WallOption, lid: LidOption, under: float) -> float:
    """Where the frame of a wall ends [m], the joists being ``under``: it carries the lid's own joists, or stands free of the joists, or is
    fixed to them. Source: the take-off's lengths, calc.materials.wall; the order of work."""
    if wall.frame == STRAPPING:
        return under
    if lid.own_joist_depth > 0.0:
        return under - sum(layer.thickness for layer in lid_below(lid) if layer.part in ("gap", "own"))
    return under - FRAME_TOP_GAP if wall.gap > 0.0 else under


def lid_below(option: LidOption) -> tuple[Layer, ...]:
    """What takes height under the joists, from their underside down."""
    below = boards(option.plies, option.damped)
    stand_off = option.layers[: len(option.layers) - len(below)]
    made: list[Layer] = []
    for layer in stand_off:
        part = "gap" if option.support == "independent joists" else "support"
        name = "own joists" if layer.name == "own joists" else layer.name
        if layer.name == "own joists":
            part = "own"
        elif part == "gap":
            name = "clear of the joists above"
        made.append(Layer(part, name, "timber" if part == "own" else "air", layer.thickness))
    return (*made, *below)


SLAB = 0.10  # m of slab drawn where nobody knows how thick it is


def slab(brief: Brief) -> Layer:
    """The slab as found, as thick as was answered."""
    known = brief.site.slab_thickness
    return Layer("slab", f"slab, {FOUND}" + ("" if known else ", thickness not known"), "concrete", known or SLAB)


def deck_layers(brief: Brief) -> tuple[Layer, ...]:
    """What is walked on over the joists, from the top down."""
    return tuple(Layer("found", f"{ply.material}, {FOUND}", look_of(ply.material), ply.thickness) for ply in deck(brief))


def floor_layers(floor: FloorOption) -> tuple[Layer, ...]:
    """A floor finish from the top down; the catalogue lists it in the order of the work, from the slab up."""
    return tuple(Layer("floor", layer.name, look_of(layer.name), layer.thickness) for layer in reversed(floor.layers))
