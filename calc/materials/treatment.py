"""Take-off of what is hung in the room for its sound: panels to build of a frame, mineral wool and fabric; rugs to buy.

A bill of its own: the room is quiet for others without it, so it is no part of the scheme's total.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from calc.acoustics.treatment import Treatment
from calc.catalogue import load
from calc.materials import quantities as q
from calc.materials.items import batt_items, item
from calc.materials.line import Line, cut, line

FRAME_DEPTH = 0.064  # m, of one frame board; a thicker panel takes several, edge on edge
FOLD = 0.05  # m of fabric turned round the back at each edge. Common practice, no source
FIXINGS = 4  # a panel, one near each corner. Common practice, no source
TASK = "measure"


def treatment_lines(treatments: Iterable[Treatment]) -> tuple[Line, ...]:
    """Lines of all treatments; frames are cut like studs. Raises KeyError for a kind that data/acoustics.toml lacks."""
    found: list[Line] = []
    for each in treatments:
        if each.pieces > 0:
            found += _rug(each) if load("acoustics")["treatment"][each.kind]["place"] == "floor" else _panel(each)
    return tuple(found)


def piece_size(treatment: Treatment) -> tuple[float, float]:
    """Width and height [m] of one piece: a corner piece as wide as its face, any other twice as high as wide."""
    row = load("acoustics")["treatment"][treatment.kind]
    face = treatment.area / treatment.pieces
    width = float(row["face"]) if row["place"] == "corners" else math.sqrt(face / 2.0)
    return width, face / width


def _rug(treatment: Treatment) -> list[Line]:
    return [line("rug", treatment.where, treatment.area), line("floor_carpet_pad", treatment.where, treatment.area, TASK)]


def _panel(treatment: Treatment) -> list[Line]:
    """Frame, wool, cover and fixings; a tuned panel has plywood in place of fabric."""
    where, count = treatment.label, treatment.pieces
    width, height = piece_size(treatment)
    boards, deep = q.whole(treatment.thickness / FRAME_DEPTH), treatment.thickness
    found = [
        cut(item("panel_frame"), where, 2 * count * boards, height, TASK),
        cut(item("panel_frame"), where, 2 * count * boards, width, TASK),
        line("panel_fixing", where, FIXINGS * count),
        line("wood_screw", where, 8 * count * boards, TASK),
        *(line(batt, where, treatment.area, TASK) for batt in batt_items("mineral wool", deep)),
    ]
    if treatment.kind == "panel_absorber":
        return [*found, line("panel_thin", where, treatment.area)]
    return [*found, line("panel_fabric", where, count * (width + 2.0 * (deep + FOLD)) * (height + 2.0 * (deep + FOLD)))]
