"""Pieces that sections and details are put together from: a wall in plan, a lid across its joists, clips and channel."""

from __future__ import annotations

from calc.brief import Brief
from calc.scheme import LidOption, WallOption
from wizard.figures.layers import Layer, deck_layers, lid_below
from wizard.figures.scale import View
from wizard.figures.svg import BLACK, GREY, WHITE, Pen, Point

STUD = 0.038  # m, thickness of framing lumber
CHANNEL_DEEP = 0.022  # m, furring channel of 7/8 in
STRAP = 0.064  # m, width of a strap
Rows = list[tuple[Point, str, float]]  # where it is pointed at on paper, name, thickness m


def frame_places(option: WallOption, start: float, end: float) -> list[float]:
    """Middles of studs [m] between two places along a wall, one stud 0.10 m from the start."""
    step = option.stud_spacing or 0.406
    count = int((end - start - 0.10) / step) + 1
    return [start + 0.10 + step * n for n in range(max(count, 0))]


def wall_in_plan(
    view: View, layers: tuple[Layer, ...], option: WallOption, start: float, end: float, y: float = 0.0
) -> list[tuple[Layer, float]]:
    """A wall cut level, its outside at ``y`` and its layers running down the paper; returns each layer with its middle [m].

    ``view`` counts y downward. Studs, fill, channel and clips stand where the option puts them.
    """
    at, found, left = y, [], option.fill_thickness if option.fill != "none" else 0.0
    rows = 0
    for layer in layers:
        low, high = at, at + layer.thickness
        if layer.part == "frame":
            fill = min(left, layer.thickness)
            left -= fill
            if fill > 0.0:
                view.paint("fibre", start, high - fill, end, high)
            _studs(view, option, start, end, (low, high), rows)
            rows += 1
        elif layer.part == "support":
            _support_along(view, option.support, start, end, (low, high), frame_places(option, start, end))
        elif layer.part == "gap":
            view.paint("air", start, low, end, high)
        else:
            view.paint(layer.look, start, low, end, high)
        found.append((layer, (low + high) / 2.0))
        at = high
    return found


def _studs(view: View, option: WallOption, start: float, end: float, zone: tuple[float, float], row: int) -> None:
    low, high = zone
    wide = STRAP if option.frame == "wood strapping" else STUD
    places = frame_places(option, start, end)
    if option.frame.startswith("staggered"):
        for x in places:
            view.paint("wood", x - wide / 2.0, low, x + wide / 2.0, low + option.stud_depth)
            across = x + option.stud_spacing / 2.0
            if across + wide < end:
                view.paint("wood", across - wide / 2.0, high - option.stud_depth, across + wide / 2.0, high)
        return
    for x in places:
        view.paint("wood", x - wide / 2.0, low, x + wide / 2.0, high)


def _support_along(view: View, support: str, start: float, end: float, zone: tuple[float, float], places: list[float]) -> None:
    """Channel seen along its length between frame (first of ``zone``) and boards; clips on every third stud, channel feet on all."""
    low, high = zone
    view.canvas.rect(view.box(start, low, end, high), None, WHITE)
    deep = min(high - low, CHANNEL_DEEP)
    view.paint("steel", start, high - deep, end, high)
    for n, x in enumerate(places):
        if support == "isolation clip" and n % 3 == 0:
            view.paint("foam", x - 0.022, low, x + 0.022, low + max(high - low - deep, 0.004))
            view.canvas.rect(view.box(x - 0.030, high - deep - 0.004, x + 0.030, high - 0.004), Pen(0.35))
        elif support != "isolation clip":
            view.canvas.rect(view.box(x - 0.018, low, x + 0.018, low + 0.003), None, BLACK)


def lid_across(view: View, option: LidOption, brief: Brief, onto: float, width: float, first: float = 0.12) -> Rows:
    """Floor and lid cut across the joists, the floor's top at y = 0 and y running down; returns names with where they point.

    Layers that run through are pointed at ``onto`` [m], others at the last piece of them.
    """
    joists, rows, at = brief.shell.joists, [], 0.0
    for layer in deck_layers(brief):
        view.paint(layer.look, 0.0, at, width, at + layer.thickness)
        rows.append((view.at(onto, at + layer.thickness / 2.0), layer.name, layer.thickness))
        at += layer.thickness
    under = at + joists.depth
    places = [first + joists.spacing * n for n in range(int((width - first) / joists.spacing) + 1)]
    boards = at
    for ply in option.between_joists:
        view.paint("gypsum", 0.0, boards, width, boards + ply.thickness)
        rows.append((view.at(onto, boards + ply.thickness / 2.0), f"{ply.material}, between the joists", ply.thickness))
        boards += ply.thickness
    if option.fill != "none" and option.fill_thickness > 0.0:
        view.paint("fibre", 0.0, boards, width, boards + option.fill_thickness)
        rows.append((view.at(onto, boards + option.fill_thickness / 2.0), f"{option.fill}, light", option.fill_thickness))
    for x in places:
        view.canvas.rect(view.box(x - joists.breadth / 2.0 - 0.004, at, x + joists.breadth / 2.0 + 0.004, under), None, WHITE)
        view.paint("wood", x - joists.breadth / 2.0, at, x + joists.breadth / 2.0, under)
    rows.append((view.at(places[-1], at + 0.8 * joists.depth), "joists, as found", joists.depth))
    return rows + _lid_under(view, option, brief, (onto, width), places, under)


def _lid_under(view: View, option: LidOption, brief: Brief, ends: tuple[float, float], places: list[float], under: float) -> Rows:
    (onto, width), at = ends, under
    rows: Rows = []
    below = lid_below(option)
    stand_off = sum(layer.thickness for layer in below if layer.part in ("gap", "own", "support"))
    if option.own_joist_depth > 0.0:
        foot = under + stand_off
        step = brief.shell.joists.spacing
        own = [x + step / 2.0 for x in places if x + step / 2.0 + 0.03 < width]
        for x in own:
            view.canvas.rect(view.box(x - 0.023, foot - option.own_joist_depth, x + 0.023, foot), None, WHITE)
            view.paint("wood", x - 0.019, foot - option.own_joist_depth, x + 0.019, foot)
        down = foot - min(0.3 * option.own_joist_depth, 0.05)
        rows.append((view.at(own[-1], down), "own joists, on the inner walls", option.own_joist_depth))
    for layer in below:
        if layer.part == "support":
            _support_along(view, option.support, 0.0, width, (at, at + layer.thickness), places)
        elif layer.part in ("board", "compound"):
            view.paint(layer.look, 0.0, at, width, at + layer.thickness)
        if layer.part != "own":
            rows.append((view.at(onto, at + layer.thickness / 2.0), layer.name, layer.thickness))
        at += layer.thickness
    return rows


def torn(view: View, x: float, y0: float, y1: float) -> None:
    """The line at which a drawing is cut off, upright at ``x``."""
    top, bottom = sorted((view.at(x, y0)[1], view.at(x, y1)[1]))
    at = view.at(x, 0.0)[0]
    view.canvas.line((at, top - 1.5), (at, bottom + 1.5), Pen(0.18, "5 1 1 1", GREY))
