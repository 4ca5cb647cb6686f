"""A scheme: one choice for each boundary of the room. Options are built by calc/options.py from data/options.toml."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from calc.brief import SideKind
from calc.hashed import hashed_once


@dataclass(frozen=True)
class Ply:
    """One board. ``material`` is an id of data/materials.toml; thickness m, surface mass kg/m2."""

    material: str
    thickness: float
    surface_mass: float


@dataclass(frozen=True)
class Layer:
    """One step of a build-up as it takes height and weighs: thickness m, surface mass kg/m2."""

    name: str
    thickness: float
    surface_mass: float


@hashed_once
@dataclass(frozen=True)
class LidOption:
    """A ceiling. ``layers`` run down from the joist underside and hold everything that takes height."""

    id: str
    label: str
    between_joists: tuple[Ply, ...]  # boards against the subfloor, between the joists: take no height
    fill: str  # none | glass fibre | mineral wool
    fill_thickness: float
    support: str  # absent | resilient channel | isolation clip | independent joists
    support_spacing: float
    clip_spacing: float  # 0 unless clips
    own_joist_depth: float  # 0 unless independent joists
    plies: tuple[Ply, ...]
    damped: bool
    layers: tuple[Layer, ...]
    hung_mass: float  # kg/m2 that the joists above must carry

    @cached_property
    def height_taken(self) -> float:
        """Height lost below the joist underside [m]."""
        return sum(layer.thickness for layer in self.layers)


@hashed_once
@dataclass(frozen=True)
class WallOption:
    """A wall to build on a side of one of the kinds in ``sides``.

    Thickness counts from the existing face (or, on an open side, both leaves).
    """

    id: str
    label: str
    sides: frozenset[SideKind]
    outer_plies: tuple[Ply, ...]  # open sides only: boards facing the rest of the basement
    frame: str  # a frame word of the assembly form
    stud_depth: float
    stud_spacing: float
    gap: float  # between the existing wall and the frame, or between two rows
    support: str  # absent | resilient channel | isolation clip
    support_spacing: float
    clip_spacing: float
    fill: str
    fill_thickness: float
    inner_plies: tuple[Ply, ...]
    damped: bool
    thickness: float
    carries_lid: bool  # an independent ceiling can stand on this frame

    @property
    def two_rows(self) -> bool:
        """Whether its studs stand in two rows with the gap between them."""
        return self.frame.startswith("separate rows")


@hashed_once
@dataclass(frozen=True)
class DoorOption:
    """One door, or two in series with an air lock. ``transmission_loss`` per band is in calc/isolation/opening.py by id."""

    id: str
    label: str
    leaves: int
    sealed: bool  # at the foot, too: at head and jambs every one is
    leaf_mass: float  # kg/m2 of one leaf
    area: float  # m2
    complete: bool = False  # frame, hinges and seals come with the leaf
    air_lock: float = 0.0  # m between two leaves
    lined: bool = False  # the air lock


@hashed_once
@dataclass(frozen=True)
class AirPathOption:
    """How fresh air crosses the shell, supply and extract alike. Its size follows from the air that the room needs."""

    id: str
    label: str
    lined_length: float  # m
    lining: float  # m
    elbows: int
    silencer_box: bool
    fan_unit: bool  # a heat-recovery unit is part of it, and the ducts end outdoors
    chambers: int = 1  # of each silencer box
    box_lining: float = 0.05  # m
    box_layers: int = 1  # of panel
    enclosed: bool = False  # ducts and boxes are boxed in with boards
    house_ducts: bool = False  # the ducts join those of the house's air handler; else they end in the rest of the basement


@hashed_once
@dataclass(frozen=True)
class FloorOption:
    id: str
    label: str
    layers: tuple[Layer, ...]

    @cached_property
    def height_taken(self) -> float:
        """Height lost above the slab [m]."""
        return sum(layer.thickness for layer in self.layers)


@hashed_once
@dataclass(frozen=True)
class Scheme:
    """``walls`` holds one option for each side kind that the shell has."""

    lid: LidOption
    walls: tuple[tuple[SideKind, WallOption], ...]
    door: DoorOption
    air_path: AirPathOption
    floor: FloorOption

    def wall(self, kind: SideKind) -> WallOption:
        """The wall chosen for a kind of side. Raises KeyError when the shell has no such side."""
        return dict(self.walls)[kind]
