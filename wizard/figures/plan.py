"""The floor plan to scale: shell, inner room, door, escape, ducts, what hangs overhead, what stands in the room."""

from __future__ import annotations

from calc.acoustics.layout import Opening
from calc.assess import Assessment
from calc.brief import SideKind
from calc.options import existing_wall
from wizard.figures.callouts import mark
from wizard.figures.figure import Figure
from wizard.figures.hatch import PAINTERS, earth, look_of
from wizard.figures.keys import heading, key, materials_key, numbered, of_line, tone
from wizard.figures.layers import wall_layers
from wizard.figures.places import Duct, Overhead, Places, places
from wizard.figures.plan_clear import KEEP, clear_spaces, spaces
from wizard.figures.plan_things import Drawing, room_name, side_area, side_frame, things
from wizard.figures.scale import View, dimension_across, dimension_up, fitted, fitting, nominal, scale_bar, scale_words
from wizard.figures.svg import BLACK, EDGE, EDGE_LINE, HIDDEN, PAGE, PALE, THIN, WHITE, Box, Canvas, Pen
from wizard.figures.text import SMALLEST, width

SOIL = 3.0  # mm of earth drawn outside a wall in the ground
SIDE_NAME = 5.0  # mm that a side's name takes outside
DIMENSIONS = 13.0  # mm for two rows of dimensions at the left and on top
LEFT, RIGHT = EDGE + DIMENSIONS + SIDE_NAME + SOIL, EDGE + SIDE_NAME + SOIL  # mm beside the drawing


def floor_plan(a: Assessment, units: str) -> Figure:
    """The plan, side 1 on top as the interview numbers the sides, at the largest usual scale at which the figure fits a page."""
    where, shell = places(a), a.brief.shell
    beyond = {side.number: _beyond(a, where, side.number) for side in shell.sides}
    ratio = fitting(shell.length + beyond[4] + beyond[2], PAGE - LEFT - RIGHT, units)
    canvas, d = fitted(lambda scale: _drawn(a, where, beyond, scale, units), ratio, units)
    title = "Floor plan"
    sides = " ".join(f"Side {side.number}, {d.length(side.length)}: {side.kind.value}." for side in shell.sides)
    keep = " ".join(f"Keep free: {space.words}." for space in spaces(a.brief, units))
    words = (
        f"The basement area measures {d.length(shell.length)} by {d.length(shell.width)}; the inner room {d.length(a.room.length)} by "
        f"{d.length(a.room.width)}, {d.length(a.room.height)} high. {sides} "
        + " ".join(f"{n}: {text}." for n, (_, text, _) in enumerate(d.marks, start=1))
        + f" {keep}"
    )
    caption = "Walls to scale. Places of door, ducts and things overhead are suggestions: the answers give their sizes, not their places."
    return Figure("floor-plan", title, canvas.svg("floor-plan", title, words), caption, words)


