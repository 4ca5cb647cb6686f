"""What the room itself hears of the house, way by way, for recording and mixing. Data: data/house_noise.toml.

Each function takes at most one choice of a scheme besides the brief, the room and the listener: the search in calc/choose.py rests on that.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import BANDS, EXACT_BANDS, a_weighted
from calc.brief import Brief, Listener, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.assembly import Assembly, Leaf
from calc.isolation.criteria import listener_kinds, octaves_to_thirds
from calc.isolation.duct_way import duct_uncertainty, duct_way, flow_noise, house_ducts_loss
from calc.isolation.flanking import flanking_uncertainty, lid_flanking
from calc.isolation.leaks import Leak, gaps_of_lid, gaps_of_wall
from calc.isolation.opening import door_loss, door_uncertainty, window_loss
from calc.isolation.path import Loss, Path, Together, db, each, house, in_room, kept, one_of
from calc.isolation.predict import transmission_loss
from calc.scheme import AirPathOption, DoorOption, LidOption, Ply, WallOption

Spectrum = NDArray[np.float64]


def _data() -> dict[str, Any]:
    return load("house_noise")


def absorption(brief: Brief, listener: Listener) -> float:
    """Absorption area [m2] of the treated room itself, 0.16 V/T, V a share of the area that it may take: the same for every scheme.

    Source: Sabine; share and reverberation time of data/criteria.toml (common practice, no source).
    """
    row, shell = listener_kinds()[listener.kind], brief.shell
    return float(0.16 * row["volume_share"] * shell.length * shell.width * shell.height / row["reverberation"])


@cache
def _noise(table: str, key: str, level: float | None = None) -> Spectrum:
    """Band levels (21,) [dB] of a row of the data with an A-weighted total of ``level``, or of the row's own; read-only."""
    row = _data()[table][key]
    if "shape" in row:
        shape = np.array(load("sources")["shape"][row["shape"]]["levels"], dtype=np.float64)
    else:
        shape = row["slope"] * np.log2(BANDS / 1000.0)
    levels = np.asarray(shape - a_weighted(shape) + (row["level"] if level is None else level), dtype=np.float64)
    levels.setflags(write=False)
    return levels


def voices() -> Spectrum:
    """Voices and television in a room of the house or next door (21,) [dB]. Source: data/house_noise.toml."""
    return _noise("noise", "voices")


def street(brief: Brief) -> Spectrum:
    """Outdoors before the wall (21,) [dB]. Source: shape of ISO 717-1 spectrum 2; level of the brief."""
    return _noise("noise", "street", brief.house.outdoors)


def basement(brief: Brief) -> Spectrum | None:
    """What runs in the rest of the basement (21,) [dB]; None where nothing does. Source: data/house_noise.toml."""
    return _noise("machine", brief.house.machine) if "level" in _data()["machine"][brief.house.machine] else None


def _machine(brief: Brief) -> str:
    return str(_data()["machine"][brief.house.machine]["text"])


def _spread(own: Spectrum | float) -> Spectrum:
    """Uncertainty of a way (21,) [dB] with that of the noise itself."""
    return np.asarray(np.hypot(np.zeros(BANDS.size) + own, _data()["std_uncertainty"]))


def _gaps(brief: Brief, listener: Listener, noise: Spectrum, leak: Leak, name: str) -> Path | None:
    """What comes through the gaps of a lid or wall; None where there are none."""
    if np.all(leak.area <= 0.0):
        return None
    return Path(name, in_room(noise, leak.tl, leak.area, absorption(brief, listener)), _spread(leak.uncertainty), "leak")


# ---- through the lid


