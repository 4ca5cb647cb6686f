"""Reverberation time: what the bare room has, what the use wants."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from calc.acoustics.porous import octave_absorption
from calc.brief import Use
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.parameters import SPEED_OF_SOUND
from calc.scheme import FloorOption

Array = NDArray[np.float64]
DECAY = 24.0 * float(np.log(10.0)) / SPEED_OF_SOUND  # s/m: 0.161 in 0.161 V/A
FULLEST = 0.99  # mean absorption coefficient beyond which Eyring's logarithm is not taken


def octaves() -> Array:
    """Octave bands [Hz] of all absorption data (6,)."""
    return np.array(load("acoustics")["bands"])


def sabine_time(volume: float, absorption: Array | float, air: Array | float = 0.0, decay: float = DECAY) -> Array:
    """Reverberation time [s] of ``volume`` m3 with an absorption area A [m2] of any shape: decay V / (A + 4mV); air m 1/m.

    Source: Sabine; EN 12354-6:2003 formulas 1 and 5, where the factor is 55.3/c0.
    """
    return np.asarray(decay * volume / (np.asarray(absorption, dtype=np.float64) + 4.0 * np.asarray(air) * volume), dtype=np.float64)


def absorption_for(volume: float, time: float, decay: float = DECAY) -> float:
    """Absorption area [m2] at which ``volume`` m3 rings for ``time`` s by Sabine."""
    return decay * volume / time


def eyring_time(volume: float, surface: float, absorption: Array | float, air: Array | float = 0.0, decay: float = DECAY) -> Array:
    """Reverberation time [s] by Eyring: decay V / (-S ln(1 - A/S) + 4mV); surface m2, absorption area A m2, air m 1/m.

    It falls to Sabine's in a live room and below it in a dead one. A room of more absorption than surface counts as 99 % absorbing.
    Source: Eyring, J. Acoust. Soc. Am. 1 (1930) 217.
    """
    mean = np.minimum(np.asarray(absorption, dtype=np.float64) / surface, FULLEST)
    return np.asarray(decay * volume / (-surface * np.log1p(-mean) + 4.0 * np.asarray(air) * volume), dtype=np.float64)


@cache
def floor_surface(floor: FloorOption) -> str:
    """Which surface of data/acoustics.toml lies on top of a floor finish; a hard floor where it is not known."""
    tops = [layer.name for layer in reversed(floor.layers)]
    surfaces = load("acoustics")["surface"]
    return next((key for top in tops[:1] for key, row in surfaces.items() if top in row.get("tops", ())), "hard_floor")


def surface_absorption(key: str) -> Array:
    """Absorption coefficients (6,) of a surface. Raises KeyError for an unknown key. Source: data/acoustics.toml."""
    return np.array(load("acoustics")["surface"][key]["absorption"])


@cache
def _treatment_absorption(key: str) -> tuple[float, ...]:
    row = load("acoustics")["treatment"][key]
    if row["source"] != "porous":
        return tuple(row["absorption"])
    return tuple(octave_absorption(octaves(), row["thickness"], row["gap"], row["resistivity"]).tolist())


def treatment_absorption(key: str) -> Array:
    """Absorption coefficients (6,) of a treatment, tabled or computed. Raises KeyError for an unknown key. Source: data/acoustics.toml."""
    return np.array(_treatment_absorption(key))


def bare_absorption(room: Room, floor: FloorOption) -> Array:
    """Absorption area (6,) [m2] of lined walls, lid and floor, nobody in the room. Source: data/acoustics.toml."""
    lined = (room.wall_area + room.floor_area) * surface_absorption("lining")
    return np.asarray(lined + room.floor_area * surface_absorption(floor_surface(floor)), dtype=np.float64)


def room_time(room: Room, absorption: Array) -> Array:
    """Reverberation time (..., 6) [s] by Sabine of a room with absorption areas (..., 6) [m2], the air's included.

    Coefficients measured to ISO 354 are Sabine's own, and mirror images in a bare rectangular room decay nearer to Sabine's time than to
    Eyring's, which is shorter (tests/published, pyroomacoustics). Source: EN 12354-6:2003.
    """
    return sabine_time(room.volume, absorption, np.array(load("acoustics")["air_attenuation"]))


def room_time_eyring(room: Room, absorption: Array) -> Array:
    """As ``room_time`` by Eyring: what a perfectly diffuse room would have, the short end of what to expect."""
    surface = room.wall_area + 2.0 * room.floor_area
    return eyring_time(room.volume, surface, absorption, np.array(load("acoustics")["air_attenuation"]))


def control_room_time(volume: float) -> float:
    """Mean reverberation time [s] of a control or listening room of ``volume`` m3: 0.25 (V/100)^(1/3).

    Source: ITU-R BS.1116-3; EBU Tech 3276.
    """
    target = load("acoustics")["target"]
    return float(target["control_time"] * (volume / target["control_volume"]) ** (1.0 / 3.0))


def is_control_room(use: Use) -> bool:
    """The room is for listening over loudspeakers."""
    return bool(use.source == load("acoustics")["layout"]["control_source"])


def target_time(use: Use, volume: float) -> float:
    """Reverberation time [s] wanted for a use in ``volume`` m3, mean of the octaves 250 to 4000 Hz.

    Source: as ``control_room_time`` for mixing; else common practice, no source (data/acoustics.toml).
    """
    if is_control_room(use):
        return control_room_time(volume)
    target = load("acoustics")["target"]
    times = target["recording" if use.recording else "time"]
    return float(times.get(use.source, times["other"]) * (volume / target["playing_volume"]) ** (1.0 / 3.0))


def target_tolerance(use: Use, volume: float) -> float:
    """How far [s] an octave from 250 Hz up may lie from ``target_time``. Source: data/acoustics.toml."""
    target = load("acoustics")["target"]
    if is_control_room(use):
        return float(target["control_tolerance"])
    return float(target["playing_tolerance"]) * target_time(use, volume)


def target_times(use: Use, volume: float) -> Array:
    """``target_time`` in each octave (6,) [s], the lowest let ring longer. Source: data/acoustics.toml."""
    times = np.full(len(octaves()), target_time(use, volume))
    times[0] *= load("acoustics")["target"]["bass_rise"]
    return times
