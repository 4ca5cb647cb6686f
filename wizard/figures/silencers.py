"""The silencer boxes of the air path with their sizes, to scale: the one on the way of sound, and the one at the fan."""

from __future__ import annotations

from collections.abc import Iterator

from calc.assess import Assessment
from calc.isolation.duct_way import Box as Silencer
from calc.isolation.duct_way import DuctSize, box, duct_size
from calc.ventilation.fan_box import fan_box
from calc.ventilation.silencer import CHAMBERS
from calc.ventilation.silencer import Silencer as Designed
from wizard.figures.callouts import balloon
from wizard.figures.figure import Figure
from wizard.figures.keys import heading, materials_key, numbered
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, nominal, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, HIDDEN, PAGE, THIN, WHITE, Canvas, Pen

PER_WAY = 2  # supply and extract have a box each


def silencers(a: Assessment, units: str) -> Iterator[Figure]:
    """The boxes that the bill counts, as far as there are any, and the one that the air path still lacks."""
    size = duct_size(a.brief, a.scheme.air_path)
    made, at_fan = box(size, a.scheme.air_path), fan_box(a.brief, a.scheme.air_path)
    if made is not None:
        yield silencer("silencer-box", "Silencer box", made, size, units)
    if at_fan is not None:
        yield silencer("silencer-box-fan", "Silencer box at the fan", at_fan, size, units)
    lacking = asked(a, units)
    if lacking is not None:
        yield lacking


