"""Where each board of a surface goes, ply by ply, the joints of the ply below shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.assess import Assessment
from calc.materials.boards import Laid, layouts
from wizard.figures.figure import Figure, stem
from wizard.figures.keys import heading, key, of_line
from wizard.figures.scale import View, dimension_across, dimension_up, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, HIDDEN, PAGE, PALE, WHITE, Box, Canvas, Pen, middle
from wizard.figures.text import SMALLEST, width

MOST = 228.0  # mm of paper that all plies together may take


@dataclass(frozen=True)
class Placed:
    """A board or a piece of one, or an opening, on a surface: from the surface's left and top edge [m]."""

    x: float
    y: float
    width: float
    height: float


def board_layout(
    name: str,
    title: str,
    surface: tuple[float, float],
    plies: Sequence[Sequence[Placed]],
    units: str,
    openings: Sequence[Placed] = (),
) -> Figure:
    """One drawing a ply, the first hung first. ``surface``: width and height [m]; ``openings`` stay free in every ply.

    Each piece carries its size where that has room, else its number in the ply. Raises ValueError where there is no ply or no surface.
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
        _ply(view, surface, ply, below, openings, units)
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


def _ply(
    view: View, surface: tuple[float, float], ply: Sequence[Placed], below: Sequence[Placed], openings: Sequence[Placed], units: str
) -> None:
    canvas = view.canvas
    for board in ply:
        canvas.rect(view.box(board.x, board.y, board.x + board.width, board.y + board.height), Pen(0.5), WHITE)
    for x0, y0, x1, y1 in _joints(surface, below):
        view.line(x0, y0, x1, y1, HIDDEN)
    for hole in openings:
        canvas.rect(view.box(hole.x, hole.y, hole.x + hole.width, hole.y + hole.height), Pen(0.4), PALE)
    for n, board in enumerate(ply, start=1):
        box = view.box(board.x, board.y, board.x + board.width, board.y + board.height)
        _label(canvas, box, [f"{written(board.width, units)} × {written(board.height, units)}", f"{n}"])
    canvas.rect(view.box(0.0, 0.0, *surface), Pen(0.7))


def _label(canvas: Canvas, box: Box, labels: Sequence[str]) -> None:
    """The first of the labels that has room in the middle of a board, upright where it is narrow; none where there is no room."""
    x, y = middle(box)
    room = (box.right - box.left - 1.0, box.bottom - box.top - 1.0)
    for label in labels:
        long = width(label, SMALLEST)
        if long <= room[0] and room[1] >= SMALLEST and canvas.place([((x, y + 0.36 * SMALLEST), "middle")], label, halo=True):
            return
        if long <= room[1] and room[0] >= SMALLEST and canvas.place([((x + 0.36 * SMALLEST, y), "middle")], label, upright=True, halo=True):
            return


def faces(a: Assessment, units: str) -> Iterator[Figure]:
    """One figure for each boarded face of the scheme, its plies as calc.materials.boards lays them; those between the joists and round
    soffits left out, as those are strips."""
    by_face: dict[str, list[Laid]] = {}
    for laid in layouts(a.brief, a.room, a.scheme):
        if laid.face.name == "lid" or laid.face.side:
            by_face.setdefault(laid.face.name, []).append(laid)
    for number, (name, plies) in enumerate(by_face.items(), start=1):
        face = plies[0].face
        flip = face.height if name != "lid" else None  # walls are laid out from the foot up, the lid from side 1 as the plan is drawn
        pieces = [[_turned(piece.x, piece.y, piece.width, piece.height, flip) for piece in laid.pieces] for laid in plies]
        holes = [_turned(hole.x, hole.y, hole.width, hole.height, flip) for hole in face.holes]
        seen = "drawn as the floor plan, side 1 on top" if name == "lid" else "seen from the side that is boarded"
        yield board_layout(f"boards-{number}-{stem(name)}", f"Boards: {name}, {seen}", (face.width, face.height), pieces, units, holes)


def _turned(x: float, y: float, wide: float, high: float, flip: float | None) -> Placed:
    """A rectangle counted from the foot as one counted from the top."""
    return Placed(x, y if flip is None else flip - y - high, wide, high)


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
