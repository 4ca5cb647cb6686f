"""The details of the wall that are cut upright: its foot, its head, the edge of the lid."""

from __future__ import annotations

from dataclasses import dataclass

from calc.assess import Assessment
from calc.materials.lid import lies_between
from calc.materials.wall import FRAME_TOP_GAP, PLATE
from calc.scheme import LidOption
from wizard.figures.detail import GAP, LINING_FIRST, Built, Detail, boards_words, detail, typical
from wizard.figures.figure import Figure
from wizard.figures.layers import STRAPPING, floor_layers, frame_head, lid_below
from wizard.figures.parts import CHANNEL_DEEP, STRAP

SLAB = 0.09  # m of slab drawn
BEAD = 0.006  # m, thickness of a bead under a plate
BACKING = 0.030  # m of strap under the top edge of the wall boards
TRIM = (0.012, 0.070)  # m, thickness and height of base trim


def wall_foot(a: Assessment, units: str) -> Figure:
    wall = typical(a, LINING_FIRST)
    floor = a.scheme.floor.height_taken
    size = (wall.total + 0.20, SLAB + 0.30)

    def draw(d: Detail) -> None:
        top, stud = size[1], wall.stud
        d.paint("concrete", 0.0, 0.0, size[0], SLAB)
        _upright(d, wall, SLAB, top, SLAB + GAP)
        strapped = wall.option.frame == STRAPPING
        if strapped:
            d.paint("wood", stud[0], SLAB, stud[1], SLAB + STRAP)
        for row in [(low, high) for layer, low, high in wall.spans if layer.part == "frame" and not strapped]:
            d.paint("wood", row[0], SLAB + BEAD, row[1], SLAB + BEAD + PLATE)
            for share in (0.12, 0.68):
                x = row[0] + share * (row[1] - row[0])
                d.paint("sealant", x, SLAB, x + 0.2 * (row[1] - row[0]), SLAB + BEAD)
        _bead_at_foot(d, wall)
        at = SLAB
        for layer in reversed(floor_layers(a.scheme.floor)):
            d.paint(layer.look, wall.total + GAP, at, size[0], at + layer.thickness)
            at += layer.thickness
        d.paint("foam", wall.total, SLAB, wall.total + GAP, SLAB + floor)
        trim = SLAB + floor + 0.003
        d.paint("panel", wall.total, trim, wall.total + TRIM[0], trim + TRIM[1])
        _name_layers(d, wall, top - 0.07)
        middle = stud[0] + 0.5 * (stud[1] - stud[0])
        if strapped:
            d.note(middle, SLAB + 0.5 * STRAP, "strapping along the foot, screwed to the wall as found: sound passes into it")
        else:
            words = f"sole plate, treated, {d.length(PLATE)} thick, on two beads of sealant, anchored to the slab"
            d.note(middle, SLAB + BEAD + 0.5 * PLATE, words)
        d.note(
            wall.total - 0.004,
            SLAB + 0.5 * GAP,
            f"boards end {d.length(GAP)} above the slab; the gap is filled with sealant that stays soft",
        )
        d.note(wall.total + TRIM[0] - 0.002, trim + 0.8 * TRIM[1], "base trim, fixed to the wall only, clear of the floor")
        if floor > 0.0:
            d.note(wall.total + 0.5 * GAP, SLAB + 0.6 * floor, f"floor kept {d.length(GAP)} off the wall by a soft strip")
            d.note(size[0] - 0.03, SLAB + 0.5 * floor, f"floor: {d.own(a.scheme.floor.label)}, {d.length(floor)}")
        d.note(size[0] - 0.06, 0.4 * SLAB, "slab, as found")

    return detail(a, units, "detail-wall-foot", "Wall foot", size, draw)


def _upright(d: Detail, wall: Built, low: float, high: float, boards: float, top: float | None = None, frame: float | None = None) -> None:
    """A wall cut upright through a bay, from ``low`` to ``high`` [m]; the room's boards ``boards`` to ``top``, fill up to ``frame``."""
    left = wall.option.fill_thickness if wall.option.fill != "none" else 0.0
    for layer, x0, x1 in wall.spans:
        if layer.part == "found":
            d.paint(layer.look, x0, low, x1, high)
        elif layer.part == "frame":
            fill = min(left, x1 - x0)
            left -= fill
            d.paint(
                "fibre",
                x1 - fill,
                low + (GAP if wall.option.frame == STRAPPING else BEAD + PLATE),
                x1,
                (frame if frame is not None else high),
            )
        elif layer.part == "support":
            y = low + 0.12
            while y < high - 0.05:
                d.paint("steel", x1 - min(x1 - x0, CHANNEL_DEEP), y, x1, y + 0.05)
                y += wall.option.support_spacing
        elif layer.part in ("board", "compound"):
            inner = x0 >= wall.boards - 1e-9
            d.paint(layer.look, x0, boards, x1, top if inner and top is not None else high)


