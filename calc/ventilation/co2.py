"""CO2 that people give off and what it does in a room over time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.catalogue import load

PPM = 1e6


@dataclass(frozen=True)
class Interval:
    """A stretch of a session in which nothing changes: its length [h] and the people in the room."""

    hours: float
    people: int


def generation(met: float, mass: float | None = None) -> float:
    """CO2 one adult gives off [m3/s] at a metabolic rate [met]; body mass kg, the careful one of data/air.toml unless given.

    Stated at 0 degC and 101 kPa as the source tabulates it; at room temperature the volume is 7 % larger.
    Source: Persily & de Jonge, Indoor Air 27 (2017) 868-879, with Schofield's basal rate (from memory; data/air.toml).
    """
    person = load("air")["person"]
    slope, offset = person["schofield"]
    basal = slope * (person["mass"] if mass is None else mass) + offset  # MJ/day
    return float(person["co2_per_bmr_met"] * basal * met) / 1000.0


def generation_by_body_surface(met: float, surface: float = 1.8, quotient: float = 0.83) -> float:
    """CO2 one adult gives off [m3/s] by body surface [m2] and respiratory quotient: the older form, about 7 % above ``generation``.

    Source: ASTM D6245 before 2018; ASHRAE Handbook Fundamentals chapter 9.
    """
    return 0.00276 * surface * met * quotient / (0.23 * quotient + 0.77) / 1000.0


def steady(flow: float, given_off: float, outdoor: float) -> float:
    """CO2 [ppm] a room settles at: fresh air and CO2 given off m3/s, outdoor ppm. Infinite without fresh air.

    Source: mass balance of a well-mixed room.
    """
    return outdoor + PPM * given_off / flow if flow > 0.0 else math.inf


def curve(
    hours: NDArray[np.float64], flow: float, given_off: float, volume: float, outdoor: float, start: float | None = None
) -> NDArray[np.float64]:
    """CO2 [ppm] at times (n,) [h] after people enter: flow and CO2 given off m3/s, volume m3; ``start`` is outdoor air unless given.

    Exact solution of the well-mixed balance C = Css + (C0 - Css) exp(-Q t / V), written so that it stays exact as the flow goes to zero.
    """
    first = outdoor if start is None else start
    seconds = 3600.0 * np.asarray(hours, dtype=np.float64)
    changes = flow * seconds / volume  # air changes since the start
    fresh = -np.expm1(-changes)  # share of the air that is no longer the first
    collected = np.divide(fresh, changes, out=np.ones_like(fresh), where=changes > 0.0)  # tends to 1: all of it stays
    return np.asarray(first + (outdoor - first) * fresh + PPM * given_off * seconds / volume * collected)


def flow_to_hold(limit: float, given_off: float, outdoor: float) -> float:
    """Fresh air [m3/s] that holds CO2 at a limit [ppm] for ever. Raises ValueError when the limit is not above outdoor air.

    Source: mass balance of a well-mixed room.
    """
    if limit <= outdoor:
        raise ValueError(f"a CO2 limit of {limit:.0f} ppm is not above outdoor air, {outdoor:.0f} ppm")
    return PPM * given_off / (limit - outdoor)


def sealed_minutes(limit: float, given_off: float, volume: float, outdoor: float) -> float:
    """Minutes until CO2 reaches a limit [ppm] with no fresh air at all; infinite with nobody in the room.

    Source: mass balance of a well-mixed room.
    """
    return (limit - outdoor) * volume / (PPM * given_off) / 60.0 if given_off > 0.0 else math.inf


def session(
    intervals: Sequence[Interval], flow: float, each: float, volume: float, outdoor: float, step: float = 1.0 / 30.0
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Times (n,) [h] and CO2 (n,) [ppm] of a session with arrivals and breaks; the ends of its intervals are among the times.

    Fresh air [m3/s] runs throughout; ``each`` is what one person gives off [m3/s]; volume m3; at most ``step`` [h] between times. The room
    starts at outdoor air. Source: ``curve``, exact in every interval, which starts where the one before it ended.
    """
    times, levels, clock = [np.zeros(1)], [np.array([outdoor])], 0.0
    for interval in intervals:
        after = np.linspace(0.0, interval.hours, max(int(np.ceil(interval.hours / step)), 1) + 1)[1:]
        levels.append(curve(after, flow, interval.people * each, volume, outdoor, float(levels[-1][-1])))
        times.append(clock + after)
        clock += interval.hours
    return np.concatenate(times), np.concatenate(levels)


