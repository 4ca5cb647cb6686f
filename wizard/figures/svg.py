"""A small SVG writer in millimetres of paper: strokes, fills, hatches and text, each text with the box that it takes.

Hatches are drawn as lines, not as patterns: any reader shows them, and two figures in one page share no names.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from wizard.figures import text as lettering

PAGE = 170.0  # mm: the width in print; fits A4 and letter with 20 mm of margin
TALLEST = 225.0  # mm: the most that stands on a letter page with its margins and a caption; A4 is taller
EDGE = 1.5  # mm kept free at the edge of the figure
BLACK, GREY, PALE, WHITE = "#000", "#555", "#ddd", "#fff"

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A rectangle on the paper [mm]."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom

    def within(self, other: Box) -> bool:
        return self.left >= other.left and self.right <= other.right and self.top >= other.top and self.bottom <= other.bottom


def middle(box: Box) -> Point:
    return (box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0


@dataclass(frozen=True)
class Pen:
    """A line: width mm, dashes mm as SVG writes them."""

    width: float
    dash: str = ""
    colour: str = BLACK


CUT = Pen(0.5)  # the outline of what is cut through
EDGE_LINE = Pen(0.25)  # what is seen beyond
THIN = Pen(0.18)  # dimension lines, leaders, axes
HATCH = Pen(0.13, "", GREY)
HIDDEN = Pen(0.3, "2 1.2")  # overhead, or behind
LIMIT = Pen(0.5, "4 1.2 0.8 1.2")
GRID = Pen(0.1, "", "#999")


def number(value: float) -> str:
    """A coordinate to a thousandth of a millimetre, the same on every machine."""
    shown = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


class Canvas:
    """Collects the marks of one figure. ``boxes`` are those of its texts; ``marks`` hold finished SVG elements."""

    def __init__(self, width: float = PAGE) -> None:
        self.width = width
        self.height = 0.0
        self.marks: list[str] = []
        self.boxes: list[Box] = []

    def grow(self, y: float) -> None:
        """Make the figure reach down to ``y``."""
        self.height = max(self.height, y)

    def line(self, start: Point, end: Point, pen: Pen = THIN) -> None:
        self.marks.append(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" y2="{number(end[1])}"{_stroke(pen)}/>'
        )
        self.grow(max(start[1], end[1]))

    def path(self, points: Sequence[Point], pen: Pen | None = THIN, fill: str = "none", closed: bool = False) -> None:
        steps = " ".join(f"{'M' if i == 0 else 'L'}{number(x)} {number(y)}" for i, (x, y) in enumerate(points))
        self.marks.append(f'<path d="{steps}{" Z" if closed else ""}" fill="{fill}"{_stroke(pen) if pen else ""}/>')
        self.grow(max(y for _, y in points))

    def rect(self, box: Box, pen: Pen | None = EDGE_LINE, fill: str = "none") -> None:
        size = f'width="{number(box.right - box.left)}" height="{number(box.bottom - box.top)}"'
        self.marks.append(f'<rect x="{number(box.left)}" y="{number(box.top)}" {size} fill="{fill}"{_stroke(pen) if pen else ""}/>')
        self.grow(box.bottom)

    def circle(self, centre: Point, radius: float, pen: Pen | None = EDGE_LINE, fill: str = "none") -> None:
        at = f'cx="{number(centre[0])}" cy="{number(centre[1])}" r="{number(radius)}"'
        self.marks.append(f'<circle {at} fill="{fill}"{_stroke(pen) if pen else ""}/>')
        self.grow(centre[1] + radius)

    def arc(self, start: Point, end: Point, radius: float, sweep: bool, pen: Pen = THIN) -> None:
        """A quarter of a circle or less."""
        d = f"M{number(start[0])} {number(start[1])} A{number(radius)} {number(radius)} 0 0 {int(sweep)} {number(end[0])} {number(end[1])}"
        self.marks.append(f'<path d="{d}" fill="none"{_stroke(pen)}/>')
        self.grow(max(start[1], end[1]))

    def text_box(self, at: Point, text: str, size: float, anchor: str, bold: bool, upright: bool) -> Box:
        """The paper that a line of text takes; ``upright``: written from bottom to top."""
        x, y = at
        long = lettering.width(text, size, bold)
        back = {"start": 0.0, "middle": long / 2.0, "end": long}[anchor]
        if upright:
            return Box(x - lettering.RISE * size, y - long + back, x + lettering.FALL * size, y + back)
        return Box(x - back, y - lettering.RISE * size, x - back + long, y + lettering.FALL * size)

    def text(
        self,
        at: Point,
        text: object,
        size: float = lettering.SMALLEST,
        anchor: str = "start",
        bold: bool = False,
        upright: bool = False,
        halo: bool = False,
    ) -> Box:
        """A line of text that stands on ``at``, with ``halo`` on white; returns and remembers its box.

        Raises ValueError for text too small to print.
        """
        if size < lettering.SMALLEST - 1e-9:
            raise ValueError(f"text of {size:g} mm is smaller than 9 pt")
        line = lettering.clean(text)
        box = self.text_box(at, line, size, anchor, bold, upright)
        if halo:
            self.rect(box, None, WHITE)
        turn = f' transform="rotate(-90 {number(at[0])} {number(at[1])})"' if upright else ""
        place = f'x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size)}"'
        weight = ' font-weight="bold"' if bold else ""
        ends = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.marks.append(f"<text {place}{ends}{weight}{turn}>{escape(line)}</text>")
        self.boxes.append(box)
        self.grow(box.bottom)
        return box

    def free(self, box: Box, margin: float = 0.4) -> bool:
        """Whether a text could stand there: inside the figure's width, on no other text."""
        wide = Box(box.left - margin, box.top - margin, box.right + margin, box.bottom + margin)
        return box.left >= 0.0 and box.right <= self.width and not any(wide.meets(other) for other in self.boxes)

    def place(
        self, spots: Sequence[tuple[Point, str]], text: str, size: float = lettering.SMALLEST, upright: bool = False, halo: bool = False
    ) -> bool:
        """Write a text at the first of ``spots`` (where, anchor) that is free; False, and nothing written, where none is."""
        for at, anchor in spots:
            if self.free(self.text_box(at, text, size, anchor, False, upright)):
                self.text(at, text, size, anchor, upright=upright, halo=halo)
                return True
        return False

    def paragraph(self, at: Point, text: object, room: float, size: float = lettering.SMALLEST) -> float:
        """Lines of text from ``at``, the top left corner, broken at ``room`` [mm]; returns where the next may begin."""
        y = at[1]
        for line in lettering.wrapped(lettering.clean(text), size, room):
            y += lettering.LINE * size
            self.text((at[0], y - lettering.FALL * size), line, size)
        return y

    def svg(self, name: str, title: str, text: str) -> str:
        """The finished document; ``title`` and ``text`` (what it shows, in words) are for screen readers."""
        size = f'width="{number(self.width)}mm" height="{number(self.height + EDGE)}mm"'
        view = f'viewBox="0 0 {number(self.width)} {number(self.height + EDGE)}"'
        labels = f'role="img" aria-labelledby="{name}-title {name}-desc"'
        head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} {labels} font-family="{lettering.FONTS}">'
        words = (
            f'<title id="{name}-title">{escape(lettering.clean(title))}</title>',
            f'<desc id="{name}-desc">{escape(lettering.clean(text))}</desc>',
        )
        paper = f'<rect width="{number(self.width)}" height="{number(self.height + EDGE)}" fill="{WHITE}"/>'
        return "\n".join((head, *words, paper, *self.marks, "</svg>")) + "\n"


def _stroke(pen: Pen) -> str:
    dash = f' stroke-dasharray="{pen.dash}"' if pen.dash else ""
    return f' stroke="{pen.colour}" stroke-width="{number(pen.width)}"{dash}'
