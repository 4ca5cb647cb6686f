"""The air path as a sketch, and the silencer box with its sizes to scale."""

from __future__ import annotations

from calc.assess import Assessment
from calc.isolation.duct_way import Box as Silencer
from calc.isolation.duct_way import DuctSize, box, duct_size
from calc.unit_format import format_flow
from wizard.figures.callouts import balloon
from wizard.figures.detail import catalogue
from wizard.figures.figure import Figure
from wizard.figures.hatch import paint
from wizard.figures.keys import heading, materials_key, numbered
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.svg import BLACK, EDGE, HIDDEN, PAGE, THIN, WHITE, Box, Canvas, Pen, Point
from wizard.figures.text import SMALLEST

DUCT = 7.0  # mm of paper across a duct in the sketch, which is not to scale
RUN = 88.0  # y of the paper, from the top of the sketch, at which the way ends


def duct_sketch(a: Assessment, units: str) -> Figure:
    """Parts of one way in their order, with the sizes to order; supply and extract are alike."""
    option, size, canvas = a.scheme.air_path, duct_size(a.brief, a.scheme.air_path), Canvas()
    made = box(size, option)
    flow = format_flow(a.air.fresh_air, units)
    top = heading(canvas, "Air path", f"Not to scale. One such way for supply and one for extract, each {flow}; drawn once.") + 2.0
    y = top + 14.0
    paint(canvas, Box(40.0, top, 44.0, y - 6.0), "gypsum")
    paint(canvas, Box(40.0, y + 6.0, 44.0, y + 30.0), "gypsum")
    canvas.text((20.0, top + 26.0), "the room", anchor="middle")
    points, end = _way(option.elbows, y)
    _duct(canvas, points)
    for wall in ((39.0, y - 6.0, 45.0, y - 0.5 * DUCT), (39.0, y + 0.5 * DUCT, 45.0, y + 6.0)):
        canvas.rect(Box(*wall), None, BLACK)
    canvas.rect(Box(34.0, y - 4.5, 36.0, y + 4.5), Pen(0.3), WHITE)
    for n in range(4):
        canvas.line((34.0, y - 3.6 + 2.4 * n), (36.0, y - 2.6 + 2.4 * n), THIN)
    notes: list[tuple[Point, str]] = [((35.0, y + 4.5), "grille without damper")]
    notes.append(((42.0, y - 5.0), "opening through the shell, a soft sealed ring round it at both faces"))
    start = 50.0
    if made is not None:
        canvas.rect(Box(start, y - 8.0, start + 26.0, y + 8.0), Pen(0.5), WHITE)
        canvas.rect(Box(start + 1.6, y - 6.4, start + 24.4, y + 6.4), HIDDEN)
        notes.append(((start + 13.0, y + 8.0), "silencer box, " + " × ".join(written(each, units) for each in made.outside) + " outside"))
        start += 26.0
    zigzag = [(start + 3.0 + 1.2 * n, y + (0.5 * DUCT + 0.8) * sign) for n in range(6) for sign in ((1, -1) if n % 2 else (-1, 1))]
    canvas.rect(Box(start + 2.4, y - 0.5 * DUCT - 1.0, start + 9.6, y + 0.5 * DUCT + 1.0), None, WHITE)
    canvas.path(zigzag, Pen(0.3))
    notes.append(((start + 6.0, y - 0.5 * DUCT - 1.0), "flexible connector"))
    notes.append((points[1] if len(points) > 2 else ((points[0][0] + end[0]) / 2.0 + 20.0, y), _duct_words(a, size, units)))
    _end(canvas, a, end, notes)
    lowest = end[1] + 12.0
    for n, (at, _) in enumerate(notes, start=1):
        low = at[1] >= y
        balloon(canvas, (at[0] + 1.5, at[1] + 7.0 if low else at[1] - 7.0), n, at)
    under = numbered(canvas, lowest + 9.0, [words for _, words in notes])
    canvas.grow(under)
    title = "Air path"
    words = f"{catalogue(option.label, units)}. " + " ".join(f"{n}: {text}." for n, (_, text) in enumerate(notes, start=1))
    return Figure("duct-sketch", title, canvas.svg("duct-sketch", title, words), f"{catalogue(option.label, units)}: not to scale.", words)


