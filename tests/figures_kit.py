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
