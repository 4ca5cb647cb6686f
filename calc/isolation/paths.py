"""Every way from the room to a listener, part by part of a scheme.

Received energy is a sum over parts, each depending on one choice alone; the search in calc/choose.py rests on that.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from calc.brief import Brief, Listener, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.criteria import from_basement, listener_kinds, room_absorption
from calc.isolation.duct_way import DuctWay, duct_uncertainty, duct_way, house_ducts_loss, house_trunk_loss
from calc.isolation.inside import air_inside, door_inside, fixed_inside, lid_inside, wall_inside
from calc.isolation.leaks import Leak, gaps_of_lid, gaps_of_wall
from calc.isolation.massive import NAMES as NAMES
from calc.isolation.massive import floor_ways, lid_gain, lid_ways, lining_gain, wall_ways
from calc.isolation.opening import door_set, door_uncertainty, window_loss
from calc.isolation.outdoors import house_window, outdoor_level, outdoor_uncertainty
from calc.isolation.path import Loss, Path, Together, db, each, house, in_room, kept, one_of, where
from calc.isolation.rim import rim_area, rim_loss, rim_uncertainty
from calc.isolation.source import source_spectrum
from calc.isolation.upstairs import up_from_basement
from calc.scheme import AirPathOption, DoorOption, FloorOption, LidOption, WallOption

Spectrum = NDArray[np.float64]
GAPS = "gaps of the wall to the rest of the basement"


def _inside(brief: Brief) -> Spectrum:
    return source_spectrum(brief.use.source, brief.use.level)


def _out(
    name: str, inside: Spectrum, loss: Spectrum, area: float | Spectrum, listener: Listener, uncertainty: Spectrum, doubt: str = ""
) -> Path:
    """The path from an element [m2] that radiates outdoors to a neighbour's room. Source: calc.isolation.outdoors."""
    return Path(name, outdoor_level(inside, loss, area, listener), np.hypot(uncertainty, outdoor_uncertainty(listener)), doubt)


def _out_of_windows(name: str, level: Spectrum, listener: Listener, uncertainty: Spectrum, doubt: str = "") -> Path:
    """The path from a level in the house out of its shut windows."""
    return _out(name, level, house_window(), house()["window_area"], listener, uncertainty, doubt)


def _from_basement(brief: Brief, listener: Listener, level: Spectrum, name: str, uncertainty: Spectrum, doubt: str = "") -> Path | None:
    """The path that goes on from a level in the rest of the basement: outdoors by the windows there and by those of the rooms above."""
    place = where(listener)
    around = np.hypot(uncertainty, house()["std_uncertainty"])
    if place == "beside":
        return Path(name, level - from_basement(listener.kind), uncertainty, doubt)
    if place == "hall":
        return Path(f"{name}, then up the stair", level - up_from_basement(brief, listener.kind), around, doubt)
    if place == "above":
        return Path(f"{name}, then up through the house", level - up_from_basement(brief, listener.kind), around, doubt)
    if place == "outdoors":
        both = level + db(1.0 + 10.0 ** (-up_from_basement(brief, "living_above") / 10.0))
        return _out_of_windows(f"{name}, then out through the house's windows", both, listener, around, doubt)
    return None


def lid_paths(brief: Brief, room: Room, listener: Listener, lid: LidOption | Together[LidOption], loss: Loss) -> tuple[Path, ...]:
    """Ways through and round the lid. Only as much of it counts as lies under the listener's room."""
    row, place = listener_kinds()[listener.kind], where(listener)
    if place == "inside":
        return lid_inside(brief, room, listener, lid, loss)
    round_it = lid_ways(brief, room, listener, lid, lid_gain(brief, loss.tl))
    if place == "above":
        area = min(room.floor_area, row["volume"] / house()["storey"])
        absorption, share = room_absorption(listener.kind), area / room.floor_area
        direct = Path("lid", in_room(_inside(brief), loss.tl, area, absorption), loss.uncertainty, loss.doubt)
        return kept(direct, _gaps(brief, gaps_of_lid(brief, room, lid), absorption, "gaps of the lid", share), *round_it)
    if place == "outdoors":
        above = in_room(_inside(brief), loss.tl, room.floor_area, room_absorption("living_above"))
        around = np.hypot(loss.uncertainty, house()["std_uncertainty"])
        return kept(
            _out_of_windows("lid, then out through the windows above", above, listener, around, loss.doubt),
            _rim(brief, room, listener, lid),
        )
    return round_it


def _rim(brief: Brief, room: Room, listener: Listener, lid: LidOption | Together[LidOption]) -> Path | None:
    """Out through the rim of the joists, none where no side is a foundation wall."""
    area = rim_area(brief, room)
    if not area:
        return None
    loss = each(lid, lambda one: rim_loss(brief, one))
    return _out("lid, then out through the rim of the joists", _inside(brief), loss, area, listener, rim_uncertainty(), "outdoors")


