"""The silencer box between fan and duct that fan noise asks for: a part of every air path, in the bill as in the room's noise."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.brief import Brief
from calc.catalogue import load
from calc.isolation.duct_way import Box, DuctSize, box, box_loss, box_of, duct_loss, duct_size, needed, way_length
from calc.scheme import AirPathOption
from calc.ventilation import noise, run

Spectrum = NDArray[np.float64]


def chambers(option: AirPathOption, at_fan: Box | None) -> int:
    """Chambers that the air of one duct goes through. Source: those of the path, and of the box at its fan."""
    return (option.chambers if option.silencer_box else 0) + (at_fan.chambers if at_fan is not None else 0)


def room_noise(
    size: DuctSize, option: AirPathOption, length: float, at_fan: Box | None, flow: float, pressure: float, target: float, volume: float
) -> noise.Noise:
    """Noise of fan and air in a room of a volume [m3]: ducts of a length [m] with a box at the fan, flow m3/s, ``pressure`` [Pa] of the
    run, the NC wanted. Two fans, or one unit heard from both ways.

    A house's blower sends the ducts the share of its power that they take of its flow. Source: calc.ventilation.noise; duct_path.
    """
    row, opening = load("duct_flow")["fan"][run.end_of(option)], size.side**2
    along = duct_loss(size, option, length)
    for made in (box(size, option), at_fan):
        along = along if made is None else along + box_loss(made, opening)
    diameter, ways = size.side * float(np.sqrt(4.0 / np.pi)), int(load("ducts")["ways"])
    through = float(row.get("flow", flow))
    power = noise.fan_power(through, pressure + float(row["inside"]), row["kind"]) + 10.0 * np.log10(ways)
    fan = noise.in_room(power, along, diameter, volume, min(flow / through, 1.0))
    moving = noise.air_power(flow, size.runs, size.side, option.elbows) + 10.0 * np.log10(ways)
    return noise.judge(fan, noise.in_room(moving, np.zeros(7), diameter, volume), target)


def fan_box(brief: Brief, option: AirPathOption) -> Box | None:
    """The smallest box of data/ducts.toml on each duct at its fan that keeps the room within the NC wanted; None where none is needed,
    the largest where none is enough. What it takes from sound on its way out is not counted on, which is careful.

    Raises as duct_way.duct_size and run.run. Source: ``room_noise``; the inner room as a share of the shell: data/duct_flow.toml.
    """
    air, shell = needed(brief), brief.shell
    volume = float(load("duct_flow")["room"]["share"]) * shell.length * shell.width * shell.height
    size, alike = duct_size(brief, option), replace(option, id="", label="", enclosed=False)
    return _fan_box(size, alike, way_length(brief, option), air.fresh_air, air.duct_velocity, float(air.noise_target), volume)


@lru_cache(maxsize=1024)
def _fan_box(size: DuctSize, option: AirPathOption, length: float, flow: float, speed: float, target: float, volume: float) -> Box | None:
    sizes = [box_of(size, row) for row in load("ducts")["box"]["size"].values()]
    made = None
    for made in (None, *sorted(sizes, key=lambda each: float(np.prod(each.outside)))):
        pressure = run.run(run.SUPPLY, flow, size.runs, size.side, option, length, speed, chambers(option, made)).pressure
        if room_noise(size, option, length, made, flow, pressure, target, volume).quiet:
            break
    return made