def _bead_at_foot(d: Detail, wall: Built) -> None:
    d.paint("sealant", wall.boards, SLAB, wall.total, SLAB + GAP)
    first = wall.layers[0]
    if first.part == "board":
        outer = next(low for layer, low, _ in wall.spans if layer.part == "frame")
        d.paint("sealant", 0.0, SLAB, outer, SLAB + GAP)


def _name_layers(d: Detail, wall: Built, y: float) -> None:
    """Call-outs on the parts of a wall, each once."""
    for layer, low, high in wall.spans:
        size = d.length(layer.thickness)
        if layer.part == "found":
            d.note((low + high) / 2.0, y, f"{layer.name}, {size}")
        elif layer.part == "gap":
            d.note((low + high) / 2.0, y - 0.02, f"air gap of {size}: nothing bridges it, from slab to joists")
        elif layer.part == "frame" and low == wall.stud[0]:
            fill = f", bay filled with {wall.option.fill}" if wall.option.fill != "none" else ""
            d.note((low + high) / 2.0, y - 0.04, f"{layer.name}, {size}{fill}")
    d.note((wall.boards + wall.total) / 2.0, y - 0.01, _wall_boards(d, wall))


@dataclass(frozen=True)
class Head:
    """Where a wall and the lid meet, measured from the outside of the wall and from the foot of the window [m].

    ``below``: the face of the lid; ``under``: the joists; ``head``: the top of the wall's frame, with ``plates``; ``edge``: where the lid's
    boards begin; ``stand``: what holds them off the joists.
    """

    wall: Built
    lid: LidOption
    below: float
    under: float
    head: float
    plates: int
    edge: float
    stand: float

    @property
    def own(self) -> bool:
        return self.lid.own_joist_depth > 0.0

    @property
    def strapped(self) -> bool:
        return self.wall.option.frame == STRAPPING

    @property
    def free(self) -> bool:
        """The frame ends under the joists and touches nothing there."""
        return self.wall.option.gap > 0.0 and not self.strapped and not self.own

    @property
    def boards(self) -> float:
        """Thickness of the lid's boards."""
        return self.under - self.stand - self.below

    @property
    def plies(self) -> list[float]:
        return [layer.thickness for layer in lid_below(self.lid) if layer.part == "board"]


def _head(a: Assessment) -> Head:
    wall, lid, below = typical(a, LINING_FIRST), a.scheme.lid, 0.26
    under = below + lid.height_taken
    stand = sum(layer.thickness for layer in lid_below(lid) if layer.part in ("gap", "own", "support"))
    strapped, own = wall.option.frame == STRAPPING, lid.own_joist_depth > 0.0
    head = frame_head(wall.option, lid, under)
    plates = 2 if wall.option.carries_lid else 0 if strapped else 1
    edge = (wall.stud[1] if own else wall.boards) + GAP
    return Head(wall, lid, below, under, head, plates, edge, stand)


def _draw_head(d: Detail, h: Head, size: tuple[float, float]) -> None:
    """Joists, wall and lid as far as ``size`` [m] reaches."""
    d.paint("timber", 0.0, h.under, size[0], size[1])
    _upright(d, h.wall, 0.0, h.under, 0.0, h.below - GAP, h.head - h.plates * PLATE)
    for low, high in [(x0, x1) for layer, x0, x1 in h.wall.spans if layer.part == "frame"]:
        for n in range(h.plates):
            d.paint("wood", low, h.head - (n + 1) * PLATE, high, h.head - n * PLATE)
    if h.strapped:  # a piece along the head backs the edge of the boards and closes the space behind them
        top = min(h.below - GAP - BACKING + STRAP, h.under)
        d.paint("wood", h.wall.stud[0], top - STRAP, h.wall.stud[1], top)
    at = h.under - (h.stand if h.own else 0.0)
    if h.own:
        d.paint("timber", h.wall.stud[0], at, size[0], min(at + h.lid.own_joist_depth, size[1]))
    for layer in lid_below(h.lid):
        if layer.part == "support":
            d.paint("steel", h.edge + GAP, at - layer.thickness, size[0], at - layer.thickness + min(layer.thickness, CHANNEL_DEEP))
            at -= layer.thickness
        elif layer.part in ("board", "compound"):
            d.paint(layer.look, h.edge, at - layer.thickness, size[0], at)
            d.paint("sealant", h.edge - GAP, at - layer.thickness, h.edge, at)
            at -= layer.thickness
    d.paint("sealant", h.wall.boards, h.below - GAP, h.wall.total, h.below)


