"""The whole way of sound along an air path, at the size that the room's air asks for. Data: data/ducts.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc import ventilation
from calc.bands import BANDS, EXACT_BANDS, OCTAVES, energy_sum
from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation import breakout
from calc.isolation import duct_path as parts
from calc.isolation.criteria import octaves_to_thirds
from calc.isolation.path import Together
from calc.kept import keep
from calc.materials.items import duct_item, largest_bore
from calc.materials.quantities import whole
from calc.scheme import AirPathOption
from calc.ventilation.air import AirResult

Spectrum = NDArray[np.float64]
NO_PATH = AirPathOption("none", "none", 0.0, 0.0, 0, False, False)  # the air a room needs is the same through every path


@dataclass(frozen=True)
class DuctSize:
    """Equal square ducts side by side for each of supply and extract: their number, the free side inside the lining and the side inside the
    sheet of one [m]."""

    runs: int
    side: float
    casing: float

    @property
    def area(self) -> float:
        """Free area of all ducts of supply and extract [m2]."""
        return int(_data()["ways"]) * self.runs * self.side**2


@dataclass(frozen=True)
class Box:
    """A silencer box: size of one chamber inside its lining [m], chambers in a row, thickness of lining [m], layers of panel."""

    length: float
    width: float
    height: float
    chambers: int
    lining: float
    layers: int

    @property
    def panel(self) -> float:
        """Thickness of its wall, lining apart [m]."""
        return self.layers * float(_data()["box"]["panel"])

    @property
    def outside(self) -> tuple[float, float, float]:
        """Length, width and height over all [m]; chambers share the wall between them, lined on both faces."""
        skin = 2.0 * self.lining + self.panel
        return self.chambers * (self.length + skin) + self.panel, self.width + skin + self.panel, self.height + skin + self.panel


@dataclass(frozen=True)
class DuctWay:
    """Free area of all ducts [m2], and what the sound loses against what falls on that area in the room (21,) [dB]: ``mouth`` to the far
    end of the ducts, its end reflection included where it is an open end; ``casing`` through the walls of ducts and boxes.

    Of several air paths: area (n, 1) and losses (n, 21)."""

    area: float | Spectrum
    mouth: Spectrum
    casing: Spectrum


def _data() -> dict[str, Any]:
    return load("ducts")


@keep(64)
def needed(brief: Brief) -> AirResult:
    """The air a room needs, whatever the path. The shell's own size stands for the room's: it is larger.

    Raises as ventilation.air. Source: calc.ventilation.
    """
    shell = brief.shell
    return ventilation.air(brief, Room(shell.length, shell.width, shell.height), NO_PATH)


@lru_cache(maxsize=256)
def square_ducts(area: float, lining: float) -> DuctSize:
    """Ducts to buy so that ``area`` [m2] is left free inside a lining [m]: one where the largest sold is enough, else equal ones.

    Raises ValueError for a lining that fills the largest duct. Source: geometry; sizes of data/items.toml.
    """
    room_left = largest_bore() - 2.0 * lining
    if room_left <= 0.0:
        raise ValueError(f"a lining of {lining * 1000:.0f} mm fills the largest duct")
    runs = max(1, whole(area / room_left**2))
    casing = float(duct_item("duct", float(np.sqrt(area / runs)) + 2.0 * lining).facts["bore"])
    return DuctSize(runs, casing - 2.0 * lining, casing)


def duct_size(brief: Brief, option: AirPathOption) -> DuctSize:
    """Ducts of an air path. Raises as ``needed`` and ``square_ducts``. Source: those."""
    return square_ducts(needed(brief).duct_area, option.lining if option.lined_length > 0.0 else 0.0)


def box(size: DuctSize, option: AirPathOption) -> Box | None:
    """The silencer box of each duct, None where there is none. Source: ratios of data/ducts.toml."""
    if not option.silencer_box:
        return None
    return box_of(size, {"chambers": option.chambers, "lining": option.box_lining, "layers": option.box_layers})


def box_of(size: DuctSize, kind: Mapping[str, Any]) -> Box:
    """A silencer box for a duct, of the chambers, lining and layers of a size in data/ducts.toml. Source: its ratios."""
    length, width, height = (float(ratio) * size.side for ratio in _data()["box"]["chamber"])
    return Box(length, width, height, int(kind["chambers"]), float(kind["lining"]), int(kind["layers"]))


def lining_absorption(thickness: float) -> Spectrum:
    """Absorption (7,) of a box's lining [m], octaves 63 to 4000 Hz, straight lines between those known. Source: data/ducts.toml."""
    row = _data()["box"]["absorption"]
    known = np.array(row["coefficients"], dtype=np.float64)
    return np.array([np.interp(thickness, row["thicknesses"], known[:, band]) for band in range(OCTAVES.size)])


