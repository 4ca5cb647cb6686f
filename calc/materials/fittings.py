"""Take-off of doors, the floor, and what every scheme needs: power, alarms, finishing, site, fees."""

from __future__ import annotations

from calc.brief import Brief
from calc.geometry import Room
from calc.materials import quantities as q
from calc.materials.items import door_item, floor_item, lumber_item
from calc.materials.line import Line, cut, line
from calc.materials.surface import bead
from calc.materials.wall import PLATE
from calc.scheme import DoorOption, FloorOption

DOOR_HEIGHT = 2.032  # m, 6 ft 8 in. Common practice, no source
OUTLET_STEP = 3.6576  # m, 12 ft between outlets, so that no floor-line point is over 6 ft from one. Source: NEC 210.52(A)


def door_lines(brief: Brief, option: DoorOption) -> tuple[Line, ...]:
    """Doors with frames, hinges and seals, the rough frame of each, the lining of an air lock. ``brief`` gives the rough frame's height."""
    width = option.area / DOOR_HEIGHT
    around = 2.0 * DOOR_HEIGHT + width
    stud = lumber_item(0.089, "wood")
    found: list[Line] = []
    for leaf in range(1, option.leaves + 1):
        where = f"door leaf {leaf}"
        found += [
            line(door_item(option.leaf_mass), where, 1),
            line("door_latch", where, 1),
            cut(stud, f"rough frame, {where}", 4, brief.shell.height - 3.0 * PLATE, "frame"),
            cut(stud, f"header, {where}", 2, width + 0.1, "frame"),
            bead(f"rough opening, {where}", 2.0 * around, "door"),
            line("backer_rod", f"rough opening, {where}", 2.0 * around),
        ]
        if not option.complete:
            found += _hung_on_site(option, where, around)
    if option.leaves > 1 and option.lined:
        found.append(line("duct_lining", "lining of the air lock", around * option.air_lock, "door"))
    return tuple(found)


def _hung_on_site(option: DoorOption, where: str, around: float) -> list[Line]:
    """What a leaf needs that does not come as a set."""
    found = [line("door_frame", where, 1), line("door_hinges", where, 1), line("door_seal", where, around)]
    if option.sealed:
        found += [line("door_bottom", where, 1), line("threshold", where, 1)]
    return found


def floor_lines(brief: Brief, room: Room, option: FloorOption) -> tuple[Line, ...]:
    """One line a layer, and a perimeter strip under a floor that is laid on something.

    Raises ValueError for a layer the catalogue lacks.
    """
    found = [line(floor_item(layer.name), f"floor: {layer.name}", room.floor_area) for layer in option.layers]
    if option.height_taken > 0.0:
        found.append(line("floor_expansion_strip", "edge of the floor", room.perimeter))
    return tuple(found)


def common_lines(brief: Brief, room: Room) -> tuple[Line, ...]:
    """What any scheme needs: electrical, alarms, finishing, protection, tests, permit and professionals."""
    return (*_electrical(room), *_escape(brief), *_finishing(room), *_site(brief, room), *_fees(brief))


def _electrical(room: Room) -> list[Line]:
    """Receptacles at 12 ft and one switch and one equipment box more; surface boxes keep the shell whole, pads serve any box that must
    pierce it.
    """
    boxes = q.whole(room.perimeter / OUTLET_STEP) + 2
    return [  # what sits on the face of the boards carries the task that comes after them
        line("outlet_box", "room", boxes),
        line("putty_pad", "room", boxes),
        line("cable_allowance", "room", room.floor_area),
        line("light", "room", q.whole(room.floor_area / 4.0)),  # one a 4 m2: common practice, no source
        line("smoke_alarm", "one inside the room, one outside", 2),
        line("co_alarm", "one inside the room, one outside", 2),
    ]


def _escape(brief: Brief) -> list[Line]:
    """The escape window keeps its glass and gets a second sash on the inner frame: the wall path is computed with it."""
    shell = brief.shell
    if shell.escape != "window":
        return []
    around = 2.0 * (shell.escape_width + shell.escape_height)  # sealed inside and outside
    stud = lumber_item(0.089, "wood")
    return [
        cut(stud, "rough frame, escape window", 2, shell.height - 3.0 * PLATE, "frame"),
        cut(stud, "header and sill, escape window", 3, shell.escape_width + 0.1, "frame"),
        line("second_sash", "escape window", shell.escape_width * shell.escape_height),
        bead("rough opening, escape window", 2.0 * around, "door"),
    ]


def _finishing(room: Room) -> list[Line]:
    """Tape and compound on the face ply only; paint on walls and lid; base trim."""
    face = room.wall_area + room.floor_area
    return [
        line("joint_compound", "face ply", q.LITRES * face * q.JOINT_COMPOUND),
        line("joint_tape", "face ply", face * q.JOINT_TAPE),
        line("primer", "walls and lid", face),
        line("paint", "walls and lid", face),
        line("base_trim", "walls", room.perimeter),
    ]


def _site(brief: Brief, room: Room) -> list[Line]:
    shell = brief.shell
    found = [
        line("dust_protection", "stairs and openings to the house", 1),
        line("protective_gear", "everyone on site", 1 + max(brief.means.helpers, 1)),
        line("consumables", "whole job", room.floor_area),
        line("tool_hire", "whole job", 1),
        line("smoke_pencil", "leak test", 1),
        line("clean_up", "room, stairs and what was outside the sheeting", 1),
        # Cuttings: about a tenth of the boards; an old ceiling about 30 mm thick with its air. Common practice, no source.
        line("disposal", "cuttings and old ceiling", 1.0 + (0.03 * shell.length * shell.width if shell.ceiling_texture != "bare" else 0.0)),
    ]
    if shell.radon == "above":  # tested: what is open is whether the suction works
        found.append(line("radon_test", "with the suction on, and after the build", 2, "demolish"))
    elif shell.radon != "below":
        found.append(line("radon_test", "before and after", 2))
    if shell.appliance in ("natural draft", "unknown"):
        found.append(line("co_alarm", "beside the burner, from the first day", 1, "survey"))
    if may_hold_hazards(brief):
        found.append(line("hazard_test", "paint, joint compound, tile, pipe wrap", 4))
    return found


def may_hold_hazards(brief: Brief) -> bool:
    """Whether paint and boards may hold lead or asbestos: built before 1990 or at an unknown date.

    Lead paint rules cover houses before 1978 (40 CFR 745); asbestos was used in board finishes and tile into the 1980s (from memory):
    1990 is the careful year.
    """
    return brief.shell.year_built is None or brief.shell.year_built < 1990


def _fees(brief: Brief) -> list[Line]:
    """Permit, structural engineer and trades: licensed work is bought, whoever builds the rest. Hours: common practice, no source."""
    found = [
        line("permit", "building official", 1),
        line("structural_engineer", "joists and added load", 1),
        line("electrician", "rough-in, panel", 10 + (6 if brief.shell.panel in ("in the area", "unknown") else 0)),
        line("electrician", "boxes, lights, alarms, tests", 6, "air_start"),
    ]
    if brief.shell.water in ("damp", "standing"):
        found.append(line("waterproofing", "walls and slab", 1))
    return found
