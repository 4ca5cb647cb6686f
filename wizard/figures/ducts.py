"""The air path as a sketch: the whole run of one duct from the room to its end, part by part, with what to order."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from calc.assess import Assessment
from calc.isolation.duct_way import Box as Silencer
from calc.isolation.duct_way import DuctSize, box, duct_size, lined_part, way_length
from calc.unit_format import format_flow
from calc.ventilation import design
from calc.ventilation.climate import insulation_against_sweat
from calc.ventilation.fan_box import fan_box
from wizard.figures.callouts import balloon
from wizard.figures.detail import catalogue
from wizard.figures.figure import Figure
from wizard.figures.hatch import paint
from wizard.figures.keys import heading, materials_key, numbered
from wizard.figures.scale import nominal, sold, written
from wizard.figures.svg import BLACK, PALE, THIN, WHITE, Box, Canvas, Pen, Point
from wizard.figures.text import SMALLEST

DUCT, LINING = 9.0, 1.7  # mm of paper across a duct and its lining in the sketch, which is not to scale
WALL = 42.0  # mm from the left at which the shell of the room stands
SHEET = Pen(0.4)


@dataclass
class Way:
    """A pen that draws one part of the run after the other: where it is [mm], which way it heads, the parts' places with their words.

    ``heading`` is a unit vector on paper, to the right or down.
    """

    canvas: Canvas
    at: Point
    heading: Point = (1.0, 0.0)
    notes: list[tuple[Point, Point, str]] = field(default_factory=list)  # target, balloon, words
    above: bool = True

    def point(self, along: float, across: float) -> Point:
        """A place ahead of the pen; ``across`` grows to the left of where it heads."""
        (x, y), (dx, dy) = self.at, self.heading
        return x + along * dx + across * dy, y + along * dy - across * dx

    def box(self, along: tuple[float, float], across: tuple[float, float]) -> Box:
        (a, b), (c, d) = self.point(along[0], across[0]), self.point(along[1], across[1])
        return Box(min(a, c), min(b, d), max(a, c), max(b, d))

    def note(self, along: float, half: float, words: str) -> None:
        """Words for a part, pointed at on one side of the run and the next one on the other, so that no two numbers stand together."""
        side = 1.0 if self.above or self.heading[1] > 0.0 else -1.0
        self.notes.append((self.point(along, side * half), self.point(along, side * (half + 6.0)), words))
        self.above = not self.above

    def go(self, along: float) -> None:
        self.at = self.point(along, 0.0)
        self.canvas.grow(self.at[1] + DUCT / 2.0)

    def duct(self, long: float, lined: bool) -> None:
        half = DUCT / 2.0
        self.canvas.rect(self.box((0.0, long), (-half, half)), None, WHITE)
        for sign in (1.0, -1.0):
            if lined:
                paint(self.canvas, self.box((0.0, long), (sign * half, sign * (half - LINING))), "fibre")
            self.canvas.line(self.point(0.0, sign * half), self.point(long, sign * half), SHEET)
        self.go(long)

    def elbow(self, lined: bool) -> None:
        """A square bend: from right to down, or from down to right."""
        half, left = DUCT / 2.0, self.heading[0] > 0.0  # the outer side lies at the left of the way when it heads right
        outer = 1.0 if left else -1.0
        if lined:
            paint(self.canvas, self.box((0.0, DUCT), (outer * half, outer * (half - LINING))), "fibre")
            paint(self.canvas, self.box((DUCT - LINING, DUCT), (-half, half)), "fibre")
        corner = (self.point(0.0, outer * half), self.point(DUCT, outer * half), self.point(DUCT, -outer * half))
        self.canvas.path(corner, SHEET)
        self.at = self.point(half, -outer * half)
        self.heading = (self.heading[1], self.heading[0])

    def flexible(self, words: str) -> None:
        long, half = 7.0, DUCT / 2.0
        for sign in (1.0, -1.0):
            points = [self.point(0.5 + n, sign * (half + (0.9 if n % 2 else -0.5))) for n in range(7)]
            self.canvas.path([self.point(0.0, sign * half), *points, self.point(long, sign * half)], Pen(0.35))
        self.note(long / 2.0, half + 0.9, words)
        self.go(long)

    def silencer(self, words: str) -> None:
        """A box whose openings lie at opposite corners, drawn about the middle of the run all the same."""
        long, half = 19.0, 8.5
        self.canvas.rect(self.box((0.0, long), (-half, half)), None, WHITE)
        for across in ((half, half - 2.0), (-half, -half + 2.0)):
            paint(self.canvas, self.box((0.0, long), across), "fibre")
        self.canvas.rect(self.box((0.0, long), (-half, half)), Pen(0.6))
        self.note(long / 2.0, half, words)
        self.go(long)

    def crossing(self, words: str, solid: str = "gypsum") -> None:
        """A wall across the run, with a soft ring round the duct."""
        half, thick = DUCT / 2.0, 4.0
        for sign in (1.0, -1.0):
            paint(self.canvas, self.box((0.0, thick), (sign * (half + 1.4), sign * (half + 12.0))), solid)
            self.canvas.rect(self.box((-0.8, thick + 0.8), (sign * half, sign * (half + 1.4))), None, BLACK)
        self.note(thick / 2.0, half + 1.4, words)
        self.duct(thick + 3.0, False)

    def grille(self, words: str, after: bool = False) -> None:
        half = DUCT / 2.0 + 1.0
        self.canvas.rect(self.box((0.0, 2.0), (-half, half)), Pen(0.3), WHITE)
        for n in range(5):
            self.canvas.line(self.point(0.0, 4.0 - 2.0 * n), self.point(2.0, 4.8 - 2.0 * n), THIN)
        self.note(1.0, half, words)
        self.go(2.0)


def duct_sketch(a: Assessment, units: str) -> Figure:
    """The run from the room to its end; supply and extract are alike but for their grilles."""
    canvas, size, flow = Canvas(), duct_size(a.brief, a.scheme.air_path), format_flow(a.air.fresh_air, units)
    top = heading(canvas, "Air path", f"Not to scale. One such run for supply and one for extract, each {flow}; drawn once.") + 2.0
    way = Way(canvas, (WALL - 5.0, top + 19.0))
    canvas.text((16.0, top + 19.0 + 0.36 * SMALLEST), "the room", anchor="middle")
    _through_the_shell(a, way, units)
    _silenced(a, way, size, units)
    ends = {True: _to_trunk, False: _outdoors if a.scheme.air_path.fan_unit else _to_basement}[a.scheme.air_path.house_ducts]
    ends(a, way, units)
    for n, (target, at, _) in enumerate(way.notes, start=1):
        balloon(canvas, at, n, target)
        canvas.grow(at[1] + 3.0)
    under = numbered(canvas, canvas.height + 3.0, [words for _, _, words in way.notes])
    materials_key(canvas, under + 1.0, ["gypsum", "fibre", *(["masonry"] if a.scheme.air_path.fan_unit else []), "sealant"])
    title, label = "Air path", catalogue(a.scheme.air_path.label, units)
    words = f"{label}. From the room on: " + " ".join(f"{n}: {text}." for n, (_, _, text) in enumerate(way.notes, start=1))
    caption = f"{label}: the whole run of one duct, not to scale."
    return Figure("duct-sketch", title, canvas.svg("duct-sketch", title, words), caption, words)


def _through_the_shell(a: Assessment, way: Way, units: str) -> None:
    supply, extract = design.runs(a.brief, a.scheme.air_path, a.air, duct_size(a.brief, a.scheme.air_path))
    faces = {"supply": supply.grille, "extract": extract.grille}
    sizes = " and ".join(f"{sold(g.width, g.height, units)} for {name}" for name, g in faces.items())
    if len({(g.width, g.height) for g in faces.values()}) == 1:
        sizes = sold(faces["supply"].width, faces["supply"].height, units)
    way.grille(f"grille without damper, face {sizes}")
    way.duct(3.0, False)
    way.crossing("opening through the room's wall, a soft sealed ring round the duct at both faces")
    way.flexible("flexible connector, outside the room")


def _silenced(a: Assessment, way: Way, size: DuctSize, units: str) -> None:
    """Silencer box, lined duct with its elbows, bare duct."""
    option, made = a.scheme.air_path, box(size, a.scheme.air_path)
    lined, whole = lined_part(option), way_length(a.brief, option)
    if made is not None:
        way.silencer(f"silencer box, {_box_words(made, units)}")
        way.duct(4.0, lined > 0.0)
    way.note(4.0, DUCT / 2.0, _duct_words(a, size, units))
    way.duct(9.0, lined > 0.0)
    for _ in range(option.elbows):
        way.elbow(lined > 0.0)
        way.duct(9.0, lined > 0.0)
    way.canvas.grow(way.at[1] + 8.0)
    if lined > 0.0 and whole > lined and not option.fan_unit:
        way.note(6.0, DUCT / 2.0, f"the rest of the duct, not lined: {written(whole - lined, units)}")
        way.duct(12.0, False)
    elif not lined:
        way.duct(4.0, False)


def _box_words(made: Silencer, units: str) -> str:
    chambers = "one lined chamber" if made.chambers == 1 else f"{made.chambers} lined chambers in a row"
    return " × ".join(written(each, units, 1.0) for each in made.outside) + f" outside, {chambers}"


def _duct_words(a: Assessment, size: DuctSize, units: str) -> str:
    option, lined = a.scheme.air_path, lined_part(a.scheme.air_path)
    many = f"{size.runs} equal ducts side by side, each " if size.runs > 1 else "duct, "
    lining = f", lined inside with {written(option.lining, units)} over {written(lined, units)}" if lined > 0.0 else ", not lined"
    elbows = {0: "", 1: ", one elbow"}.get(option.elbows, f", {option.elbows} elbows")
    boxed = ", boxed in with boards" if option.enclosed else ""
    inside, free = (f"{nominal(each, units)} square" for each in (size.casing, size.side))
    whole = f"{written(way_length(a.brief, option), units)} in all from room to end"
    return f"{many}{inside} inside the sheet{lining}{elbows}{boxed}; {free} left free; {whole}"


def _at_the_fan(a: Assessment, way: Way, units: str) -> None:
    """The box that keeps the fan's own noise out of the room, and the soft joint before the fan."""
    made = fan_box(a.brief, a.scheme.air_path)
    if made is not None:
        way.silencer(f"silencer box at the fan, for its own noise, {_box_words(made, units)}")
        way.duct(3.0, False)
    way.flexible("flexible connector at the fan")


