"""The details of the wall that are cut upright: its foot, its head, the edge of the lid."""

from __future__ import annotations

from calc.assess import Assessment
from calc.materials.lid import lies_between
from calc.materials.wall import FRAME_TOP_GAP, PLATE
from wizard.figures.detail import GAP, LINING_FIRST, Built, Detail, detail, plies_words, typical
from wizard.figures.figure import Figure
from wizard.figures.layers import floor_layers, lid_below
from wizard.figures.parts import CHANNEL_DEEP

SLAB = 0.09  # m of slab drawn
BEAD = 0.006  # m, thickness of a bead under a plate
STRAPPING = "wood strapping"  # the frame word of straps on the wall as found: no plates
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
            d.note(middle, SLAB + 0.06, "strapping, screwed to the wall as found: sound passes into it")
        else:
            d.note(middle, SLAB + BEAD + 0.5 * PLATE, "sole plate, treated, on two beads of sealant, anchored to the slab")
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
            d.note((low + high) / 2.0, y, layer.name)
        elif layer.part == "gap":
            d.note((low + high) / 2.0, y - 0.02, f"air gap of {size}: nothing bridges it, from slab to joists")
        elif layer.part == "frame" and low == wall.stud[0]:
            fill = f", bay filled with {wall.option.fill}" if wall.option.fill != "none" else ""
            d.note((low + high) / 2.0, y - 0.04, f"{layer.name}, {size}{fill}")
    count = sum(layer.part == "board" and low >= wall.boards - 1e-9 for layer, low, _ in wall.spans)
    damped = ", damping compound between" if wall.option.damped else ""
    d.note((wall.boards + wall.total) / 2.0, y - 0.01, f"{plies_words(count)} of board{damped}")


def wall_head(a: Assessment, units: str) -> Figure:
    wall, lid, joists = typical(a, LINING_FIRST), a.scheme.lid, a.brief.shell.joists
    below = 0.26
    size = (wall.total + 0.26, below + lid.height_taken + min(joists.depth, 0.24))
    under = below + lid.height_taken  # underside of the joists
    own = lid.own_joist_depth > 0.0
    plates = 2 if wall.option.carries_lid else 0 if wall.option.frame == STRAPPING else 1
    stand = sum(layer.thickness for layer in lid_below(lid) if layer.part in ("gap", "own", "support"))
    strapped = wall.option.frame == STRAPPING
    free = wall.option.gap > 0.0 and not strapped
    head = under - stand if own else under - FRAME_TOP_GAP if free else under

    def draw(d: Detail) -> None:
        top = size[1]
        d.paint("timber", 0.0, under, size[0], top)
        _upright(d, wall, 0.0, under, 0.0, below - GAP, head - plates * PLATE)
        frames = [(x0, x1) for layer, x0, x1 in wall.spans if layer.part == "frame"]
        for row in frames:
            for n in range(plates):
                d.paint("wood", row[0], head - (n + 1) * PLATE, row[1], head - n * PLATE)
        edge = wall.stud[1] + (wall.boards - wall.stud[1]) + GAP if not own else wall.stud[1] + GAP
        at = under - (stand if own else 0.0)
        if own:
            d.paint("timber", wall.stud[0], at, size[0], min(at + lid.own_joist_depth, top))
        for layer in lid_below(lid):
            if layer.part == "support":
                d.paint("steel", edge + GAP, at - layer.thickness, size[0], at - layer.thickness + min(layer.thickness, CHANNEL_DEEP))
                at -= layer.thickness
            elif layer.part in ("board", "compound"):
                d.paint(layer.look, edge, at - layer.thickness, size[0], at)
                d.paint("sealant", edge - GAP, at - layer.thickness, edge, at)
                at -= layer.thickness
        d.paint("sealant", wall.boards, below - GAP, wall.total, below)
        gap = wall.first("gap")
        if gap is not None and wall.layers[0].part == "found":
            d.paint("fibre", gap[0], head - 0.10, gap[1], head)
            d.note((gap[0] + gap[1]) / 2.0, head - 0.06, "fireblock at the ceiling line: mineral wool packed in the gap, which stays soft")
        d.note(wall.total - 0.004, below - 0.5 * GAP, f"wall boards end {d.length(GAP)} under the lid; sealant that stays soft")
        d.note(edge - 0.5 * GAP, below + 0.01, f"lid hung first, {d.length(GAP)} off the wall frame all round, every ply sealed")
        d.note(size[0] - 0.05, below + 0.4 * (under - below), f"lid: {d.own(lid.label)}")
        if own:
            where = "between the existing joists" if lies_between(lid) else "under the existing joists"
            d.note(
                size[0] - 0.10,
                under - stand + 0.6 * lid.own_joist_depth,
                f"own joist, {d.length(lid.own_joist_depth)}, {where}, stands on the inner wall; touches nothing above",
            )
            d.note((wall.stud[0] + wall.stud[1]) / 2.0, head - 0.5 * PLATE, "top plates carry the lid")
        elif free:
            d.note(
                (wall.stud[0] + wall.stud[1]) / 2.0,
                under - 0.5 * FRAME_TOP_GAP,
                f"frame ends {d.length(FRAME_TOP_GAP)} under the joists and is braced to itself, never to them",
            )
        elif not strapped:
            d.note((wall.stud[0] + wall.stud[1]) / 2.0, head - 0.5 * PLATE, "top plate under the joists: sound can pass here")
        d.note(0.10, top - 0.05, "joists, as found")
        _name_layers(d, wall, 0.13)

    return detail(a, units, "detail-wall-head", "Wall head", size, draw)


