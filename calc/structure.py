"""Whether the joists above can carry what a lid hangs on them: a screen, never a design."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calc.brief import Brief, Joists
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.scheme import LidOption

PASSES = "passes the screen"
ENGINEER = "engineer first"
STOP = "stop"
PSI = 6894.757  # Pa; exact to seven figures, NIST SP 811
GRAVITY = 9.80665  # m/s2, standard gravity


@dataclass(frozen=True)
class Wood:
    """Design values of one species, grade and depth: bending with size, repetitive and duration factors in, modulus, Pa."""

    bending: float
    modulus: float


@dataclass(frozen=True)
class StructureResult:
    """``verdict`` is "passes the screen", "engineer first" or "stop"; loads Pa, spans m.

    ``allowed_dead_load`` and ``allowed_span`` are None where no value can be given (I-joist, truss, unknown kind).
    """

    verdict: str
    added_load: float
    existing_dead_load: float
    live_load: float
    allowed_dead_load: float | None
    span: float
    allowed_span: float | None
    reasons: tuple[str, ...]


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


def existing_dead_load(brief: Brief) -> float:
    """Dead load [Pa] of the floor above as found, a boarded ceiling taken down first; never under the 10 psf class of the span tables.

    Source: ASCE 7 Table C3.1-1 and trade weights, in data/joists.toml.
    """
    data = load("joists")
    dead, joists = data["dead_load"], brief.shell.joists
    own = data["factor"]["wood_density"] * GRAVITY * joists.breadth * joists.depth / joists.spacing
    parts = own + dead["subfloor"][brief.shell.subfloor] + dead["floor"][brief.shell.floor_above] + dead["services"]
    return max(float(parts), float(dead["least"]))


def live_load(brief: Brief) -> float:
    """Live load [Pa] of the rooms above: the highest where a listener sits over the room in another kind of room than the one named.

    Source: IRC Table R301.5, in data/joists.toml.
    """
    data = load("joists")
    rooms = {brief.shell.room_above} | {data["listener_room"].get(listener.kind, brief.shell.room_above) for listener in brief.listeners}
    return max(float(data["live_load"][room]) for room in rooms)


def screen(brief: Brief, lid: LidOption) -> StructureResult:
    """Screen the joists for a lid. In every case a screen, not a design.

    Unknown species or grade takes the weakest; what no table covers goes to the engineer; measured joists that fail are a stop.
    Source: American Wood Council method with NDS values; loads IRC Table R301.5 and ASCE 7 Table C3.1-1.
    """
    joists = brief.shell.joists
    added = lid.hung_mass * GRAVITY
    existing = existing_dead_load(brief)
    live = live_load(brief)
    doubts = tuple(_doubts(brief))
    if joists.kind != "sawn":
        return StructureResult(ENGINEER, added, existing, live, None, joists.span, None, (*doubts, SCREEN))
    allowed_dead = [allowed_dead_load(value, joists, live) for value in candidates(joists)]
    span = min(allowed_span(value, joists, existing + added, live) for value in candidates(joists))
    verdict, reason = _verdict(min(allowed_dead), max(allowed_dead), existing, added)
    if verdict == PASSES and any(doubts):
        verdict = ENGINEER
    if verdict == STOP and any(assumption.question in SIZE_QUESTIONS for assumption in brief.assumptions):
        verdict = ENGINEER
        reason = "Depth, spacing or span was not measured; at the careful values assumed the joists fail: measure them first"
    return StructureResult(verdict, added, existing, live, min(allowed_dead), joists.span, span, (reason, *doubts, SCREEN))


# Titles of the interview's questions, by which Brief.assumptions names them.
SIZE_QUESTIONS = ("Joist depth", "Joist spacing", "Joist span")
SCREEN = "This is a screen, not a design: bearing, beams, columns, connections and point loads are not looked at"


def _verdict(weakest: float, strongest: float, existing: float, added: float) -> tuple[str, str]:
    """Verdict and the reason for it, from the dead load [Pa] that the weakest and the strongest possible wood carry."""
    dead = existing + added
    if dead <= weakest:
        return PASSES, "The joists carry the floor and the lid by the span-table method"
    if dead <= strongest:
        return ENGINEER, "The joists pass or fail by species and grade, and those are not known: the weakest is assumed"
    if added <= 0.0:
        return ENGINEER, "Nothing is hung on the joists, yet they already span further than the tables allow"
    if existing > strongest:
        return STOP, "The joists span further than the tables allow even without the lid"
    return STOP, "With the lid the joists carry more dead load than the tables allow"


def _doubts(brief: Brief) -> Iterator[str]:
    """What no span table covers. Source: building practice; IRC R502.8 for notches and holes, R502.10 and R502.11 for made-up joists."""
    joists = brief.shell.joists
    if joists.kind in ("i-joist", "truss"):
        yield f"{joists.kind} floors follow their maker's tables and drawings, not the sawn-lumber tables"
    elif joists.kind != "sawn":
        yield "The kind of joist is not known"
    if joists.damaged == "yes":
        yield "Notches, holes, cracks or rot were seen in the joists"
    elif joists.damaged != "no":
        yield "Nobody has looked whether the joists are notched, drilled, cracked or rotten"
    if brief.shell.floor_above == "tile":
        yield "Tile above is heavy and cracks when the floor bends"
    elif brief.shell.floor_above == "unknown":
        yield "The floor finish above is not known; the weight of tile is assumed"


def findings(brief: Brief, result: StructureResult) -> tuple[Finding, ...]:
    """The screen's verdict as a finding: stop, caution (engineer first) or note (passes)."""
    severity = {STOP: Severity.STOP, ENGINEER: Severity.CAUTION, PASSES: Severity.NOTE}[result.verdict]
    title = {
        STOP: "The joists above cannot take this lid by the span-table screen",
        ENGINEER: "An engineer must look at the joists before anything is hung from them",
        PASSES: "The joists above pass a screen; it is not a design",
    }[result.verdict]
    remedy = {
        STOP: "Hang nothing. Ask a structural engineer about sistering, a mid-span beam, or a lid on its own joists.",
        ENGINEER: "Have a structural engineer look before the lid is bought, or choose a lid on its own joists.",
        PASSES: "Show the joist size, span and added weight to the building official; ask an engineer if anything differs.",
    }[result.verdict]
    return (
        Finding(
            rule="joists",
            severity=severity,
            title=title,
            measured=None,
            limit=None,
            unit="",
            source="span-table method of the American Wood Council, NDS values, IRC R502.3.1(2); floors above to L/360 (R301.7)",
            remedy=f"{'. '.join(result.reasons)}. {remedy}",
            decides="structural engineer",
            task="structure",
        ),
    )