def _outdoors(a: Assessment, way: Way, units: str) -> None:
    _at_the_fan(a, way, units)
    canvas, long, half = way.canvas, 15.0, 9.0
    canvas.rect(way.box((0.0, long), (-half, half)), Pen(0.6), WHITE)
    for across in (half, -half):
        canvas.line(way.point(0.0, across), way.point(long, -across), THIN)
    way.note(long / 2.0, half, "heat-recovery unit with its fans, one for both ways, on isolators; its drain trapped; filters within reach")
    way.go(long)
    rest = way_length(a.brief, a.scheme.air_path) - lined_part(a.scheme.air_path)
    wrap = insulation_against_sweat(a.brief.air.room_temperature, a.brief.air.room_humidity, a.brief.air.winter_design)
    wrapped = f", insulated outside with {written(wrap, units)} or more, sealed against damp" if 0.0 < wrap < math.inf else ""
    wrapped = ", insulated outside as thickly as there is room" if math.isinf(wrap) else wrapped
    reach = f", about {written(rest, units)}" if rest > 0.0 else ""
    way.note(6.0, DUCT / 2.0, f"duct to the outdoors, not lined{reach}{wrapped}")
    if wrapped:
        for sign in (1.0, -1.0):
            paint(canvas, way.box((0.0, 11.0), (sign * DUCT / 2.0, sign * (DUCT / 2.0 + 1.6))), "foam")
    way.duct(11.0, False)
    way.crossing("outer wall or rim of the house, sealed", "masonry")
    half = DUCT / 2.0
    hood = [way.point(*corner) for corner in ((0.0, half), (4.5, half), (4.5, -half - 3.0), (0.0, -half))]
    canvas.path(hood, Pen(0.4), PALE, closed=True)
    way.note(3.0, half, "weather hood with screen; the two ways well apart, away from flues and vents")
    canvas.grow(max(way.point(8.0, 0.0)[1], way.at[1] + 8.0))


