"""The room's envelope, the two design days outside, and what they do to its heat and humidity."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import psychrolib

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.ventilation import heat

PRESSURE = 101325.0  # Pa, sea level
WINTER, SUMMER = "winter", "summer"


@dataclass(frozen=True)
class Season:
    """A design day. Outdoor and supply air degC and kg of water a kg of dry air; relative humidity 0..1 and dew point degC that the room
    settles at with people in it; water to take out or to add to stay within the limits of data/air.toml [kg/h]; what the fresh air brings
    to be cooled, sensible and latent [W], 0 in winter and where it is the house's air."""

    name: str
    outdoor: float
    outdoor_water: float
    supply: float
    supply_water: float
    humidity: float
    dew_point: float
    take_out: float
    add: float
    fresh_sensible: float
    fresh_latent: float


def relative_humidity(temperature: float, water: float) -> float:
    """Relative humidity of air at degC with kg of water a kg of dry air; above 1 it would rain.

    Source: ASHRAE Handbook Fundamentals 2017 chapter 1 eqs. 20 and 22, saturation pressure by psychrolib.
    """
    vapour = PRESSURE * water / (0.621945 + water)
    return float(vapour / psychrolib.GetSatVapPres(temperature))


def water_in(temperature: float, humidity: float) -> float:
    """Water [kg/kg] in air at degC and relative humidity 0..1. Source: ASHRAE Handbook Fundamentals 2017 chapter 1, by psychrolib."""
    return float(psychrolib.GetHumRatioFromRelHum(temperature, humidity, PRESSURE))


def floor_conductance(area: float, perimeter: float, depth: float, resistance: float) -> float:
    """Heat through the floor of a basement [W/K]: area m2, exposed perimeter m, depth of the floor in the ground m, its resistance m2K/W.

    Source: ISO 13370, heated basement, uninsulated and moderately insulated floors; from memory.
    """
    row = load("air")["envelope"]
    conductivity = float(row["ground_conductivity"])
    size = area / (0.5 * max(perimeter, 1e-6))
    thick = 0.3 + conductivity * (float(row["floor_film"]) + resistance + float(row["outer_film"])) + 0.5 * depth
    if thick < size:
        return area * 2.0 * conductivity / (math.pi * size + thick) * math.log(math.pi * size / thick + 1.0)
    return area * conductivity / (0.457 * size + thick)


def buried_wall_conductance(area: float, depth: float, resistance: float) -> float:
    """Heat through a wall in the ground [W/K]: area m2, depth of its foot m, resistance with its inner film m2K/W.

    Source: ISO 13370, basement walls, floor taken as thick as the wall; from memory.
    """
    row = load("air")["envelope"]
    conductivity = float(row["ground_conductivity"])
    thick = conductivity * (resistance + float(row["outer_film"]))
    factor = 1.0 + 0.5 * thick / (thick + depth)
    return area * 2.0 * conductivity / (math.pi * depth) * factor * math.log(depth / thick + 1.0)


def envelope(brief: Brief, room: Room) -> tuple[float, float]:
    """Conductance of the room's walls, floor and window to the ground and to the outdoors [W/K]. What borders the house counts as warm.

    Source: ``floor_conductance``, ``buried_wall_conductance``, ISO 6946; lining and share above ground of data/air.toml, options.toml.
    """
    data, above = load("air"), float(load("options")["house"]["above_ground"])
    wall, row = data["wall"], data["envelope"]
    resistance = wall["inner_resistance"] + wall["lining_resistance"] + brief.shell.foundation_thickness / wall["conductivity"][
        brief.shell.foundation
    ]  # fmt: skip
    buried = outside = exposed = 0.0
    for side in brief.shell.sides:
        area = room.side_area(side.number)
        if side.kind is SideKind.FOUNDATION_BELOW:
            buried += area
        elif side.kind is SideKind.FOUNDATION_ABOVE:
            buried, outside = buried + area * (1.0 - above), outside + area * above
        if side.kind in (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE):
            exposed += room.side_length(side.number)
    ground = floor_conductance(room.floor_area, exposed, room.height, float(row["floor_resistance"])) if exposed else 0.0
    ground += buried_wall_conductance(buried, room.height, resistance)
    window = brief.shell.escape_width * brief.shell.escape_height if brief.shell.escape == "window" else 0.0
    return ground, max(outside - window, 0.0) / (resistance + wall["outer_resistance"]) + window * float(row["window"])


