"""The section across the room to scale."""

from __future__ import annotations

from dataclasses import dataclass

from calc.assess import Assessment
from calc.brief import SideKind
from calc.geometry import lid_over
from calc.headroom import ZoneHeight, soffit_sides
from calc.options import existing_wall
from calc.scheme import Ply
from calc.task_facts import WORKING_LENGTHS as LENGTHS
from wizard.figures.figure import Figure
from wizard.figures.hatch import look_of
from wizard.figures.keys import heading, key, materials_key, of_line, tone
from wizard.figures.layers import deck_layers, frame_head, lid_below, slab, wall_layers
from wizard.figures.places import Overhead, places
from wizard.figures.scale import View, dimension_across, dimension_up, fitted, fitting, scale_bar, scale_words, written
from wizard.figures.svg import BLACK, EDGE, HIDDEN, LIMIT, PAGE, PALE, WHITE, Canvas, Pen
from wizard.figures.text import SMALLEST

LEFT, RIGHT = EDGE + 32.0, EDGE + 16.0  # mm beside the drawing
OWN = Pen(0.5, "1 1")


@dataclass(frozen=True)
class Cut:
    """Where the section is taken, and what stands at its two ends: side numbers, thickness of what stands there already [m]."""

    along_x: bool
    span: float
    sides: tuple[int, int]
    kinds: dict[int, SideKind]
    found: dict[int, Ply | None]

    def deep(self, end: int) -> float:
        wall = self.found[self.sides[end]]
        return 0.0 if wall is None else wall.thickness


def _cut(a: Assessment) -> Cut:
    shell = a.brief.shell
    along_x = shell.length >= shell.width
    sides = (1, 3) if along_x else (4, 2)
    kinds = {side.number: side.kind for side in shell.sides}
    return Cut(along_x, shell.width if along_x else shell.length, sides, kinds, {n: existing_wall(kinds[n], a.brief) for n in sides})


def section(a: Assessment, units: str) -> Figure:
    """Across the room, the joists lengthwise, so that what hangs below them shows its profile."""
    cut, room = _cut(a), a.room
    ratio = fitting(cut.span + cut.deep(0) + cut.deep(1), PAGE - LEFT - RIGHT, units)
    canvas, _ = fitted(lambda scale: (_drawn(a, cut, scale, units), None), ratio, units)
    title = "Section across the room"
    words = (
        f"From side {cut.sides[0]} to side {cut.sides[1]}; {written(cut.span, units, 1.0)} between the walls as found, "
        f"{written(room.width if cut.along_x else room.length, units, 1.0)} inside. {' '.join(_notes(a, units))}"
    )
    return Figure("section", title, canvas.svg("section", title, words), "Heights to scale, finished floor to finished ceiling.", words)