@cache
def step_force(walker: str, floor_above: str) -> Spectrum:
    """A step's force against a blow of the tapping machine's (21,) [dB], in energy a step over energy a blow; read-only.

    ``walker`` is not nobody. Source: data/house_noise.toml (momentum and width of the pulse, from memory).
    """
    row = _data()["walker"][walker]
    blows = _data()["walker"][row["on_carpet"]]["blows"] if floor_above == "carpet" else row["blows"]
    energy = sum(momentum**2 / (1.0 + 2.0 * np.pi**2 * (EXACT_BANDS * width) ** 6) for momentum, width in blows)
    force = np.asarray(10.0 * np.log10(energy / _data()["steps"]["hammer_momentum"] ** 2))
    force.setflags(write=False)
    return force


def footfall(brief: Brief, listener: Listener, loss: Loss) -> Path | None:
    """Steps overhead, heard through the lid, as the fast maximum of one step; None where nobody walks.

    The normalised level of a short-blow tapping machine follows from the lid's transmission loss by reciprocity; a step's force is set
    against the machine's, and one step within the fast time constant against the machine's blows a second. Much less certain than
    airborne sound. Source: Heckl & Rathe 1963, from memory; data/house_noise.toml.
    """
    steps = _data()["steps"]
    if not _data()["walker"][brief.house.walking]["blows"]:
        return None
    tapping = steps["reciprocity"] + 30.0 * np.log10(EXACT_BANDS) - loss.tl
    one_step = step_force(brief.house.walking, brief.shell.floor_above) - 10.0 * np.log10(steps["hammer_rate"] * steps["fast"])
    level = tapping + one_step + 10.0 * np.log10(10.0 / absorption(brief, listener))
    return Path("steps overhead, through the lid", level, np.hypot(loss.uncertainty, steps["std_uncertainty"]), "steps")


@cache
def _boxed(plies: tuple[Ply, ...], damped: bool, filled: bool, support: str) -> Spectrum:
    """What the boards of a lid take off a pipe above them (21,) [dB]; read-only."""
    row = _data()["drain"]
    loss = transmission_loss([Assembly("boards", "wall", (Leaf(plies, damped),), ())])[0]
    absorbed = octaves_to_thirds(row["bands"], row["absorption_filled" if filled else "absorption_empty"])
    found = np.asarray(np.clip(loss + 10.0 * np.log10(absorbed), 0.0, row["most"][support]))
    found.setflags(write=False)
    return found


def drain(brief: Brief, lid: LidOption | Together[LidOption]) -> Path | None:
    """A drain in the joists over the room, boxed in by the lid's boards; None where there is none. Source: data/house_noise.toml."""
    if brief.house.plumbing == "no":
        return None
    row = _data()["drain"]
    pipe = octaves_to_thirds(row["bands"], row["shape"])
    pipe = pipe - a_weighted(pipe) + row["level"]
    boxed = each(lid, lambda one: _boxed(one.plies, one.damped, one.fill_thickness > 0.0, one.support))
    return Path("drain in the joists, through the boards of the lid", pipe - boxed, np.full(BANDS.shape, row["std_uncertainty"]))


def lid_inside(brief: Brief, room: Room, listener: Listener, lid: LidOption | Together[LidOption], loss: Loss) -> tuple[Path, ...]:
    """Ways through, round and past the lid: voices, steps, a drain. Levels and uncertainties as calc.isolation.path."""
    area, absorbed = room.floor_area, absorption(brief, listener)
    through = in_room(voices(), loss.tl, area, absorbed)
    round_it = in_room(voices(), each(lid, lid_flanking), area, absorbed)
    return kept(
        Path("voices and television overhead, through the lid", through, _spread(loss.uncertainty), loss.doubt),
        Path("voices and television overhead, through the joists", round_it, _spread(flanking_uncertainty()), "flanking"),
        _gaps(brief, listener, voices(), gaps_of_lid(brief, room, lid), "voices and television overhead, through gaps round the lid"),
        footfall(brief, listener, loss),
        drain(brief, lid),
    )


# ---- through the walls, the door, the air path and the window


