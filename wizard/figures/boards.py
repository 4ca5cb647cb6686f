"""Where each board of a surface goes, ply by ply, the joints of the ply below shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.assess import Assessment
from calc.materials.boards import Laid, layouts
from wizard.figures.figure import Figure, stem
from wizard.figures.keys import heading, key, of_line
from wizard.figures.scale import View, dimension_across, dimension_up, fitted, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, HIDDEN, PAGE, PALE, THIN, WHITE, Box, Canvas, Pen, middle
from wizard.figures.text import FALL, RISE, SMALLEST, UNBROKEN, width

OVER, GAP = 6.0, 4.0  # mm over a ply for its name, and under it


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

    Each piece carries its size where that has room, else its number in the ply, and the sizes of those stand in a list under the ply.
    Raises ValueError where there is no ply or no surface.
    """
    if not plies or min(surface) <= 0.0:
        raise ValueError("a board layout needs a surface and at least one ply")
    left = EDGE + 12.0

    def draw(ratio: int) -> tuple[Canvas, None]:  # the lists take more paper the smaller the drawings are
        canvas = Canvas()
        _plies(canvas, heading(canvas, title), left, ratio, surface, plies, units, openings)
        return canvas, None

    canvas, _ = fitted(draw, fitting(surface[0], PAGE - left - 6.0, units), units)
    words = f"{written(surface[0], units, 1.0)} by {written(surface[1], units, 1.0)}. " + " ".join(
        f"Ply {n}: " + ", ".join(f"{written(b.width, units)} by {written(b.height, units)}" for b in ply) + "."
        for n, ply in enumerate(plies, start=1)
    )
    return Figure(name, title, canvas.svg(name, title, words), "Joints of one ply never fall on those of the ply below.", words)