def _drawn(a: Assessment, where: Places, beyond: dict[int, float], ratio: int, units: str) -> tuple[Canvas, Drawing]:
    shell, canvas = a.brief.shell, Canvas()
    top = heading(canvas, "Floor plan")
    left = LEFT + (PAGE - LEFT - RIGHT - (shell.length + beyond[4] + beyond[2]) * 1000.0 / ratio) / 2.0
    view = View(canvas, (left + beyond[4] * 1000.0 / ratio, top + DIMENSIONS + SIDE_NAME + SOIL + beyond[1] * 1000.0 / ratio), float(ratio))
    d = Drawing(a, where, view, units)
    _walls(d)
    for thing in where.overhead:
        _overhead(d, thing)
    for duct in where.ducts:
        _duct(d, duct)
    _door(d)
    _escape(d)
    things(d)
    _dimensions(d, beyond)
    untold = _side_names(d, beyond)
    room_name(d)
    bottom = view.at(0.0, shell.width + beyond[3])[1] + SIDE_NAME + 3.0
    inside = Box(EDGE, top, PAGE - EDGE, bottom)
    for n, (at, _, onto) in enumerate(d.marks, start=1):
        mark(canvas, n, at, inside, onto)
    under = scale_bar(view, (EDGE, max(bottom, canvas.height) + 1.5), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    under = canvas.paragraph((EDGE, under + 0.5), "; ".join(untold) + ".", PAGE - 2.0 * EDGE) if untold else under
    under = _key(d, under + 2.5)
    under = numbered(canvas, under + 0.5, [words for _, words, _ in d.marks])
    clear_spaces(a, canvas, ratio, under + 1.0, units)
    return canvas, d


def _beyond(a: Assessment, where: Places, number: int) -> float:
    """What is drawn outside a side [m]: the wall that stands there, or a strip of basement with boxes and the swing of a door."""
    side = next(side for side in a.brief.shell.sides if side.number == number)
    found = existing_wall(side.kind, a.brief)
    deep = 0.0 if found is None else found.thickness
    if any(duct.side == number for duct in where.ducts):
        deep += 0.15 + (where.silencer.outside[1] if where.silencer else where.size.casing + 0.3)
    if where.door.side == number and a.scheme.door.leaves > 1:
        deep = max(deep, where.door.width + (0.0 if found is None else found.thickness) + 0.05)
    return max(deep, 0.25)


def _walls(d: Drawing) -> None:
    """What stands outside as found, then each layer of the new walls, mitred at the corners."""
    shell, view, canvas = d.a.brief.shell, d.view, d.canvas
    outside = {}
    for side in shell.sides:
        found = existing_wall(side.kind, d.a.brief)
        outside[side.number] = 0.0 if found is None else found.thickness
    for side in shell.sides:
        if outside[side.number] > 0.0:
            _found_wall(d, side.number, side.kind, outside)
    for side in shell.sides:
        layers = [layer for layer in wall_layers(d.a.scheme.wall(side.kind), side.kind, d.a.brief) if layer.part != "found"]
        total, done = sum(layer.thickness for layer in layers), 0.0
        for layer in layers:
            corners = _mitred(d, side.number, done / total, (done + layer.thickness) / total)
            tone = {"board": "#333", "compound": BLACK, "frame": PALE}.get(layer.part, WHITE)
            canvas.path([view.at(*corner) for corner in corners], Pen(0.08), tone, closed=True)
            done += layer.thickness
    (x, y), room = d.where.offset, d.where.room
    canvas.rect(view.box(x, y, x + room.length, y + room.width), Pen(0.35))
    canvas.rect(view.box(0.0, 0.0, shell.length, shell.width), Pen(0.25))


def _found_wall(d: Drawing, number: int, kind: SideKind, outside: dict[int, float]) -> None:
    shell = d.a.brief.shell
    found = existing_wall(kind, d.a.brief)
    assert found is not None
    deep, soil = found.thickness, SOIL * d.view.ratio / 1000.0
    ends = {
        1: (-outside[4], shell.length + outside[2]),
        3: (-outside[4], shell.length + outside[2]),
        2: (0.0, shell.width),
        4: (0.0, shell.width),
    }
    low, high = ends[number]
    spans = {
        1: ((low, -deep), (high, 0.0), (low, -deep - soil), (high, -deep)),
        3: ((low, shell.width), (high, shell.width + deep), (low, shell.width + deep), (high, shell.width + deep + soil)),
        2: ((shell.length, low), (shell.length + deep, high), (shell.length + deep, low), (shell.length + deep + soil, high)),
        4: ((-deep, low), (0.0, high), (-deep - soil, low), (-deep, high)),
    }[number]
    d.view.paint(look_of(found.material), *spans[0], *spans[1])
    if kind is SideKind.FOUNDATION_BELOW:
        earth(d.canvas, d.view.box(*spans[2], *spans[3]))


def _mitred(d: Drawing, number: int, outer: float, inner: float) -> list[tuple[float, float]]:
    """The four corners [m] of a layer of a side between two shares of its thickness, 0 outside and 1 at the room."""
    shell, lost = d.a.brief.shell, d.where.lost

    def corner(share: float, high_x: bool, high_y: bool) -> tuple[float, float]:
        x = shell.length - lost[2] * share if high_x else lost[4] * share
        y = shell.width - lost[3] * share if high_y else lost[1] * share
        return x, y

    ends = {
        1: ((False, False), (True, False)),
        2: ((True, False), (True, True)),
        3: ((False, True), (True, True)),
        4: ((False, False), (False, True)),
    }
    first, second = ends[number]
    return [corner(outer, *first), corner(outer, *second), corner(inner, *second), corner(inner, *first)]


def _overhead(d: Drawing, over: Overhead) -> None:
    box = d.view.box(over.x0, over.y0, over.x1, over.y1)
    d.canvas.rect(box, HIDDEN)
    thing = over.thing
    words = f"{thing.kind} overhead, underside {d.length(thing.underside)} above the slab, {d.length(thing.width)} wide"
    d.marks.append(((box.left + 0.6 * (box.right - box.left), (box.top + box.bottom) / 2.0), words, False))


def _duct(d: Drawing, duct: Duct) -> None:
    """The opening through the wall, and outside it the silencer box or a stub of duct."""
    casing, made, wall = d.where.size.casing, d.where.silencer, _whole_wall(d, duct.side)
    across = (duct.middle - casing / 2.0, duct.middle + casing / 2.0)
    d.canvas.rect(side_area(d, duct.side, across, (0.0, -wall - 0.1)), EDGE_LINE, WHITE)
    if made is not None:
        long, deep, _ = made.outside
        box = side_area(d, duct.side, (duct.middle - long / 2.0, duct.middle + long / 2.0), (-wall - 0.1, -wall - 0.1 - deep))
    else:
        box = side_area(d, duct.side, across, (-wall - 0.1, -wall - 0.4))
    d.canvas.rect(box, Pen(0.35), WHITE)
    d.canvas.line((box.left, box.top), (box.right, box.bottom), THIN)
    d.canvas.line((box.left, box.bottom), (box.right, box.top), THIN)
    words = f"{duct.name} duct, {nominal(casing, d.units)} square"
    if made is not None:
        words += ", with its silencer box " + " × ".join(d.length(each) for each in made.outside) + " (length, width, height over all)"
    d.marks.append((((box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0), words, True))


def _door(d: Drawing) -> None:
    door, option = d.where.door, d.a.scheme.door
    wall = _whole_wall(d, door.side)
    d.canvas.rect(side_area(d, door.side, (door.start, door.end), (0.0, -wall)), EDGE_LINE, WHITE)
    _leaf(d, door, 0.0, 1.0)
    if option.leaves > 1:
        _leaf(d, door, -wall, -1.0)
    led = "" if _kind(d, door.side) is SideKind.OPEN else "; no side is open to the house: it goes where the stair arrives"
    both = "two leaves, one opens in and one out" if option.leaves > 1 else "opens into the room"
    at = d.view.at(*side_frame(d, door.side)((door.start + door.end) / 2.0, -wall / 2.0))
    d.marks.append((at, f"door, {d.length(door.width)} wide, {both}; keep the swing clear{led}", False))


def _kind(d: Drawing, number: int) -> SideKind:
    return next(side.kind for side in d.a.brief.shell.sides if side.number == number)


def _whole_wall(d: Drawing, number: int) -> float:
    """Thickness of a side with what stands there already [m]."""
    found = existing_wall(_kind(d, number), d.a.brief)
    return d.where.lost[number] + (0.0 if found is None else found.thickness)


def _leaf(d: Drawing, door: Opening, into: float, sense: float) -> None:
    """A leaf that stands open at a right angle, hinged at the end that is nearer to a corner, and its swing."""
    turn = side_frame(d, door.side)
    far = door.start + door.end > d.where.room.side_length(door.side)
    hinge, latch = (door.end, door.start) if far else (door.start, door.end)
    tip = turn(hinge, into + sense * door.width)
    foot, closed = turn(hinge, into), turn(latch, into)
    d.canvas.line(d.view.at(*foot), d.view.at(*tip), Pen(0.7))
    (ax, ay), (bx, by), (cx, cy) = (d.view.at(*p) for p in (closed, tip, foot))
    turned = (ax - cx) * (by - cy) - (ay - cy) * (bx - cx) > 0.0
    d.canvas.arc((ax, ay), (bx, by), d.view.mm(door.width), turned, KEEP)


def _escape(d: Drawing) -> None:
    opening, shell = d.where.escape, d.a.brief.shell
    if opening is None:
        return
    wall = _whole_wall(d, opening.side)
    box = side_area(d, opening.side, (opening.start, opening.end), (0.0, -wall))
    d.canvas.rect(box, EDGE_LINE, WHITE)
    for share in (0.12, 0.84, 0.92):
        at = side_frame(d, opening.side)
        d.view.line(*at(opening.start, -wall * share), *at(opening.end, -wall * share), Pen(0.3))
    d.canvas.rect(side_area(d, opening.side, (opening.start, opening.end), (0.0, opening.clear)), KEEP)
    size = f"{d.length(shell.escape_width)} × {d.length(shell.escape_height)} clear"
    sill = f", sill {d.length(shell.escape_sill)} above the floor, second sash on the inner wall" if opening.kind == "window" else ""
    at_ = d.view.at(*side_frame(d, opening.side)((opening.start + opening.end) / 2.0, -wall * 0.5))
    d.marks.append((at_, f"escape {opening.kind}, {size}{sill}; keep the way to it free", False))


def _side_names(d: Drawing, beyond: dict[int, float]) -> list[str]:
    """Number and kind at each side; returns the words of those whose kind found no room."""
    shell, view, untold = d.a.brief.shell, d.view, []
    for side in shell.sides:
        words = f"side {side.number}: {side.kind.value}"
        found = existing_wall(side.kind, d.a.brief)
        crossed = any(duct.side == side.number for duct in d.where.ducts)
        out = beyond[side.number] if side.number in (1, 3) or found is None or crossed else found.thickness
        if side.kind is SideKind.FOUNDATION_BELOW:
            out += SOIL * view.ratio / 1000.0
        middle = view.at(shell.length / 2.0, shell.width / 2.0)
        if side.number in (1, 3):
            y = view.at(0.0, -out)[1] - 1.4 if side.number == 1 else view.at(0.0, shell.width + out)[1] + 1.2 + SMALLEST
            d.canvas.text((middle[0], y), words, anchor="middle", halo=True)
        else:
            x = view.at(-out, 0.0)[0] - 1.6 if side.number == 4 else view.at(shell.length + out, 0.0)[0] + 1.2 + SMALLEST
            fits = width(words, SMALLEST) < view.mm(d.where.room.width) - 2.0
            d.canvas.text((x, middle[1]), words if fits else f"side {side.number}", anchor="middle", upright=True)
            untold += [] if fits else [words]
    return untold


def _dimensions(d: Drawing, beyond: dict[int, float]) -> None:
    """Shell outside, inner room inside that, on top and at the left."""
    shell, view, room, (x0, y0) = d.a.brief.shell, d.view, d.where.room, d.where.offset
    top = view.at(0.0, -beyond[1])[1] - SIDE_NAME - (SOIL if _below(d, 1) else 0.0)
    left = view.at(-beyond[4], 0.0)[0] - SIDE_NAME - (SOIL if _below(d, 4) else 0.0)
    (a, b), (c, e) = view.at(0.0, 0.0), view.at(shell.length, shell.width)
    (f, g), (h, i) = view.at(x0, y0), view.at(x0 + room.length, y0 + room.width)
    dimension_across(d.canvas, f, h, top - 0.8, d.length(room.length), (g, g))
    dimension_across(d.canvas, a, c, top - 6.6, d.length(shell.length), (b, b))
    dimension_up(d.canvas, g, i, left - 0.8, d.length(room.width), (f, f))
    dimension_up(d.canvas, b, e, left - 6.6, d.length(shell.width), (a, a))


def _below(d: Drawing, number: int) -> bool:
    return any(side.number == number and side.kind is SideKind.FOUNDATION_BELOW for side in d.a.brief.shell.sides)


def _key(d: Drawing, top: float) -> float:
    looks = {look_of(found.material) for side in d.a.brief.shell.sides if (found := existing_wall(side.kind, d.a.brief)) is not None}
    if any(side.kind is SideKind.FOUNDATION_BELOW for side in d.a.brief.shell.sides):
        looks.add("earth")
    under = materials_key(d.canvas, top, [look for look in PAINTERS if look in looks])
    entries = [
        tone("#333", "boards"),
        tone(PALE, "frame with fill"),
        (of_line(HIDDEN), "overhead, or space taken"),
        (of_line(KEEP), "keep free"),
    ]
    return key(d.canvas, under, entries)