def _way(elbows: int, y: float) -> tuple[list[Point], Point]:
    """The middle of the duct on paper, from the room's side of the shell on, with its elbows, and its end."""
    points: list[Point] = [(36.0, y)]
    x, down = 104.0, False
    for n in range(elbows):
        points.append((x, y))
        down = not down
        if down:
            y += 22.0 if elbows < 3 else 16.0
        else:
            x += 22.0
        if n == elbows - 1:
            points.append((x, y + 2.0) if down else (x, y))
    if not elbows:
        points.append((130.0, y))
    end = points[-1]
    return points, end


def _duct(canvas: Canvas, points: list[Point]) -> None:
    """Two lines with the duct's width between: a broad stroke, and a white one on it."""
    canvas.path(points, Pen(DUCT))
    canvas.path(points, Pen(DUCT - 0.8, "", WHITE))


def _duct_words(a: Assessment, size: DuctSize, units: str) -> str:
    option = a.scheme.air_path
    many = f"{size.runs} equal ducts side by side, each " if size.runs > 1 else "duct, "
    lined = f", lined inside with {written(option.lining, units)}" if option.lined_length > 0.0 and option.lining > 0.0 else ""
    long = f", {written(option.lined_length, units)} long" if option.lined_length > 0.0 else ""
    elbows = {0: ", no elbow", 1: ", one elbow"}.get(option.elbows, f", {option.elbows} elbows")
    boxed = ", boxed in with boards" if option.enclosed else ""
    return (
        f"{many}{written(size.casing, units)} square outside{lined}{long}{elbows}{boxed}; {written(size.side, units, 1.0)} square left free"
    )


def _end(canvas: Canvas, a: Assessment, at: Point, notes: list[tuple[Point, str]]) -> None:
    """What the duct leads to."""
    option, (x, y) = a.scheme.air_path, at
    if option.house_ducts:
        canvas.rect(Box(x - 26.0, y, x + 26.0, y + 9.0), Pen(0.5), WHITE)
        canvas.text((x - 6.0, y + 4.5 + 0.36 * SMALLEST), "trunk", anchor="end")
        canvas.line((x - 3.0, y - 2.5), (x + 3.0, y - 5.5), Pen(0.6))
        notes.append(((x + 3.5, y - 4.0), "balancing damper"))
        notes.append(((x + 20.0, y + 9.0), "trunk of the house's air handler, whose fan must run while people are in the room"))
    elif option.fan_unit:
        canvas.rect(Box(x - 9.0, y - 2.0, x + 9.0, y + 12.0), Pen(0.5), WHITE)
        canvas.line((x - 9.0, y - 2.0), (x + 9.0, y + 12.0), THIN)
        canvas.line((x - 9.0, y + 12.0), (x + 9.0, y - 2.0), THIN)
        notes.append(((x + 9.0, y + 6.0), "heat-recovery unit for both ways, on isolators, its drain trapped; from there outdoors"))
    else:
        canvas.circle((x, y + 3.0), 4.5, Pen(0.5), WHITE)
        for dx, dy in ((3.2, 3.2), (3.2, -3.2)):
            canvas.line((x - dx, y + 3.0 - dy), (x + dx, y + 3.0 + dy), THIN)
        notes.append(((x + 4.5, y + 3.0), "quiet fan on isolators, outside the shell; the duct ends in the rest of the basement"))
    canvas.grow(y + 14.0)


