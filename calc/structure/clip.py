"""The grid of isolation clips under a lid, and the weight on each against what it is tested for.

A clip is fixed to framing and nowhere else: along a row of channel it sits on every joist, or on every second, third or further one.
"""

from __future__ import annotations

import math

from calc.catalogue import load
from calc.scheme import LidOption
from calc.site import Site
from calc.structure.screen import GRAVITY

# A 16, 24 or 48 in grid, which metric tables round to the millimetre: sheets of 4 x 8 ft land on it.
INCH_GRIDS = (0.4064, 0.6096, 1.2192)
SLACK = 1e-2  # of a framing space: four joists at 406 mm are 4 ft all the same


def inch_grid(spacing: float) -> float:
    """A spacing [m] with the rounding of metric tables taken back."""
    return next((each for each in INCH_GRIDS if abs(each - spacing) < 0.001), spacing)


def framing_step(nominal: float, framing: float) -> int:
    """Framing spaces from one clip to the next at most ``nominal`` [m] apart, on members every ``framing`` [m]; 0 where even one space is
    wider. Source: geometry."""
    return math.floor(nominal / framing + SLACK)


def clip_grid(mass: float, rating: float, framing: float) -> tuple[float, float] | None:
    """Row and clip spacing [m] of the widest grid on joists every ``framing`` [m] on which a clip carries ``mass`` [kg/m2] within its
    rating [N]; None where none does.

    Source: data/options.toml, lid grid: what rows and clips may be apart at most.
    """
    for rows, along in load("options")["lid"]["grid"]["clip_grids"]:
        step = framing_step(along, framing)
        if step and clip_weight(mass, inch_grid(rows), step * framing) <= rating:
            return float(rows), step * framing
    return None


def clip_weight(mass: float, rows: float, along: float) -> float:
    """Weight [N] on a clip that carries ``mass`` [kg/m2] of a cell between rows and clips so far apart [m]. Source: geometry."""
    return mass * GRAVITY * rows * along


def clip_load(lid: LidOption) -> float:
    """Most [N] that one clip carries: boards, channel and the fill on them over one cell of the grid; 0 without clips.

    Rows may come closer than their spacing and then carry less. Source: geometry; masses of data/materials.toml and data/options.toml.
    """
    if lid.support != "isolation clip":
        return 0.0
    return clip_weight(hung_on_clips(lid), inch_grid(lid.support_spacing), lid.clip_spacing)


def hung_on_clips(lid: LidOption) -> float:
    """Mass of boards, channel and the fill on them that rows of channel carry [kg/m2]. Source: as ``clip_load``."""
    return sum(layer.surface_mass for layer in lid.layers) + lid.fill_thickness * float(load("options")["fill"]["density"])


def clip_joists(spacing: float, framing: float) -> str:
    """On which of the joists, every ``framing`` [m], a row of channel has clips ``spacing`` [m] apart, in words."""
    return {0: "", 1: "every joist", 2: "every second joist", 3: "every third joist"}.get(
        step := round(spacing / framing), f"every {step}th joist"
    )


def clip_rating(site: Site) -> float:
    """Rating [N] of one clip: as the person gave it, else the class that the grid was laid out for (common practice, no source)."""
    return float(load("options")["lid"]["grid"]["clip_rating"]) if site.clip_rating is None else site.clip_rating