def lid_edge(a: Assessment, units: str) -> Figure:
    """The edge close up."""
    lid, wall = a.scheme.lid, typical(a, LINING_FIRST)
    boards = [layer for layer in lid_below(lid) if layer.part in ("board", "compound")]
    deep = sum(layer.thickness for layer in boards)
    inner = [layer for layer, low, _ in wall.spans if low >= wall.boards - 1e-9]
    thick = sum(layer.thickness for layer in inner)
    left, below, over = 0.050, 0.075, 0.060
    size = (left + thick + 0.12, below + deep + over)

    def draw(d: Detail) -> None:
        own = lid.own_joist_depth > 0.0
        d.paint("timber", 0.0, 0.0, left, below + deep - 2.0 * PLATE if own else size[1])
        if own:
            d.paint("wood", 0.0, below + deep - 2.0 * PLATE, left, below + deep - PLATE)
            d.paint("wood", 0.0, below + deep - PLATE, left, below + deep)
        x = left
        for layer in inner:
            d.paint(layer.look, x, 0.0, x + layer.thickness, below - GAP)
            x += layer.thickness
        d.paint("sealant", left, below - GAP, left + thick, below)
        at = below + deep
        for layer in boards:
            d.paint(layer.look, left + GAP, at - layer.thickness, size[0], at)
            d.paint("sealant", left, at - layer.thickness, left + GAP, at)
            at -= layer.thickness
        if own:
            d.paint("timber", 0.0, below + deep, size[0], size[1])
            d.note(size[0] - 0.03, size[1] - 0.02, "own joist of the lid, on the top plates of the inner wall")
        elif lid.support != "absent":
            d.paint("steel", left + 2.0 * GAP, below + deep, size[0], below + deep + min(0.022, over))
            d.note(size[0] - 0.03, below + deep + 0.010, f"channel ends {d.length(GAP)} short of the wall")
        else:
            d.paint("timber", left + GAP, below + deep, size[0], size[1])
            d.note(size[0] - 0.03, size[1] - 0.02, "joist, as found: this lid is fixed to it")
        d.note(0.4 * left, 0.10 * size[1], "stud of the inner wall, or its channel")
        d.note(
            left + 0.5 * GAP, below + 0.6 * deep, f"gap of {d.length(GAP)} at the edge of every ply, filled before the next ply covers it"
        )
        d.note(left + 0.5 * thick, below - 0.5 * GAP, f"gap of {d.length(GAP)} over the wall boards, filled flush; no hard compound in it")
        d.note(
            left + thick + 0.06,
            below + 0.7 * deep,
            f"lid: {plies_words(sum(layer.part == 'board' for layer in boards))}, joints of one ply away from those of the next",
        )
        d.note(left + 0.5 * thick, 0.45 * below, "wall boards, hung after the lid")

    return detail(a, units, "detail-lid-edge", "Lid edge, close up", size, draw)
