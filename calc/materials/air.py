"""Take-off of the air path: ducts, silencer boxes, the boards round them, and what moves and cools the air."""

from __future__ import annotations

import math

from calc.brief import Brief
from calc.catalogue import load
from calc.isolation.duct_way import Box, DuctSize, box, duct_size, lined_part, needed, way_length
from calc.isolation.materials import ply
from calc.materials import quantities as q
from calc.materials.items import duct_item, lumber_item
from calc.materials.line import Line, line, run
from calc.materials.surface import bead, board_lines, fill_lines
from calc.scheme import AirPathOption
from calc.ventilation.climate import insulation_against_sweat
from calc.ventilation.fan_box import fan_box

LINING_PANEL = 0.025  # m, thickness of one layer of duct lining
WRAP, MOST_WRAPS = 0.050, 3  # m, thickness of one layer of duct insulation; layers that can still be hung
BOX_PANEL = 0.050  # m, thickness of one layer of box lining
STUD_STEP = 0.6096  # m, 24 in between the ribs of the frame round a duct. Common practice, no source
WHERE, BOXES, AT_FAN = "fresh-air path, supply and return", "silencer boxes", "silencer boxes at the fan, for its own noise"


def air_lines(brief: Brief, option: AirPathOption) -> tuple[Line, ...]:
    """The ways through the shell, supply and return alike, with a fan each or one unit for both and the silencer box that it needs,
    grilles, cooling, the contractor's hours.

    Ducts and boxes have the size that their sound is computed with. Raises ValueError as calc.isolation.duct_way and ventilation.air, or
    when the catalogue lacks a part.
    """
    size, ways = duct_size(brief, option), int(load("ducts")["ways"])
    made, count, length = box(size, option), ways * size.runs, way_length(brief, option)
    found = [*_duct_lines(option, size, count, length), *_wrap_lines(brief, option, size, count, length), *_moving_lines(option, count)]
    if needed(brief).cooling_needed:
        found.append(line("cooling_unit", "cooling that recirculates inside the room", 1))
    at_fan = fan_box(brief, option)
    for one, where in ((made, BOXES), (at_fan, AT_FAN)):
        if one is not None:
            found += _box_lines(one, count, where)
    if option.enclosed:
        found += _enclosure_lines(length, size, made, count)
    return tuple(each for each in found if each.quantity > 0.0)


def _duct_lines(option: AirPathOption, size: DuctSize, count: int, length: float) -> list[Line]:
    return [
        line(duct_item("duct", size.casing), WHERE, count * length),
        line(duct_item("elbow", size.casing), WHERE, count * option.elbows),
        line("flexible_connector", WHERE, 2 * count),  # one at each end of a run, as calc.ventilation.run reckons its pressure
        line("grille", WHERE, count if option.house_ducts or option.fan_unit else 2 * count),
        line("weather_hood", "ends of the ducts outdoors", count if option.fan_unit else 0),
        line("duct_takeoff", "joins to the house's trunk ducts", count if option.house_ducts else 0),
        *_collar_lines(2.0 * count * 4.0 * size.casing),
        line("duct_lining", WHERE, count * 4.0 * size.casing * lined_part(option) * q.whole(option.lining / LINING_PANEL)),
    ]


def _collar_lines(around: float) -> list[Line]:
    """Rod and sealant round the ducts on both faces of the boards [m], so once these hang."""
    where, task = "duct openings in the shell", "seal_leak_test"
    return [line("backer_rod", where, around, task), bead(where, around, task)]


def _wrap_lines(brief: Brief, option: AirPathOption, size: DuctSize, count: int, length: float) -> list[Line]:
    """Insulation round what carries winter air: all that is not lined may lie between the recovery unit and the outdoors.

    Source: calc.ventilation.climate, as the finding on ducts that drip.
    """
    thick = insulation_against_sweat(brief.air.room_temperature, brief.air.room_humidity, brief.air.winter_design)
    if not option.fan_unit or thick <= 0.0:
        return []
    layers = MOST_WRAPS if math.isinf(thick) else min(q.whole(thick / WRAP), MOST_WRAPS)
    cold = max(length - lined_part(option), float(load("ducts")["least_length"]))
    return [line("duct_wrap", "ducts between recovery unit and outdoors", count * 4.0 * (size.casing + layers * WRAP) * cold * layers)]


def _moving_lines(option: AirPathOption, count: int) -> list[Line]:
    """One fan cannot balance supply and extract; the house's air handler moves the air where the ducts join it."""
    found = [
        line("spare_filters", WHERE, 1),
        line("co2_meter", "room", 1),
        line("hvac_designer", "fresh air and heat load", 4),
        line("hvac_contractor", "rough-in", 5 if option.fan_unit or option.house_ducts else 2),
        line("hvac_contractor", "balance, last tests", 3 if option.fan_unit or option.house_ducts else 2, "air_start"),
    ]
    if option.fan_unit:
        return [*found, line("heat_recovery_unit", WHERE, 1), line("condensate_kit", WHERE, 1)]
    return found if option.house_ducts else [*found, line("inline_fan", "one for supply, one for extract", 2)]


def _box_lines(made: Box, count: int, where: str) -> list[Line]:
    """Panels of the outside and between chambers; every chamber lined on its six faces; every edge sealed."""
    length, width, height = made.outside
    faces = 2.0 * (length * width + length * height + width * height) + (made.chambers - 1) * width * height
    inner = made.chambers * 2.0 * (made.length * made.width + made.length * made.height + made.width * made.height)
    edges = 4.0 * length + (made.chambers + 1) * 2.0 * (width + height)
    return [
        line("silencer_panel", where, count * faces * made.layers),
        line("silencer_lining", where, count * inner * q.whole(made.lining / BOX_PANEL)),
        bead(where, count * edges, "rough_hvac"),
    ]


def _enclosure_lines(length: float, size: DuctSize, made: Box | None, count: int) -> list[Line]:
    """Boards on a light frame all round ducts of a length [m] and boxes, the gap filled."""
    row = load("ducts")["casing"]["enclosure"]
    spans = [(length, size.casing, size.casing), *([made.outside] if made is not None else [])]
    found: list[Line] = []
    for (long, wide, high), name in zip(spans, ("ducts", BOXES), strict=False):
        width, height, where = wide + 2.0 * row["gap"], high + 2.0 * row["gap"], f"boards round the {name}"
        around, ends = 2.0 * (width + height), width * height
        area = count * (around * long + 2.0 * ends)
        boards = (ply(row["material"], row["thickness"]),) * int(row["plies"])
        for each in board_lines(boards, where, area, count * (4.0 * long + 2.0 * around), STUD_STEP, STUD_STEP / 2.0, False, False):
            found.append(line(each.item, where, each.quantity, "rough_hvac"))
        found += fill_lines(row["fill"], row["fill_thickness"], where, area, 0.0, "rough_hvac")
        ribs = q.whole(long / STUD_STEP) + 1
        frame = lumber_item(row["gap"], "wood")
        found += [run(frame, where, 4 * count, long, "rough_hvac"), run(frame, where, count * ribs, around, "rough_hvac")]
    return found
