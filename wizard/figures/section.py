"""The section across the room to scale, and the height stack layer by layer against the limits."""

from __future__ import annotations

from calc.assess import Assessment
from calc.brief import SideKind
from calc.headroom import ZoneHeight
from calc.materials.lid import lies_between
from calc.options import existing_wall
from wizard.figures.callouts import names
from wizard.figures.figure import Figure
from wizard.figures.hatch import look_of
from wizard.figures.keys import heading, key, materials_key, of_line, tone
from wizard.figures.layers import Layer, deck_layers, floor_layers, lid_below, wall_layers
from wizard.figures.parts import STUD, soffit_sides
from wizard.figures.places import Overhead, places
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.svg import BLACK, EDGE, HIDDEN, LIMIT, PAGE, PALE, THIN, WHITE, Box, Canvas, Pen, Point
from wizard.figures.text import SMALLEST

SLAB = 0.10  # m of slab drawn; its own thickness is not known
OWN = Pen(0.5, "1 1")
BREAK = 16.0  # mm of paper for the air of the room in the height stack
BAY = (0.12, 0.88)  # shares of the height stack's width between which a bay between two joists is shown
NAMES = 68.0  # mm from the left at which the names of the stack begin


def section(a: Assessment, units: str) -> Figure:
    """Across the room, the joists lengthwise, so that what hangs below them shows its profile."""
    shell, where = a.brief.shell, places(a)
    along_x = shell.length >= shell.width
    span = shell.width if along_x else shell.length
    left_side, right_side = (1, 3) if along_x else (4, 2)
    canvas = Canvas()
    top = heading(canvas, f"Section across the room, from side {left_side} to side {right_side}")
    kinds = {side.number: side.kind for side in shell.sides}
    found = {n: existing_wall(kinds[n], a.brief) for n in (left_side, right_side)}
    deep = {n: 0.0 if wall is None else wall.thickness for n, wall in found.items()}
    deck = deck_layers(a.brief)
    above = shell.joists.depth + sum(layer.thickness for layer in deck)
    margins = (EDGE + 32.0, EDGE + 16.0)
    ratio = fitting(span + deep[left_side] + deep[right_side], PAGE - sum(margins), units)
    wide = (span + deep[left_side] + deep[right_side]) * 1000.0 / ratio
    origin = (
        margins[0] + (PAGE - sum(margins) - wide) / 2.0 + deep[left_side] * 1000.0 / ratio,
        top + 3.0 + (above + shell.height) * 1000.0 / ratio,
    )
    view = View(canvas, origin, float(ratio), up=True)
    view.paint("concrete", -deep[left_side], -SLAB, span + deep[right_side], 0.0)
    for n, low, high in ((left_side, -deep[left_side], 0.0), (right_side, span, span + deep[right_side])):
        wall = found[n]
        if wall is not None:
            view.paint(look_of(wall.material), low, 0.0, high, shell.height)
            if kinds[n] is SideKind.FOUNDATION_BELOW:
                soil = 3.0 * ratio / 1000.0
                view.paint("earth", low - soil if n == left_side else high, -SLAB, low if n == left_side else high + soil, shell.height)
    ends = (-deep[left_side], span + deep[right_side])
    view.paint("timber", ends[0], shell.height, ends[1], shell.height + shell.joists.depth)
    level = shell.height + above
    for layer in deck:
        view.paint(layer.look, ends[0], level - layer.thickness, ends[1], level)
        level -= layer.thickness
    _walls(a, view, (left_side, right_side), span)
    lost = where.lost
    inner = (lost[left_side], span - lost[right_side])
    lid = shell.height - a.scheme.lid.height_taken
    floor = shell.slab_unevenness + a.scheme.floor.height_taken
    canvas.rect(view.box(inner[0], lid, inner[1], shell.height), Pen(0.15), WHITE)
    _lid(a, view, inner)
    if floor > 0.0:
        canvas.rect(view.box(inner[0], 0.0, inner[1], floor), Pen(0.1), "#777")
    _limits(view, a.headroom.open_field, inner, floor)
    soffits = [_soffit(a, view, over, along_x, inner, (lid, floor)) for over in where.overhead]
    hung = [(over.y0, over.y1) if along_x else (over.x0, over.x1) for over in where.overhead]
    _heights(a, view, inner, (lid, floor), hung, units)
    bottom = _widths(view, span, inner, (left_side, right_side), units)
    under = scale_bar(view, (EDGE, bottom + 1.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    field = a.headroom.open_field
    alike = _alike(field)
    entries = [(of_line(LIMIT), "the code's least height" + (", and your own" if alike else "")), (of_line(HIDDEN), "as found, overhead")]
    entries += [(of_line(OWN), "your own lowest ceiling")] if field.own_limit is not None and not alike else []
    under = key(canvas, under + 2.5, entries)
    under = key(canvas, under, [tone("#333", "boards"), tone(PALE, "frame with fill")])
    looks = {"concrete", "timber", *(look_of(w.material) for w in found.values() if w is not None), *(layer.look for layer in deck)}
    looks |= {"earth"} if any(kinds[n] is SideKind.FOUNDATION_BELOW for n in found) else set()
    under = materials_key(canvas, under, list(looks))
    notes = [_zone_words(zone, units) for zone in a.headroom.zones]
    for note in [*notes, *(["Places of what hangs overhead are suggestions."] if soffits else [])]:
        under = canvas.paragraph((EDGE, under), note, PAGE - 2.0 * EDGE) + 0.8
    title = "Section across the room"
    words = " ".join(notes)
    return Figure("section", title, canvas.svg("section", title, words), "Heights to scale, finished floor to finished ceiling.", words)


def _alike(zone: ZoneHeight) -> bool:
    """Whether the two limits are one line in the drawing."""
    return zone.own_limit is not None and abs(zone.own_limit - zone.limit) < 0.02


def _zone_words(zone: ZoneHeight, units: str) -> str:
    own = "" if zone.own_limit is None else f"; your own lowest {written(zone.own_limit, units)}"
    verdict = "keeps both" if zone.ok_code and zone.ok_own else "too low for the code" if not zone.ok_code else "lower than you want"
    name = zone.name[0].upper() + zone.name[1:]
    verdict = verdict if own or not zone.ok_code else "keeps it"
    return f"{name}: {written(zone.height, units, 1.0)}, model code {written(zone.limit, units)}{own}: {verdict}."


def _walls(a: Assessment, view: View, sides: tuple[int, int], span: float) -> None:
    kinds = {side.number: side.kind for side in a.brief.shell.sides}
    for n, start, sign in ((sides[0], 0.0, 1.0), (sides[1], span, -1.0)):
        at = start
        for layer in wall_layers(a.scheme.wall(kinds[n]), kinds[n], a.brief):
            if layer.part == "found":
                continue
            box = view.box(at, 0.0, at + sign * layer.thickness, a.brief.shell.height)
            view.canvas.rect(box, Pen(0.08), {"board": "#333", "compound": BLACK, "frame": PALE}.get(layer.part, WHITE))
            at += sign * layer.thickness


def _lid(a: Assessment, view: View, inner: tuple[float, float]) -> None:
    """What hangs under the joists, from there down; what holds it is drawn as far as it has a thickness of its own."""
    at = a.brief.shell.height
    for layer in lid_below(a.scheme.lid):
        if layer.part == "own":
            view.paint("timber", inner[0], at - layer.thickness, inner[1], at)
        elif layer.part in ("board", "compound"):
            view.canvas.rect(view.box(inner[0], at - layer.thickness, inner[1], at), Pen(0.1), "#333")
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


def _widths(view: View, span: float, inner: tuple[float, float], sides: tuple[int, int], units: str) -> float:
    low = view.at(0.0, -SLAB)[1]
    a, b = (view.at(x, 0.0)[0] for x in inner)
    c, d = view.at(0.0, 0.0)[0], view.at(span, 0.0)[0]
    dimension_across(view.canvas, a, b, low + 6.0, written(inner[1] - inner[0], units, 1.0), (low, low))
    dimension_across(view.canvas, c, d, low + 12.0, written(span, units, 1.0), (low, low))
    for n, x, anchor in ((sides[0], c - 3.0, "end"), (sides[1], d + 3.0, "start")):
        view.canvas.text((x, low + 12.0 + 0.36 * SMALLEST), f"side {n}", anchor=anchor)
    return low + 15.0


def height_stack(a: Assessment, units: str) -> Figure:
    """Every layer from the floor above to the slab, the air of the room cut short; with what is left under each."""
    shell = a.brief.shell
    canvas = Canvas()
    top = heading(canvas, "Height stack in the open field", "All to scale but the height of the room, which is cut short at the zigzag.")
    upper = [*deck_layers(a.brief), Layer("joist", "joists, as found", "timber", shell.joists.depth), *lid_below(a.scheme.lid)]
    lower = [*floor_layers(a.scheme.floor)]
    if shell.slab_unevenness > 0.0:
        lower.append(Layer("floor", "uneven slab, highest spot", "concrete", shell.slab_unevenness))
    lower.append(Layer("slab", "slab, as found, thickness not known", "concrete", SLAB))
    ratio = fitting(sum(layer.thickness for layer in (*upper, *lower)), 95.0, units)
    view = View(canvas, (EDGE + 4.0, top + 2.0), float(ratio))
    column = 52.0 * ratio / 1000.0
    rows: list[tuple[Point, str]] = []
    level = 0.0
    for layer in upper:
        _layer(view, layer, column, level, rows, units, a)
        level += layer.thickness
    lid = view.at(0.0, level)[1]
    rows.append(((view.origin[0] + 45.0, lid + BREAK / 2.0), _zone_words(a.headroom.open_field, units)))
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
    size = f": {written(layer.thickness, units, 0.1)}" if layer.part != "slab" and layer.thickness > 0.0 else ""
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
