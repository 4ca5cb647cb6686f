"""What stands in the room on the floor plan, and what its parts share while they are drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import product

from calc.acoustics.layout import DESK, KIT, LISTENER, LOUDSPEAKERS, shapes
from calc.assess import Assessment
from calc.unit_format import format_area
from wizard.figures.keys import BALLOON
from wizard.figures.places import Places
from wizard.figures.scale import View, written
from wizard.figures.svg import GREY, HIDDEN, WHITE, Box, Canvas, Pen, Point
from wizard.figures.text import SMALLEST, width

NAME_LINE = 4.2  # mm from line to line of the room's name
Local = Callable[[float, float], tuple[float, float]]


@dataclass
class Drawing:
    """What the parts of the plan share while it is drawn: ``marks`` are targets [mm] with their words."""

    a: Assessment
    where: Places
    view: View
    units: str
    marks: list[tuple[Point, str, bool]] = field(default_factory=list)

    @property
    def canvas(self) -> Canvas:
        return self.view.canvas

    def length(self, metres: float, step_mm: float = 1.0) -> str:
        return written(metres, self.units, step_mm)


def side_frame(d: Drawing, number: int) -> Local:
    """From along the inner wall of a side and away from it into the room [m] to shell coordinates."""
    (x0, y0), room = d.where.offset, d.where.room
    turns: dict[int, Local] = {
        1: lambda along, into: (x0 + along, y0 + into),
        2: lambda along, into: (x0 + room.length - into, y0 + along),
        3: lambda along, into: (x0 + along, y0 + room.width - into),
        4: lambda along, into: (x0 + into, y0 + along),
    }
    return turns[number]


def side_area(d: Drawing, number: int, along: tuple[float, float], into: tuple[float, float]) -> Box:
    """The paper of a rectangle given along and into a side."""
    turn = side_frame(d, number)
    (x0, y0), (x1, y1) = turn(along[0], into[0]), turn(along[1], into[1])
    return d.view.box(x0, y0, x1, y1)


def things(d: Drawing) -> None:
    """Kit or player, desk, loudspeakers and ears, with their distances from two walls."""
    view, (x0, y0) = d.view, d.where.offset
    for place, shape in shapes(d.where.layout):
        x, y = x0 + place.point[0], y0 + place.point[1]
        at, short = view.at(x, y), ""
        if place.name == KIT and 2.0 * shape.radius > min(d.where.room.length, d.where.room.width):
            short = f"; a kit takes {d.length(2.0 * shape.radius, 5.0)} across, more than the room has: not drawn"
        elif place.name == KIT:
            _kit(d, at, view.mm(shape.radius))
        elif place.name == LISTENER:
            d.canvas.circle(at, view.mm(0.11), Pen(0.3), WHITE)
        elif place.name in (*LOUDSPEAKERS, DESK):
            box = view.box(x - shape.half_x, y - shape.half_y, x + shape.half_x, y + shape.half_y)
            d.canvas.rect(box, Pen(0.3), GREY if place.name in LOUDSPEAKERS else "none")
        else:
            d.canvas.circle(at, view.mm(shape.radius), HIDDEN)
            d.canvas.circle(at, view.mm(0.11), Pen(0.3), WHITE)
        away = f"{d.length(place.point[0], 5.0)} from the face of side 4, {d.length(place.point[1], 5.0)} from that of side 1"
        d.marks.append((at, f"{place.name}: {away}{short}", place.name != LISTENER))


def _kit(d: Drawing, at: Point, radius: float) -> None:
    """The space of a kit, and a bass drum, snare, toms and cymbals in it, no more than a sign."""
    d.canvas.circle(at, radius, HIDDEN)
    for dx, dy, size in (
        (-0.25, 0.0, 0.28),
        (0.2, 0.38, 0.18),
        (0.1, -0.42, 0.2),
        (-0.45, 0.55, 0.2),
        (-0.5, -0.55, 0.22),
        (0.55, 0.0, 0.14),
    ):
        d.canvas.circle((at[0] + dx * radius, at[1] + dy * radius), size * radius, Pen(0.2))


def room_name(d: Drawing) -> None:
    """Area and height, as near to the middle of the room as nothing else is drawn; a number and a note where there is no such place."""
    room, taken = d.where.room, _taken(d)
    lines = ("inner room", format_area(room.floor_area, d.units), f"{d.length(room.height)} high")
    wide, high = max(width(line, SMALLEST) for line in lines) / 2.0 + 1.0, 1.5 * NAME_LINE + 1.0
    at = _empty(d, wide, high, taken)
    for n, line in enumerate(lines if at else ()):
        assert at is not None
        d.canvas.text((at[0], at[1] + (n - 0.7) * NAME_LINE), line, anchor="middle", halo=True)
    if at is None:
        middle = d.view.at(d.where.offset[0] + room.length / 2.0, d.where.offset[1] + room.width / 2.0)
        d.marks.append((_empty(d, BALLOON, BALLOON, taken) or middle, ", ".join(lines), True))


def _empty(d: Drawing, wide: float, high: float, taken: list[Box]) -> Point | None:
    """The spot nearest to the middle of the room where paper of half these sizes [mm] meets nothing drawn; None where there is none."""
    room, (x0, y0) = d.where.room, d.where.offset
    inside = d.view.box(x0, y0, x0 + room.length, y0 + room.width)
    shares = [n / 20.0 for n in range(1, 20)]
    for across, down in sorted(product(shares, shares), key=lambda at: round(max(abs(at[0] - 0.5), abs(at[1] - 0.5)), 6)):
        x, y = d.view.at(x0 + across * room.length, y0 + down * room.width)
        spot = Box(x - wide, y - high, x + wide, y + high)
        if spot.within(inside) and not any(spot.meets(other) for other in taken) and d.canvas.free(spot):
            return x, y
    return None


def _taken(d: Drawing) -> list[Box]:
    """The paper in the room on which something is drawn already."""
    (x0, y0), view = d.where.offset, d.view
    boxes = [view.box(o.x0, o.y0, o.x1, o.y1) for o in d.where.overhead]
    for opening in (d.where.door, d.where.escape):
        if opening is not None:
            boxes.append(side_area(d, opening.side, (opening.start, opening.end), (0.0, opening.clear)))
    for _, shape in shapes(d.where.layout):
        x, y = x0 + shape.x, y0 + shape.y
        across, down = shape.half_x + shape.radius, shape.half_y + shape.radius
        boxes.append(view.box(x - across, y - down, x + across, y + down))
    return boxes
