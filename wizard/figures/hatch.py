"""The house look of materials in section: a hatch for each, told apart without colour."""

from __future__ import annotations

from collections.abc import Callable

from wizard.figures.svg import BLACK, CUT, EDGE_LINE, GREY, HATCH, PALE, THIN, WHITE, Box, Canvas, Pen

SOLID_ENOUGH = 0.9  # mm; thinner layers take a plain tone, as no hatch can be seen in them


def diagonal(canvas: Canvas, box: Box, step: float, rising: bool = True, pen: Pen = HATCH) -> None:
    """Lines at 45 degrees through a rectangle, ``step`` mm apart along its edges, in one mark; they run on from box to box."""
    sign = -1.0 if rising else 1.0
    reach = [x - sign * y for x in (box.left, box.right) for y in (box.top, box.bottom)]
    parts = []
    at = (min(reach) // step) * step
    while at < max(reach):
        at += step
        ends = []
        for x in (box.left, box.right):
            y = (x - at) / sign
            if box.top <= y <= box.bottom:
                ends.append((x, y))
        for y in (box.top, box.bottom):
            x = at + sign * y
            if box.left < x < box.right:
                ends.append((x, y))
        if len(ends) >= 2:
            parts.append((ends[0], ends[-1]))
    _strokes(canvas, parts, pen)


def _strokes(canvas: Canvas, parts: list[tuple[tuple[float, float], tuple[float, float]]], pen: Pen) -> None:
    if parts:
        steps = " ".join(f"M{a[0]:.2f} {a[1]:.2f}L{b[0]:.2f} {b[1]:.2f}" for a, b in parts)
        dash = f' stroke-dasharray="{pen.dash}"' if pen.dash else ""
        canvas.marks.append(f'<path d="{steps}" fill="none" stroke="{pen.colour}" stroke-width="{pen.width}"{dash}/>')


def _dots(canvas: Canvas, box: Box, step: float, size: float) -> None:
    """Dots strewn evenly but not in rows; the same every time."""
    parts = []
    row = 0
    y = box.top + step / 2.0
    while y < box.bottom - size:
        x = box.left + step * (0.3 + 0.37 * (row * 7 % 5) / 2.0)
        while x < box.right - size:
            parts.append(((x, y), (x + size, y + size * 0.4)))
            x += step * (1.0 + 0.3 * ((int(x * 10) + row) % 3))
        y += step * 0.8
        row += 1
    _strokes(canvas, parts, Pen(size, "", GREY))


def gypsum(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, None, WHITE if _thick(box) else PALE)
    if _thick(box):
        diagonal(canvas, box, 1.3)
    canvas.rect(box, EDGE_LINE)


def compound(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.1), BLACK)


def wood(canvas: Canvas, box: Box) -> None:
    """Timber cut across: a cross from corner to corner."""
    canvas.rect(box, CUT, WHITE)
    canvas.line((box.left, box.top), (box.right, box.bottom), THIN)
    canvas.line((box.left, box.bottom), (box.right, box.top), THIN)


def timber(canvas: Canvas, box: Box) -> None:
    """Timber cut or seen along its length: grain lines."""
    canvas.rect(box, EDGE_LINE, WHITE)
    wide, high = box.right - box.left, box.bottom - box.top
    parts = []
    for share in (0.2, 0.45, 0.7, 0.88):
        if wide >= high:
            y = box.top + share * high
            parts.append(((box.left + 0.04 * wide * share, y), (box.right - 0.05 * wide * (1.0 - share), y)))
        else:
            x = box.left + share * wide
            parts.append(((x, box.top + 0.04 * high * share), (x, box.bottom - 0.05 * high * (1.0 - share))))
    _strokes(canvas, parts, HATCH)


def panel(canvas: Canvas, box: Box) -> None:
    """Plywood, strand board, planks, doors: fine lines along the sheet."""
    canvas.rect(box, None, WHITE)
    wide, high = box.right - box.left, box.bottom - box.top
    parts = []
    for i in (1, 2, 3):
        if wide >= high:
            parts.append(((box.left, box.top + high * i / 4.0), (box.right, box.top + high * i / 4.0)))
        else:
            parts.append(((box.left + wide * i / 4.0, box.top), (box.left + wide * i / 4.0, box.bottom)))
    _strokes(canvas, parts, Pen(0.1, "1.6 0.6", GREY))
    canvas.rect(box, EDGE_LINE)