def silencer(name: str, title: str, made: Silencer, size: DuctSize, units: str) -> Figure:
    """A box, cut level, and its end."""
    canvas = Canvas()
    top = heading(canvas, title, "Left: cut level, seen from above. Right: one end.") + 7.0
    long, wide, high = made.outside
    room = PAGE - 2.0 * EDGE - 38.0
    ratio = max(fitting(long + wide, room, units), fitting(max(wide, high), 80.0, units))
    view = View(canvas, (EDGE + 14.0, top), float(ratio))
    _cut(view, made, size)
    end = View(canvas, (view.at(long, 0.0)[0] + 14.0, top), float(ratio))
    _face(end, made, size)
    low = view.at(0.0, max(wide, high))[1]
    a_, b_ = view.at(0.0, 0.0), view.at(long, wide)
    dimension_across(canvas, a_[0], b_[0], low + 5.5, written(long, units, 1.0), (b_[1], b_[1]))
    inner = made.panel + made.lining
    dimension_across(canvas, view.at(inner, 0.0)[0], view.at(inner + made.length, 0.0)[0], low + 11.5, written(made.length, units, 1.0))
    dimension_up(canvas, a_[1], b_[1], a_[0] - 4.0, written(wide, units, 1.0), (a_[0], a_[0]))
    c_, d_ = end.at(0.0, 0.0), end.at(wide, high)
    dimension_across(canvas, c_[0], d_[0], low + 5.5, written(wide, units, 1.0), (d_[1], d_[1]))
    dimension_up(canvas, c_[1], d_[1], d_[0] + 4.0, written(high, units, 1.0), (d_[0], d_[0]), right=True)
    under = scale_bar(view, (EDGE, low + 15.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    chambers = {1: "one chamber", 2: "two chambers in a row"}.get(made.chambers, f"{made.chambers} chambers in a row")
    clear = " × ".join(written(each, units, 1.0) for each in (made.length, made.width, made.height))
    layers = f" of {made.layers} layers" if made.layers > 1 else ""
    notes = [
        f"panel, {written(made.panel, units, 1.0)} thick{layers}, every edge glued and sealed",
        f"lining, {written(made.lining, units, 1.0)}, on all faces of {chambers}; each measures {clear} inside it (length, width, height)",
        f"opening, {nominal(size.side, units)} square like the duct's free opening, {written(_hole(made), units, 1.0)} from the "
        "outside faces; at opposite corners of the ends",
    ]
    marks = [
        view.at(0.62 * long, 0.5 * made.panel),
        view.at(0.4 * long, wide - made.panel - 0.5 * made.lining),
        end.at(_hole(made) + 0.5 * size.side, _hole(made) + 0.5 * size.side),
    ]
    for n, at in enumerate(marks, start=1):
        away = (at[0], top - 4.5) if n == 1 else at if n == 3 else (at[0] + 3.0, at[1] - view.mm(made.lining) - 5.0)
        balloon(canvas, away, n, at)
    under = numbered(canvas, under + 1.5, notes)
    materials_key(canvas, under + 1.0, ["panel", "fibre"])
    outside = " by ".join(written(each, units, 1.0) for each in made.outside)
    words = f"Outside {outside} (length, width, height). " + " ".join(f"{n}: {text}." for n, text in enumerate(notes, start=1))
    caption = f"{PER_WAY * size.runs} such boxes, one for each duct."
    return Figure(name, title, canvas.svg(name, title, words), caption, words)


def _hole(made: Silencer) -> float:
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
        begin = _hole(made)
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
    at = _hole(made)
    view.canvas.rect(view.box(at, at, at + size.side, at + size.side), Pen(0.4), "#ddd")
    if made.chambers % 2:
        view.canvas.rect(view.box(wide - at - size.side, high - at - size.side, wide - at, high - at), HIDDEN)
    else:
        view.canvas.rect(view.box(at, high - at - size.side, at + size.side, high - at), HIDDEN)


def asked(a: Assessment, units: str) -> Figure | None:
    """The box designed for what the air path lacks, which the bill does not count; None where it lacks nothing."""
    if min(a.room.length, a.room.width, a.room.height) <= 0.0 or a.air_design.silencer is None:
        return None
    made, size, title = a.air_design.silencer, duct_size(a.brief, a.scheme.air_path), "Silencer box that is still lacking, not in the bill"
    if made.kind == CHAMBERS:
        return silencer("silencer-asked", title, Silencer(*made.inside, made.count, made.lining, made.layers), size, units)
    return folded("silencer-asked", title, made, size, units)


def folded(name: str, title: str, made: Designed, size: DuctSize, units: str) -> Figure:
    """A lined passage that runs to and fro, cut level."""
    panel = made.layers * Silencer(*made.inside, 1, made.lining, 1).panel
    canvas = Canvas()
    top = heading(canvas, title, "Cut level, seen from above.") + 7.0
    long, wide, high = made.outside
    ratio = max(fitting(long, PAGE - 2.0 * EDGE - 40.0, units), fitting(wide, 100.0, units))
    view = View(canvas, (EDGE + 20.0, top), float(ratio))
    _passages(view, made, panel)
    (x0, y0), (x1, y1) = view.at(0.0, 0.0), view.at(long, wide)
    dimension_across(canvas, x0, x1, y1 + 5.5, written(long, units, 1.0), (y1, y1))
    dimension_up(canvas, y0, y1, x0 - 4.0, written(wide, units, 1.0), (x0, x0))
    under = scale_bar(view, (EDGE, y1 + 9.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    length, width, clear = made.inside
    across = f"{written(width, units, 1.0)} wide × {written(clear, units, 1.0)} high left free"
    notes = [
        f"panel, {written(panel, units, 1.0)} thick, every edge glued and sealed; {written(high, units, 1.0)} high outside",
        f"lining, {written(made.lining, units, 1.0)}, on every face",
        f"passage, {across}, {written(length, units, 1.0)} long{'' if made.count == 1 else f'; {made.count} of them, one after the other'}",
    ]
    marks = [view.at(0.3 * long, 0.5 * panel), view.at(0.5 * long, panel + 0.5 * made.lining)]
    marks.append(view.at(0.7 * long, panel + made.lining + 0.5 * width))
    for n, at in enumerate(marks, start=1):
        balloon(canvas, at if n == 3 else (at[0], top - 4.0), n, at)
    under = numbered(canvas, under + 1.5, notes)
    materials_key(canvas, under + 1.0, ["panel", "fibre"])
    words = " ".join(f"{n}: {text}." for n, text in enumerate(notes, start=1))
    return Figure(name, title, canvas.svg(name, title, words), f"{PER_WAY * size.runs} such boxes, one for each duct.", words)


def _passages(view: View, made: Designed, panel: float) -> None:
    """Panels and lining of passages side by side, open to each other at one end and the other by turns."""
    (long, wide, _), (length, width, _), lining = made.outside, made.inside, made.lining
    pitch, far = width + 2.0 * lining + panel, long - panel
    for x in (0.0, far):
        view.paint("panel", x, 0.0, x + panel, wide)
    for n in range(made.count + 1):
        view.paint("panel", panel, n * pitch, far, n * pitch + panel)
    for n in range(made.count):
        y = n * pitch + panel
        for low in (y, y + lining + width):
            view.paint("fibre", panel, low, far, low + lining)
        for x in (panel, far - lining):
            view.paint("fibre", x, y + lining, x + lining, y + lining + width)
    turns = [(panel + lining + (length - width if n % 2 == 0 else 0.0), n * pitch + panel + lining + width) for n in range(made.count - 1)]
    for x, y in turns:
        view.canvas.rect(view.box(x, y, x + width, y + 2.0 * lining + panel), THIN, WHITE)
    last = (far - lining) if made.count % 2 else 0.0
    for x, n in ((0.0, 0), (last, made.count - 1)):
        y = n * pitch + panel + lining
        view.canvas.rect(view.box(x, y, x + panel + lining, y + width), THIN, WHITE)