def _plies(
    canvas: Canvas,
    top: float,
    left: float,
    ratio: int,
    surface: tuple[float, float],
    plies: Sequence[Sequence[Placed]],
    units: str,
    openings: Sequence[Placed],
) -> None:
    """Every ply with its list, then scale and key."""
    below: Sequence[Placed] = ()
    view = View(canvas, (left, top), float(ratio))
    for n, ply in enumerate(plies, start=1):
        canvas.text((left, top + SMALLEST), f"ply {n} of {len(plies)}: {len(ply)} pieces", bold=True)
        view = View(canvas, (left, top + OVER), float(ratio))
        untold = _ply(view, surface, ply, below, openings, units)
        x, y = view.at(0.0, 0.0)
        dimension_up(canvas, y, view.at(0.0, surface[1])[1], x - 4.0, written(surface[1], units, 1.0), (x, x))
        top = max(view.at(0.0, surface[1])[1], canvas.height - 0.5)
        if n == len(plies):
            dimension_across(canvas, x, view.at(surface[0], 0.0)[0], top + 8.0, written(surface[0], units, 1.0), (top, top))
            top += 8.5
        top = canvas.paragraph((left, top + 1.0), _list(ply, untold, units), PAGE - EDGE - left) if untold else top
        top += GAP
        below = ply
    under = scale_bar(view, (EDGE, top), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    entries = [(of_line(Pen(0.5)), "edge of a board")]
    entries += [(of_line(HIDDEN), "joint in the ply below")] if len(plies) > 1 else []
    entries += [(lambda c, box: c.rect(box, Pen(0.2), PALE), "opening")] if openings else []
    key(canvas, under + 2.0, entries)


def _list(ply: Sequence[Placed], untold: Sequence[int], units: str) -> str:
    """Numbers and sizes of pieces; neighbours of one size together."""
    groups: list[tuple[list[int], str]] = []
    for n in untold:
        size = f"{written(ply[n - 1].width, units)}{UNBROKEN}×{UNBROKEN}{written(ply[n - 1].height, units)}"
        same = next((numbers for numbers, other in groups if other == size), None)
        if same is None:
            groups.append(([n], size))
        else:
            same.append(n)
    return "; ".join(f"{', '.join(map(str, numbers))}:{UNBROKEN}{size}" for numbers, size in groups) + "."


def _ply(
    view: View, surface: tuple[float, float], ply: Sequence[Placed], below: Sequence[Placed], openings: Sequence[Placed], units: str
) -> list[int]:
    """One ply; returns the numbers of the pieces whose size found no room on them."""
    canvas = view.canvas
    for board in ply:
        canvas.rect(_paper(view, board), Pen(0.5), WHITE)
    for x0, y0, x1, y1 in _joints(surface, below):
        view.line(x0, y0, x1, y1, HIDDEN)
    holes = [_paper(view, hole) for hole in openings]
    for hole, box in zip(openings, holes, strict=True):
        canvas.rect(box, Pen(0.4), PALE)
        _label(canvas, [box], f"{written(hole.width, units, 1.0)} × {written(hole.height, units, 1.0)}")
    untold = []
    for n, board in enumerate(ply, start=1):
        free = _free(_paper(view, board), holes)
        if not _label(canvas, free, f"{written(board.width, units)} × {written(board.height, units)}"):
            untold.append(n)
            if not _label(canvas, free, f"{n}"):
                _beside(canvas, view, surface, free[0], f"{n}")
    canvas.rect(view.box(0.0, 0.0, *surface), Pen(0.7))
    return untold


def _paper(view: View, piece: Placed) -> Box:
    return view.box(piece.x, piece.y, piece.x + piece.width, piece.y + piece.height)


def _free(box: Box, holes: Sequence[Box]) -> list[Box]:
    """The parts of a board beside its openings, largest first: the whole board where it has none."""
    parts = [box]
    for hole in holes:
        cut = []
        for part in parts:
            if not part.meets(hole):
                cut.append(part)
                continue
            cut += [
                Box(part.left, part.top, hole.left, part.bottom),
                Box(hole.right, part.top, part.right, part.bottom),
                Box(part.left, part.top, part.right, hole.top),
                Box(part.left, hole.bottom, part.right, part.bottom),
            ]
        parts = [each for each in cut if each.right > each.left and each.bottom > each.top]
    return sorted(parts, key=lambda each: -(each.right - each.left) * (each.bottom - each.top))


def _label(canvas: Canvas, parts: Sequence[Box], label: str) -> bool:
    """Write a label in the middle of the first part that has room for it, upright where that is narrow."""
    long, high, down = width(label, SMALLEST), (RISE + FALL) * SMALLEST, (RISE - FALL) / 2.0 * SMALLEST
    for box in parts:
        x, y = middle(box)
        room = (box.right - box.left - 1.0, box.bottom - box.top - 0.6)
        if long <= room[0] and room[1] >= high and canvas.place([((x, y + down), "middle")], label, halo=True):
            return True
        if long <= room[1] and room[0] >= high and canvas.place([((x + down, y), "middle")], label, upright=True, halo=True):
            return True
    return False


def _beside(canvas: Canvas, view: View, surface: tuple[float, float], box: Box, label: str) -> None:
    """The number of a strip too narrow for it, at the nearest edge of the face, with a line to it; nothing where that is taken."""
    x, y = middle(box)
    (left, top), (right, bottom) = view.at(0.0, 0.0), view.at(*surface)
    half, level = width(label, SMALLEST) / 2.0, y + 0.36 * SMALLEST
    if box.bottom - box.top < box.right - box.left and not left < box.left - 0.1 <= box.right + 0.1 < right:
        sides = [((right + 1.2 + half, level), (right + 0.5, y)), ((left - 1.2 - half, level), (left - 0.5, y))]
    else:
        sides = []
    ends = [((x, bottom + 0.9 * SMALLEST + 0.6), (x, bottom + 0.5)), ((x, top - 1.0), (x, top - 0.5))]
    for at, end in sorted([*sides, *ends], key=lambda each: abs(each[1][0] - x) + abs(each[1][1] - y)):
        if canvas.place([(at, "middle")], label):
            canvas.line((x, y), end, THIN)
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
