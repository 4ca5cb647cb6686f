"""The details of what lies in a wall, cut level: electrical boxes, and the fireblock in the gap."""

from __future__ import annotations

from calc.assess import Assessment
from calc.brief import SideKind
from calc.codes import rule
from calc.materials.wall import FIREBLOCK_WIDTH
from calc.unit_format import format_spacing
from wizard.figures.detail import GAP, LINING_FIRST, Detail, built, detail, typical
from wizard.figures.figure import Figure
from wizard.figures.parts import STUD
from wizard.figures.svg import HIDDEN, WHITE, Pen

BOX = (0.100, 0.038)  # m, width and depth of an electrical box
PAD = 0.005  # m, putty pad
CABLE = 0.012  # m, hole for a cable


def electrical_box(a: Assessment, units: str) -> Figure:
    """On the boards, which keeps the shell whole, and set into them where it must be."""
    wall = typical(a, LINING_FIRST)
    kept = [span for span in wall.spans if span[0].part != "found"]
    start = kept[0][1]
    deep = wall.total - start
    size = (0.66, deep + BOX[1] + 0.05)

    def draw(d: Detail) -> None:
        face = deep
        for layer, low, high in kept:
            if layer.part == "frame":
                d.paint("fibre" if wall.option.fill != "none" else "air", 0.0, low - start, size[0], high - start)
                for x in (0.02, 0.32, 0.62):
                    d.paint("wood", x, low - start, x + STUD, high - start)
            else:
                d.paint(layer.look, 0.0, low - start, size[0], high - start)
        left = 0.15
        d.paint("sealant", left + 0.5 * BOX[0] - CABLE / 2.0, wall.boards - start, left + 0.5 * BOX[0] + CABLE / 2.0, face)
        d.view.canvas.rect(d.view.box(left, face, left + BOX[0], face + BOX[1]), Pen(0.7), WHITE)
        right = 0.32 + STUD + 0.08
        back = face - BOX[1] - 0.012
        d.paint("foam", right - PAD, back - PAD, right + BOX[0] + PAD, face)
        d.view.canvas.rect(d.view.box(right, back, right + BOX[0], face), Pen(0.7), WHITE)
        d.paint("sealant", right - PAD - GAP, wall.boards - start, right - PAD, face)
        d.paint("sealant", right + BOX[0] + PAD, wall.boards - start, right + BOX[0] + PAD + GAP, face)
        cable = [d.view.at(x, y) for x, y in ((left + 0.5 * BOX[0], 0.4 * deep), (left + 0.5 * BOX[0], face + 0.010))]
        d.view.canvas.path(cable, HIDDEN)
        d.note(left + 0.2 * BOX[0], face + 0.5 * BOX[1], "first choice: a surface box; the boards behind it stay whole")
        d.note(left + 0.5 * BOX[0], (wall.boards - start + face) / 2.0, "one cable hole, filled with sealant on both sides")
        d.note(right + BOX[0] + 0.5 * PAD, (back + face) / 2.0, "where a box must be set in: putty pad round its back and sides")
        d.note(right + BOX[0] + PAD + 0.5 * GAP, face - 0.004, "sealant round the box; never two boxes back to back in one bay")
        d.note(0.05, (wall.boards - start + face) / 2.0, "boards of the room's face")

    return detail(a, units, "detail-box", "Electrical boxes", size, draw, up=False)


def fireblock(a: Assessment, units: str) -> Figure | None:
    """The block in the gap behind a frame; None where no wall has a gap."""
    kinds = [kind for kind in LINING_FIRST if kind in dict(a.scheme.walls) and a.scheme.wall(kind).gap > 0.0]
    if not kinds:
        return None
    wall = built(a, kinds[0])
    step = format_spacing(float(rule(a.brief.code, "fireblocking")["horizontal"]), units)
    shown = FIREBLOCK_WIDTH + 0.16
    size = (shown, wall.total + 0.03)

    def draw(d: Detail) -> None:
        gap = wall.first("gap") or (0.0, 0.0)
        for layer, low, high in wall.spans:
            if layer.part == "frame":
                d.paint("fibre" if wall.option.fill != "none" else "air", 0.0, low, size[0], high)
                for x in (0.06, 0.06 + wall.option.stud_spacing):
                    d.paint("wood", x, low, x + STUD, high)
            elif layer.part == "gap":
                d.paint("air", 0.0, low, size[0], high)
            else:
                d.paint(layer.look, 0.0, low, size[0], high)
        start = 0.08
        box_ = d.view.box(start, gap[0], start + FIREBLOCK_WIDTH, gap[1])
        d.paint("fibre", start, gap[0], start + FIREBLOCK_WIDTH, gap[1])
        d.view.canvas.rect(box_, Pen(0.5))
        far = "existing wall" if wall.kind is not SideKind.OPEN else "outer row"
        d.note(
            start + 0.5 * FIREBLOCK_WIDTH,
            sum(gap) / 2.0,
            f"mineral wool, {d.length(FIREBLOCK_WIDTH)} wide, packed from slab to joists every {step} along the wall, "
            "and along the floor and the ceiling line",
        )
        d.note(size[0] - 0.04, sum(gap) / 2.0, f"the gap of {d.length(wall.option.gap)} stays open between blocks")
        d.note(
            start + 0.03,
            gap[0] + 0.002,
            f"a solid block, if the official wants one, is fixed to one side only; its edge at the {far} is sealed, "
            "and the sealant stays soft",
        )
        d.note(0.06 + 0.5 * STUD, sum(wall.stud) / 2.0, f"stud of the inner wall; {wall.option.frame}")
        d.note(0.12, (wall.boards + wall.total) / 2.0, "boards of the room's face")

    return detail(a, units, "detail-fireblock", "Fireblock in the gap", size, draw, up=False)