def wall_head(a: Assessment, units: str) -> Figure:
    h = _head(a)
    wall, lid = h.wall, h.lid
    size = (wall.total + 0.26, h.under + min(a.brief.shell.joists.depth, 0.24))

    def draw(d: Detail) -> None:
        _draw_head(d, h, size)
        gap = wall.first("gap")
        if gap is not None and wall.layers[0].part == "found":
            d.paint("fibre", gap[0], h.head - 0.10, gap[1], h.head)
            words = "fireblock at the ceiling line: mineral wool packed in the gap, which stays soft"
            d.note((gap[0] + gap[1]) / 2.0, h.head - 0.06, words)
        d.note(wall.total - 0.004, h.below - 0.5 * GAP, f"wall boards end {d.length(GAP)} under the lid; sealant that stays soft")
        d.note(h.edge - 0.5 * GAP, h.below + 0.01, f"lid hung first, {d.length(GAP)} off the wall frame all round, every ply sealed")
        d.note(size[0] - 0.05, h.below + 0.5 * h.boards, f"lid: {d.own(lid.label)}")
        middle = (wall.stud[0] + wall.stud[1]) / 2.0
        if h.own:
            where = "between the existing joists" if lies_between(lid) else "under the existing joists"
            words = f"own joist, {d.length(lid.own_joist_depth)}, {where}, stands on the inner wall; touches nothing above"
            d.note(size[0] - 0.10, h.under - h.stand + 0.6 * lid.own_joist_depth, words)
            d.note(middle, h.head - 0.5 * PLATE, "top plates carry the lid")
        elif h.free:
            words = f"frame ends {d.length(FRAME_TOP_GAP)} under the joists and is braced to itself, never to them"
            d.note(middle, h.under - 0.5 * FRAME_TOP_GAP, words)
        elif h.strapped:
            d.note(middle, h.below, "strapping along the head backs the boards and closes the space behind them")
        else:
            d.note(middle, h.head - 0.5 * PLATE, "top plate under the joists: sound can pass here")
        d.note(0.10, size[1] - 0.05, f"joists, as found, {d.length(a.brief.shell.joists.depth)} deep")
        _name_layers(d, wall, 0.13)

    return detail(a, units, "detail-wall-head", "Wall head", size, draw)


def lid_edge(a: Assessment, units: str) -> Figure:
    """The same place as the wall head, close up: where the boards of wall and lid meet."""
    h = _head(a)
    wall, lid = h.wall, h.lid
    corner = (max(wall.stud[1] - 0.050, 0.0), h.below - 0.075)
    whole = (wall.total + 0.12, h.below + h.boards + 0.060)
    size = (whole[0] - corner[0], whole[1] - corner[1])

    def draw(d: Detail) -> None:
        _draw_head(d, h, (whole[0], h.under + 0.24))
        right, top = whole[0] - 0.03, h.below + h.boards
        if h.own:
            d.note(right, top + 0.04, "own joist of the lid, on the top plates of the inner wall")
        elif h.stand > 0.0:
            d.note(right, top + 0.010, f"channel ends {d.length(GAP)} short of the boards' edge")
        else:
            d.note(right, top + 0.04, "joist, as found: this lid is fixed to it")
        fill = f", bay filled with {wall.option.fill}" if wall.option.fill != "none" else ""
        frame = f"{wall.option.frame}{fill}"
        d.note(max(wall.stud[1] - 0.015, corner[0] + 0.005), corner[1] + 0.012, frame)
        if h.plates:
            plates = "top plate" if h.plates == 1 else f"{h.plates} top plates"
            d.note(wall.stud[1] - 0.012, h.head - 0.5 * PLATE, f"{plates} of the inner wall, {d.length(PLATE)} thick each")
        between = h.below + 0.6 * h.boards
        d.note(h.edge - 0.5 * GAP, between, f"gap of {d.length(GAP)} at the edge of every ply, filled before the next ply covers it")
        over = f"gap of {d.length(GAP)} over the wall boards, filled flush; no hard compound in it"
        d.note((wall.boards + wall.total) / 2.0, h.below - 0.5 * GAP, over)
        staggered = ", joints of one ply away from those of the next" if len(h.plies) > 1 else ""
        damped = ", damping compound between" if lid.damped and len(h.plies) > 1 else ""
        d.note(wall.total + 0.06, h.below + 0.7 * h.boards, f"lid: {boards_words(h.plies, d)}{damped}{staggered}")
        d.note((wall.boards + wall.total) / 2.0, h.below - 0.04, f"{_wall_boards(d, wall)}, hung after the lid")

    return detail(a, units, "detail-lid-edge", "Lid edge, close up", size, draw, corner=corner)


def _wall_boards(d: Detail, wall: Built) -> str:
    plies = [layer.thickness for layer, low, _ in wall.spans if layer.part == "board" and low >= wall.boards - 1e-9]
    return f"wall: {boards_words(plies, d)}" + (", damping compound between" if wall.option.damped and len(plies) > 1 else "")
