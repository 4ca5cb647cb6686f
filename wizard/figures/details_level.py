"""The details that are cut level and seen from above: corner, door, duct crossing."""

from __future__ import annotations

from calc.assess import Assessment
from calc.catalogue import load
from calc.isolation.duct_way import box, duct_size
from calc.ventilation.design import runs
from wizard.figures.detail import GAP, OPEN_FIRST, Built, Detail, boards_words, built, detail, typical
from wizard.figures.figure import Figure
from wizard.figures.layers import Layer
from wizard.figures.parts import STUD
from wizard.figures.scale import nominal, sold
from wizard.figures.svg import WHITE, Pen

JAMB = 0.019  # m, thickness of a door frame. Common practice, no source
SHIM = 0.010  # m between door frame and stud, packed and sealed. Common practice, no source

Part = tuple[Layer, float, float]


def corner(a: Assessment, units: str) -> Figure:
    """Where two sides meet: of two different walls where there are such."""
    kinds = {side.number: side.kind for side in a.brief.shell.sides}
    pairs = [(1, 4), (1, 2), (3, 2), (3, 4)]
    across, down = next((pair for pair in pairs if kinds[pair[0]] is not kinds[pair[1]]), pairs[0])
    top, left = built(a, kinds[across]), built(a, kinds[down])
    size = (left.total + 0.34, top.total + 0.26)

    def draw(d: Detail) -> None:
        one, two = _halves(top), _halves(left)
        x_out, y_out = _end(two[0]), _end(one[0])
        _strips(d, top, one[0], (0.0, size[0]), True)
        _strips(d, left, two[0], (y_out, size[1]), False)
        x_in, y_in = x_out + left.option.gap, y_out + top.option.gap
        _strips(d, top, one[1], (x_in, size[0]), True)
        frame_end = _end(one[1]) if one[1] else y_in
        _strips(d, left, two[1], (frame_end, size[1]), False)
        face = left.boards
        _strips(d, top, one[2], (face, size[0]), True)
        _strips(d, left, two[2], (top.total + GAP, size[1]), False)
        for layer, low, high in one[2]:
            if layer.part == "board":
                d.paint("sealant", face - GAP, low, face, high)
        d.paint("sealant", left.boards, top.total, left.total, top.total + GAP)
        d.note(
            left.boards + 0.5 * (left.total - left.boards),
            top.total + 0.5 * GAP,
            f"{_face(d, left)}: they stop {d.length(GAP)} from those of the other wall; every ply sealed",
        )
        d.note(left.total + 0.16, (top.boards + top.total) / 2.0, f"{_face(d, top)}: they run through on this wall")
        d.note(
            left.stud[0] + 0.5 * (left.stud[1] - left.stud[0]),
            top.total + 0.12,
            "the frames of the inner walls may meet; nothing else does" if left.option.gap or top.option.gap else "frames meet",
        )
        if left.option.gap or top.option.gap:
            gap = top.first("gap") or left.first("gap") or (0.0, 0.0)
            d.note(size[0] - 0.05, sum(gap) / 2.0, "the air gap runs on round the corner") if top.first("gap") else d.note(
                sum(gap) / 2.0, size[1] - 0.05, "the air gap runs on to the corner"
            )
        d.note(size[0] - 0.10, 0.5 * y_out, f"side {across}: {kinds[across].value}")
        d.note(0.5 * x_out, size[1] - 0.05, f"side {down}: {kinds[down].value}")

    return detail(a, units, "detail-corner", f"Corner of sides {across} and {down}", size, draw, up=False)


def _face(d: Detail, wall: Built) -> str:
    """The boards of the room's face in words."""
    return boards_words([layer.thickness for layer, low, _ in wall.spans if layer.part == "board" and low >= wall.boards - 1e-9], d)


def _halves(wall: Built) -> tuple[list[Part], list[Part], list[Part]]:
    """A wall's parts outside its last gap, between that and the boards of the room, and those boards."""
    spans = wall.spans
    last = max((n for n, (layer, _, _) in enumerate(spans) if layer.part == "gap"), default=-1)
    if last < 0:
        last = max(
            (n for n, (layer, _, _) in enumerate(spans) if layer.part in ("found", "board") and spans[n][2] <= wall.stud[0] + 1e-9),
            default=-1,
        )
        outer = spans[: last + 1]
    else:
        outer = spans[:last]
    inner = [span for span in spans[last + 1 :] if span[1] < wall.boards - 1e-9]
    return outer, inner, [span for span in spans if span[1] >= wall.boards - 1e-9]


def _end(parts: list[Part]) -> float:
    return parts[-1][2] if parts else 0.0