def wall_inside(
    brief: Brief, room: Room, listener: Listener, kind: SideKind, wall: WallOption | Together[WallOption], loss: Loss
) -> tuple[Path, ...]:
    """Ways through all sides of one kind: the basement through the open side, the street above ground, the neighbours' voices.

    The door's hole is not taken out of the open side; the gaps of a lining count for nothing before the wall that stands.
    Levels as calc.isolation.path; street level at the wall, EN 12354-3.
    """
    area = room.height * sum(room.side_length(side.number) for side in brief.shell.sides if side.kind is kind)
    noise: Spectrum | None = None
    if kind is SideKind.OPEN:
        noise, name = basement(brief), f"{_machine(brief)}, through the wall to the rest of the basement"
    elif kind is SideKind.FOUNDATION_ABOVE:
        noise, name, area = street(brief), "street, through the foundation wall above ground", area * house()["above_ground"]
    elif kind is SideKind.PARTY:
        noise, name = voices(), "the neighbours' voices and television, through the party wall"
    if noise is None or area <= 0.0:
        return ()
    return kept(
        Path(name, in_room(noise, loss.tl, area, absorption(brief, listener)), _spread(loss.uncertainty), loss.doubt),
        _gaps(brief, listener, noise, gaps_of_wall(brief, room, kind, wall), f"{name}, by its gaps") if kind is SideKind.OPEN else None,
    )


def door_inside(brief: Brief, listener: Listener, door: DoorOption | Together[DoorOption]) -> tuple[Path, ...]:
    """What runs in the rest of the basement, through the door. Levels as calc.isolation.path."""
    noise = basement(brief)
    if noise is None:
        return ()
    tl, area = each(door, lambda one: door_loss(one.id)), each(door, lambda one: one.area)
    level = in_room(noise, tl, area, absorption(brief, listener))
    return (Path(f"{_machine(brief)}, through the door", level, _spread(door_uncertainty()), "door"),)


def air_inside(brief: Brief, listener: Listener, option: AirPathOption | Together[AirPathOption]) -> tuple[Path, ...]:
    """Along the ducts from where they end: the rest of the basement, outdoors, or the house's own ducts with the voices and the fan in
    them; what runs in the basement, through the walls of the ducts; and the air in their elbows. The room's own fan is not in it.
    """
    way, running, machine, end = duct_way(brief, option), basement(brief), _machine(brief), one_of(option)

    def path(noise: Spectrum | None, loss: Spectrum, name: str, house_ducts: bool = False) -> Path | None:
        if noise is None:
            return None
        level = in_room(noise, loss, way.area, absorption(brief, listener))
        return Path(name, level, _spread(duct_uncertainty(house=house_ducts)), "duct")

    air = each(option, lambda one: flow_noise(brief, one)) + db(4.0 / absorption(brief, listener))
    found = [path(running, way.casing, f"{machine}, through the walls of the ducts")]
    found.append(Path("air in the elbows of the ducts", air, _spread(duct_uncertainty())))
    if end.house_ducts:
        found.append(path(voices(), way.mouth + house_ducts_loss(), "voices and television overhead, through the house's ducts", True))
        found.append(path(_air_handler(brief), way.mouth, "the house's fan, along the ducts"))
    elif end.fan_unit:
        found.append(path(street(brief), way.mouth, "street, along the ducts"))
    else:
        found.append(path(running, way.mouth, f"{machine}, along the ducts"))
    return kept(*found)


def _air_handler(brief: Brief) -> Spectrum | None:
    """The house's fan in its main duct (21,) [dB]; None where nothing runs while the room is used."""
    return _noise("noise", "air_handler") if brief.house.machine != "none" else None


def fixed_inside(brief: Brief, listener: Listener) -> tuple[Path, ...]:
    """What no choice changes: the street through an escape window with its second sash."""
    shell = brief.shell
    area = shell.escape_width * shell.escape_height if shell.escape == "window" else 0.0
    if area <= 0.0:
        return ()
    level = in_room(street(brief), window_loss(), area, absorption(brief, listener))
    return (Path("street, through the escape window", level, _spread(door_uncertainty()), "door"),)
