"""What the lid adds to the joists, part by part, as the plan prints it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.brief import Brief
from calc.geometry import Room
from calc.materials.soffit import SoffitRows, soffit_boards, soffit_rows, soffits
from calc.scheme import LidOption
from calc.structure import clip_joists, hung_parts
from calc.units import IMPERIAL, registry


@dataclass(frozen=True)
class Weights:
    """Weight by area: ``total`` with its unit, ``parts`` in that unit, which add up to it as printed."""

    total: str
    parts: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class HungSoffit:
    """A box under the ceiling: the mass [kg] of its boards, its length [m] and, under channel, the rows that it hangs from."""

    where: str
    mass: float
    length: float
    rows: SoffitRows | None = None
    joists: str = ""  # on which of them the rows are held


def weights(lid: LidOption, units: str) -> Weights:
    """The parts of what hangs on the joists, in the person's units."""
    unit, to = ("lb per sq ft", "lb/ft**2") if units == IMPERIAL else ("kg/m²", "kg/m**2")
    parts = hung_parts(lid)
    tenths = adding_up([float(registry().Quantity(mass, "kg/m**2").to(to).magnitude) * 10.0 for _, mass in parts])
    told = tuple((name, f"{count / 10.0:.1f}") for (name, _), count in zip(parts, tenths, strict=True))
    return Weights(f"{sum(tenths) / 10.0:.1f} {unit}", told)


def adding_up(values: Sequence[float]) -> list[int]:
    """Whole numbers that add up to the rounded sum of the values: those with the largest remainders are rounded up."""
    found = [math.floor(value) for value in values]
    order = sorted(range(len(values)), key=lambda n: found[n] - values[n])
    for n in order[: round(sum(values)) - sum(found)]:
        found[n] += 1
    return found


def hung_soffits(brief: Brief, room: Room, lid: LidOption) -> list[HungSoffit]:
    """The soffits that hang beside the lid and are not in its weight."""
    mass = sum(ply.surface_mass for ply in soffit_boards())
    rows = {each.soffit: each for each in soffit_rows(brief, room, lid)}
    found = []
    for each in soffits(brief, room, lid):
        held = rows.get(each)
        joists = clip_joists(held.step, brief.shell.joists.spacing) if held else ""
        found.append(HungSoffit(each.where, mass * each.area, each.length, held, joists))
    return found
