"""The run of ducts of one direction, part by part: what pressure it takes, what the fan gives, how supply and return balance."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.catalogue import load
from calc.scheme import AirPathOption
from calc.ventilation import duct


@dataclass(frozen=True)
class Part:
    """One step of a run and the pressure it takes [Pa]."""

    name: str
    pressure: float


@dataclass(frozen=True)
class Grille:
    """A grille to buy: width and height of its face [m], the free area asked for [m2], air speed on its face and in its free area [m/s]."""

    width: float
    height: float
    free_area: float
    face_speed: float
    free_speed: float


@dataclass(frozen=True)
class Run:
    """Supply or return: flow of all its ducts m3/s; ducts side by side and the free side of one [m]; speed in them [m/s]; what takes
    pressure; ``available`` is what the fan leaves for it [Pa]; ``grille``: the one at the end of each duct."""

    name: str
    flow: float
    ducts: int
    side: float
    speed: float
    parts: tuple[Part, ...]
    available: float
    grille: Grille

    @property
    def pressure(self) -> float:
        """What the whole run takes [Pa]."""
        return sum(part.pressure for part in self.parts)

    @property
    def enough(self) -> bool:
        """The fan can move the flow through it."""
        return self.pressure <= self.available


@dataclass(frozen=True)
class Balance:
    """Supply against return. ``damper`` is what one of them needs besides so that both take the same pressure [Pa], in the run of
    that name; ``room_pressure`` is what the imbalance left after balancing does to a sealed room [Pa], ``door_force`` to a door of
    2 m2 [N], ``allowed`` the pressure it may be held by [Pa]."""

    damper: float
    damper_in: str
    room_pressure: float
    door_force: float
    allowed: float


SUPPLY, RETURN = "supply", "return"
DOOR = 2.0  # m2


def end_of(option: AirPathOption) -> str:
    """Where an air path ends: a fan of data/duct_flow.toml."""
    return "outdoors" if option.fan_unit else "house" if option.house_ducts else "basement"


def grille(flow: float, speed: float) -> Grille:
    """The smallest grille sold, no flatter than one to three, whose free area keeps a flow [m3/s] under a speed [m/s] there.

    Raises ValueError when none is large enough. Source: free area = flow over speed; sizes and free share of data/duct_flow.toml.
    """
    row, free = load("duct_flow")["grille"], flow / speed
    share, steps = float(row["free_share"]), [float(step) for step in row["steps"]]
    sizes = [(width, height) for width in steps for height in steps if height <= width <= 3.0 * height and width * height * share >= free]
    if not sizes:
        raise ValueError(f"no grille has a free area of {free:.2f} m2")
    width, height = min(sizes, key=lambda size: (size[0] * size[1], size[0]))
    return Grille(width, height, free, flow / (width * height), flow / (width * height * share))


def run(name: str, flow: float, ducts: int, side: float, option: AirPathOption, reach: float, speed: float, chambers: int = 0) -> Run:
    """One direction: flow [m3/s] through equal square ducts of a free side [m] for a way of ``reach`` [m], at most ``speed`` [m/s] at its
    grille, with the boxes of ``chambers`` each.

    Raises as ``grille``. Source: friction by Darcy and Colebrook; fittings, ends and fans of data/duct_flow.toml.
    """
    data, end = load("duct_flow"), end_of(option)
    each = flow / ducts
    velocity = each / side**2
    push, ends, flexible = duct.velocity_pressure(velocity), data["end"], data["flexible"]
    lined = min(option.lined_length, reach) if option.lining > 0.0 else 0.0
    stretch = 2.0 * float(flexible["length"])
    bare = max(reach - lined - stretch, 0.0)
    face = grille(each, speed)
    mitred = duct.elbow_coefficient("rectangular, mitred", 1.0, duct.reynolds(velocity, side))
    squeezed = duct.compression_factor(side, float(flexible["compression"]))
    found = [
        Part("grille", duct.grille_coefficient(float(data["grille"]["free_share"])) * duct.velocity_pressure(face.face_speed)),
        Part("mouth in the room", (ends["exit"] if name == SUPPLY else ends["entry"]) * push),
        Part("lined duct", duct.friction_square(each, side, lined, data["roughness"]["lined"])),
        Part("bare duct", duct.friction_square(each, side, bare, data["roughness"]["steel"])),
        Part("elbows", option.elbows * mitred * push),
        Part("flexible connectors", squeezed * duct.friction_square(each, side, stretch, data["roughness"]["flexible"])),
        Part("chambers of the silencer box", chambers * (ends["exit"] + ends["entry"]) * push),
        Part("filter", ends["filter"] if name == SUPPLY and end == "basement" else 0.0),
        Part("far end", (ends["hood"] if end == "outdoors" else ends["entry"] if name == SUPPLY else ends["exit"]) * push),
    ]
    kept = tuple(part for part in found if part.pressure > 0.0)
    return Run(name, flow, ducts, side, velocity, kept, float(data["fan"][end]["pressure"]), face)


def balance(supply: Run, extract: Run, door_gaps: float = 0.0) -> Balance:
    """How two runs of equal flow balance; ``door_gaps`` m2, at the foot of a door not sealed there, which lets the difference out.

    Source: orifice, dp = rho/2 (Q / (0.61 A))^2; data/duct_flow.toml.
    """
    row = load("duct_flow")["balance"]
    less = supply if supply.pressure < extract.pressure else extract
    left = float(row["imbalance"]) * supply.flow
    held = duct.velocity_pressure(left / (0.61 * (float(row["leak"]) + door_gaps)))
    return Balance(abs(supply.pressure - extract.pressure), less.name, held, held * DOOR, float(row["pressure"]))


def flow_at(pressure: float, of: Run) -> float:
    """Flow [m3/s] that a pressure [Pa] moves through a run whose pressure goes as the square of the flow.

    Source: Q = Qrun sqrt(p / prun); a little too much for slow air, whose friction falls less.
    """
    return of.flow * math.sqrt(pressure / of.pressure) if of.pressure > 0.0 else math.inf
