"""What all details share: a window to scale, numbered call-outs at both sides, words and key under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from calc.assess import Assessment
from calc.brief import SideKind
from calc.scheme import WallOption
from calc.task_facts import WORKING_LENGTHS
from wizard.figures.callouts import Callout, columns
from wizard.figures.figure import Figure
from wizard.figures.keys import heading, materials_key, numbered
from wizard.figures.layers import Layer, wall_layers
from wizard.figures.scale import View, fitted, fitting, scale_bar, scale_words, written
from wizard.figures.svg import EDGE, PAGE, Box, Canvas
from wizard.present import filters

WIDE, TALL = 142.0, 118.0  # mm of paper for the drawing; call-outs stand at both sides of it
GAP = WORKING_LENGTHS["edge_gap"]  # m, at every edge of an isolated surface


@dataclass
class Detail:
    """A detail while it is drawn; ``size`` is the window [m], ``corner`` the place of what is drawn that lies at its origin [m]."""

    a: Assessment
    view: View
    units: str
    size: tuple[float, float]
    corner: tuple[float, float] = (0.0, 0.0)
    looks: set[str] = field(default_factory=set)
    callouts: list[Callout] = field(default_factory=list)

    def paint(self, look: str, x0: float, y0: float, x1: float, y1: float) -> None:
        """A rectangle [m], cut off at the window."""
        (w, h), (left, low) = self.size, self.corner
        (x0, x1), (y0, y1) = sorted((x0 - left, x1 - left)), sorted((y0 - low, y1 - low))
        x0, x1, y0, y1 = max(x0, 0.0), min(x1, w), max(y0, 0.0), min(y1, h)
        if x1 - x0 > 1e-9 and y1 - y0 > 1e-9:
            self.looks.add(look)
            self.view.paint(look, x0, y0, x1, y1)

    def note(self, x: float, y: float, words: str) -> None:
        """Point at a place [m] in the window."""
        self.callouts.append(Callout(self.view.at(x - self.corner[0], y - self.corner[1]), words))

    def length(self, metres: float) -> str:
        return written(metres, self.units, 1.0 if metres >= 0.025 else 0.1)

    def own(self, text: str) -> str:
        """Text of the catalogue with its sizes in the person's units."""
        return catalogue(text, self.units)


def catalogue(text: str, units: str) -> str:
    """Text of the catalogue with its sizes in a system of units."""
    return str(filters(units, "")["own"](text))


def detail(
    a: Assessment,
    units: str,
    name: str,
    title: str,
    size: tuple[float, float],
    draw: Callable[[Detail], None],
    up: bool = True,
    corner: tuple[float, float] = (0.0, 0.0),
) -> Figure:
    """One detail: ``draw`` fills a window of ``size`` [m]. ``up``: a section, y counted from its foot; else seen from above, y down.

    ``corner``: the place [m] of what is drawn that lies at the window's origin, where that is a part of more.
    """
    ratio = max(fitting(size[0], WIDE, units), fitting(size[1], TALL, units))
    canvas, words = fitted(lambda scale: _drawn(a, units, title, size, draw, up, corner, scale), ratio, units)
    text = " ".join(f"{n}: {each}." for n, each in enumerate(words, start=1))
    return Figure(name, title, canvas.svg(name, title, text), "Sizes are those of this plan; the numbers stand under the drawing.", text)


def _drawn(
    a: Assessment,
    units: str,
    title: str,
    size: tuple[float, float],
    draw: Callable[[Detail], None],
    up: bool,
    corner: tuple[float, float],
    ratio: int,
) -> tuple[Canvas, tuple[str, ...]]:
    canvas = Canvas()
    top = heading(canvas, title, "Section, cut upright." if up else "Cut level, seen from above.") + 2.0
    wide, tall = size[0] * 1000.0 / ratio, size[1] * 1000.0 / ratio
    left = (PAGE - wide) / 2.0
    view = View(canvas, (left, top + tall if up else top), float(ratio), up)
    d = Detail(a, view, units, size, corner)
    draw(d)
    window = Box(left, top, left + wide, top + tall)
    words = columns(canvas, window, d.callouts)
    under = scale_bar(view, (EDGE, max(canvas.height, window.bottom) + 2.0), units)
    canvas.text((PAGE - EDGE, under - 1.0), scale_words(ratio, units), anchor="end")
    under = numbered(canvas, under + 1.5, words)
    materials_key(canvas, under + 1.0, sorted(d.looks))
    return canvas, words


def plies_words(count: int) -> str:
    return {1: "one ply", 2: "two plies", 3: "three plies"}.get(count, f"{count} plies")


def boards_words(thicknesses: Sequence[float], d: Detail) -> str:
    """Plies with their thickness: ``two plies of board, 5/8 in each``."""
    shown = list(dict.fromkeys(d.length(each) for each in thicknesses))
    sizes = f"{shown[0]}{' each' if len(thicknesses) > 1 else ''}" if len(shown) == 1 else " and ".join(map(d.length, thicknesses))
    return f"{plies_words(len(thicknesses))} of board, {sizes}"


@dataclass(frozen=True)
class Built:
    """A wall of the scheme with its layers, and where its parts begin and end, from outside in [m]."""

    kind: SideKind
    option: WallOption
    layers: tuple[Layer, ...]

    @property
    def total(self) -> float:
        return sum(layer.thickness for layer in self.layers)

    @property
    def spans(self) -> list[tuple[Layer, float, float]]:
        at, found = 0.0, []
        for layer in self.layers:
            found.append((layer, at, at + layer.thickness))
            at += layer.thickness
        return found

    @property
    def boards(self) -> float:
        """Where the boards of the room's face begin."""
        at = self.total
        for layer in reversed(self.layers):
            if layer.part not in ("board", "compound"):
                break
            at -= layer.thickness
        return at

    def first(self, *parts: str) -> tuple[float, float] | None:
        """The first layer of these parts, None where there is none."""
        return next(((low, high) for layer, low, high in self.spans if layer.part in parts), None)

    @property
    def stud(self) -> tuple[float, float]:
        """The frame next to the room."""
        return next((low, high) for layer, low, high in reversed(self.spans) if layer.part == "frame")


def built(a: Assessment, kind: SideKind) -> Built:
    option = a.scheme.wall(kind)
    return Built(kind, option, wall_layers(option, kind, a.brief))


def typical(a: Assessment, order: Sequence[SideKind]) -> Built:
    """The wall that stands for all in a detail: of the first kind in ``order`` that the shell has."""
    kinds = [kind for kind, _ in a.scheme.walls]
    return built(a, next(kind for kind in order if kind in kinds))


LINING_FIRST = (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.PARTY, SideKind.OPEN)
OPEN_FIRST = (SideKind.OPEN, SideKind.FOUNDATION_ABOVE, SideKind.FOUNDATION_BELOW, SideKind.PARTY)
