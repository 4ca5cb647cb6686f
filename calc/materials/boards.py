"""Every board of a scheme: where it lies, which sheet it is cut from, how many sheets and screws that takes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import NamedTuple

from calc.acoustics.layout import Opening
from calc.brief import Brief
from calc.geometry import Room
from calc.materials import quantities as q
from calc.materials.faces import Face, Hole, bay_face, faces
from calc.materials.items import board_item
from calc.materials.line import Line
from calc.materials.nesting import Cut, Stack, nest_next
from calc.materials.sheets import EDGE_STAGGER, LEAST_END, Bond, Box, Pattern, Row, pattern
from calc.scheme import Scheme

Size = tuple[float, float]
# Sheets sold beside the usual 8 ft: 9, 10 and 12 ft (common trade sizes). Taken only where the person knows that they get down the stairs.
LONGER_SHEETS = (2.7432, 3.048, 3.6576)
# Between boards and whatever is beside them, for sealant: 1/4 in, up to 3/8 in where that spares a sliver. Common practice, no source.
EDGE_GAP, WIDEST_GAP = 0.00635, 0.0095
STAIR_COSINE = 0.79  # of a stair with risers of 7 3/4 in and treads of 10 in, the steepest of IRC R311.7.5
HANDS = 0.05  # m beside a sheet carried on edge. Common practice, no source


class Placed(NamedTuple):
    """One board in place: corner nearest to the face's origin, size [m], and the number of the sheet it is cut from.

    Sheets are numbered over the whole job, from 1, for each kind of board. Openings are cut out of boards in place.
    """

    x: float
    y: float
    width: float
    height: float
    sheet: int


@dataclass(frozen=True)
class Laid:
    """One ply of one face. ``ply`` counts from 1, the first against the framing; ``upright``: the boards' length runs along y.

    ``sheet`` is length and width of the sheets [m]; ``opened`` how many new ones this ply takes, the rest comes from offcuts; ``cuts``
    where each piece lies on its sheet. ``gaps`` [m] are left open at each end along x and along y, for sealant.
    """

    face: Face
    ply: int
    item: str
    upright: bool
    sheet: Size
    pieces: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    opened: int
    gaps: Size

    @property
    def where(self) -> str:
        return f"{self.face.name}, ply {self.ply}"

    @cached_property
    def area(self) -> float:
        """Area covered, openings taken out [m2]."""
        whole = Hole("", *self.gaps, self.face.width - 2.0 * self.gaps[0], self.face.height - 2.0 * self.gaps[1])
        return whole.width * whole.height - sum(whole.shared(hole) for hole in self.face.holes)

    @property
    def cut_list(self) -> tuple[tuple[int, float, float], ...]:
        """Pieces to cut: how many, length along the sheet, width across it [m], largest first; whole sheets are among them."""
        sizes = Counter(self._size(piece) for piece in self.pieces)
        return tuple((count, *size) for size, count in sorted(sizes.items(), key=lambda pair: (-pair[0][0] * pair[0][1], pair[0])))

    @cached_property
    def screws(self) -> int:
        """Screws of this ply: a row on each framing member under each board, both ends included; on a grid where there is no framing.

        Source: geometry.
        """
        step = self.face.screw_step(self.ply)
        if self.face.framing <= 0.0:
            return q.whole(self.area / step**2)
        return sum(_screws(piece, self.face, step) for piece in self.pieces)

    def _size(self, piece: Placed) -> Size:
        long, wide = (piece.height, piece.width) if self.upright else (piece.width, piece.height)
        return round(long, 3), round(wide, 3)


def _screws(piece: Placed, face: Face, step: float) -> int:
    across, along = (piece.width, piece.height) if face.members == "upright" else (piece.height, piece.width)
    return _lines(across, face.framing) * _lines(along, step)


def _lines(extent: float, step: float) -> int:
    """Lines at most ``step`` apart with one at both ends; a few per cent more than a step is left to the builder."""
    return math.ceil(extent / step - 0.04) + 1


def sheet_sizes(brief: Brief) -> tuple[Size, ...]:
    """Sheets that get down the stairs [m]: 4 x 8 ft is assumed to; longer ones only as long as the person says."""
    longest = brief.site.board_length or q.SHEET_LENGTH
    return ((q.SHEET_LENGTH, q.SHEET_WIDTH), *((length, q.SHEET_WIDTH) for length in LONGER_SHEETS if length <= longest + 1e-6))


def sheet_note(brief: Brief) -> str:
    """What the plan must say about getting sheets down the stairs; "" where the person has tried.

    A sheet goes down on its long edge, square to the slope: headroom over the nosings less the slope. Source: geometry.
    """
    if brief.site.board_length is not None:
        return ""
    headroom = brief.site.stair_headroom
    if headroom is not None and headroom * STAIR_COSINE < q.SHEET_WIDTH + HANDS:
        return (
            "The headroom over the stairs looks too low for a sheet of 1.22 x 2.44 m (4 x 8 ft) on its edge: find another way in, or have "
            "sheets cut in half along their length, which adds joints that this count does not have."
        )
    return "Sheets of 1.22 x 2.44 m (4 x 8 ft) are taken to get down the stairs and round their corner: try one, or a lath frame, first."


def layouts(brief: Brief, room: Room, scheme: Scheme, openings: Sequence[Opening] | None = None) -> tuple[Laid, ...]:
    """Each ply of each face in the order it is built, the boards between the joists first. ``room`` is that of the scheme.

    ``openings``: see faces.faces. Raises ValueError when the catalogue lacks a board.
    """
    found = faces(brief, room, scheme, openings)
    bays = _bays(bay_face(brief, scheme.lid)) if scheme.lid.between_joists else []
    return _from_sheets([*bays, *_drawn(found, sheet_sizes(brief))])


def laid_out(found: Sequence[Face], sizes: Sequence[Size] = ((q.SHEET_LENGTH, q.SHEET_WIDTH),)) -> tuple[Laid, ...]:
    """Faces in the order they are built, laid out with sheets of these sizes [m]."""
    return _from_sheets(_drawn(found, tuple(sizes)))


def _drawn(found: Sequence[Face], sizes: tuple[Size, ...]) -> list[_Drawn]:
    return [each for face in found for each in _plies(face, sizes)]


@dataclass(frozen=True, eq=False)  # by identity, as ``_cut`` keeps what it made of long rows of them
class _Drawn:
    """A ply before its pieces have sheets: boxes in the boards' own directions, (u, v, length, width)."""

    face: Face
    ply: int
    item: str
    upright: bool
    sheet: Size
    boxes: tuple[Box, ...]
    gaps: Size = (0.0, 0.0)  # along x, along y