def box_loss(made: Box, opening: float) -> Spectrum:
    """Loss (7,) [dB] of a box whose openings have a free area [m2]. Source: duct_path.silencer_box."""
    return parts.silencer_box(made.length, made.width, made.height, made.chambers, opening, lining_absorption(made.lining))


def way_length(brief: Brief, option: AirPathOption) -> float:
    """Length of one duct [m], room to far end: as far as it has to reach, and never less than what is lined. Source: data/ducts.toml."""
    return max(brief.air.duct_reach, option.lined_length, float(_data()["least_length"]))


def lined_part(option: AirPathOption) -> float:
    """Length of one duct that is lined [m]; it begins at the room. Source: its definition."""
    return option.lined_length if option.lining > 0.0 else 0.0


def _elbows_loss(size: DuctSize, option: AirPathOption) -> Spectrum:
    return option.elbows * parts.elbow(size.side, "square, lined" if lined_part(option) > 0.0 else "square, bare")


def duct_loss(size: DuctSize, option: AirPathOption, length: float) -> Spectrum:
    """Loss (7,) [dB] along one duct of a length [m] and its elbows, no box, no ends. Source: duct_path."""
    return parts.part_lined(size.side, size.side, lined_part(option), option.lining, length) + _elbows_loss(size, option)


def _thirds(octaves: Spectrum) -> Spectrum:
    return octaves_to_thirds(list(OCTAVES), list(octaves))


def through_wall(width: float, height: float, length: float, mass: float, inside: Spectrum, enclosed: bool) -> Spectrum:
    """Loss (21,) [dB] from what enters a duct or box to what its wall radiates; never a gain."""
    return _radiated(width, height, breakout.effective_length(length, inside), mass, enclosed)


def _radiated(width: float, height: float, effective: Spectrum, mass: float, enclosed: bool) -> Spectrum:
    wall, spread = _thirds(breakout.wall_loss(width, height, mass)), _thirds(breakout.radiating(width, height, effective))
    return np.asarray(np.maximum((breakout.enclosed(wall) if enclosed else wall) - spread, 0.0))


def duct_walls(size: DuctSize, option: AirPathOption, length: float, enclosed: bool) -> Spectrum:
    """Loss (21,) [dB] from what enters a duct of a length [m] to what its walls radiate, lined part and bare rest.

    Elbows are spread over the whole length. Boards stand round all of it. Source: calc.isolation.breakout, part by part.
    """
    lined, side = lined_part(option), size.side
    natural = (parts.bare_duct(side, side, length) + _elbows_loss(size, option)) / length
    first = natural * lined
    if lined > 0.0:
        ratio = parts.perimeter_over_area(side, side)
        first = first + (parts.lined_rate(ratio, option.lining / parts.INCH) - parts.unlined_rate(ratio)) * lined / parts.FOOT
    rest = 10.0 ** (-first / 10.0) * breakout.effective_length(length - lined, natural * (length - lined))
    effective = breakout.effective_length(lined, first) + rest
    return _radiated(size.casing, size.casing, effective, float(_data()["casing"]["sheet"]), enclosed)


def _passes(line: Spectrum, end: Spectrum) -> Spectrum:
    """What sound that runs to and fro between two equal open ends adds (21,) [dB]: loss along the duct and at an end (21,) [dB].

    Source: energy of all passes, 1 / (1 - r^2 exp(-2 a)); own derivation.
    """
    kept = (1.0 - 10.0 ** (-end / 10.0)) * 10.0 ** (-line / 10.0)
    return np.asarray(-10.0 * np.log10(1.0 - kept**2), dtype=np.float64)


