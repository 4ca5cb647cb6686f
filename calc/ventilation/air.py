"""The air a room needs: the governing flow, CO2, heat, moisture, duct size."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import accumulate

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.kept import Kept
from calc.scheme import AirPathOption
from calc.ventilation import climate, co2, duct, fresh_air, heat
from calc.ventilation import session as sessions
from calc.ventilation.noise_wanted import NoiseTarget, noise_target
from calc.ventilation.run import end_of


@dataclass(frozen=True)
class AirResult:
    """Fresh air m3/s and the rate that governs it (``basis``, a key of ``rates``); CO2 ppm; times h; heat W; moisture kg/h.

    ``rates`` also holds the dwelling rate of ASHRAE 62.2, which is the whole house's and never governs the room.
    ``damp_winter`` is the winter day that is dampest at the coldest face of a foundation wall, of the coldest and a mild one, with people
    in the room and its air running; ``dew_point``, ``wall_surface_temperature`` and ``wall_surface_humidity`` are of that day: 1.0 where
    water condenses, None where no side is a foundation wall. ``duct_outside`` is the bare casing
    whose free diameter, after the air path's lining, is ``duct_diameter``. ``heating_W`` warms the fresh air on the winter
    design day, here or in the house's furnace; ``heating_size`` adds what the envelope loses then, and counts on nobody being there.

    ``co2_curve`` is the session with its arrivals and breaks, with ``people`` in the room just before each time; ``co2_off`` the same with
    the air off, which passes the limit after ``co2_session_minutes`` (infinite: never). ``co2_sealed_minutes`` count everybody in from the
    start, without a break: the time to warn with.
    ``fresh_air_for_session`` holds the limit in this very session, though not in a longer one.

    ``heat_parts`` [W] make up ``heat_sensible``; ``cooling_W`` is 0 unless needed, and then also
    holds what summer's fresh air brings. ``temperature_rise`` [K] is what the room drifts to over its supply without cooling, at a flow of
    air and a ``conductance`` of its envelope [W/K]. ``end``: where the air path ends, outdoors | house | basement.

    ``noise_target`` is the NC number sized for, ``noise_reason`` where that comes from.
    """

    fresh_air: float
    basis: str
    rates: Mapping[str, float]
    co2_steady: float
    co2_steady_at_62_1: float
    co2_curve: tuple[tuple[float, ...], tuple[float, ...]]
    co2_sealed_minutes: float
    co2_session_minutes: float
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
    noise_reason: str
    intervals: tuple[co2.Interval, ...]
    people: tuple[int, ...]
    co2_peak: float
    co2_final: float
    co2_off: tuple[tuple[float, ...], tuple[float, ...]]
    fresh_air_for_session: float
    heat_parts: Mapping[str, float]
    temperature_rise: float
    conductance: float
    heating_envelope: float
    heating_size: float
    winter: climate.Season
    damp_winter: climate.Season
    summer: climate.Season
    end: str


_AIR: Kept[AirResult] = Kept(128)
PEOPLE, EQUIPMENT, LIGHTS, ENVELOPE = "people", "equipment", "lights", "walls and window in summer"
DWELLING = "ASHRAE 62.2, whole dwelling"
ROOM_62_1 = "ASHRAE 62.1, music room"
HOLDS_CO2 = "holds the CO2 limit"
AIR_CHANGES = "IRC, 0.35 air changes an hour"


def air(brief: Brief, room: Room, air_path: AirPathOption) -> AirResult:
    """Air of a room for the brief's people, activity and session.

    Raises ValueError when the CO2 limit is not above outdoor air, KeyError for an unknown activity. Sources: at each function called.
    ``air_path`` does not change how much air is needed, only how wide its casing is and whether heat is recovered.
    """
    use, shell = brief.use, brief.shell
    people = (use.people, use.activity, use.session, use.equipment, use.recording)
    walls = (shell.sides, shell.foundation, shell.foundation_thickness, shell.escape, shell.escape_width, shell.escape_height)
    quiet = noise_target(brief)
    return _AIR.get((people, walls, brief.air, quiet, room, air_path), partial(_air, brief, room, air_path, quiet))


def _air(brief: Brief, room: Room, air_path: AirPathOption, quiet: NoiseTarget) -> AirResult:
    data, use, wish = load("air"), brief.use, brief.air
    each = co2.generation(data["activity"][use.activity]["met"])
    given_off = use.people * each
    outdoor = float(data["co2"]["outdoor"])
    rates = {
        HOLDS_CO2: co2.flow_to_hold(wish.co2_limit, given_off, outdoor),
        ROOM_62_1: fresh_air.zone_rate(use.people, room.floor_area),
        AIR_CHANGES: fresh_air.air_change_rate(room.volume),
        DWELLING: fresh_air.dwelling_rate(wish.house_area, wish.bedrooms),
    }
    basis = max((name for name in rates if name != DWELLING), key=lambda name: rates[name])
    flow = rates[basis]
    stretches = sessions.intervals(brief)
    times, levels = _course(stretches, flow, each, room.volume, outdoor)
    parts, latent = heat_parts(brief, room), heat.people_heat(use.people, use.activity)[1]
    sensible, water = sum(parts.values()), heat.moisture(latent)
    winter, mild = climate.winter_days(brief, flow, water, air_path.fan_unit)
    summer = climate.season(brief, climate.SUMMER, flow, water, air_path.fan_unit)
    damp = max(winter, mild, key=lambda day: (wall_surface_humidity(brief, day) or 0.0, day.dew_point))
    fresh_heat = summer.fresh_sensible + summer.fresh_latent
    conductance, lost = sum(climate.envelope(brief, room)), climate.envelope_heat(brief, room)[0]
    rise = sensible / (heat.carried_by_air(flow, 1.0) + conductance)
    cooling_needed = rise > float(data["heat"]["temperature_rise"])
    warming = heat.fresh_air_heat(
        flow, wish.room_temperature, wish.winter_design, data["heat"]["recovery"] if air_path.fan_unit else 0.0
    )  # fmt: skip
    speed = duct.quiet_speed(quiet.number)
    humidity = wall_surface_humidity(brief, damp)
    return AirResult(
        fresh_air=flow,
        basis=basis,
        rates=rates,
        co2_steady=co2.steady(flow, given_off, outdoor),
        co2_steady_at_62_1=co2.steady(rates[ROOM_62_1], given_off, outdoor),
        co2_curve=(times, levels),
        co2_sealed_minutes=co2.sealed_minutes(wish.co2_limit, given_off, room.volume, outdoor),
        co2_session_minutes=co2.minutes_to(wish.co2_limit, stretches, 0.0, each, room.volume, outdoor),
        heat_sensible=sensible,
        heat_latent=latent,
        moisture=water,
        cooling_needed=cooling_needed,
        cooling_W=sensible + latent + fresh_heat if cooling_needed else 0.0,
        heating_W=warming,
        duct_velocity=speed,
        duct_area=flow / speed,
        duct_diameter=duct.round_diameter(flow / speed),
        duct_outside=duct.round_diameter(flow / speed) + 2.0 * air_path.lining,
        dew_point=damp.dew_point,
        wall_surface_temperature=wall_surface_temperature(brief, damp.outdoor),
        wall_surface_humidity=None if humidity is None else min(humidity, 1.0),
        noise_target=quiet.number,
        noise_reason=quiet.reason,
        intervals=stretches,
        people=_people_at(stretches, times),
        co2_peak=max(levels),
        co2_final=levels[-1],
        co2_off=_course(stretches, 0.0, each, room.volume, outdoor),
        fresh_air_for_session=_flow_for_session(wish.co2_limit, stretches, each, room.volume, outdoor),
        heat_parts=parts,
        temperature_rise=rise,
        conductance=conductance,
        heating_envelope=lost,
        heating_size=lost + warming,
        winter=winter,
        damp_winter=damp,
        summer=summer,
        end=end_of(air_path),
    )


@lru_cache(maxsize=64)
def _flow_for_session(limit: float, stretches: tuple[co2.Interval, ...], each: float, volume: float, outdoor: float) -> float:
    """As co2.flow_for_session, which takes most of the time here; kept, as few answers change it."""
    return co2.flow_for_session(limit, stretches, each, volume, outdoor)


@lru_cache(maxsize=64)
def _course(
    stretches: tuple[co2.Interval, ...], flow: float, each: float, volume: float, outdoor: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """As co2.session, kept."""
    times, levels = co2.session(stretches, flow, each, volume, outdoor)
    return tuple(map(float, times)), tuple(map(float, levels))


@lru_cache(maxsize=64)
def _people_at(stretches: tuple[co2.Interval, ...], times: tuple[float, ...]) -> tuple[int, ...]:
    ends = tuple(accumulate(stretch.hours for stretch in stretches))
    return tuple(stretches[min(bisect_left(ends, time - 1e-9), len(ends) - 1)].people for time in times)


def heat_parts(brief: Brief, room: Room) -> dict[str, float]:
    """Sensible heat [W] by what gives it off.

    Source: ASHRAE Handbook Fundamentals 2013 (SI) chapter 18 Table 1; lights common practice, no source; calc.ventilation.climate.
    """
    return {
        PEOPLE: heat.people_heat(brief.use.people, brief.use.activity)[0],
        EQUIPMENT: brief.use.equipment,
        LIGHTS: float(load("air")["heat"]["lights"]) * room.floor_area,
        ENVELOPE: climate.envelope_heat(brief, room)[1],
    }


def wall_surface_humidity(brief: Brief, day: climate.Season) -> float | None:
    """Relative humidity of a day's room air at the coldest foundation wall face; above 1 water condenses, None without a foundation side.

    Source: ``wall_surface_temperature``, heat.surface_humidity.
    """
    surface = wall_surface_temperature(brief, day.outdoor)
    return None if surface is None else heat.surface_humidity(brief.air.room_temperature, min(day.humidity, 1.0), surface)


def wall_surface_temperature(brief: Brief, outdoor: float) -> float | None:
    """Coldest foundation wall face [degC] behind an insulated inner wall at degC outdoors in winter; None without a foundation side.

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
        faces.append(heat.surface_temperature(brief.air.room_temperature, outdoor, before, behind))
    return min(faces, default=None)