@lru_cache(maxsize=1024)  # schemes that differ in one part share most faces
def _plies(face: Face, sizes: tuple[Size, ...]) -> list[_Drawn]:
    """All plies of a face run the same way on the same size of sheet, whichever way scores least over all of them."""
    ways = [(size, upright) for size in sizes for upright in _ways(face, size)]
    tried = [(size, upright, _stack(face, size, upright)) for size, upright in ways]
    size, upright, patterns = min(tried, key=lambda each: sum(ply.score for ply in each[2]))
    return [
        _Drawn(face, number, board_item(ply).id, upright, size, found.pieces, _gaps(face, size, upright))
        for number, (ply, found) in enumerate(zip(face.plies, patterns, strict=True), start=1)
    ]


def _ways(face: Face, size: Size) -> list[bool]:
    """Across the framing always; along it only where no butt joint would hang between two members."""
    across = face.members == "level"
    extent = face.width if across else face.height
    return [across, not across] if face.turned and extent - 2.0 * EDGE_GAP <= size[0] else [across]


def _gap(extent: float, board: float, step: float) -> float:
    """Gap [m] at both ends of an extent: the usual one, or a wider one that spares a sliver of board; joints stand every ``step`` [m]."""
    if extent <= 4.0 * EDGE_GAP:
        return 0.0
    sliver = (extent - 2.0 * EDGE_GAP) % step
    return EDGE_GAP + sliver / 2.0 if extent > board and sliver <= 2.0 * (WIDEST_GAP - EDGE_GAP) else EDGE_GAP


def _gaps(face: Face, size: Size, upright: bool) -> Size:
    long, wide = size
    step = face.framing if 0.0 < face.framing < long and upright == (face.members == "level") else long
    if upright:
        return _gap(face.width, wide, wide), _gap(face.height, long, step)
    return _gap(face.width, long, step), _gap(face.height, wide, wide)


def _stack(face: Face, size: Size, upright: bool) -> list[Pattern]:
    gaps = _gaps(face, size, upright)
    width, height = face.width - 2.0 * gaps[0], face.height - 2.0 * gaps[1]
    along, across = (height, width) if upright else (width, height)
    crossing = upright == (face.members == "level")
    at = [(hole.x - gaps[0], hole.y - gaps[1], hole.width, hole.height) for hole in face.holes]
    holes = tuple((y, x, high, wide) if upright else (x, y, wide, high) for x, y, wide, high in at)
    bond = Bond(along, across, *size, face.framing if crossing else size[0], 0.0 if crossing else face.framing, holes)
    found: list[Pattern] = []
    next_ply: tuple[Row, ...] = ()
    for _ in face.plies:  # from the last ply inwards: that is the one whose joints are seen and crack
        found.append(pattern(bond, next_ply))
        next_ply = found[-1].rows
    return found[::-1]


