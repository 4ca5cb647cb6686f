"""Wall, partition and lid constructions as sections, layer by layer, one figure each."""

from __future__ import annotations

from collections.abc import Sequence

from calc.assess import Assessment
from calc.brief import SideKind
from calc.scheme import WallOption
from wizard.figures.callouts import names
from wizard.figures.detail import catalogue
from wizard.figures.figure import Figure
from wizard.figures.keys import heading, materials_key
from wizard.figures.layers import Layer, deck_layers, lid_below, wall_layers
from wizard.figures.parts import frame_places, lid_across, torn, wall_in_plan
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, PAGE, Canvas
from wizard.figures.text import SMALLEST

LEFT = EDGE + 17.0  # mm left of the drawing for its dimension
DRAWN = 82.0  # mm of paper across
SHOWN = 0.52  # m of wall drawn at the least
TALL = 95.0  # mm of paper down, at the most
ONTO = 1.5  # mm from the edge of the drawing to where a layer is pointed at

STEMS = {
    SideKind.FOUNDATION_BELOW: "below-ground",
    SideKind.FOUNDATION_ABOVE: "above-ground",
    SideKind.OPEN: "partition",
    SideKind.PARTY: "party-wall",
}


def wall_section(a: Assessment, kind: SideKind, option: WallOption, units: str) -> Figure:
    """The wall on one kind of side, cut level: what stands there on top, the room below."""
    layers = wall_layers(option, kind, a.brief)
    total = sum(layer.thickness for layer in layers)
    canvas = Canvas()
    top = heading(canvas, f"Wall: {kind.value} (cut level)")
    ratio = max(fitting(SHOWN, DRAWN, units), fitting(total, TALL, units))
    shown = DRAWN * ratio / 1000.0
    outside = "outside" if kind is not SideKind.OPEN else "rest of the basement"
    canvas.text((LEFT + DRAWN / 2.0, top + SMALLEST), "the neighbour" if kind is SideKind.PARTY else outside, anchor="middle")
    view = View(canvas, (LEFT, top + 10.5), float(ratio))
    middles = wall_in_plan(view, layers, option, 0.0, shown)
    _spacing(view, frame_places(option, 0.0, shown), units)
    for x in (0.0, shown):
        torn(view, x, 0.0, total)
    new = [layer for layer in layers if layer.part != "found"]
    y0, y1 = view.at(0.0, total - sum(layer.thickness for layer in new))[1], view.at(0.0, total)[1]
    dimension_up(canvas, y0, y1, LEFT - 3.5, written(option.thickness, units, 1.0), (LEFT, LEFT))
    rows = [((LEFT + DRAWN - ONTO, view.at(0.0, y)[1]), _wall_words(layer, option, units)) for layer, y in middles]
    end = names(canvas, rows, LEFT + DRAWN, LEFT + DRAWN + 9.0, top + 10.5)
    canvas.text((LEFT + DRAWN / 2.0, y1 + 1.5 + SMALLEST), "the room", anchor="middle")
    looks = [*(layer.look for layer in layers), *(["fibre"] if option.fill != "none" else []), *_support_looks(option.support)]
    _foot(view, max(end, y1 + 6.0), ratio, units, looks)
    title = f"Wall on a side that is {kind.value}"
    words = f"{catalogue(option.label, units)}. From outside in: " + "; ".join(text for _, text in rows) + "."
    name = f"wall-{STEMS[kind]}"
    caption = f"{catalogue(option.label, units)}; the new wall takes {written(option.thickness, units, 1.0)}."
    return Figure(name, title, canvas.svg(name, title, words), caption, words)


def _spacing(view: View, places: Sequence[float], units: str) -> None:
    """The distance of two studs, over the drawing."""
    if len(places) > 1:
        a, b = (view.at(x, 0.0) for x in places[:2])
        dimension_across(view.canvas, a[0], b[0], a[1] - 1.8, written(places[1] - places[0], units, 1.0))


