"""What the tests of the figures share: a drawing read back from its bytes, and the paper that each of its texts takes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

from wizard.figures.text import width

SVG = "{http://www.w3.org/2000/svg}"
NINE_POINTS = 9.0 * 25.4 / 72.0  # mm
TALLEST = 225.0  # mm: letter (279.4) and A4 (297) keep 20 mm of margin at both ends and room for a caption


@dataclass(frozen=True)
class Text:
    """A text with its box [mm], from the attributes of its element alone."""

    words: str
    size: float
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Text) -> bool:
        return self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom


@dataclass(frozen=True)
class Drawing:
    root: ElementTree.Element
    wide: float
    tall: float
    texts: tuple[Text, ...]

    @property
    def title(self) -> str:
        return self.root.find(f"{SVG}title").text or ""  # type: ignore[union-attr]

    @property
    def desc(self) -> str:
        return self.root.find(f"{SVG}desc").text or ""  # type: ignore[union-attr]

    def overlaps(self) -> list[tuple[str, str]]:
        return [(one.words, other.words) for one, other in combinations(self.texts, 2) if one.meets(other)]

    def strays(self) -> list[str]:
        """Marks beyond the paper, by more than a line is thick."""
        found = []
        for each in self.root.iter():
            for x, y in _corners(each):
                if not (-0.5 <= x <= self.wide + 0.5 and -0.5 <= y <= self.tall + 0.5):
                    found.append(f"{each.tag.removeprefix(SVG)} at {x:g}, {y:g}")
        return found

    def outside(self) -> list[str]:
        return [t.words for t in self.texts if t.left < 0.0 or t.top < 0.0 or t.right > self.wide or t.bottom > self.tall]


def read(svg: str) -> Drawing:
    root = ElementTree.fromstring(svg)
    wide, tall = (float(re.fullmatch(r"([\d.]+)mm", root.attrib[key])[1]) for key in ("width", "height"))  # type: ignore[index]
    assert root.attrib["viewBox"] == f"0 0 {root.attrib['width'][:-2]} {root.attrib['height'][:-2]}"  # one unit is a millimetre in print
    return Drawing(root, wide, tall, tuple(_text(each) for each in root.iter(f"{SVG}text")))


def _text(element: ElementTree.Element) -> Text:
    words, size = element.text or "", float(element.attrib["font-size"])
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    long = width(words, size, "font-weight" in element.attrib)
    start = -long * {"start": 0.0, "middle": 0.5, "end": 1.0}[element.attrib.get("text-anchor", "start")]
    if "transform" not in element.attrib:
        return Text(words, size, x + start, y - 0.74 * size, x + start + long, y + 0.22 * size)
    assert element.attrib["transform"] == f"rotate(-90 {element.attrib['x']} {element.attrib['y']})"
    return Text(words, size, x - 0.74 * size, y - start - long, x + 0.22 * size, y - start)


def _corners(element: ElementTree.Element) -> list[tuple[float, float]]:
    """The points that a mark is drawn from."""
    a = {key: float(value) for key, value in element.attrib.items() if re.fullmatch(r"-?[\d.]+", value)}
    match element.tag.removeprefix(SVG):
        case "line":
            return [(a["x1"], a["y1"]), (a["x2"], a["y2"])]
        case "rect":
            x, y = a.get("x", 0.0), a.get("y", 0.0)
            return [(x, y), (x + a["width"], y + a["height"])]
        case "circle":
            return [(a["cx"] - a["r"], a["cy"] - a["r"]), (a["cx"] + a["r"], a["cy"] + a["r"])]
        case "path":
            steps = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)|A[\d.]+ [\d.]+ 0 0 [01] (-?[\d.]+) (-?[\d.]+)", element.attrib["d"])
            return [(float(a or c), float(b or d)) for a, b, c, d in steps]
    return []


def ratio(drawing: Drawing) -> int:
    """The scale that the figure states: 1 to this."""
    return next(int(found[1]) for text in drawing.texts if (found := re.match(r"Scale 1:(\d+)", text.words)))


def lengths_at_scale(drawing: Drawing, metres: float) -> list[float]:
    """Dimension lines and sides of rectangles [mm] that are as long as ``metres`` at the scale stated, to a hundredth of a millimetre."""
    wanted = metres * 1000.0 / ratio(drawing)
    return [long for long in _lengths(drawing) if abs(long - wanted) < 0.01]


def _lengths(drawing: Drawing) -> list[float]:
    found = []
    for each in drawing.root.iter(f"{SVG}line"):
        (x1, y1), (x2, y2) = _corners(each)
        found += [abs(x2 - x1), abs(y2 - y1)] if x1 == x2 or y1 == y2 else []
    for each in drawing.root.iter(f"{SVG}rect"):
        found += [float(each.attrib["width"]), float(each.attrib["height"])]
    return found
