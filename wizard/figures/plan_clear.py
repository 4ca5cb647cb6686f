"""Clear spaces that the plan must keep but whose places nobody gave: drawn beside the floor plan, to its scale, with their sizes."""

from __future__ import annotations

from dataclasses import dataclass

from calc.assess import Assessment
from calc.brief import Brief
from calc.codes import rule
from wizard.figures.scale import View, written
from wizard.figures.svg import EDGE, PAGE, Box, Canvas, Pen
from wizard.figures.text import LINE, SMALLEST

KEEP = Pen(0.25, "0.6 0.9")
COLUMN = 53.0  # mm of paper for one space
PLACED = 4.0  # mm between a space and its words


@dataclass(frozen=True)
class Space:
    """A clear space: width and depth [m], and what it is."""

    width: float
    depth: float
    words: str


def spaces(brief: Brief, units: str) -> tuple[Space, ...]:
    """The clear spaces that apply: before the electrical panel, before a fuel-burning appliance, at the foot of the stairs.

    Sources: data/rules.toml, tables panel, appliance_access, stairs.
    """
    found = []

    def size(metres: float) -> str:
        return written(metres, units, 5.0)

    if brief.shell.panel in ("in the area", "unknown"):
        row = rule(brief.code, "panel")
        wide, deep = float(row["width"]), float(row["depth"])
        words = f"electrical panel: {size(wide)} wide, {size(deep)} deep before it, {size(float(row['height']))} high; its door opens fully"
        found.append(Space(wide, deep, words))
    if brief.shell.appliance != "none":
        row = rule(brief.code, "appliance_access")
        side = float(row["space"])
        words = f"appliance: {size(side)} by {size(side)}, level, at its controls; {size(float(row['passage']))} of passage to it"
        found.append(Space(side, side, words))
    row = rule(brief.code, "stairs")
    wide = float(row["width"])
    found.append(Space(wide, wide, f"foot of the stairs: {size(wide)} wide, {size(float(row['headroom']))} of headroom over them"))
    return tuple(found)


def clear_spaces(a: Assessment, canvas: Canvas, ratio: int, top: float, units: str) -> float:
    """Draw them in a row from ``top`` [mm]; returns the lower end."""
    found = spaces(a.brief, units)
    intro = "Keep free before it (the thick edge) wherever it stands, by the model code, at the same scale; nobody gave the places:"
    top = canvas.paragraph((EDGE, top), intro, PAGE - 2.0 * EDGE) + 1.5
    view = View(canvas, (0.0, 0.0), float(ratio))
    tall = max(view.mm(space.depth) for space in found)
    lowest = top + tall
    for n, space in enumerate(found):
        left = EDGE + n * (COLUMN + PLACED)
        box = Box(left, top + tall - view.mm(space.depth), left + view.mm(space.width), top + tall)
        canvas.rect(box, KEEP)
        canvas.line((box.left, box.bottom), (box.right, box.bottom), Pen(0.5))
        beside = COLUMN - view.mm(space.width) - 2.0
        if beside > 30.0:
            lowest = max(lowest, canvas.paragraph((box.right + 2.0, top), space.words, beside))
        else:
            lowest = max(lowest, canvas.paragraph((left, top + tall + 0.3 * LINE * SMALLEST), space.words, COLUMN))
    return lowest + 1.5
