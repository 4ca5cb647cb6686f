"""Weight on each isolation clip of a lid, against what the clip is tested for."""

from __future__ import annotations

from calc.catalogue import load
from calc.scheme import LidOption
from calc.site import Site
from calc.structure.screen import GRAVITY


def clip_load(lid: LidOption) -> float:
    """Weight [N] that one clip carries: boards, channel and the fill on them over one cell of the grid; 0 without clips.

    Source: geometry; masses of data/materials.toml and data/options.toml.
    """
    if lid.support != "isolation clip":
        return 0.0
    hung = sum(layer.surface_mass for layer in lid.layers) + lid.fill_thickness * float(load("options")["fill"]["density"])
    return hung * GRAVITY * lid.support_spacing * lid.clip_spacing


def clip_rating(site: Site) -> float:
    """Rating [N] of one clip: as the person gave it, else the class that the grid was laid out for (common practice, no source)."""
    return float(load("options")["lid"]["grid"]["clip_rating"]) if site.clip_rating is None else site.clip_rating