def silencer(a: Assessment, units: str) -> Figure | None:
    """The box of each duct, cut level, and its end; None where there is none."""
    option, size = a.scheme.air_path, duct_size(a.brief, a.scheme.air_path)
    made = box(size, option)
    if made is None:
        return None
    canvas = Canvas()
    top = heading(canvas, "Silencer box", "Left: cut level, seen from above. Right: one end.") + 7.0
    long, wide, high = made.outside
    room = PAGE - 2.0 * EDGE - 38.0
    ratio = max(fitting(long + wide, room, units), fitting(max(wide, high), 80.0, units))
    view = View(canvas, (EDGE + 14.0, top), float(ratio))
    _cut(view, made, size)
    end = View(canvas, (view.at(long, 0.0)[0] + 14.0, top), float(ratio))
    _face(end, made, size)
    low = view.at(0.0, max(wide, high))[1]
    a_, b_ = view.at(0.0, 0.0), view.at(long, wide)
    dimension_across(canvas, a_[0], b_[0], low + 5.5, written(long, units), (b_[1], b_[1]))
    inner = made.panel + made.lining
    dimension_across(canvas, view.at(inner, 0.0)[0], view.at(inner + made.length, 0.0)[0], low + 11.5, written(made.length, units))
    dimension_up(canvas, a_[1], b_[1], a_[0] - 4.0, written(wide, units), (a_[0], a_[0]))
    c_, d_ = end.at(0.0, 0.0), end.at(wide, high)
    dimension_across(canvas, c_[0], d_[0], low + 5.5, written(wide, units), (d_[1], d_[1]))
    dimension_up(canvas, c_[1], d_[1], d_[0] + 4.0, written(high, units), (d_[0], d_[0]), right=True)
    under = scale_bar(view, (EDGE, low + 15.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    chambers = {1: "one chamber", 2: "two chambers in a row"}.get(made.chambers, f"{made.chambers} chambers in a row")
    clear = " × ".join(written(each, units) for each in (made.length, made.width, made.height))
    layers = f" of {made.layers} layers" if made.layers > 1 else ""
    notes = [
        f"panel, {written(made.panel, units, 1.0)} thick{layers}, every edge glued and sealed",
        f"lining, {written(made.lining, units, 1.0)}, on all faces of {chambers}; each measures {clear} inside it (length, width, height)",
        f"opening, {written(size.side, units, 1.0)} square like the duct's free opening; at opposite corners of the ends",
    ]
    marks = [
        view.at(0.62 * long, 0.5 * made.panel),
        view.at(0.4 * long, wide - made.panel - 0.5 * made.lining),
        end.at(_hole(made, size) + 0.5 * size.side, _hole(made, size) + 0.5 * size.side),
    ]
    for n, at in enumerate(marks, start=1):
        away = (at[0], top - 4.5) if n == 1 else at if n == 3 else (at[0] + 3.0, at[1] - view.mm(made.lining) - 5.0)
        balloon(canvas, away, n, at)
    under = numbered(canvas, under + 1.5, notes)
    materials_key(canvas, under + 1.0, ["panel", "fibre"])
    title = "Silencer box"
    outside = " by ".join(written(each, units) for each in made.outside)
    words = f"Outside {outside} (length, width, height). " + " ".join(f"{n}: {text}." for n, text in enumerate(notes, start=1))
    count = 2 * size.runs
    caption = f"{count} such boxes, one for each duct."
    return Figure("silencer-box", title, canvas.svg("silencer-box", title, words), caption, words)


def _hole(made: Silencer, size: DuctSize) -> float:
    """Where an opening begins, from the outside of the box: at the edge of the lining."""
    return made.panel + made.lining


def _cut(view: View, made: Silencer, size: DuctSize) -> None:
    """Panels and lining in the level through the openings, which change sides from end to end."""
    long, wide, _ = made.outside
    view.paint("panel", 0.0, 0.0, long, made.panel)
    view.paint("panel", 0.0, wide - made.panel, long, wide)
    at = 0.0
    for n in range(made.chambers + 1):
        view.paint("panel", at, made.panel, at + made.panel, wide - made.panel)
        at += made.panel
        if n < made.chambers:
            span = made.length + 2.0 * made.lining
            view.paint("fibre", at, made.panel, at + span, made.panel + made.lining)
            view.paint("fibre", at, wide - made.panel - made.lining, at + span, wide - made.panel)
            inner = (made.panel + made.lining, wide - made.panel - made.lining)
            view.paint("fibre", at, inner[0], at + made.lining, inner[1])
            view.paint("fibre", at + span - made.lining, inner[0], at + span, inner[1])
            view.canvas.rect(view.box(at + made.lining, *(inner[0],), at + span - made.lining, inner[1]), THIN)
            at += span
    at = 0.0
    for n in range(made.chambers + 1):
        begin = _hole(made, size)
        begin = begin if n % 2 == 0 else wide - begin - size.side
        low = at - (made.lining if n else 0.0)
        high = at + made.panel + (made.lining if n < made.chambers else 0.0)
        view.canvas.rect(view.box(low, begin, high, begin + size.side), Pen(0.18), WHITE)
        at += made.panel + made.length + 2.0 * made.lining


def _face(view: View, made: Silencer, size: DuctSize) -> None:
    """One end: the opening in its corner, that of the other end hidden."""
    _, wide, high = made.outside
    view.paint("panel", 0.0, 0.0, wide, high)
    view.canvas.rect(view.box(0.0, 0.0, wide, high), Pen(0.5), WHITE)
    at = _hole(made, size)
    view.canvas.rect(view.box(at, at, at + size.side, at + size.side), Pen(0.4), "#ddd")
    if made.chambers % 2:
        view.canvas.rect(view.box(wide - at - size.side, high - at - size.side, wide - at, high - at), HIDDEN)
    else:
        view.canvas.rect(view.box(at, high - at - size.side, at + size.side, high - at), HIDDEN)
