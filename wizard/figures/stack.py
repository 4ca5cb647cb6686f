"""The height stack: layer by layer from the floor above to the slab, against the limits."""

from __future__ import annotations

from calc.assess import Assessment
from calc.materials.lid import lies_between
from wizard.figures.callouts import names
from wizard.figures.figure import Figure
from wizard.figures.keys import heading
from wizard.figures.layers import Layer, deck_layers, floor_layers, lid_below, slab
from wizard.figures.parts import STUD
from wizard.figures.scale import View, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.section import zone_words
from wizard.figures.svg import EDGE, PAGE, THIN, Box, Canvas, Pen, Point

BREAK = 16.0  # mm of paper for the air of the room
BAY = (0.12, 0.88)  # shares of the drawing's width between which a bay between two joists is shown
NAMES = 68.0  # mm from the left at which the names begin


def height_stack(a: Assessment, units: str) -> Figure:
    """Every layer from the floor above to the slab, the air of the room cut short; with what is left under each."""
    shell = a.brief.shell
    canvas = Canvas()
    top = heading(canvas, "Height stack in the open field", "All to scale but the height of the room, which is cut short at the zigzag.")
    upper = [*deck_layers(a.brief), Layer("joist", "joists, as found", "timber", shell.joists.depth), *lid_below(a.scheme.lid)]
    lower = [*floor_layers(a.scheme.floor)]
    if shell.slab_unevenness > 0.0:
        lower.append(Layer("floor", "uneven slab, highest spot", "concrete", shell.slab_unevenness))
    lower.append(slab(a.brief))
    ratio = fitting(sum(layer.thickness for layer in (*upper, *lower)), 95.0, units)
    view = View(canvas, (EDGE + 4.0, top + 2.0), float(ratio))
    column = 52.0 * ratio / 1000.0
    rows: list[tuple[Point, str]] = []
    level = 0.0
    for layer in upper:
        _layer(view, layer, column, level, rows, units, a)
        level += layer.thickness
    lid = view.at(0.0, level)[1]
    rows.append(((view.origin[0] + 45.0, lid + BREAK / 2.0), zone_words(a.headroom.open_field, units)))
    below = View(canvas, (view.origin[0], lid + BREAK), float(ratio))
    level = 0.0
    for layer in lower:
        _layer(below, layer, column, level, rows, units, a)
        level += layer.thickness
    _air(canvas, Box(view.origin[0], lid, view.origin[0] + 52.0, lid + BREAK), written(a.headroom.open_field.height, units, 1.0))
    rows.sort(key=lambda row: row[0][1])
    bottom = names(canvas, rows, view.origin[0] + 52.0, NAMES, top + 2.0)
    bottom = max(bottom, below.at(0.0, level)[1])
    under = scale_bar(view, (EDGE, bottom + 3.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    title = "Height stack in the open field"
    words = "From the top: " + "; ".join(text for _, text in rows)
    caption = f"What takes height between the joists and the slab. Source of the limit: {a.headroom.open_field.limit_source}."
    return Figure("height-stack", title, canvas.svg("height-stack", title, words), caption, words)


def _layer(view: View, layer: Layer, column: float, level: float, rows: list[tuple[Point, str]], units: str, a: Assessment) -> None:
    lid, onto = a.scheme.lid, column - 1.5 * view.ratio / 1000.0
    box = view.paint(layer.look, 0.0, level, column, level + layer.thickness)
    if layer.part in ("support", "gap"):
        view.canvas.rect(box, Pen(0.15))
    if layer.part == "joist":
        down = level
        for ply in lid.between_joists:
            view.paint("gypsum", BAY[0] * column, down, BAY[1] * column, down + ply.thickness)
            down += ply.thickness
        if lid.between_joists:
            count = len(lid.between_joists)
            plies = f"{count} {'ply' if count == 1 else 'plies'} between the joists, {'it takes' if count == 1 else 'they take'} no height"
            rows.append((view.at(BAY[1] * column - 0.01, (level + down) / 2.0), plies))
        if lid.fill != "none" and lid.fill_thickness > 0.0:
            view.paint("fibre", BAY[0] * column, down, BAY[1] * column, down + lid.fill_thickness)
            words = f"{lid.fill} between the joists: {written(lid.fill_thickness, units, 0.1)}"
            rows.append((view.at(BAY[1] * column - 0.01, down + 0.3 * lid.fill_thickness), words))
    if layer.part == "gap" and lies_between(lid):
        foot = level + layer.thickness
        view.paint("wood", 0.5 * column - STUD / 2.0, foot - lid.own_joist_depth, 0.5 * column + STUD / 2.0, foot)
        words = f"own joists, between those found: {written(lid.own_joist_depth, units, 0.1)}"
        rows.append((view.at(0.5 * column, level - 0.3 * (lid.own_joist_depth - layer.thickness)), words))
    known = layer.part != "slab" or a.brief.site.slab_thickness is not None
    size = f": {written(layer.thickness, units, 0.1)}" if known and layer.thickness > 0.0 else ""
    share = 0.85 if layer.part == "joist" else 0.5
    rows.append((view.at(onto, level + share * layer.thickness), f"{layer.name}{size}"))


def _air(canvas: Canvas, box: Box, height: str) -> None:
    """The room's air, cut short: a zigzag at either side."""
    for x in (box.left, box.right):
        middle = (box.top + box.bottom) / 2.0
        canvas.path(
            [(x, box.top), (x, middle - 2.0), (x - 2.0, middle - 0.7), (x + 2.0, middle + 0.7), (x, middle + 2.0), (x, box.bottom)], THIN
        )
    dimension_up(canvas, box.top, box.bottom, (box.left + box.right) / 2.0 - 8.0, height)