def wall_paths(
    brief: Brief, room: Room, listener: Listener, kind: SideKind, wall: WallOption | Together[WallOption], loss: Loss
) -> tuple[Path, ...]:
    """Ways through and round all sides of one kind, the door's area taken out of the open side."""
    if where(listener) == "inside":
        return wall_inside(brief, room, listener, kind, wall, loss)
    sides = [side.number for side in brief.shell.sides if side.kind is kind]
    length, place, name = sum(room.side_length(number) for number in sides), where(listener), NAMES[kind]
    area = length * room.height
    found: list[Path | None] = [*wall_ways(brief, room, listener, kind, wall, lining_gain(brief, kind, loss.tl))]
    if kind is SideKind.OPEN:
        own = place == "beside"  # a finished room beside it has this very wall as its own
        absorption = room_absorption(listener.kind if own else "rest_of_basement")
        level = in_room(_inside(brief), loss.tl, max(area - door_area(), 0.1), absorption)
        each = (Path(name, level, loss.uncertainty, loss.doubt), _gaps(brief, gaps_of_wall(brief, room, kind, wall), absorption, GAPS))
        found += [p if own or p is None else _from_basement(brief, listener, p.levels, p.name, p.uncertainty, p.doubt) for p in each]
    elif kind is SideKind.PARTY and place == "neighbour":
        absorption = room_absorption(listener.kind)
        found.append(Path(name, in_room(_inside(brief), loss.tl, area, absorption), loss.uncertainty, loss.doubt))
    elif kind is SideKind.FOUNDATION_ABOVE and place == "outdoors":
        found.append(_out(name, _inside(brief), loss.tl, area * house()["above_ground"], listener, loss.uncertainty, loss.doubt))
    return kept(*found)


def _gaps(brief: Brief, leak: Leak, absorption: float, name: str, share: float = 1.0) -> Path | None:
    """What leaks through the cracks and holes of one part, none where it has none."""
    if np.all(leak.area <= 0.0):
        return None
    return Path(name, in_room(_inside(brief), leak.tl, leak.area * share, absorption), leak.uncertainty, "leak")


def door_area() -> float:
    """Area of the door's hole in the wall [m2]: the largest in data/doors.toml."""
    return max(float(row["area"]) for row in load("doors")["door"].values())


def door_paths(brief: Brief, listener: Listener, door: DoorOption | Together[DoorOption]) -> tuple[Path, ...]:
    """The door leads to the rest of the basement, or to the stairs where there is none."""
    if where(listener) == "inside":
        return door_inside(brief, listener, door)
    tl, area = each(door, lambda one: door_set(one.id).tl), each(door, lambda one: one.area)
    level = in_room(_inside(brief), tl, area, room_absorption("rest_of_basement"))
    return kept(_from_basement(brief, listener, level, "door", each(door, lambda one: door_set(one.id).uncertainty), "door"))


def air_paths(brief: Brief, listener: Listener, option: AirPathOption | Together[AirPathOption]) -> tuple[Path, ...]:
    """Out of the far end of the ducts, in the rest of the basement, outdoors, or in the house's own ducts; and through their walls.

    Options together must have the same kind of end."""
    if where(listener) == "inside":
        return air_inside(brief, listener, option)
    way, inside, place, end = duct_way(brief, option), _inside(brief), where(listener), one_of(option)

    def below(loss: Spectrum, name: str) -> Path | None:
        level = in_room(inside, loss, way.area, room_absorption("rest_of_basement"))
        return _from_basement(brief, listener, level, name, duct_uncertainty(), "duct")

    found = [below(way.casing, "air path, through its walls")]
    if end.house_ducts:
        found.append(_through_the_house(listener, inside, way, below))
    elif not end.fan_unit:
        found.append(below(way.mouth, "air path"))
    elif place == "outdoors":
        found.append(_out("air path", inside, way.mouth, way.area, listener, duct_uncertainty(), "duct"))
    return kept(*found)


def _through_the_house(listener: Listener, inside: Spectrum, way: DuctWay, below: Callable[[Spectrum, str], Path | None]) -> Path | None:
    """Along the house's own ducts to a register in the listener's room, or in the room whose windows face the neighbour."""
    name, spread, place = "air path, then through the house's ducts", duct_uncertainty(house=True), where(listener)
    if place == "beside":
        return below(way.mouth + house_trunk_loss(), "air path, through the walls of the house's ducts")
    if place == "neighbour":
        return None
    kind = "living_above" if place == "outdoors" else listener.kind
    level = in_room(inside, way.mouth + house_ducts_loss(), way.area, room_absorption(kind))
    return _out_of_windows(name, level, listener, spread, "duct") if place == "outdoors" else Path(name, level, spread, "duct")


def floor_paths(brief: Brief, room: Room, listener: Listener, floor: FloorOption | Together[FloorOption]) -> tuple[Path, ...]:
    """Along the slab under the room's walls, with what the floor finish takes from it or adds to it."""
    return () if where(listener) == "inside" else floor_ways(brief, room, listener, floor)


def fixed_paths(brief: Brief, listener: Listener) -> tuple[Path, ...]:
    """What no choice changes: an escape window with its second sash where one opens from the room, and the house to the room itself."""
    if where(listener) == "inside":
        return fixed_inside(brief, listener)
    area = window_area(brief)
    if not area or where(listener) != "outdoors":
        return ()
    loss = window_loss()
    return (_out("escape window", _inside(brief), loss, area, listener, np.full(loss.shape, door_uncertainty()), "door"),)


def window_area(brief: Brief) -> float:
    """Area of an escape window in the room [m2], 0 where there is none."""
    return brief.shell.escape_width * brief.shell.escape_height if brief.shell.escape == "window" else 0.0