def _to_basement(a: Assessment, way: Way, units: str) -> None:
    _at_the_fan(a, way, units)
    radius, canvas = 6.0, way.canvas
    canvas.circle(way.point(radius, 0.0), radius, Pen(0.6), WHITE)
    for across in (4.2, -4.2):
        canvas.line(way.point(radius - 4.2, across), way.point(radius + 4.2, -across), THIN)
    way.note(radius, radius, "quiet fan on isolators, with speed control and backdraft damper")
    way.go(2.0 * radius)
    way.duct(7.0, False)
    way.grille("grille at the end in the rest of the basement; a filter on the supply")
    way.canvas.grow(way.at[1] + 8.0)


def _to_trunk(a: Assessment, way: Way, units: str) -> None:
    made = fan_box(a.brief, a.scheme.air_path)
    if made is not None:
        way.silencer(f"silencer box for the noise of the house's blower, {_box_words(made, units)}")
        way.duct(3.0, False)
    way.note(4.0, DUCT / 2.0, "take-off with balancing damper")
    damper = way.point(2.0, 3.2), way.point(6.0, -3.2)
    way.duct(8.0, False)
    way.canvas.line(*damper, Pen(0.7))
    trunk = way.box((0.0, 11.0), (-20.0, 20.0))
    way.canvas.rect(trunk, Pen(0.6), WHITE)
    way.note(5.5, 14.0, "trunk duct of the house's air handler, whose fan must run while people are in the room")
    way.canvas.grow(trunk.bottom + 3.0)
