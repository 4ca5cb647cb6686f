"""The global constants of the isolation engine, from data/ties.toml, where each has its unit and source."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache

from calc.catalogue import load

SPEED_OF_SOUND = 343.0  # m/s, air at 20 degC
AIR_DENSITY = 1.204  # kg/m3, air at 20 degC
AIR_IMPEDANCE = AIR_DENSITY * SPEED_OF_SOUND


@dataclass(frozen=True)
class Parameters:
    """Names, units and sources: [constant] tables of data/ties.toml."""

    size: float
    size_opening: float
    air_attenuation: float
    open_attenuation: float
    attenuation_exponent: float
    reveal_attenuation: float
    resistance: float
    loss_board: float
    loss_deck: float
    loss_glass: float
    loss_laminated: float
    loss_metal: float
    loss_limp: float
    loss_damped: float
    loss_tie: float
    loss_bay: float
    orthotropy: float
    wood: float
    strapping: float
    steel: float
    staggered: float
    resilient: float
    furring: float
    clip: float
    rolloff: float
    mass_exponent: float
    bridge_gain: float
    bridge_joist: float
    bridge_point: float
    screws: float
    plate_one: float
    plate_two: float
    plate_free: float
    plate_rolloff: float
    masonry_cap: float
    block_pores: float
    masonry_attenuation: float


@cache
def parameters() -> Parameters:
    """The catalogue's constants."""
    table = load("ties")["constant"]
    return Parameters(**{field.name: float(table[field.name]["value"]) for field in fields(Parameters)})
