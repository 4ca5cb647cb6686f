"""A ceiling's own joists, sized by the same engine as the floor's."""

from __future__ import annotations

from typing import Any

from calc.catalogue import load
from calc.structure.beam import bending_span, deflection_span, wood
from calc.structure.screen import GRAVITY


def _facts() -> dict[str, Any]:
    facts: dict[str, Any] = load("joists")["own_ceiling"]
    return facts


def _sizes() -> dict[str, Any]:
    sizes: dict[str, Any] = load("options")["lid"]
    return sizes


def own_joist_loads(ceiling_mass: float) -> tuple[float, float]:
    """Dead load [Pa] of boards of ``ceiling_mass`` [kg/m2] with the joists and their fill, and live load [Pa], of a ceiling of its own.

    Source: IRC Table R301.5, ceilings nobody stores on; joists and fill common practice, no source (data/joists.toml).
    """
    facts = _facts()
    return ceiling_mass * GRAVITY + float(facts["dead_load"]), float(facts["live_load"])


def own_joist_span(depth: float, ceiling_mass: float) -> float:
    """Span [m] of a ceiling joist of a depth [m] under boards of ``ceiling_mass`` [kg/m2].

    The shortest of: bending under all load, the live load's deflection, and the sag under dead load and half the live load, as boards crack
    and the clearance to the joists above is small. Source: American Wood Council, method of the span tables, L/240; the sag check is common
    practice, no source.
    """
    facts = _facts()
    size = (float(_sizes()["own_joist_breadth"]), depth, float(_sizes()["own_joist_spacing"]))
    value = wood(facts["species"], facts["grade"], depth, size[2])
    dead, live = own_joist_loads(ceiling_mass)
    return min(
        bending_span(value, *size, dead + live),
        deflection_span(value, *size, live, facts["deflection"]),
        deflection_span(value, *size, dead + 0.5 * live, facts["deflection"]),
    )


def own_joist_depth(span: float, ceiling_mass: float) -> float | None:
    """Depth [m] of the shallowest ceiling joist that spans ``span`` [m] under boards of ``ceiling_mass`` [kg/m2]; None when none does.

    A first size, for the engineer to confirm. Source: as ``own_joist_span``.
    """
    return next((float(depth) for depth in _sizes()["own_joist_depths"] if own_joist_span(float(depth), ceiling_mass) >= span), None)
