"""Take-off from the room's geometry: what is used, where. Waste and packages come later, in cost.py.

The lines of one part count boards by area, gross (a door is not taken out of its wall): quick, for the search. Those of a whole scheme
have every board laid out.
"""

from __future__ import annotations

from calc.brief import Brief
from calc.geometry import Room, frame_runs, lid_extent
from calc.kept import Kept, as_priced
from calc.materials.air import air_lines
from calc.materials.boards import as_laid, layouts
from calc.materials.fittings import common_lines, door_lines, floor_lines
from calc.materials.lid import lid_lines
from calc.materials.line import Line
from calc.materials.wall import wall_lines
from calc.scheme import Scheme

__all__ = ["Line", "air_lines", "common_lines", "door_lines", "floor_lines", "layouts", "lid_lines", "lines", "wall_lines"]

_LINES: Kept[tuple[Line, ...]] = Kept(64)


def lines(brief: Brief, room: Room, scheme: Scheme) -> tuple[Line, ...]:
    """The whole scheme, its boards laid out. ``room`` is that of the scheme. Raises ValueError when the catalogue lacks a part."""
    return _LINES.get((as_priced(brief), room, scheme), lambda: _lines(brief, room, scheme))


def _lines(brief: Brief, room: Room, scheme: Scheme) -> tuple[Line, ...]:
    found = list(lid_lines(brief, room, scheme.lid, lid_extent(brief, scheme)))
    frames = frame_runs(brief, scheme)
    for kind, wall in scheme.walls:
        found += wall_lines(brief, room, kind, wall, frames)
    found += door_lines(brief, scheme.door)
    found += air_lines(brief, scheme.air_path)
    found += floor_lines(brief, room, scheme.floor)
    found += common_lines(brief, room)
    return as_laid(found, layouts(brief, room, scheme))