def _strips(d: Detail, wall: Built, parts: list[Part], run: tuple[float, float], across: bool) -> None:
    """Layers along a stretch of wall; frames with a stud at the corner, one more where the spacing puts it, and fill between."""
    for layer, low, high in parts:
        looks = [(layer.look, run[0], run[1])]
        if layer.part == "frame":
            looks = [("fibre" if wall.option.fill != "none" else "air", run[0], run[1]), ("wood", run[0], run[0] + STUD)]
            next_stud = run[0] + (wall.option.stud_spacing or 0.406)
            if next_stud + STUD / 2.0 < d.size[0 if across else 1]:  # no sliver of one that the window cuts off
                looks.append(("wood", next_stud - STUD / 2.0, next_stud + STUD / 2.0))
        for look, start, end in looks:
            if start < end:
                d.paint(look, *((start, low, end, high) if across else (low, start, high, end)))


def door(a: Assessment, units: str) -> Figure:
    """The jamb of the door, or of the two doors, in the wall that it stands in."""
    option, data = a.scheme.door, load("doors")
    row = data["door"][option.id]
    leaf = float(data["panel"][row["panel"]]["thickness"])
    wall = typical(a, OPEN_FIRST)
    pair = option.leaves > 1
    size = (0.62, max(wall.total + 0.12, (option.air_lock + 2.0 * leaf + 0.16) if pair else 0.0))
    y0 = (size[1] - wall.total) / 2.0
    edge = 0.28  # where the rough opening begins

    def draw(d: Detail) -> None:
        rows = [(low + y0, high + y0) for layer, low, high in wall.spans if layer.part == "frame"]
        for layer, low, high in wall.spans:
            look = layer.look
            if layer.part == "frame":
                d.paint("fibre" if wall.option.fill != "none" else "air", 0.0, low + y0, edge, high + y0)
                d.paint("wood", edge - STUD, low + y0, edge, high + y0)
                d.paint("wood", edge - 2.0 * STUD, low + y0, edge - STUD, high + y0)
                continue
            d.paint(look, 0.0, low + y0, edge, high + y0)
        split = len(rows) > 1
        faces = [(y0, rows[0][1]), (rows[-1][0], y0 + wall.total)] if split else [(y0, y0 + wall.total)]
        for low, high in faces:
            d.paint("panel", edge + SHIM, low, edge + SHIM + JAMB, high)
            for at in (low, high - 0.012):
                d.paint("sealant", edge, at, edge + SHIM, at + 0.012)
            d.paint("foam", edge, low + 0.014, edge + SHIM, low + 0.028)
            d.paint("foam", edge, high - 0.028, edge + SHIM, high - 0.014)
        face = edge + SHIM + JAMB
        inner_at = y0 + wall.total - leaf
        places = [y0, inner_at] if pair else [inner_at]
        if pair:
            lock = option.air_lock
            middle = y0 + wall.total / 2.0
            places = [middle - lock / 2.0 - leaf, middle + lock / 2.0]
        for n, at in enumerate(places):
            inside = pair and n == 0
            stop = (at + leaf, at + leaf + 0.012) if inside else (at - 0.012, at)
            d.paint("panel", face, stop[0], face + 0.016, stop[1])
            d.paint("panel", face + 0.003, at, size[0], at + leaf)
            seal = (at + leaf, at + leaf + 0.005) if inside else (at - 0.005, at)
            d.paint("foam", face + 0.004, seal[0], face + 0.014, seal[1])
        if pair and option.lined:
            d.paint("fibre", face, places[0] + leaf + 0.030, face + 0.025, places[1] - 0.030)
            d.note(face + 0.012, (places[0] + places[1] + leaf) / 2.0, "lining of the air lock, all round")
        if pair:
            d.note(0.50, (places[0] + places[1] + leaf) / 2.0, f"air lock of {d.length(option.air_lock)} between two leaves")
        d.note(0.52, places[-1] + 0.5 * leaf, f"{d.own(option.label)}; {'each leaf' if pair else 'leaf'} {d.length(leaf)}")
        foot = "; automatic bottom and threshold at the foot" if option.sealed else "; the foot stays open: keep it small"
        d.note(face + 0.010, places[-1] - 0.003, f"compression seal on the stop, at head and jambs{foot}")
        d.note(edge + 0.5 * SHIM, faces[-1][1] - 0.006, "between frame and stud: backer rod and sealant on both faces, no hard foam")
        if split:
            d.note(
                edge + SHIM + 0.5 * JAMB,
                (faces[0][1] + faces[1][0]) / 2.0,
                "each door frame stands on its own row of studs; the gap stays open behind a soft strip",
            )
        elif pair:
            d.note(
                edge + SHIM + 0.5 * JAMB,
                y0 + 0.35 * wall.total,
                "door frame, screwed through shims into the studs; both leaves stand on one frame in this wall",
            )
        d.note(0.10, y0 + wall.total - 0.012, f"{_face(d, wall)}, the room's face")
        d.note(edge - STUD, (rows[-1][0] + rows[-1][1]) / 2.0, "double stud at the opening")

    title = "Door pair" if pair else "Door"
    return detail(a, units, "detail-door", title, size, draw, up=False)


