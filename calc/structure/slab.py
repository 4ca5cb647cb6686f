"""The slab under the inner walls: a wall's line load against what a slab on the ground carries."""

from __future__ import annotations

import math

from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.scheme import LidOption, Scheme, WallOption
from calc.structure.beam import PSI
from calc.structure.ceiling import own_joist_loads
from calc.structure.screen import GRAVITY

INCH = 0.0254
PCI = PSI / INCH  # Pa/m of one pound per cubic inch
EDGE = 0.3224  # largest moment of a half-infinite beam on an elastic foundation over P / lambda, load at its end: e^-x sin x at x = pi/4
ALLOWED = 1.6  # psi^0.5: allowable tension 1.6 sqrt(f'c)
MODULUS = 57_000.0  # psi^0.5: E = 57000 sqrt(f'c), ACI 318


def line_load_capacity(thickness: float, strength: float, subgrade: float, at_edge: bool) -> float:
    """Line load [N/m] that a slab on the ground carries, away from edges or along a free one.

    Thickness m, compressive strength of the concrete Pa, modulus of subgrade reaction Pa/m. Raises ValueError where one is not positive.
    Source: US Army TM 5-809-12, Concrete floor slabs on grade subjected to heavy loads, 1987, 3-4, Table 3-2 and appendix B: a beam on an
    elastic foundation (Hetenyi 1946) at an allowable tension of 1.6 sqrt(f'c).
    """
    if min(thickness, strength, subgrade) <= 0.0:
        raise ValueError("thickness, strength and subgrade must be above zero")
    root = math.sqrt(strength / PSI)  # psi^0.5
    modulus, tension = MODULUS * root * PSI, ALLOWED * root * PSI
    stiffness = (subgrade / (4.0 * modulus * thickness**3 / 12.0)) ** 0.25
    moment = tension * thickness**2 / 6.0
    return float(stiffness * moment / (EDGE if at_edge else 0.25))


def wall_line_load(brief: Brief, wall: WallOption, lid: LidOption, room: Room) -> float:
    """Weight [N/m] that one new wall puts on the slab: boards, studs and fill over its height, and half the span of a lid on own joists.

    Source: geometry; masses of data/materials.toml, data/options.toml and data/joists.toml.
    """
    joists, options = load("joists"), load("options")
    boards = sum(ply.surface_mass for ply in (*wall.outer_plies, *wall.inner_plies))
    rows = 2 if wall.frame == "separate rows of wood stud" else 1
    studs = (
        rows * float(joists["factor"]["wood_density"]) * float(options["lid"]["own_joist_breadth"]) * wall.stud_depth / wall.stud_spacing
    )
    fill = wall.fill_thickness * float(options["fill"]["density"])
    weight = (boards + studs + fill) * GRAVITY * (room.height + lid.height_taken)
    if lid.own_joist_depth <= 0.0:
        return weight
    dead, live = own_joist_loads(sum(ply.surface_mass for ply in lid.plies))
    return weight + (dead + live) * min(brief.shell.length, brief.shell.width) / 2.0


def heaviest_wall(brief: Brief, scheme: Scheme, room: Room) -> float:
    """The largest line load [N/m] of the scheme's walls on the slab. Source: as ``wall_line_load``."""
    return max((wall_line_load(brief, wall, scheme.lid, room) for _, wall in scheme.walls if wall.frame != "wood strapping"), default=0.0)