def envelope_heat(brief: Brief, room: Room) -> tuple[float, float]:
    """Heat lost on the winter design day and gained on the summer one through the envelope [W], neither below 0.

    The cool ground is not counted on in summer, which is careful. Source: ``envelope``; sun on a window: data/air.toml.
    """
    ground, outside = envelope(brief, room)
    inside, data = brief.air.room_temperature, load("air")
    lost = ground * (inside - data["wall"]["ground_temperature"]) + outside * (inside - brief.air.winter_design)
    window = brief.shell.escape_width * brief.shell.escape_height if brief.shell.escape == "window" else 0.0
    gained = outside * (brief.air.summer_design - inside) + window * float(data["envelope"]["sun"])
    return max(lost, 0.0), max(gained, 0.0)


def summer_dew_point(brief: Brief) -> float:
    """Dew point outdoors in summer [degC]; the highest where nobody knows, and never above the temperature. Source: data/air.toml."""
    rows = load("air")["summer"]
    known = rows.get(brief.air.summer_damp)
    dew = float(known["dew_point"]) if known else max(float(row["dew_point"]) for row in rows.values())
    return min(dew, brief.air.summer_design)


def season(brief: Brief, name: str, flow: float, water: float, outdoors: bool, keeps_moisture: bool = False) -> Season:
    """A design day: fresh air m3/s, water that people give off kg/h, and whether the air comes from outdoors through a recovery unit or
    is the house's own.

    A unit recovers heat alone, which leaves winter drier and summer damper, unless it is one that ``keeps_moisture`` too. Source: mass
    balance of a well-mixed room, W = Ws + m / (rho Q); psychrolib; effectiveness of data/air.toml.
    """
    air, data = brief.air, load("air")
    inside = water_in(air.room_temperature, min(air.room_humidity, 1.0))
    if name == WINTER:
        outdoor = air.winter_design
        outdoor_water = water_in(outdoor, 0.8)  # winter air is nearly full; at these temperatures that is next to nothing
    else:
        outdoor = air.summer_design
        outdoor_water = float(psychrolib.GetHumRatioFromTDewPoint(summer_dew_point(brief), PRESSURE))
    supply, supply_water = air.room_temperature, inside
    if outdoors:
        kept, kept_water = float(data["heat"]["recovery"]), float(data["heat"]["moisture_recovery"]) if keeps_moisture else 0.0
        supply = outdoor + kept * (air.room_temperature - outdoor)
        supply_water = outdoor_water + kept_water * (inside - outdoor_water)
    moved = float(data["duct"]["air_density"]) * flow  # kg/s
    settled = supply_water + water / 3600.0 / moved
    high, low = (water_in(air.room_temperature, float(data["humidity"][key])) for key in ("high", "low"))
    hot = name == SUMMER and outdoors
    return Season(
        name=name,
        outdoor=outdoor,
        outdoor_water=outdoor_water,
        supply=supply,
        supply_water=supply_water,
        humidity=relative_humidity(air.room_temperature, settled),
        dew_point=heat.dew_point(air.room_temperature, min(relative_humidity(air.room_temperature, settled), 1.0)),
        take_out=max(settled - high, 0.0) * moved * 3600.0,
        add=max(low - settled, 0.0) * moved * 3600.0,
        fresh_sensible=max(heat.carried_by_air(flow, supply - air.room_temperature), 0.0) if hot else 0.0,
        fresh_latent=max(supply_water - inside, 0.0) * moved * float(data["heat"]["vaporisation"]) if hot else 0.0,
    )


def winter_days(brief: Brief, flow: float, water: float, outdoors: bool) -> tuple[Season, Season]:
    """The coldest design day and a mild day of the same winter, when fresh air from outdoors leaves the room damper. As ``season``.

    Source: ``season``; the mild day of data/air.toml.
    """
    mild = max(float(load("air")["wall"]["mild_day"]), brief.air.winter_design)
    warmer = replace(brief, air=replace(brief.air, winter_design=mild))
    return season(brief, WINTER, flow, water, outdoors), season(warmer, WINTER, flow, water, outdoors)


@lru_cache(maxsize=64)
def insulation_against_sweat(around: float, humidity: float, cold: float) -> float:
    """Insulation [m] round a duct of cold air [degC] so that air round it, degC and relative humidity 0..1, does not condense on it.

    0 where bare metal stays dry, infinite where the air is so damp that nothing helps.

    Source: resistances in series, flat; dew point by psychrolib; film and conductivity of data/air.toml.
    """
    row, dew = load("air")["envelope"], heat.dew_point(around, humidity)
    if dew <= cold:
        return 0.0
    if dew >= around:
        return math.inf
    film = float(row["duct_film"])
    # surface = around - (around - cold) film / (film + R) = dew
    return max(film * (around - cold) / (around - dew) - film, 0.0) * float(row["duct_insulation"])