def _drawn(a: Assessment, cut: Cut, ratio: int, units: str) -> Canvas:
    shell, where, canvas = a.brief.shell, places(a), Canvas()
    top = heading(canvas, f"Section across the room, from side {cut.sides[0]} to side {cut.sides[1]}")
    above = shell.joists.depth + sum(layer.thickness for layer in deck_layers(a.brief))
    wide = (cut.span + cut.deep(0) + cut.deep(1)) * 1000.0 / ratio
    left = LEFT + (PAGE - LEFT - RIGHT - wide) / 2.0 + cut.deep(0) * 1000.0 / ratio
    view = View(canvas, (left, top + 3.0 + (above + shell.height) * 1000.0 / ratio), float(ratio), up=True)
    _as_found(a, view, cut)
    _walls(a, view, cut.sides, cut.span)
    inner = (where.lost[cut.sides[0]], cut.span - where.lost[cut.sides[1]])
    lid = shell.height - a.scheme.lid.height_taken
    floor = shell.slab_unevenness + a.scheme.floor.height_taken
    _lid(a, view, inner, cut)
    if floor > 0.0:
        canvas.rect(view.box(inner[0], 0.0, inner[1], floor), Pen(0.1), "#777")
    _limits(view, a.headroom.open_field, inner, floor)
    for over in where.overhead:
        _soffit(a, view, over, cut.along_x, inner, (lid, floor))
    hung = [(over.y0, over.y1) if cut.along_x else (over.x0, over.x1) for over in where.overhead]
    _heights(a, view, inner, (lid, floor), hung, units)
    bottom = _widths(view, cut.span, inner, cut.sides, slab(a.brief).thickness, units)
    under = scale_bar(view, (EDGE, bottom + 1.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    under = _keys(a, canvas, cut, under + 2.5)
    for note in [*_notes(a, units), *(["Places of what hangs overhead are suggestions."] if where.overhead else [])]:
        under = canvas.paragraph((EDGE, under), note, PAGE - 2.0 * EDGE) + 0.8
    return canvas


def _as_found(a: Assessment, view: View, cut: Cut) -> None:
    """Slab, walls, joists and floor above as they stand."""
    shell, ends, foot = a.brief.shell, (-cut.deep(0), cut.span + cut.deep(1)), -slab(a.brief).thickness
    view.paint("concrete", ends[0], foot, ends[1], 0.0)
    for n, (low, high) in zip(cut.sides, ((ends[0], 0.0), (cut.span, ends[1])), strict=True):
        wall = cut.found[n]
        if wall is not None:
            view.paint(look_of(wall.material), low, 0.0, high, shell.height)
            if cut.kinds[n] is SideKind.FOUNDATION_BELOW:
                soil = 3.0 * view.ratio / 1000.0
                start = low - soil if n == cut.sides[0] else high
                view.paint("earth", start, foot, start + soil, shell.height)
    view.paint("timber", ends[0], shell.height, ends[1], shell.height + shell.joists.depth)
    level = shell.height + shell.joists.depth
    for layer in reversed(deck_layers(a.brief)):
        view.paint(layer.look, ends[0], level, ends[1], level + layer.thickness)
        level += layer.thickness


def _keys(a: Assessment, canvas: Canvas, cut: Cut, top: float) -> float:
    field = a.headroom.open_field
    alike = _alike(field)
    entries = [(of_line(LIMIT), "the code's least height" + (", and your own" if alike else ""))]
    entries += [(of_line(HIDDEN), "as found, overhead")] if a.brief.shell.obstructions else []
    entries += [(of_line(OWN), "your own lowest ceiling")] if field.own_limit is not None and not alike else []
    under = key(canvas, top, entries)
    under = key(canvas, under, [tone("#333", "boards"), tone(PALE, "frame with fill")])
    looks = ["concrete", "timber", *(look_of(w.material) for w in cut.found.values() if w is not None)]
    looks += [layer.look for layer in deck_layers(a.brief)]
    looks += ["earth"] if any(cut.kinds[n] is SideKind.FOUNDATION_BELOW for n in cut.sides) else []
    return materials_key(canvas, under, looks)


def _notes(a: Assessment, units: str) -> list[str]:
    known = a.brief.site.slab_thickness is not None
    thick = [] if known else [f"Nobody gave the slab's thickness: it is drawn {written(slab(a.brief).thickness, units)} thick."]
    return [*(zone_words(zone, units) for zone in a.headroom.zones), *thick]


def _alike(zone: ZoneHeight) -> bool:
    """Whether the two limits are one line in the drawing."""
    return zone.own_limit is not None and abs(zone.own_limit - zone.limit) < 0.02


def zone_words(zone: ZoneHeight, units: str) -> str:
    own = "" if zone.own_limit is None else f"; your own lowest {written(zone.own_limit, units)}"
    verdict = "keeps both" if zone.ok_code and zone.ok_own else "too low for the code" if not zone.ok_code else "lower than you want"
    name = zone.name[0].upper() + zone.name[1:]
    verdict = verdict if own or not zone.ok_code else "keeps it"
    return f"{name}: {written(zone.height, units, 1.0)}, model code {written(zone.limit, units)}{own}: {verdict}."


def _walls(a: Assessment, view: View, sides: tuple[int, int], span: float) -> None:
    """Each new layer as high as it stands: frames to where they end, the room's boards under the lid, the rest to the joists."""
    shell, kinds = a.brief.shell, {side.number: side.kind for side in a.brief.shell.sides}
    face = shell.height - a.scheme.lid.height_taken - LENGTHS["edge_gap"]
    for n, start, sign in ((sides[0], 0.0, 1.0), (sides[1], span, -1.0)):
        at, wall = start, a.scheme.wall(kinds[n])
        layers = [layer for layer in wall_layers(wall, kinds[n], a.brief) if layer.part != "found"]
        inside = max((m for m, layer in enumerate(layers) if layer.part in ("frame", "support")), default=-1)
        for m, layer in enumerate(layers):
            top = frame_head(wall, a.scheme.lid, shell.height) if layer.part == "frame" else face if m > inside else shell.height
            look = {"board": "#333", "compound": BLACK, "frame": PALE}.get(layer.part, WHITE)
            view.canvas.rect(view.box(at, 0.0, at + sign * layer.thickness, top), Pen(0.08), look)
            at += sign * layer.thickness


def _lid(a: Assessment, view: View, inner: tuple[float, float], cut: Cut) -> None:
    """What hangs under the joists, from there down; what holds it is drawn as far as it has a thickness of its own.

    It runs over the wall boards, and joists of its own over the frames that carry them.
    """
    at, over = a.brief.shell.height, lid_over(a.brief, a.scheme)
    left, right = (over[n] - LENGTHS["edge_gap"] for n in cut.sides)
    bears = [a.scheme.wall(cut.kinds[n]).stud_depth for n in cut.sides]
    for layer in lid_below(a.scheme.lid):
        if layer.part == "own":
            view.paint(
                "timber", inner[0] - over[cut.sides[0]] - bears[0], at - layer.thickness, inner[1] + over[cut.sides[1]] + bears[1], at
            )
        elif layer.part in ("board", "compound"):
            view.canvas.rect(view.box(inner[0] - left, at - layer.thickness, inner[1] + right, at), Pen(0.1), "#333")
        at -= layer.thickness


def _soffit(a: Assessment, view: View, over: Overhead, along_x: bool, inner: tuple[float, float], heights: tuple[float, float]) -> bool:
    """An obstruction, and the box round it where it ends below the lid."""
    shell, thing, lid = a.brief.shell, over.thing, heights[0]
    x0, x1 = (over.y0, over.y1) if along_x else (over.x0, over.x1)
    zone = next((z for z in a.headroom.zones if z.obstruction and abs(z.bare - (thing.underside - shell.slab_unevenness)) < 1e-9), None)
    if zone is not None:
        low = heights[1] + zone.height
        boxing = soffit_sides().whole
        view.canvas.rect(view.box(max(x0 - boxing, inner[0]), low, min(x1 + boxing, inner[1]), lid), Pen(0.6), WHITE)
    view.canvas.rect(view.box(x0, thing.underside, x1, shell.height), HIDDEN, WHITE if zone else "none")
    if zone is not None:
        limit = heights[1] + zone.limit
        view.line(max(x0 - 0.25, inner[0]), limit, min(x1 + 0.25, inner[1]), limit, LIMIT)
        at = (x0 + x1) / 2.0
        x, beside = view.at(at, 0.0)[0], view.mm(at - inner[0]) < 2.0 * SMALLEST
        label = written(zone.height, a.brief.units, 1.0)
        dimension_up(view.canvas, view.at(0.0, low)[1], view.at(0.0, heights[1])[1], x, label, right=beside)
    return zone is not None


def _limits(view: View, field: ZoneHeight, inner: tuple[float, float], floor: float) -> None:
    """The code's least height, and the person's own where it is another line."""
    view.line(inner[0], floor + field.limit, inner[1], floor + field.limit, LIMIT)
    if field.own_limit is not None and not _alike(field):
        view.line(inner[0], floor + field.own_limit, inner[1], floor + field.own_limit, OWN)


def _heights(
    a: Assessment, view: View, inner: tuple[float, float], heights: tuple[float, float], taken: list[tuple[float, float]], units: str
) -> None:
    """Room height where no soffit hangs, shell height outside, limits as lines through the room."""
    lid, floor = heights
    field = a.headroom.open_field
    canvas, shell = view.canvas, a.brief.shell
    kinds = {side.number: side.kind for side in shell.sides}
    clear = 0.012 * view.ratio  # m: 12 mm of paper
    tries = [inner[0] + share * (inner[1] - inner[0]) for share in (0.12, 0.88, 0.3, 0.7, 0.2, 0.8, 0.5)]
    place = next((x for x in tries if not any(low - clear < x < high + clear for low, high in taken)), tries[0])
    x = view.at(place, 0.0)[0]
    dimension_up(canvas, view.at(0.0, lid)[1], view.at(0.0, floor)[1], x, written(field.height, units, 1.0))
    found = existing_wall(kinds[1 if shell.length >= shell.width else 4], a.brief)
    out = view.at(0.0 if found is None else -found.thickness, 0.0)[0]
    dimension_up(canvas, view.at(0.0, shell.height)[1], view.at(0.0, 0.0)[1], out - 11.0, written(shell.height, units, 1.0), (out, out))
    top = shell.height + shell.joists.depth
    label = written(shell.joists.depth, units)
    dimension_up(canvas, view.at(0.0, top)[1], view.at(0.0, shell.height)[1], out - 11.0, label, (out, out))


def _widths(view: View, span: float, inner: tuple[float, float], sides: tuple[int, int], thick: float, units: str) -> float:
    """Inner and whole width under the slab, which is ``thick`` [m]."""
    low = view.at(0.0, -thick)[1]
    a, b = (view.at(x, 0.0)[0] for x in inner)
    c, d = view.at(0.0, 0.0)[0], view.at(span, 0.0)[0]
    dimension_across(view.canvas, a, b, low + 6.0, written(inner[1] - inner[0], units, 1.0), (low, low))
    dimension_across(view.canvas, c, d, low + 12.0, written(span, units, 1.0), (low, low))
    for n, x, anchor in ((sides[0], c - 3.0, "end"), (sides[1], d + 3.0, "start")):
        view.canvas.text((x, low + 12.0 + 0.36 * SMALLEST), f"side {n}", anchor=anchor)
    return low + 15.0
