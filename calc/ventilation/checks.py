"""What a way of bringing air has to do in this room: each rule one small function that returns numbers and a sentence."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.unit_format import format_flow, format_power, format_share
from calc.ventilation import co2, heat, words
from calc.ventilation.air import DWELLING, AirResult
from calc.ventilation.noise import Noise
from calc.ventilation.run import Run


@dataclass(frozen=True)
class Check:
    """One rule's outcome: ``ok`` is None where only an answer still missing can tell. A ``hard`` one that fails rules the system out, any
    other asks for more work. ``measured`` and ``limit`` in SI with ``unit``, None where the rule is not a number."""

    rule: str
    hard: bool
    ok: bool | None
    sentence: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""


@dataclass(frozen=True)
class Source:
    """The zone that a room shares its air with: volume m3; air from elsewhere m3/s at ppm; CO2 that others give off in it m3/s."""

    volume: float
    fresh: float
    entering: float
    given_off: float

    @property
    def settled(self) -> float:
        """What it settles at without the room [ppm]."""
        return co2.steady(self.fresh, self.given_off, self.entering)


def source(brief: Brief, end: str, air: AirResult) -> Source:
    """The house for ducts joined to its own, the rest of the basement for ducts that end there.

    The others at home are the bedrooms and one less those in the room, never nobody. Source: data/air_systems.toml; ASHRAE 62.2.
    """
    rule, outdoor = load("air_systems")["rule"], float(load("air")["co2"]["outdoor"])
    others = max(brief.air.bedrooms + 1 - brief.use.people, 1)
    whole = Source(brief.air.house_area * float(rule["storey"]), air.rates[DWELLING], outdoor, others * co2.generation(rule["house_met"]))
    if end == "house":
        return whole
    changes = rule["basement_changes"].get(brief.air.system, rule["basement_changes"]["other"])
    volume = brief.shell.basement_volume_left
    return Source(volume, float(changes) * volume / 3600.0, whole.settled, 0.0)


def shared_peak(brief: Brief, room: Room, air: AirResult, zone: Source, flow: float) -> float:
    """Highest CO2 [ppm] in the room in its session when it changes air with a zone at a flow [m3/s]. Source: co2.two_zones, interval by
    interval; both start as the zone is without the room."""
    each = co2.generation(load("air")["activity"][brief.use.activity]["met"])
    return _peak(air.intervals, each, room.volume, zone, flow)


@lru_cache(maxsize=256)
def _peak(intervals: tuple[co2.Interval, ...], each: float, volume: float, zone: Source, flow: float) -> float:
    """As ``shared_peak``; ``each`` is what one person gives off [m3/s]. Kept, as few answers change it."""
    levels, peak = (zone.settled, zone.settled), zone.settled
    for stretch in intervals:
        hours = np.linspace(0.0, stretch.hours, 13)[1:]
        given_off = stretch.people * each, zone.given_off
        found = co2.two_zones(hours, levels, (volume, zone.volume), flow, (0.0, zone.fresh), (0.0, zone.entering), given_off)
        levels, peak = (float(found[-1, 0]), float(found[-1, 1])), max(peak, float(found[:, 0].max()))
    return peak


def flow_needed(brief: Brief, room: Room, air: AirResult, zone: Source) -> float:
    """Flow [m3/s] that keeps the session under the CO2 limit with a zone's air; infinite where the zone itself grows too stale.

    Source: bisection on ``shared_peak``, which falls as the flow grows.
    """
    most, limit = 20.0 * air.fresh_air, brief.air.co2_limit
    if zone.volume <= 0.0 or zone.fresh <= 0.0 or shared_peak(brief, room, air, zone, most) > limit:
        return math.inf
    low, high = 0.0, most
    for _ in range(30):
        middle = (low + high) / 2.0
        low, high = (low, middle) if shared_peak(brief, room, air, zone, middle) <= limit else (middle, high)
    return high


def possible(brief: Brief, end: str) -> Check:
    """The ducts have where to end; nobody knowing asks."""
    if end == "house":
        ok = None if brief.air.system == "unknown" else brief.air.system == "forced air"
        said = {
            True: "The house has an air handler.",
            False: f"The house has no air handler to join: its heating is {brief.air.system}.",
            None: "Nobody knows yet whether the house has an air handler: look for grilles in floors or walls.",
        }
    elif end == "outdoors":
        ok = {"yes": True, "no": False}.get(brief.air.duct_outdoors)
        said = {
            True: "Two ducts can reach the outdoors.",
            False: "Two ducts cannot reach the outdoors.",
            None: "Nobody knows yet whether two ducts can reach the outdoors: look along the top of the outer walls.",
        }
    else:
        ok = any(side.kind is SideKind.OPEN for side in brief.shell.sides) and brief.shell.basement_volume_left > 0.0
        said = {True: "There is a rest of the basement to share air with.", False: "There is no rest of the basement to share air with."}
    return Check("possible", True, ok, said[ok])


def holds_co2(brief: Brief, room: Room, air: AirResult, end: str, flow: float | None = None) -> Check:
    """CO2 stays under the limit in the session: by the flow that the system moves by itself, or by more where its ducts can carry more."""
    limit, units = brief.air.co2_limit, brief.units
    if end == "outdoors":
        ok = air.co2_steady <= limit + 0.5
        return Check(
            "CO2", True, ok, f"Outdoor air holds {limit:,.0f} ppm with {format_flow(air.fresh_air, units)}.", air.co2_steady, limit, "ppm"
        )
    zone = source(brief, end, air)
    place = "house" if end == "house" else "rest of the basement"
    if zone.volume <= 0.0:
        return Check("CO2", True, False, f"There is no air in a {place} to share.")
    if flow is not None:
        peak = shared_peak(brief, room, air, zone, flow)
        said = f"Without a fan about {format_flow(flow, units)} move, and CO2 comes to {peak:,.0f} ppm; the limit is {limit:,.0f}."
        return Check("CO2", True, peak <= limit, said, peak, limit, "ppm")
    needed, most = flow_needed(brief, room, air, zone), float(load("air_systems")["rule"]["most_flow"]) * air.fresh_air
    if math.isinf(needed):
        peak = shared_peak(brief, room, air, zone, most)
        said = f"The {place} itself grows stale: even {format_flow(most, units)} let CO2 come to {peak:,.0f} ppm; limit {limit:,.0f}."
        return Check("CO2", True, False, said, peak, limit, "ppm")
    said = f"With air from the {place}, {format_flow(needed, units)} keep a session under {limit:,.0f} ppm"
    said += "." if needed <= most else f"; the ducts planned carry {format_flow(most, units)} at most."
    return Check("CO2", True, needed <= most, said, needed, most, "m3/s")


def carries_heat(air: AirResult, cooling: bool, flow: float) -> Check:
    """The heat goes somewhere: by cooling of its own, or by the air at no more than the rise that is allowed."""
    if cooling:
        return Check(
            "heat", True, True, f"Cooling of {format_power(air.cooling_W)} recirculates in the room.", air.heat_sensible, None, "W"
        )
    rise = float(load("air")["heat"]["temperature_rise"])
    carried = heat.carried_by_air(flow, rise) + air.conductance * rise
    said = f"The room takes in {format_power(air.heat_sensible)}; air and walls carry {format_power(carried)} before it grows too warm."
    return Check("heat", True, air.heat_sensible <= carried, said, air.heat_sensible, carried, "W")


def leaves_flames_alone(brief: Brief, end: str) -> Check:
    """Fans that draw on the rest of the basement can pull the smoke of a burner back into it."""
    draws = end == "basement"
    burner = brief.shell.appliance
    if not draws or burner in ("none", "sealed"):
        return Check("flames", True, True, "It takes no air from a burner." if not draws else "No burner takes its air from the basement.")
    if burner == "unknown":
        return Check("flames", True, None, "Nobody knows yet whether a burner in the basement takes its air there: ask before any fan.")
    return Check("flames", True, False, "A burner in the basement takes its air there: no fan may draw on it.")


def may_end(brief: Brief, room: Room, air: AirResult, end: str) -> bool:
    """Ducts with fans may end there, outdoors | house | basement: no hard rule on the place, CO2 or flames fails. Source: those rules."""
    rules = (possible(brief, end), leaves_flames_alone(brief, end))
    return all(check.ok is not False for check in rules) and _can_hold(brief, room, air, end)


def _can_hold(brief: Brief, room: Room, air: AirResult, end: str) -> bool:
    """Whether the most that the ducts carry keeps a session under the CO2 limit: what ``holds_co2`` says, at a thirtieth of its work."""
    if end == "outdoors":
        return air.co2_steady <= brief.air.co2_limit + 0.5
    zone, most = source(brief, end, air), float(load("air_systems")["rule"]["most_flow"]) * air.fresh_air
    return zone.volume > 0.0 and zone.fresh > 0.0 and shared_peak(brief, room, air, zone, most) <= brief.air.co2_limit


def keeps_dry(air: AirResult, cooling: bool) -> Check:
    """In summer the room does not grow damp: a cooling coil takes water out, air alone does not."""
    season, limit = air.summer, float(load("air")["humidity"]["high"])
    if cooling:
        return Check("damp", False, True, "The cooling coil takes water out of the air.")
    said = f"On a summer day with people in it the room settles near {format_share(round(min(season.humidity, 1.0), 2))} relative humidity"
    ok = season.humidity <= limit
    return Check("damp", False, ok, said + ("." if ok else ": it needs a dehumidifier."), season.humidity, limit, "1")


def has_pressure(brief: Brief, supply: Run, extract: Run) -> Check:
    """The fan has the pressure that the ducts take."""
    worst = max(supply.pressure, extract.pressure)
    takes, left = (words.draught(each, brief.units) for each in (worst, supply.available))
    said = f"Ducts, grilles and boxes take {takes} of the {left} that the fan leaves for each way."
    return Check("pressure", False, worst <= supply.available, said, worst, supply.available, "Pa")


def is_quiet(found: Noise) -> Check:
    """Fan and air stay under the noise wanted in the room."""
    said = f"Its fan and air come to NC {max(found.nc, 0.0):.0f} in the room; wanted is NC {found.target:.0f}."
    return Check("noise", False, found.quiet, said, found.nc, found.target, "NC")


def lets_no_sound_out(most: float, listener: str) -> Check:
    """The path is not what misses a listener's target."""
    if most <= 0.0:
        return Check("sound out", False, True, "Sound through it is not what misses anyone's target.", most, 0.0, "dB")
    said = f"At the {listener} sound through it misses the target: a larger silencer box has to give up to {most:.0f} dB."
    return Check("sound out", False, False, said, most, 0.0, "dB")


