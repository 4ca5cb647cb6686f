"""Materials of boards, panels, glass, masonry: facts from data/materials.toml."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

import numpy as np

from calc.catalogue import load
from calc.scheme import Ply


@dataclass(frozen=True)
class Material:
    """``coincidence`` is thickness x critical frequency [m/s]; ``loss`` a loss factor or the name of a constant of data/ties.toml;
    ``density`` kg/m3; ``masses`` known pairs (thickness m, surface mass kg/m2); ``thickness`` the usual one [m]; ``speed``
    of longitudinal waves [m/s], 0 for thin materials; ``orthotropy`` spread of the bending-wave speed over direction, None: board's;
    ``contact`` the frequency [Hz] above which a hammer's blow softens, 0 for hard materials; ``hollow``: block, whose cores and pores
    give air behind a lining."""

    id: str
    massive: bool
    coincidence: float
    loss: float | str
    density: float
    masses: tuple[tuple[float, float], ...]
    thickness: float
    speed: float
    orthotropy: float | None
    contact: float
    hollow: bool

    def surface_mass(self, thickness: float) -> float:
        """Surface mass [kg/m2] of a thickness [m]: between known trade masses, else in proportion to the nearest."""
        if not self.masses:
            return self.density * thickness
        known, mass = np.array(self.masses).T
        if known[0] <= thickness <= known[-1]:
            return float(np.interp(thickness, known, mass))
        end = 0 if thickness < known[0] else -1
        return float(mass[end] * thickness / known[end])


@cache
def _materials() -> dict[str, Material]:
    table: dict[str, Any] = load("materials")["material"]
    return {
        name: Material(
            id=name,
            massive=row["kind"] == "massive",
            coincidence=float(row["fc_t"]),
            loss=row["loss"] if isinstance(row["loss"], str) else float(row["loss"]),
            density=float(row["density"]),
            masses=tuple((t / 1000.0, m) for t, m in row.get("mass", ())),
            thickness=float(row["thickness"]) / 1000.0,
            speed=float(row.get("cl", 0.0)),
            orthotropy=row.get("orthotropy"),
            contact=float(row.get("contact", 0.0)),
            hollow=bool(row.get("hollow", False)),
        )
        for name, row in table.items()
    }


@cache
def _words() -> dict[str, str]:
    """Every word for a material, in small letters, and the id it stands for."""
    words: dict[str, str] = {}
    for name, row in load("materials")["material"].items():
        for word in (name, *row.get("aliases", ())):
            words.setdefault(word.lower(), name)
    return words


def material_ids() -> tuple[str, ...]:
    """Ids of all materials, in the catalogue's order."""
    return tuple(_materials())


@cache
def material(name: str) -> Material:
    """Facts of a material by id or alias, letters' case aside. Raises KeyError for an unknown one."""
    return _materials()[_words()[" ".join(name.split()).lower()]]


@cache
def material_words() -> tuple[str, ...]:
    """Every id and alias, in small letters."""
    return tuple(_words())


@lru_cache(maxsize=1024)
def ply(name: str, thickness: float | None = None) -> Ply:
    """A board of a material [m], of its usual thickness where none is given. Raises KeyError for an unknown material,
    ValueError for a thickness that is not above zero. Source: data/materials.toml."""
    facts = material(name)
    depth = facts.thickness if thickness is None else float(thickness)
    if not 0.0 < depth < 2.0:
        raise ValueError(f"a board must be between 0 and 2 m thick, not {depth:g} m")
    return Ply(material=facts.id, thickness=depth, surface_mass=facts.surface_mass(depth))
