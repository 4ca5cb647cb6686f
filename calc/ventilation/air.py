"""The air a room needs: the governing flow, CO2, heat, moisture, duct size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.scheme import AirPathOption
from calc.ventilation import co2, duct, fresh_air, heat

CURVE_POINTS = 61


@dataclass(frozen=True)
class AirResult:
    """Fresh air m3/s and the rate that governs it (``basis``, a key of ``rates``); CO2 ppm; times h; heat W; moisture kg/h.

    ``rates`` also holds the dwelling rate of ASHRAE 62.2, which is the whole house's and never governs the room.
    ``wall_surface_humidity`` is 1.0 where water condenses, None where no side is a foundation wall. ``duct_outside`` is the bare casing
    whose free diameter, after the air path's lining, is ``duct_diameter``. ``heating_W`` warms the fresh air on the winter
    design day, here or in the house's furnace.
    """

    fresh_air: float
    basis: str
    rates: Mapping[str, float]
    co2_steady: float
    co2_steady_at_62_1: float
    co2_curve: tuple[tuple[float, ...], tuple[float, ...]]
    co2_sealed_minutes: float
    heat_sensible: float
    heat_latent: float
    moisture: float
    cooling_needed: bool
    cooling_W: float  # noqa: N815
    heating_W: float  # noqa: N815
    duct_velocity: float
    duct_area: float
    duct_diameter: float
    duct_outside: float
    dew_point: float
    wall_surface_temperature: float | None
    wall_surface_humidity: float | None
    noise_target: str


DWELLING = "ASHRAE 62.2, whole dwelling"
ROOM_62_1 = "ASHRAE 62.1, music room"
HOLDS_CO2 = "holds the CO2 limit"
AIR_CHANGES = "IRC, 0.35 air changes an hour"


def air(brief: Brief, room: Room, air_path: AirPathOption) -> AirResult:
    """Air of a room for the brief's people, activity and session.

    Raises ValueError when the CO2 limit is not above outdoor air, KeyError for an unknown activity. Sources: at each function called.
    ``air_path`` does not change how much air is needed, only how wide its casing is and whether heat is recovered.
    """
    data, use, wish = load("air"), brief.use, brief.air
    given_off = use.people * co2.generation(data["activity"][use.activity]["met"])
    outdoor = float(data["co2"]["outdoor"])
    rates = {
        HOLDS_CO2: co2.flow_to_hold(wish.co2_limit, given_off, outdoor),
        ROOM_62_1: fresh_air.zone_rate(use.people, room.floor_area),
        AIR_CHANGES: fresh_air.air_change_rate(room.volume),
        DWELLING: fresh_air.dwelling_rate(wish.house_area, wish.bedrooms),
    }
    basis = max((name for name in rates if name != DWELLING), key=lambda name: rates[name])
    flow = rates[basis]
    times = np.linspace(0.0, use.session, CURVE_POINTS)
    levels = co2.curve(times, flow, given_off, room.volume, outdoor)
    sensible, latent = heat_load(brief, room)
    cooling_needed = sensible > heat.carried_by_air(flow, data["heat"]["temperature_rise"])
    target = noise_target(brief)
    speed = duct.quiet_speed(target)
    surface = wall_surface_temperature(brief)
    humidity = None if surface is None else heat.surface_humidity(wish.room_temperature, wish.room_humidity, surface)
    return AirResult(
        fresh_air=flow,
        basis=basis,
        rates=rates,
        co2_steady=co2.steady(flow, given_off, outdoor),
        co2_steady_at_62_1=co2.steady(rates[ROOM_62_1], given_off, outdoor),
        co2_curve=(tuple(map(float, times)), tuple(map(float, levels))),
        co2_sealed_minutes=co2.sealed_minutes(wish.co2_limit, given_off, room.volume, outdoor),
        heat_sensible=sensible,
        heat_latent=latent,
        moisture=heat.moisture(latent),
        cooling_needed=cooling_needed,
        cooling_W=sensible + latent if cooling_needed else 0.0,
        heating_W=heat.fresh_air_heat(
            flow, wish.room_temperature, wish.winter_design, data["heat"]["recovery"] if air_path.fan_unit else 0.0
        ),
        duct_velocity=speed,
        duct_area=flow / speed,
        duct_diameter=duct.round_diameter(flow / speed),
        duct_outside=duct.round_diameter(flow / speed) + 2.0 * air_path.lining,
        dew_point=heat.dew_point(wish.room_temperature, wish.room_humidity),
        wall_surface_temperature=surface,
        wall_surface_humidity=None if humidity is None else min(humidity, 1.0),
        noise_target=target,
    )


def heat_load(brief: Brief, room: Room) -> tuple[float, float]:
    """Sensible and latent heat [W] of people, equipment and light; losses through the walls are left out, which is careful for cooling.

    Source: ASHRAE Handbook Fundamentals 2013 (SI) chapter 18 Table 1; lights common practice, no source.
    """
    sensible, latent = heat.people_heat(brief.use.people, brief.use.activity)
    lights = float(load("air")["heat"]["lights"]) * room.floor_area
    return sensible + brief.use.equipment + lights, latent


def noise_target(brief: Brief) -> str:
    """NC number that the air system is sized for, by what the room is for. Source: common practice, no source (data/air.toml)."""
    targets = load("air")["noise_target"]
    use = "recording" if brief.use.recording else "mixing" if brief.use.activity == "mixing" else "playing"
    return str(targets[use])


def wall_surface_temperature(brief: Brief) -> float | None:
    """Coldest foundation wall face [degC] behind an insulated inner wall in winter; None without a foundation side.

    Behind insulation the masonry is nearly as cold as what lies outside it; room air that leaks in finds that face.
    Source: ISO 6946 resistances in series; ground temperature and lining common practice, no source (data/air.toml).
    """
    kinds = {side.kind for side in brief.shell.sides}
    wall, shell = load("air")["wall"], brief.shell
    masonry = shell.foundation_thickness / wall["conductivity"][shell.foundation]
    before = wall["inner_resistance"] + wall["lining_resistance"]
    faces = []
    if SideKind.FOUNDATION_BELOW in kinds:
        faces.append(heat.surface_temperature(brief.air.room_temperature, wall["ground_temperature"], before, [masonry]))
    if SideKind.FOUNDATION_ABOVE in kinds:
        behind = [masonry, wall["outer_resistance"]]
        faces.append(heat.surface_temperature(brief.air.room_temperature, brief.air.winter_design, before, behind))
    return min(faces, default=None)