def passive_pressure(rise: float, temperature: float) -> float:
    """Pressure [Pa] with which air that is warmer by ``rise`` [K] than a neighbour at degC moves through a low and a high opening.

    Source: stack effect, rho g h dT / T; height of data/duct_flow.toml.
    """
    height = float(load("duct_flow")["passive"]["height"])
    return float(load("air")["duct"]["air_density"]) * 9.81 * height * rise / (temperature + 273.15 + rise)


def passive_flow(brief: Brief, supply: Run, extract: Run, sensible: float) -> float:
    """Flow [m3/s] that the room's own heat [W] moves through two runs without a fan, at the rise in temperature that this flow leaves.

    The rise counts up to twice the one allowed.

    Source: stack pressure against the runs' pressure, which goes as the square of the flow; bisection.
    """
    most = 2.0 * float(load("air")["heat"]["temperature_rise"])
    takes = supply.pressure + extract.pressure

    def too_much(flow: float) -> bool:
        rise = min(sensible / heat.carried_by_air(flow, 1.0), most)
        return takes * (flow / supply.flow) ** 2 > passive_pressure(rise, brief.air.room_temperature)

    low, high = 1e-6, supply.flow
    for _ in range(40):
        middle = (low + high) / 2.0
        low, high = (low, middle) if too_much(middle) else (middle, high)
    return high