def duct_crossing(a: Assessment, units: str) -> Figure:
    """The duct through the wall that it crosses, its box or first length outside."""
    option, wall = a.scheme.air_path, typical(a, OPEN_FIRST)
    size_ = duct_size(a.brief, option)
    made, casing, lining = box(size_, option), size_.casing, (size_.casing - size_.side) / 2.0
    outside = 0.26
    around = 0.13
    face = runs(a.brief, option, a.air, size_)[0].grille
    size = (max(casing, face.width) + 2.0 * around, outside + wall.total + 0.10)

    def draw(d: Detail) -> None:
        left = (size[0] - casing) / 2.0
        right = left + casing
        ring = 0.012
        for layer, low, high in wall.spans:
            for start, end in ((0.0, left - ring), (right + ring, size[0])):
                look = ("fibre" if wall.option.fill != "none" else "air") if layer.part == "frame" else layer.look
                d.paint(look, start, outside + low, end, outside + high)
        faces = [(outside, outside + 0.012), (outside + wall.total - 0.012, outside + wall.total)]
        for start, end in ((left - ring, left), (right, right + ring)):
            d.paint("fibre", start, outside + 0.030, end, outside + wall.total - 0.030)
            for low, high in faces:
                d.paint("sealant", start, low, end, high)
            d.paint("foam", start, faces[0][1], end, faces[0][1] + 0.016)
            d.paint("foam", start, faces[1][0] - 0.016, end, faces[1][0])
        flex = (0.13, 0.19)
        for start, end in ((0.13 if made else 0.0, flex[0]), (flex[1], outside + wall.total + 0.03)):
            if end <= start:
                continue
            for x in (left, right - 0.002):
                d.paint("steel", x, start, x + 0.002, end)
            if lining > 0.0 and option.lined_length > 0.0:
                d.paint("fibre", left + 0.002, start, left + lining, end)
                d.paint("fibre", right - lining, start, right - 0.002, end)
        for x in (left, right):
            points = [d.view.at(x + (0.006 if n % 2 else -0.006), flex[0] + n * 0.01) for n in range(7)]
            d.view.canvas.path(points, Pen(0.4))
        if made is not None:
            d.paint("panel", 0.0, 0.13 - made.panel, left, 0.13)
            d.paint("panel", right, 0.13 - made.panel, size[0], 0.13)
            d.paint("fibre", 0.0, 0.13 - made.panel - min(made.lining, 0.09), left, 0.13 - made.panel)
            d.paint("fibre", right, 0.13 - made.panel - min(made.lining, 0.09), size[0], 0.13 - made.panel)
            d.note(
                right + 0.04,
                0.13 - 0.5 * made.panel,
                f"end of the silencer box, {d.length(made.panel)} thick, on isolators; {d.length(made.lining)} of lining inside",
            )
        d.note(left, 0.5 * (flex[0] + flex[1]), "flexible connector: no rigid way from wall to box or duct")
        d.note(
            right - 0.001,
            outside - 0.02,
            f"duct, {nominal(casing, d.units)} square inside the sheet"
            + (f", {d.length(lining)} of lining inside" if lining > 0.0 and option.lined_length > 0.0 else ""),
        )
        d.note(
            left - 0.5 * ring,
            outside + wall.total - 0.006,
            f"ring of {d.length(ring)} round the duct, sealed at both faces over backer rod",
        )
        d.note(right + 0.5 * ring, outside + 0.5 * wall.total, "mineral wool in the ring: the duct touches neither stud nor board")
        d.note(0.04, outside + wall.total - 0.012, f"{_face(d, wall)}, the room's face, cut clear of the duct")
        grille = (size[0] - face.width) / 2.0
        end = outside + wall.total + 0.03
        d.view.canvas.rect(d.view.box(grille, end, grille + face.width, end + 0.02), Pen(0.35), WHITE)
        bars = int(face.width / 0.025)
        for n in range(1, bars):
            x = grille + face.width * n / bars
            d.view.line(x, end, x, end + 0.02, Pen(0.25))
        words = f"grille without damper for supply, {sold(face.width, face.height, d.units)}; it meets the duct, not the boards"
        d.note(grille + 0.7 * face.width, end + 0.01, words)

    return detail(a, units, "detail-duct", "Duct through the shell", size, draw, up=False)
