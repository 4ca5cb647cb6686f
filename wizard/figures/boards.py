"""Where each board of a surface goes, ply by ply, the joints of the ply below shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.assess import Assessment
from calc.geometry import lid_extent, lid_over
from calc.headroom import soffit_sides
from calc.materials.boards import Laid, layouts
from calc.task_facts import WORKING_LENGTHS as LENGTHS
from wizard.figures.figure import Figure, stem
from wizard.figures.keys import heading, key, of_line
from wizard.figures.places import boxed, places
from wizard.figures.scale import View, dimension_across, dimension_up, fitted, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, HIDDEN, PAGE, PALE, THIN, WHITE, Box, Canvas, Pen, Point, middle
from wizard.figures.text import FALL, LINE, RISE, SMALLEST, UNBROKEN, width

CUT = Pen(0.35, "0.6 0.9")
RIM, MOVES = 0.5, 6  # mm within which a piece lies at the face's rim; how many lines a number beside it may move
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
    cut: Sequence[Placed] = (),
    note: str = "",
) -> Figure:
    """One drawing a ply, the first hung first. ``surface``: width and height [m]; ``openings`` stay free in every ply, ``cut`` is cut
    out on site, wherever it turns out to be; ``note`` is said of the whole.

    Each piece carries its size where that has room, else its number in the ply, and the sizes of those stand in a list under the ply.
    Raises ValueError where there is no ply or no surface.
    """
    if not plies or min(surface) <= 0.0:
        raise ValueError("a board layout needs a surface and at least one ply")
    left = EDGE + 12.0

    def draw(ratio: int) -> tuple[Canvas, None]:  # the lists take more paper the smaller the drawings are
        canvas = Canvas()
        _plies(canvas, heading(canvas, title), left, ratio, surface, plies, units, (openings, cut))
        return canvas, None

    canvas, _ = fitted(draw, fitting(surface[0], PAGE - left - 6.0, units), units)
    words = f"{written(surface[0], units, 1.0)} by {written(surface[1], units, 1.0)}. {note}" + " ".join(
        f"Ply {n}: " + ", ".join(f"{written(b.width, units)} by {written(b.height, units)}" for b in ply) + "."
        for n, ply in enumerate(plies, start=1)
    )
    return Figure(name, title, canvas.svg(name, title, words), f"{note}Joints of one ply never fall on those of the ply below.", words)


def _plies(
    canvas: Canvas,
    top: float,
    left: float,
    ratio: int,
    surface: tuple[float, float],
    plies: Sequence[Sequence[Placed]],
    units: str,
    holes: tuple[Sequence[Placed], Sequence[Placed]],
) -> None:
    """Every ply with its list, then scale and key. ``holes``: those that the layout leaves free, those cut out on site."""
    below: Sequence[Placed] = ()
    view = View(canvas, (left, top), float(ratio))
    for n, ply in enumerate(plies, start=1):
        canvas.text((left, top + SMALLEST), f"ply {n} of {len(plies)}: {len(ply)} pieces", bold=True)
        view = View(canvas, (left, top + OVER), float(ratio))
        untold = _ply(view, surface, ply, below, holes, units)
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
    entries += [(lambda c, box: c.rect(box, Pen(0.2), PALE), "opening")] if holes[0] else []
    entries += [(of_line(CUT), "cut out on site, place suggested")] if holes[1] else []
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
    view: View,
    surface: tuple[float, float],
    ply: Sequence[Placed],
    below: Sequence[Placed],
    free: tuple[Sequence[Placed], Sequence[Placed]],
    units: str,
) -> list[int]:
    """One ply; returns the numbers of the pieces whose size found no room on them."""
    canvas, (openings, cut) = view.canvas, free
    for board in ply:
        canvas.rect(_paper(view, board), Pen(0.5), WHITE)
    for x0, y0, x1, y1 in _joints(surface, below):
        view.line(x0, y0, x1, y1, HIDDEN)
    for each in cut:
        canvas.rect(_paper(view, each), CUT)
    holes = [_paper(view, hole) for hole in openings]
    for hole, box in zip(openings, holes, strict=True):
        canvas.rect(box, Pen(0.4), PALE)
        _label(canvas, [box], f"{written(hole.width, units, 1.0)} × {written(hole.height, units, 1.0)}")
    untold = []
    for n, board in enumerate(ply, start=1):
        parts = _free(_paper(view, board), holes)
        if not _label(canvas, parts, f"{written(board.width, units)} × {written(board.height, units)}"):
            untold.append(n)
            if not _label(canvas, parts, f"{n}"):
                _beside(canvas, view, surface, parts[0], f"{n}")
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
    """The number of a strip too narrow for it, at the nearest free place beside the face, with a line to it."""
    x, y = middle(box)
    (left, top), (right, bottom) = view.at(0.0, 0.0), view.at(*surface)
    half, down, line = width(label, SMALLEST) / 2.0, 0.36 * SMALLEST, LINE * SMALLEST
    at_rim = box.left < left + RIM or box.right > right - RIM
    spots: list[tuple[Point, Point]] = []
    for move in sorted((step * line for step in range(-MOVES, MOVES + 1)), key=abs):
        if at_rim:
            spots.append(((right + 1.2 + half, y + move + down), (right + 0.5, y + move)))
            spots.append(((left - 1.2 - half, y + move + down), (left - 0.5, y + move)))
        spots.append(((x + move, bottom + 0.9 * SMALLEST + 0.6), (x + move, bottom + 0.5)))
        spots.append(((x + move, top - 1.0), (x + move, top - 0.5)))
    for at, end in sorted(spots, key=lambda each: round(abs(each[1][0] - x) + abs(each[1][1] - y), 3)):
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
        cut = _cut_on_site(a) if name == "lid" else []
        note = _lid_note(a, units, cut) if name == "lid" else ""
        stem_, title = f"boards-{number}-{stem(name)}", f"Boards: {name}, {seen}"
        yield board_layout(stem_, title, (face.width, face.height), pieces, units, holes, cut, note)


def _lid_note(a: Assessment, units: str, cut: Sequence[Placed]) -> str:
    gap = written(LENGTHS["edge_gap"], units, 1.0)
    over = f"The lid runs over the wall boards, which are hung after it, to {gap} from what they are fixed to. "
    kinds = " and ".join(dict.fromkeys(thing.kind for thing in boxed(a)))
    opened = f"Where the soffit round the {kinds} opens it, cut the boards on site: they are counted whole. "
    return over + (opened if cut else "")


def _cut_on_site(a: Assessment) -> list[Placed]:
    """Where soffits open the lid, at the places that the floor plan suggests: between the outer faces of their framed sides."""
    where, over, extent, sides = places(a), lid_over(a.brief, a.scheme), lid_extent(a.brief, a.scheme), soffit_sides()
    beside = sides.gap + sides.frame + LENGTHS["edge_gap"]
    x, y = where.offset[0] - over[4], where.offset[1] - over[1]
    along_x = a.brief.shell.length >= a.brief.shell.width
    wide = (0.0, beside) if along_x else (beside, 0.0)
    found = []
    for each in where.overhead:
        if each.thing in boxed(a):
            left, top = max(each.x0 - wide[0] - x, 0.0), max(each.y0 - wide[1] - y, 0.0)
            right, low = min(each.x1 + wide[0] - x, extent.length), min(each.y1 + wide[1] - y, extent.width)
            found.append(Placed(left, top, right - left, low - top))
    return found


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