@lru_cache(maxsize=1024)
def _way(size: DuctSize, option: AirPathOption, length: float) -> DuctWay:
    made, opening, diameter = box(size, option), size.side**2, size.side * float(np.sqrt(4.0 / np.pi))
    along, boxed = duct_loss(size, option, length), np.zeros(OCTAVES.size) if made is None else box_loss(made, opening)
    line, end = _thirds(along + boxed), parts.end_reflection(diameter, EXACT_BANDS)
    walls = [_thirds(boxed) + duct_walls(size, option, length, option.enclosed)]
    if made is not None:
        mass = made.layers * float(_data()["box"]["panel_mass"])
        walls.append(through_wall(made.width, made.height, made.length * made.chambers, mass, boxed, option.enclosed))
    entry = parts.gathering(diameter, EXACT_BANDS)
    mouth = line - entry if option.house_ducts else line + end - entry - _passes(line, end)
    casing = -energy_sum(-np.stack(walls), axis=0) - entry
    for spectrum in (mouth, casing):
        spectrum.setflags(write=False)
    return DuctWay(size.area, mouth, casing)


@lru_cache(maxsize=16)
def _ways(brief: Brief, options: Together[AirPathOption]) -> DuctWay:
    found = [duct_way(brief, option) for option in options.items]
    return DuctWay(np.array([[way.area] for way in found]), np.stack([way.mouth for way in found]), np.stack([way.casing for way in found]))


def duct_way(brief: Brief, option: AirPathOption | Together[AirPathOption]) -> DuctWay:
    """How sound gets along and out of an air path; its spectra are read-only. Raises as ``duct_size``.

    From the room: mouth, box at the shell, lined duct with elbows, bare duct as far as it reaches, far end. Source: the parts called.
    """
    if isinstance(option, Together):
        return _ways(brief, option)
    return _way(duct_size(brief, option), option, way_length(brief, option))


def flow_noise(brief: Brief, option: AirPathOption) -> Spectrum:
    """Sound power (21,) [dB] that the air itself makes in the elbows of supply and extract, none of it lost before it reaches the room.

    The fan's own noise is not in it. Without elbows, one stands for the turn into the grille. Raises as ``duct_size``. Source:
    duct_path.elbow_noise, an octave shared by its three bands.
    """
    size = duct_size(brief, option)
    section, count = size.side**2, int(_data()["ways"]) * size.runs * max(option.elbows, 1)
    power = parts.elbow_noise(needed(brief).fresh_air / size.runs / section, section, size.side)
    return np.asarray(_thirds(power) + 10.0 * np.log10(count / 3.0), dtype=np.float64)


@cache
def house_ducts_loss() -> Spectrum:
    """Loss (21,) [dB] from the end of the room's duct, through the house's ducts, out of one register; read-only.

    Source: duct_path; branches share power by their number; what the ducts are like: data/ducts.toml.
    """
    house = _data()["house"]
    width, height = house["trunk"]
    along = parts.bare_duct(width, height, house["length"]) + house["elbows"] * parts.elbow(house["register"], "round, bare")
    split, end = 10.0 * np.log10(house["registers"]), parts.end_reflection(house["register"], EXACT_BANDS)
    loss: Spectrum = _thirds(along) + split + end
    loss.setflags(write=False)
    return loss


@cache
def house_trunk_loss() -> Spectrum:
    """Loss (21,) [dB] from the end of the room's duct out through the wall of the house's trunk; read-only. Source: breakout."""
    house = _data()["house"]
    width, height = house["trunk"]
    inside = parts.bare_duct(width, height, house["length"])
    loss = through_wall(width, height, house["length"], _data()["casing"]["sheet"], inside, False)
    loss.setflags(write=False)
    return loss


def duct_uncertainty(house: bool = False) -> Spectrum:
    """Standard uncertainty (21,) [dB] of an air path, or of one that goes on through the house's ducts. Source: data/ducts.toml."""
    own, further = float(_data()["std_uncertainty"]), float(_data()["house"]["std_uncertainty"]) if house else 0.0
    return np.full(BANDS.size, float(np.hypot(own, further)))
