"""First reflections from loudspeakers to ears by mirror images, and the stretches of wall they need free of door and window."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calc.acoustics.layout import LISTENER, LOUDSPEAKERS, Layout, Opening, Point
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.parameters import SPEED_OF_SOUND


@dataclass(frozen=True)
class Reflection:
    """One reflection off one surface: where it strikes [m], how late [s] and how loud [dB] against the direct sound, the surface bare.

    ``early``: too soon and too loud; ``treat``: and an absorber there is worth it.
    """

    source: str
    surface: str  # side 1 .. side 4 | ceiling | floor
    point: Point
    delay: float
    level: float
    early: bool
    treat: bool


@dataclass(frozen=True)
class Stretch:
    """A stretch of a wall [m] that takes absorbers and must hold no door or window: along the wall, and from ``bottom`` to ``top``."""

    side: int
    start: float
    end: float
    bottom: float
    top: float


def mirror(room: Room, surface: str, point: Point) -> Point:
    """A point's image behind a surface of the room [m]. Raises KeyError for an unknown surface."""
    x, y, z = point
    images: dict[str, Point] = {
        "side 1": (x, -y, z),
        "side 2": (2.0 * room.length - x, y, z),
        "side 3": (x, 2.0 * room.width - y, z),
        "side 4": (-x, y, z),
        "floor": (x, y, -z),
        "ceiling": (x, y, 2.0 * room.height - z),
    }
    return images[surface]


def reflection_point(room: Room, surface: str, source: Point, receiver: Point) -> Point:
    """Where sound from source to receiver strikes a surface [m]: the straight line from the image crosses it there."""
    image, there = np.array(mirror(room, surface, source)), np.array(receiver)
    axis = {"side 1": 1, "side 3": 1, "side 2": 0, "side 4": 0}.get(surface, 2)
    plane = {"side 2": room.length, "side 3": room.width, "ceiling": room.height}.get(surface, 0.0)
    share = (plane - image[axis]) / (there[axis] - image[axis])
    x, y, z = image + share * (there - image)
    return float(x), float(y), float(z)


def reflections(room: Room, placed: Layout) -> tuple[Reflection, ...]:
    """All six first reflections of each loudspeaker, soonest first; empty where the layout has no loudspeakers.

    Level: distance alone, 20 lg of the path ratio. Early: sooner than 15 ms and less than 10 dB down, ITU-R BS.1116-3. Not treated: the
    floor (desk and rug are there), and the wall behind the loudspeakers, to which they send little treble (common practice, no source).
    """
    if LISTENER not in placed.names:
        return ()
    data = load("acoustics")["layout"]
    ears = placed.point(LISTENER)
    found = []
    for name in LOUDSPEAKERS:
        source = placed.point(name)
        direct = float(np.linalg.norm(np.subtract(source, ears)))
        for surface in ("side 1", "side 2", "side 3", "side 4", "ceiling", "floor"):
            path = float(np.linalg.norm(np.subtract(mirror(room, surface, source), ears)))
            delay, level = (path - direct) / SPEED_OF_SOUND, float(20.0 * np.log10(direct / path))
            early = delay < data["early"] and level > data["early_level"]
            treat = early and surface not in ("floor", f"side {placed.front}")
            found.append(Reflection(name, surface, reflection_point(room, surface, source, ears), delay, level, early, treat))
    return tuple(sorted(found, key=lambda reflection: reflection.delay))


def keep_free(room: Room, found: tuple[Reflection, ...]) -> tuple[Stretch, ...]:
    """Stretches of wall round the early reflections, joined where they meet; half a panel to either side beyond the panel itself [m].

    Source: mirror images; panel size of data/acoustics.toml.
    """
    data = load("acoustics")["layout"]
    stretches: list[Stretch] = []
    for side in (1, 2, 3, 4):
        along = 0 if side in (1, 3) else 1
        points = sorted((r.point[along], r.point[2]) for r in found if r.treat and r.surface == f"side {side}")
        for at, height in points:
            start, end = max(at - data["panel_width"], 0.0), min(at + data["panel_width"], room.side_length(side))
            bottom, top = max(height - data["panel_height"] / 2.0, 0.0), min(height + data["panel_height"] / 2.0, room.height)
            last = stretches[-1] if stretches and stretches[-1].side == side else None
            if last is not None and start <= last.end:
                stretches[-1] = Stretch(side, last.start, max(end, last.end), min(bottom, last.bottom), max(top, last.top))
            else:
                stretches.append(Stretch(side, start, end, bottom, top))
    return tuple(stretches)


def struck(stretches: tuple[Stretch, ...], openings: tuple[Opening, ...]) -> tuple[Opening, ...]:
    """The doors and windows that stand in a stretch which must be free."""
    return tuple(
        opening
        for opening in openings
        if any(s.side == opening.side and opening.start < s.end and opening.end > s.start for s in stretches)
    )