def _wall_words(layer: Layer, option: WallOption, units: str) -> str:
    size = written(layer.thickness, units, 0.1)
    if layer.part == "frame":
        fill = f" with {option.fill} between" if option.fill != "none" else ""
        return f"{layer.name}{fill}: {size}"
    if layer.part == "support":
        along = f", clips {written(option.clip_spacing, units, 1.0)} along them" if option.clip_spacing else ""
        return f"{layer.name}: {size}; rows {written(option.support_spacing, units, 1.0)} apart{along}"
    return f"{layer.name}: {size}"


def _support_looks(support: str) -> list[str]:
    return {"isolation clip": ["steel", "foam"], "resilient channel": ["steel"]}.get(support, [])


def _foot(view: View, top: float, ratio: int, units: str, looks: list[str]) -> None:
    under = scale_bar(view, (EDGE, top + 2.0), units)
    view.canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    materials_key(view.canvas, under + 2.0, looks)


def lid_section(a: Assessment, units: str) -> Figure:
    """Floor above and lid, cut across the joists."""
    option, joists = a.scheme.lid, a.brief.shell.joists
    canvas = Canvas()
    top = heading(canvas, "Lid: cut across the joists")
    deep = joists.depth + 0.05 + option.height_taken
    ratio = max(fitting(joists.spacing + 0.20, DRAWN, units), fitting(deep, TALL, units))
    shown = DRAWN * ratio / 1000.0
    view = View(canvas, (LEFT, top + 8.0), float(ratio))
    rows = lid_across(view, option, a.brief, shown - ONTO * ratio / 1000.0, shown)
    places = [0.12 + joists.spacing * n for n in range(int((shown - 0.12) / joists.spacing) + 1)]
    _spacing(view, places, units)
    found = joists.depth + sum(layer.thickness for layer in deck_layers(a.brief))
    under, foot = (view.at(0.0, level)[1] for level in (found, found + option.height_taken))
    for x in (0.0, shown):
        torn(view, x, 0.0, (foot - view.origin[1]) * ratio / 1000.0)
    dimension_up(canvas, under, foot, LEFT - 3.5, written(option.height_taken, units, 1.0), (LEFT, LEFT))
    told = [(at, f"{name}: {written(thickness, units, 0.1)}") for at, name, thickness in sorted(rows, key=lambda row: row[0][1])]
    if option.support_spacing > 0.0 and option.own_joist_depth == 0.0:
        told = [(at, text + _grid(a, units) if _is_support(text, a) else text) for at, text in told]
    end = names(canvas, told, LEFT + DRAWN, LEFT + DRAWN + 9.0, top + 8.0)
    canvas.text((LEFT + DRAWN / 2.0, foot + 1.5 + SMALLEST), "the room", anchor="middle")
    looks = ["gypsum", "wood", "panel", *(layer.look for layer in lid_below(option)), *_support_looks(option.support)]
    looks += ["fibre"] if option.fill != "none" else []
    _foot(view, max(end, foot + 6.0), ratio, units, [look for look in looks if look != "steel" or _support_looks(option.support)])
    title = "Lid"
    words = f"{catalogue(option.label, units)}. From the floor above down: " + "; ".join(text for _, text in told) + "."
    caption = f"The lid takes {written(option.height_taken, units, 1.0)} under the joists."
    return Figure("lid", title, canvas.svg("lid", title, words), caption, words)


def _is_support(text: str, a: Assessment) -> bool:
    return any(text.startswith(layer.name) for layer in lid_below(a.scheme.lid) if layer.part == "support")


def _grid(a: Assessment, units: str) -> str:
    lid = a.scheme.lid
    along = f", clips {written(lid.clip_spacing, units, 1.0)} along them" if lid.clip_spacing else ""
    return f"; rows {written(lid.support_spacing, units, 1.0)} apart{along}"
