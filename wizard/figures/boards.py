"""Where each board of a surface goes, ply by ply, the joints of the ply below shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.figures.figure import Figure
from wizard.figures.keys import heading, key, of_line
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, HIDDEN, PAGE, PALE, WHITE, Box, Canvas, Pen, middle
from wizard.figures.text import SMALLEST, width

MOST = 200.0  # mm of paper that all plies together may take


@dataclass(frozen=True)
class Placed:
    """A board or a piece of one on a surface: from the surface's left and top edge, m. ``label``: what stands on it."""

    x: float
    y: float
    width: float
    height: float
    label: str = ""


def board_layout(
    name: str,
    title: str,
    surface: tuple[float, float],
    plies: Sequence[Sequence[Placed]],
    units: str,
    openings: Sequence[Placed] = (),
) -> Figure:
    """One drawing a ply, the first hung first. ``surface``: width and height [m]; ``openings`` stay free in every ply.

    A board without a label is numbered in its ply. Raises ValueError where there is no ply or no surface.
    """
    if not plies or min(surface) <= 0.0:
        raise ValueError("a board layout needs a surface and at least one ply")
    canvas = Canvas()
    top = heading(canvas, title)
    left = EDGE + 12.0
    each = MOST / len(plies) - 14.0
    ratio = max(fitting(surface[0], PAGE - left - 6.0, units), fitting(surface[1], max(each, 25.0), units))
    below: Sequence[Placed] = ()
    for n, ply in enumerate(plies, start=1):
        canvas.text((left, top + SMALLEST), f"ply {n} of {len(plies)}: {len(ply)} pieces", bold=True)
        view = View(canvas, (left, top + 6.0), float(ratio))
        _ply(view, surface, ply, below, openings)
        x, y = view.at(0.0, 0.0)
        dimension_up(canvas, y, view.at(0.0, surface[1])[1], x - 4.0, written(surface[1], units), (x, x))
        top = view.at(0.0, surface[1])[1] + 4.0
        if n == len(plies):
            dimension_across(canvas, x, view.at(surface[0], 0.0)[0], top + 4.0, written(surface[0], units), (top - 4.0, top - 4.0))
            top += 8.0
        below = ply
    under = scale_bar(view, (EDGE, top), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    entries = [(of_line(Pen(0.5)), "edge of a board"), (of_line(HIDDEN), "joint in the ply below")]
    entries += [(lambda c, box: c.rect(box, Pen(0.2), PALE), "opening")] if openings else []
    key(canvas, under + 2.0, entries)
    words = f"{written(surface[0], units)} by {written(surface[1], units)}. " + " ".join(
        f"Ply {n}: " + ", ".join(f"{written(b.width, units)} by {written(b.height, units)}" for b in ply) + "."
        for n, ply in enumerate(plies, start=1)
    )
    return Figure(name, title, canvas.svg(name, title, words), "Joints of one ply never fall on those of the ply below.", words)


def _ply(view: View, surface: tuple[float, float], ply: Sequence[Placed], below: Sequence[Placed], openings: Sequence[Placed]) -> None:
    canvas = view.canvas
    for board in ply:
        canvas.rect(view.box(board.x, board.y, board.x + board.width, board.y + board.height), Pen(0.5), WHITE)
    for x0, y0, x1, y1 in _joints(surface, below):
        view.line(x0, y0, x1, y1, HIDDEN)
    for hole in openings:
        canvas.rect(view.box(hole.x, hole.y, hole.x + hole.width, hole.y + hole.height), Pen(0.4), PALE)
    for n, board in enumerate(ply, start=1):
        box = view.box(board.x, board.y, board.x + board.width, board.y + board.height)
        _label(canvas, box, board.label or f"{n}")
    canvas.rect(view.box(0.0, 0.0, *surface), Pen(0.7))


def _label(canvas: Canvas, box: Box, label: str) -> None:
    """In the middle of a board, upright where it is narrow; left out where there is no room."""
    x, y = middle(box)
    room = (box.right - box.left - 1.0, box.bottom - box.top - 1.0)
    if width(label, SMALLEST) <= room[0] and room[1] >= SMALLEST:
        spot = canvas.text_box((x, y + 0.36 * SMALLEST), label, SMALLEST, "middle", False, False)
        if canvas.free(spot):
            canvas.text((x, y + 0.36 * SMALLEST), label, anchor="middle", halo=True)
    elif width(label, SMALLEST) <= room[1] and room[0] >= SMALLEST:
        canvas.place([((x + 0.36 * SMALLEST, y), "middle")], label, upright=True)


def _joints(surface: tuple[float, float], ply: Sequence[Placed]) -> list[tuple[float, float, float, float]]:
    """Inner edges of the boards of a ply, each once."""
    found: dict[tuple[float, float, float, float], None] = {}
    for board in ply:
        right, low = board.x + board.width, board.y + board.height
        if right < surface[0] - 0.001:
            found[round(right, 4), board.y, round(right, 4), low] = None
        if low < surface[1] - 0.001:
            found[board.x, round(low, 4), right, round(low, 4)] = None
    return list(found)