def minutes_to(limit: float, intervals: Sequence[Interval], flow: float, each: float, volume: float, outdoor: float) -> float:
    """Minutes until CO2 passes a limit [ppm] in a session; infinite when it never does. Arguments as ``session``.

    Source: ``curve`` solved for the time, t = -V/Q ln((Climit - Css) / (C0 - Css)), or the straight line of a room without fresh air.
    """
    level, clock = outdoor, 0.0
    for interval in intervals:
        given_off = interval.people * each
        reached = _hours_to(limit, level, flow, given_off, volume, outdoor)
        if reached <= interval.hours:
            return 60.0 * (clock + reached)
        level = float(curve(np.array([interval.hours]), flow, given_off, volume, outdoor, level)[0])
        clock += interval.hours
    return math.inf


def _hours_to(limit: float, first: float, flow: float, given_off: float, volume: float, outdoor: float) -> float:
    if first >= limit:
        return 0.0
    if flow <= 0.0:
        return (limit - first) * volume / (PPM * given_off) / 3600.0 if given_off > 0.0 else math.inf
    settled = steady(flow, given_off, outdoor)
    return -volume / flow * math.log((settled - limit) / (settled - first)) / 3600.0 if settled > limit else math.inf


def flow_for_session(limit: float, intervals: Sequence[Interval], each: float, volume: float, outdoor: float) -> float:
    """Least fresh air [m3/s] with which this very session never passes a limit [ppm]; 0 where the room alone is large enough.

    Never more than ``flow_to_hold`` for the fullest interval. Raises ValueError as that. Source: bisection on ``minutes_to``.
    """
    high = flow_to_hold(limit, max((interval.people for interval in intervals), default=0) * each, outdoor)
    low = 0.0
    if math.isinf(minutes_to(limit, intervals, 0.0, each, volume, outdoor)):
        return 0.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (low, middle) if math.isinf(minutes_to(limit, intervals, middle, each, volume, outdoor)) else (middle, high)
    return high


def two_zones(
    hours: NDArray[np.float64],
    start: tuple[float, float],
    volumes: tuple[float, float],
    exchange: float,
    fresh: tuple[float, float],
    entering: tuple[float, float],
    given_off: tuple[float, float],
) -> NDArray[np.float64]:
    """CO2 (n, 2) [ppm] of a room and of the zone that it shares its air with, at times (n,) [h].

    ``exchange`` m3/s goes both ways between them; ``fresh`` m3/s enters each from elsewhere at ``entering`` ppm; ``given_off``
    m3/s of CO2 in each; volumes m3.

    Raises ValueError unless air from elsewhere reaches both. Source: balance of two well-mixed zones, solved exactly by
    the eigenvectors of its 2 by 2 matrix.
    """
    if max(fresh) <= 0.0 or (exchange <= 0.0 and min(fresh) <= 0.0):
        raise ValueError("two zones settle only where air from elsewhere reaches both")
    matrix, rates, vectors = _balance(volumes, exchange, fresh)
    source = (np.array(fresh) * np.array(entering) + PPM * np.array(given_off)) / np.array(volumes)
    settled = np.linalg.solve(matrix, -source)
    weights = np.linalg.solve(vectors, np.array(start) - settled)
    decay = np.exp(3600.0 * np.outer(np.asarray(hours, dtype=np.float64), rates))
    return np.asarray(settled + (decay * weights) @ vectors.T, dtype=np.float64)


@lru_cache(maxsize=64)
def _balance(
    volumes: tuple[float, float], exchange: float, fresh: tuple[float, float]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """The matrix (2, 2) [1/s] of ``two_zones``, its eigenvalues and eigenvectors: the same in every interval of a session. Kept."""
    own = np.array(fresh)
    matrix = (exchange * np.array([[-1.0, 1.0], [1.0, -1.0]]) - np.diag(own)) / np.array(volumes)[:, None]
    rates, vectors = (each.real for each in np.linalg.eig(matrix))  # real: both zones give each other the same; newer numpy says complex
    return matrix, rates, vectors
