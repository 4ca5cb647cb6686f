"""Take-off of what every surface has: boards with their screws, sealant and compound; fill; channel and clips."""

from __future__ import annotations

from functools import lru_cache

from calc.materials import quantities as q
from calc.materials.items import batt_items, board_item, screw_item
from calc.materials.line import Line, line
from calc.materials.support import grid
from calc.scheme import Ply

# Screw spacing along framing: base ply 24 in, face ply 12 in on ceilings, 16 in on walls. Source: GA-216 / ASTM C840 System II (from
# memory); one ply: IRC Table R702.3.5 (from memory), 12 in and 16 in too. The listing of a rated assembly wins.
BASE_PLY_SCREWS = 0.6096
LID_SCREWS = 0.3048
WALL_SCREWS = 0.4064
WOOD_PENETRATION = 0.0159  # m, 5/8 in into wood. Source: IRC R702.3.5.1
STEEL_PENETRATION = 0.0095  # m, 3/8 in past sheet steel. Common practice, no source

# A 3/8 in round bead has the volume of a 6 mm gap filled 12 mm deep (geometry); one at every edge of every ply. Common practice, no source.
EDGE_BEAD = 0.0095
LID_EFFORT = 1.0 / 0.7  # overhead boards go up at 0.7 of the pace of wall boards. Common practice, no source


@lru_cache(maxsize=4096)  # many lids and walls of one room share their boards
def board_lines(
    plies: tuple[Ply, ...],
    where: str,
    area: float,
    perimeter: float,
    framing: float,
    face_screws: float,
    steel: bool,
    damped: bool,
    effort: float = 1.0,
    behind: float | None = None,
) -> tuple[Line, ...]:
    """Boards, screws, sealant and damping compound of one surface.

    Parameters: area [m2], perimeter to seal a ply [m], spacing of what the boards are screwed to [m], screw spacing in the face ply [m],
    whether the screws bite sheet steel; ``behind`` [m]: how far a screw may reach past the boards, see support.room_behind. The last ply
    carries the task boards_last, those before it boards_first. Raises ValueError where no screw both holds and keeps the isolation.
    """
    found: list[Line] = []
    buried = 0.0
    bite = STEEL_PENETRATION if steel else WOOD_PENETRATION
    for number, ply in enumerate(plies, start=1):
        last = number == len(plies)
        task = "boards_last" if last else "boards_first"
        buried += ply.thickness
        screw = screw_item(buried, bite, behind)
        spacing = face_screws if last else BASE_PLY_SCREWS
        found.append(line(board_item(ply), f"{where}, ply {number}", area, task, effort=effort))
        found.append(line(screw, f"{where}, ply {number}", q.whole(area / q.SHEET_AREA * q.screws_per_sheet(framing, spacing)), task))
        if damped and number > 1:
            found.append(line("damping_compound", f"{where}, under ply {number}", q.LITRES * area * q.DAMPING_FILM, task))
        found.append(bead(f"{where}, ply {number}", perimeter, task))
    return tuple(found)


def bead(where: str, length: float, task: str) -> Line:
    """Acoustical sealant along an edge of a length [m]."""
    return line("sealant", where, q.LITRES * q.bead_volume(length, EDGE_BEAD), task)


@lru_cache(maxsize=1024)
def fill_lines(fill: str, thickness: float, where: str, area: float, framing: float, task: str = "insulate") -> tuple[Line, ...]:
    """Batts of one cavity: the area [m2] less the share that framing 38 mm wide at ``framing`` [m] takes (16 in: 0.906 clear; one piece a
    bay).
    """
    if fill == "none" or thickness <= 0.0:
        return ()
    clear = 1.0 - 0.038 / framing if framing > 0.0 else 1.0
    return tuple(line(batt, where, area * clear, task) for batt in batt_items(fill, thickness))


@lru_cache(maxsize=1024)
def support_lines(
    support: str, where: str, across: float, along: float, spacing: float, clip_spacing: float, framing: float
) -> tuple[Line, ...]:
    """Channel with its laps, clips and screws: see calc.materials.support.grid for the arguments [m]."""
    if support in ("absent", "independent joists"):
        return ()
    clips = support == "isolation clip"
    made = grid(across, along, spacing, clip_spacing if clips else framing, framing)
    channel = "resilient_channel" if support == "resilient channel" else "furring_channel"
    laps = line("lap_screw", where, 2 * len(made.rows) * made.joints)
    found = (line(channel, where, made.channel), line("isolation_clip" if clips else "channel_screw", where, made.count), laps)
    return tuple(each for each in found if each.quantity)
