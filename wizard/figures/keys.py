"""Title, key and notes of a figure: what the signs mean, in words beside each sign."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from wizard.figures.hatch import PAINTERS, paint
from wizard.figures.svg import EDGE, Box, Canvas, Pen
from wizard.figures.text import LINE, SMALLEST, TITLE, clean, shortened, width, wrapped

Swatch = Callable[[Canvas, Box], None]
SWATCH = (9.0, 4.0)  # mm
BALLOON = 2.7  # mm, radius of a number in a circle
ROW = 5.6  # mm from row to row of a key


def heading(canvas: Canvas, title: str, below: str = "") -> float:
    """The title at the top and a line under it; returns where the drawing may begin."""
    line = shortened(clean(title), TITLE, canvas.width - 2.0 * EDGE, bold=True)
    canvas.text((EDGE, EDGE + 0.8 * TITLE), line, TITLE, bold=True)
    y = EDGE + 1.25 * TITLE
    return canvas.paragraph((EDGE, y), below, canvas.width - 2.0 * EDGE) + 1.5 if below else y + 1.0


def key(canvas: Canvas, top: float, entries: Sequence[tuple[Swatch, str]], left: float = EDGE) -> float:
    """Signs with their words, filling rows from the left; returns where the next thing may begin."""
    if not entries:
        return top
    x, y = left, top
    for swatch, words in entries:
        words = shortened(words, SMALLEST, canvas.width - left - SWATCH[0] - 4.0)
        wide = SWATCH[0] + 1.6 + width(words, SMALLEST) + 5.0
        if x > left and x + wide > canvas.width:
            x, y = left, y + ROW
        swatch(canvas, Box(x, y, x + SWATCH[0], y + SWATCH[1]))
        canvas.text((x + SWATCH[0] + 1.6, y + SWATCH[1] / 2.0 + 0.36 * SMALLEST), words)
        x += wide
    return y + ROW


def of_material(look: str) -> tuple[Swatch, str]:
    """The key's entry of a material; a film shows as the line that it is."""
    if look == "compound":
        return of_line(Pen(0.6)), PAINTERS[look][0]
    return (lambda canvas, box: paint(canvas, box, look)), PAINTERS[look][0]


def tone(fill: str, words: str) -> tuple[Swatch, str]:
    """The key's entry of a tone."""
    return (lambda canvas, box: canvas.rect(box, Pen(0.15), fill)), words


def of_line(pen: Pen) -> Swatch:
    """The key's sign of a line."""
    return lambda canvas, box: canvas.line((box.left, (box.top + box.bottom) / 2.0), (box.right, (box.top + box.bottom) / 2.0), pen)


def materials_key(canvas: Canvas, top: float, looks: Sequence[str]) -> float:
    """The key of the materials that a drawing uses, in the order of the house look."""
    used = [look for look in PAINTERS if look in looks and look != "air"]
    return key(canvas, top, [of_material(look) for look in used])


def numbered(canvas: Canvas, top: float, notes: Sequence[str], columns: int = 2) -> float:
    """Notes with their numbers, in columns that run down; returns where the next thing may begin."""
    gap, lead = 4.0, 7.0
    room = (canvas.width - 2.0 * EDGE - gap * (columns - 1)) / columns
    blocks = [wrapped(clean(note), SMALLEST, room - lead) for note in notes]
    heights = [len(block) * LINE * SMALLEST + 1.2 for block in blocks]
    share = sum(heights) / columns
    column, y, lowest = 0, top, top
    for i, (block, high) in enumerate(zip(blocks, heights, strict=True), start=1):
        if column < columns - 1 and y > top and y - top + 0.5 * high > share:
            column, y = column + 1, top
        x = EDGE + column * (room + gap)
        canvas.text((x + 4.6, y + 0.95 * SMALLEST), f"{i}", anchor="end", bold=True)
        for n, line in enumerate(block):
            canvas.text((x + lead, y + 0.95 * SMALLEST + n * LINE * SMALLEST), line)
        y += high
        lowest = max(lowest, y)
    canvas.grow(lowest)
    return lowest
