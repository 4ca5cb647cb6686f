"""The air path worked out: ducts and grilles with their pressure, noise in the room, and the silencer box that keeps it under the wall.

It needs the isolation of the scheme, and calc.isolation needs the room's air, so this stands apart from calc.ventilation.air.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, EXACT_BANDS, a_weighted, energy_sum
from calc.brief import ITSELF, Brief, Listener
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation import duct_path
from calc.isolation.duct_way import Box, DuctSize, box, box_loss, duct_size, duct_walls, duct_way, way_length
from calc.isolation.listener import IsolationResult, ListenerResult
from calc.materials.items import items
from calc.next_steps import HEARD
from calc.scheme import AirPathOption
from calc.ventilation import duct, fan_box, noise, run, silencer
from calc.ventilation.air import AirResult

Spectrum = NDArray[np.float64]
AIR, CASING, TRUNK = "air path", "through its walls", "through the walls of the house's ducts"
NOT_SHELL = (AIR, "door", "escape window", "gaps")  # how the names of other ways begin; what is left is walls, lid and structure


@dataclass(frozen=True)
class Needs:
    """What the air path lacks (21,) [dB], never below 0, through its far end and through its walls, so that every listener whose target it
    helps to miss hears it at least 6 dB under the walls and the lid in every band; ``listener``: who asks most, "" where nobody."""

    mouth: Spectrum
    walls: Spectrum
    listener: str

    @property
    def met(self) -> bool:
        """The path as chosen does it."""
        return not (np.any(self.mouth > 0.0) or np.any(self.walls > 0.0))


@dataclass(frozen=True)
class AirDesign:
    """Supply and return as runs, how they balance, noise in the room, what the path lacks against the wall, and the box designed for it,
    None where no box is needed; ``at_fan``: the box that fan noise asks for, in the bill of the path; ``wider``: the smallest ducts whose
    pressure the fan has, None where those planned do or none is sold."""

    supply: run.Run
    extract: run.Run
    balance: run.Balance
    noise: noise.Noise
    needs: Needs
    silencer: silencer.Silencer | None
    wider: DuctSize | None
    at_fan: Box | None


def design(
    brief: Brief, room: Room, option: AirPathOption, air: AirResult, isolation: IsolationResult, door_gaps: float = 0.0
) -> AirDesign:
    """The air path of a scheme worked out; ``door_gaps`` m2 round the room's door.

    Raises as duct_way.duct_size, run.run and silencer.smallest. Source: each function called."""
    size = duct_size(brief, option)
    supply, extract = runs(brief, option, air, size)
    needs = lacking(isolation.listeners)
    return AirDesign(
        supply=supply,
        extract=extract,
        balance=run.balance(supply, extract, door_gaps),
        noise=room_noise(brief, room, option, air, size, supply.pressure),
        needs=needs,
        silencer=None if needs.met else designed_box(brief, option, size, needs),
        wider=None if supply.enough and extract.enough else wider(brief, option, air, size),
        at_fan=fan_box.fan_box(brief, option),
    )


def wider(brief: Brief, option: AirPathOption, air: AirResult, size: DuctSize) -> DuctSize | None:
    """The smallest ducts sold, by free area, that are no narrower than those of a size and whose pressure the fan has; None where there are
    none. Source: ``runs``; sizes of data/items.toml."""
    lining = (size.casing - size.side) / 2.0
    bores = sorted({float(each.facts["bore"]) for each in items().values() if each.facts.get("part") == "duct"})
    sizes = [DuctSize(ducts, bore - 2.0 * lining, bore) for ducts in (1, 2, 3, 4) for bore in bores if bore > 2.0 * lining]
    for each in sorted((one for one in sizes if one.area >= size.area), key=lambda one: one.area):
        if all(way.enough for way in runs(brief, option, air, each)):
            return each
    return None


def runs(brief: Brief, option: AirPathOption, air: AirResult, size: DuctSize, fan: bool = True) -> tuple[run.Run, run.Run]:
    """Supply and return of an air path at the size that its sound is computed with, with the box at its fan unless it has none.

    Raises as run.run. Source: that.
    """
    chambers = fan_box.chambers(option, fan_box.fan_box(brief, option) if fan else None)
    reach = way_length(brief, option)
    quick = duct.quiet_return_speed(air.noise_target)
    return (
        run.run(run.SUPPLY, air.fresh_air, size.runs, size.side, option, reach, air.duct_velocity, chambers),
        run.run(run.RETURN, air.fresh_air, size.runs, size.side, option, reach, quick, chambers),
    )


def room_noise(brief: Brief, room: Room, option: AirPathOption, air: AirResult, size: DuctSize, pressure: float) -> noise.Noise:
    """Noise of fan and air in the room: ``pressure`` [Pa] that the run takes. Source: fan_box.room_noise, the box at the fan in."""
    at_fan, length = fan_box.fan_box(brief, option), way_length(brief, option)
    return fan_box.room_noise(size, option, length, at_fan, air.fresh_air, pressure, float(air.noise_target), room.volume)


class Heard(Protocol):
    """A way and its level at a listener: calc.isolation's Path or PathLevel."""

    @property
    def name(self) -> str: ...
    @property
    def levels(self) -> Spectrum: ...