@lru_cache(maxsize=64)
def _bays(face: Face) -> list[_Drawn]:
    """Strips between the joists, end to end: what is left of the last strip of a bay begins the next one, unless its joint would fall on
    one of the ply before. Joints may fall anywhere, as the subfloor is behind them all.
    """
    length, width = q.SHEET_LENGTH, q.SHEET_WIDTH
    found: list[_Drawn] = []
    before: list[tuple[float, ...]] = []
    for number, ply in enumerate(face.plies, start=1):
        boxes: list[Box] = []
        joints: list[tuple[float, ...]] = []
        left, edge = length, 0.0
        for joist in face.holes:
            clear = joist.y - edge
            strips = math.ceil(clear / width)
            for row in range(strips):
                under = before[len(joints)] if before else ()
                cuts = _strip(face.width, length, left, under)
                joints.append(cuts)
                stops = [0.0, *cuts, face.width]
                boxes += [(low, edge + row * clear / strips, high - low, clear / strips) for low, high in pairwise(stops)]
                left = length - (stops[-1] - stops[-2])
            edge = joist.y + joist.height
        before = joints
        found.append(_Drawn(face, number, board_item(ply).id, False, (length, width), tuple(boxes)))
    return found


def _strip(extent: float, length: float, left: float, under: tuple[float, ...]) -> tuple[float, ...]:
    """Joints of one strip that begins with the piece ``left`` [m] over, if that gives no stub and no joint near one ``under`` it."""
    best: tuple[float, ...] = ()
    for first in (left, length, length / 2.0, length * 0.75, length * 0.3):
        if first < LEAST_END:
            continue
        cuts = tuple(first + n * length for n in range(math.ceil(max(0.0, extent - first - 1e-6) / length)))
        if cuts and extent - cuts[-1] < LEAST_END:
            cuts = (*cuts[:-1], cuts[-1] - LEAST_END)
            if cuts[-1] < LEAST_END / 2.0:
                continue
        if not any(abs(joint - other) < EDGE_STAGGER / 2.0 for joint in cuts for other in under):
            return cuts
        best = best or cuts
    return best


def _from_sheets(drawn: Sequence[_Drawn]) -> tuple[Laid, ...]:
    """Pieces cut from sheets: offcuts of a board go to any later ply of the same board."""
    so_far: dict[str, tuple[_Drawn, ...]] = {}
    found = []
    for each in drawn:
        mine = so_far[each.item] = (*so_far.get(each.item, ()), each)
        found.append(_cut(mine)[0])
    return tuple(found)


@lru_cache(maxsize=1024)
def _cut(drawn: tuple[_Drawn, ...]) -> tuple[Laid, Stack]:
    """The last of some plies of one board, cut from what those before it left; and what it leaves."""
    each = drawn[-1]
    before = _cut(drawn[:-1])[1] if len(drawn) > 1 else Stack()
    cuts, left = nest_next(before, (*each.sheet, [(box[2], box[3]) for box in each.boxes]))
    pieces = tuple(_placed(box, cut.sheet, each) for box, cut in zip(each.boxes, cuts, strict=True))
    return Laid(each.face, each.ply, each.item, each.upright, each.sheet, pieces, cuts, left.opened - before.opened, each.gaps), left


def _placed(box: Box, sheet: int, drawn: _Drawn) -> Placed:
    u, v, length, width = box
    (x, y), size = ((v, u), (width, length)) if drawn.upright else ((u, v), (length, width))
    return Placed(x + drawn.gaps[0], y + drawn.gaps[1], *size, sheet)


def as_laid(lines: Sequence[Line], laid: Sequence[Laid]) -> tuple[Line, ...]:
    """The lines with boards and their screws as laid out, in place of shares of an area. A surface of several faces stays one line.

    What was not laid out (the boards round ducts) stays as it is.
    """
    by_place: dict[str, list[Laid]] = {}
    for each in laid:
        by_place.setdefault(_place(each), []).append(each)
    done: set[tuple[str, str]] = set()
    found: list[Line] = []
    for line in lines:
        mine = by_place.get(line.where, ())
        screws = line.item.startswith("board_screw")
        if not mine or not (screws or line.item == mine[0].item):
            found.append(line)
        elif (line.item, line.where) not in done:
            done.add((line.item, line.where))
            if screws:
                found.append(line._replace(quantity=float(sum(each.screws for each in mine))))
            else:
                sheets = Counter({size: sum(each.opened for each in mine if each.sheet == size) for size in {e.sheet for e in mine}})
                found.append(line._replace(quantity=sum(each.area for each in mine), sheets=tuple(sorted(sheets.items()))))
    return tuple(found)


def _place(laid: Laid) -> str:
    """The ``where`` of the line that a ply belongs to: the parts of a soffit are one line."""
    name = laid.face.name.rsplit(", ", 1)[0] if laid.face.name.startswith("soffit") else laid.face.name
    return f"{name}, ply {laid.ply}"
