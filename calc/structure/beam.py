"""Spans and loads of a joist by bending and live-load deflection, from published design values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calc.brief import Joists
from calc.catalogue import load

PSI = 6894.757  # Pa; exact to seven figures, NIST SP 811


@dataclass(frozen=True)
class Wood:
    """Design values of one species, grade and depth: bending with size, repetitive and duration factors in, modulus, Pa."""

    bending: float
    modulus: float


def wood(species: str, grade: str, depth: float, spacing: float) -> Wood:
    """Adjusted bending stress and modulus [Pa] of a joist; depth and spacing m.

    A depth between two dressed sizes takes the factor of the deeper one: the lower value. Raises KeyError for an unknown species or grade.
    Source: NDS Supplement Tables 4A, 4B and NDS 4.3.9, values in data/joists.toml.
    """
    data = load("joists")
    family = data["species"][species]
    values: dict[str, Any] = family[grade]
    depths: list[float] = data["size"]["depth"]
    index = next((i for i, size in enumerate(depths) if depth <= size + 0.002), None)  # 2 mm: shrinkage and tape
    deeper = float(data["size"]["deeper"])
    if family["sized"]:
        bending = values["Fb"][-1] * deeper if index is None else values["Fb"][index]
    else:
        bending = values["Fb"] * (deeper if index is None else data["size"]["factor"][index])
    factor = data["factor"]
    repetitive = factor["repetitive"] if spacing <= factor["repetitive_spacing"] + 0.002 else 1.0
    return Wood(bending * repetitive * factor["duration"] * PSI, values["E"] * PSI)


def bending_span(value: Wood, breadth: float, depth: float, spacing: float, load_total: float) -> float:
    """Span [m] at which a uniform load [Pa] brings a simply supported joist to its bending stress; breadth, depth, spacing m.

    Source: American Wood Council, method of the span tables: L = sqrt(8 Fb' S / w).
    """
    return math.sqrt(8.0 * value.bending * (breadth * depth**2 / 6.0) / (load_total * spacing))


def deflection_span(value: Wood, breadth: float, depth: float, spacing: float, live_load: float, ratio: float) -> float:
    """Span [m] at which the live load [Pa] alone bends a simply supported joist by span / ratio.

    Source: American Wood Council, method of the span tables: L = (384 E I / (5 w ratio))^(1/3).
    """
    return math.cbrt(384.0 * value.modulus * (breadth * depth**3 / 12.0) / (5.0 * live_load * spacing * ratio))


def live_deflection(value: Wood, joists: Joists, live_load: float) -> float:
    """Deflection [m] of a simply supported joist at its span under the live load [Pa]. Source: 5 w L^4 / (384 E I)."""
    inertia = joists.breadth * joists.depth**3 / 12.0
    return 5.0 * live_load * joists.spacing * joists.span**4 / (384.0 * value.modulus * inertia)


def allowed_span(value: Wood, joists: Joists, dead_load: float, live_load: float, ratio: float | None = None) -> float:
    """Largest span [m] under dead and live load [Pa]: the shorter of bending and live-load deflection (L/360 unless ``ratio`` is given).

    Source: IRC R502.3.1(2) and R301.7 by the American Wood Council method.
    """
    limit = float(load("joists")["factor"]["deflection"]) if ratio is None else ratio
    size = (joists.breadth, joists.depth, joists.spacing)
    return min(bending_span(value, *size, dead_load + live_load), deflection_span(value, *size, live_load, limit))


def allowed_dead_load(value: Wood, joists: Joists, live_load: float) -> float:
    """Dead load [Pa] that the joists carry in bending beside the live load [Pa] at their span; 0 where they already fail.

    Source: as ``allowed_span``, solved for the load.
    """
    ratio = float(load("joists")["factor"]["deflection"])
    if deflection_span(value, joists.breadth, joists.depth, joists.spacing, live_load, ratio) < joists.span:
        return 0.0
    section = joists.breadth * joists.depth**2 / 6.0
    return max(8.0 * value.bending * section / (joists.spacing * joists.span**2) - live_load, 0.0)


def candidates(joists: Joists) -> tuple[Wood, ...]:
    """Design values that the joists may have: one where species and grade are known, else every species or grade that they may be."""
    data = load("joists")
    species = list(data["species"]) if joists.species == "unknown" else [joists.species]
    grades = list(data["grade"]) if joists.grade == "unknown" else [joists.grade]
    return tuple(wood(kind, grade, joists.depth, joists.spacing) for kind in species for grade in grades)