def lacking(listeners: Sequence[ListenerResult], air: Callable[[Listener], Sequence[Heard]] | None = None) -> Needs:
    """What the air path lacks at the listeners, the room itself left out; ``air`` gives the ways of another air path to a listener.

    It lacks nothing at a listener whose target is kept, nor where the margin would not be heard to grow without any air path: a better one
    would not be worth its money there, and calc.next_steps says so. Allowed is what comes through walls, lid and structure less 6 dB, half
    of it for each of its two ways; nobody is asked for more than 10 dB under what a listener is allowed at all. Source: energy sum; margins
    of data/duct_flow.toml.
    """
    row = load("duct_flow")["silencer"]
    mouth, walls, worst, name = np.zeros(BANDS.size), np.zeros(BANDS.size), 0.0, ""
    for each in listeners:
        shell = [path.levels for path in each.paths if not path.name.startswith(NOT_SHELL)]
        if each.listener.kind == ITSELF or not shell:
            continue
        ways = [path for path in (each.paths if air is None else air(each.listener)) if path.name.startswith(AIR)]
        if not _to_blame(each, ways):
            continue
        wanted = np.maximum(energy_sum(np.stack(shell), axis=0) - row["below"], each.target_levels - row["audible"]) - row["share"]
        own = [np.zeros(BANDS.size), np.zeros(BANDS.size)]
        for path in ways:
            which = 1 if CASING in path.name else 0
            own[which] = np.maximum(own[which], path.levels - wanted)
        mouth, walls = np.maximum(mouth, own[0]), np.maximum(walls, own[1])
        most = float(max(own[0].max(), own[1].max()))
        if most > worst:
            worst, name = most, each.listener.label
    return Needs(mouth, walls, name)


def _to_blame(heard: ListenerResult, ways: Sequence[Heard]) -> bool:
    """A listener's target is missed, and without the air path's ways its margin would grow by what can be heard."""
    rest = energy_sum(np.stack([path.levels for path in heard.paths if not path.name.startswith(AIR)]), axis=0)
    with_it = energy_sum(np.stack([rest, *(path.levels for path in ways)]), axis=0)
    now, without = (min(float((heard.target_levels - levels).min()), heard.target_dba - a_weighted(levels)) for levels in (with_it, rest))
    return now < 0.0 and without - now >= HEARD


def designed_box(brief: Brief, option: AirPathOption, size: DuctSize, needs: Needs) -> silencer.Silencer:
    """The smallest box that makes an air path do what it lacks, in place of the box that it has.

    Its walls must lose as much as those of the path as chosen, and what that lacks, counted from the room; the walls of the
    duct behind it are helped by the box too. Raises as ``silencer.smallest``. Source: that; calc.isolation.duct_way.
    """
    made, length, found = box(size, option), way_length(brief, option), []
    has = np.zeros(7) if made is None else box_loss(made, size.side**2)
    asked = has + silencer.octaves_needed(needs.mouth)
    if not np.any(needs.walls > 0.0):
        return silencer.smallest(asked, size.side)
    entry = duct_path.gathering(size.side * float(np.sqrt(4.0 / np.pi)), EXACT_BANDS)
    walls = duct_way(brief, option).casing + entry + needs.walls
    for enclosed in {option.enclosed, True}:
        of_duct = duct_walls(size, option, length, enclosed)
        behind = np.maximum(asked, silencer.octaves_needed(walls + load("duct_flow")["silencer"]["share"] - of_duct))
        found.append(silencer.smallest(behind, size.side, walls, (enclosed,)))
    return min(found, key=silencer.rank)
