"""What stands in the room on the floor plan, and what its parts share while they are drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from calc.acoustics.layout import KIT, LISTENER, LOUDSPEAKERS
from calc.assess import Assessment
from calc.catalogue import load
from calc.unit_format import format_area
from wizard.figures.places import Places
from wizard.figures.scale import View, written
from wizard.figures.svg import GREY, HIDDEN, WHITE, Box, Canvas, Pen, Point, middle
from wizard.figures.text import SMALLEST, width

NAME_LINE = 4.2  # mm from line to line of the room's name
WALL_IN = 0.9  # m before an escape opening that stay free; common practice, no source
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
    data, layout, view, (x0, y0) = load("acoustics")["layout"], d.where.layout, d.view, d.where.offset
    for place in layout.places:
        x, y = x0 + place.point[0], y0 + place.point[1]
        at, short = view.at(x, y), ""
        if place.name == KIT and 2.0 * float(data["kit_radius"]) > min(d.where.room.length, d.where.room.width):
            short = f"; a kit takes {d.length(2.0 * float(data['kit_radius']), 5.0)} across, more than the room has: not drawn"
        elif place.name == KIT:
            _kit(d, at, view.mm(float(data["kit_radius"])))
        elif place.name == LISTENER:
            d.canvas.circle(at, view.mm(0.11), Pen(0.3), WHITE)
        elif place.name in LOUDSPEAKERS:
            d.canvas.rect(Box(at[0] - view.mm(0.13), at[1] - view.mm(0.13), at[0] + view.mm(0.13), at[1] + view.mm(0.13)), Pen(0.3), GREY)
        elif place.name == "desk":
            deep, long = float(data["desk_depth"]) / 2.0, 0.8
            across = (deep, long) if layout.front in (2, 4) else (long, deep)
            d.canvas.rect(view.box(x - across[0], y - across[1], x + across[0], y + across[1]), Pen(0.3))
        else:
            d.canvas.circle(at, view.mm(float(data["kit_radius"]) / 2.0), HIDDEN)
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
    """Area and height, in the middle of the emptiest spot of the room; a number and a note where the room is too small for words."""
    room, (x0, y0) = d.where.room, d.where.offset
    lines = ("inner room", format_area(room.floor_area, d.units), f"{d.length(room.height)} high")
    wide, high = max(width(line, SMALLEST) for line in lines) / 2.0 + 1.0, 1.5 * NAME_LINE + 1.0
    inside, taken = d.view.box(x0, y0, x0 + room.length, y0 + room.width), _taken(d)
    best, least = None, 99
    for share_y in (0.5, 0.25, 0.75, 0.15, 0.85):
        for share_x in (0.5, 0.65, 0.35, 0.75, 0.25):
            x, y = d.view.at(x0 + share_x * room.length, y0 + share_y * room.width)
            spot = Box(x - wide, y - high, x + wide, y + high)
            hits = sum(spot.meets(other) for other in taken)
            if hits < least and spot.within(inside) and d.canvas.free(spot):
                best, least = (x, y), hits
    if best is None:
        d.marks.append((middle(inside), ", ".join(lines), True))
        return
    for n, line in enumerate(lines):
        d.canvas.text((best[0], best[1] + (n - 0.7) * NAME_LINE), line, anchor="middle", halo=True)


def _taken(d: Drawing) -> list[Box]:
    """The paper in the room on which something is drawn already."""
    (x0, y0), view, door = d.where.offset, d.view, d.where.door
    boxes = [view.box(o.x0, o.y0, o.x1, o.y1) for o in d.where.overhead]
    boxes.append(side_area(d, door.side, (door.start, door.end), (0.0, door.width)))
    if d.where.escape is not None:
        boxes.append(side_area(d, d.where.escape.side, (d.where.escape.start, d.where.escape.end), (0.0, WALL_IN)))
    for place in d.where.layout.places:
        x, y, reach = x0 + place.point[0], y0 + place.point[1], 1.0 if place.name in (KIT, "desk") else 0.4
        boxes.append(view.box(x - reach, y - reach, x + reach, y + reach))
    return boxes