def fibre(canvas: Canvas, box: Box) -> None:
    """Batts: the usual loops, drawn as a zigzag across the shorter way."""
    canvas.rect(box, None, WHITE)
    wide, high = box.right - box.left, box.bottom - box.top
    across = min(wide, high)
    if across < 0.5:
        return
    step = max(min(across * 0.22, 2.2), 0.8)
    points = []
    count = max(2, round(max(wide, high) / step))
    for i in range(count + 1):
        along = i / count
        side = 0.06 if i % 2 == 0 else 0.94
        points.append(
            (box.left + along * wide, box.top + side * high) if wide >= high else (box.left + side * wide, box.top + along * high)
        )
    canvas.path(points, Pen(0.15, "", GREY))


def concrete(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, None, "#f2f2f2")
    _dots(canvas, box, 2.6, 0.45)
    diagonal(canvas, box, 7.0)
    canvas.rect(box, CUT)


def masonry(canvas: Canvas, box: Box) -> None:
    """Block and brick: lines in pairs, falling."""
    canvas.rect(box, None, WHITE)
    diagonal(canvas, box, 2.4, rising=False)
    diagonal(canvas, Box(box.left, box.top, box.right, box.bottom), 7.2, rising=True)
    canvas.rect(box, CUT)


def earth(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, None, WHITE)
    diagonal(canvas, box, 3.0, True, Pen(0.35, "2.4 1.9", GREY))


def foam(canvas: Canvas, box: Box) -> None:
    """Rubber, foam, cushion: crossed lines."""
    canvas.rect(box, None, WHITE)
    if _thick(box):
        diagonal(canvas, box, 1.1)
        diagonal(canvas, box, 1.1, rising=False)
    canvas.rect(box, EDGE_LINE, "none" if _thick(box) else GREY)


def sealant(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, None, BLACK)


def steel(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#bbb")


def air(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, None, WHITE)


def _thick(box: Box) -> bool:
    return min(box.right - box.left, box.bottom - box.top) >= SOLID_ENOUGH


Painter = Callable[[Canvas, Box], None]
PAINTERS: dict[str, tuple[str, Painter]] = {
    "gypsum": ("board", gypsum),
    "compound": ("damping compound, a film", compound),
    "wood": ("framing, cut across", wood),
    "timber": ("framing, along", timber),
    "panel": ("wood panel, plank or door", panel),
    "fibre": ("fibre fill", fibre),
    "concrete": ("concrete", concrete),
    "masonry": ("block or brick", masonry),
    "earth": ("earth", earth),
    "foam": ("rubber, foam or cushion", foam),
    "sealant": ("sealant that stays soft", sealant),
    "steel": ("sheet steel", steel),
    "air": ("air gap", air),
}


def paint(canvas: Canvas, box: Box, look: str) -> None:
    """Fill a rectangle with the look of a material, a key of PAINTERS."""
    if box.right - box.left > 1e-6 and box.bottom - box.top > 1e-6:
        PAINTERS[look][1](canvas, box)


def look_of(material: str) -> str:
    """The look of a material or layer by its name in the catalogue."""
    words = (
        ("gypsum", "gypsum"), ("cement board", "gypsum"), ("damping", "compound"), ("block", "masonry"), ("brick", "masonry"),
        ("concrete sealer", "compound"), ("concrete", "concrete"), ("plywood", "panel"), ("solid wood", "panel"), ("hardwood", "panel"),
        ("mdf", "panel"), ("laminate plank", "panel"), ("rubber", "foam"), ("foam", "foam"), ("underlay", "foam"), ("cushion", "foam"),
        ("carpet", "foam"), ("membrane", "foam"), ("joist", "timber"), ("channel", "steel"), ("fibre", "fibre"), ("wool", "fibre"),
    )  # fmt: skip
    lower = material.lower()
    return next((look for word, look in words if word in lower), "air")
