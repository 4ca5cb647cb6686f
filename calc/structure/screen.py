"""Whether the joists above can carry what a lid hangs on them: a screen, never a design."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.brief import Brief
from calc.catalogue import load
from calc.codes import cited
from calc.finding import Finding, Severity
from calc.scheme import LidOption
from calc.site import NOTHING_KNOWN, Site
from calc.structure.beam import allowed_dead_load, allowed_span, candidates

PASSES = "passes the screen"
ENGINEER = "engineer first"
STOP = "stop"
GRAVITY = 9.80665  # m/s2, standard gravity


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


def hung_parts(lid: LidOption) -> tuple[tuple[str, float], ...]:
    """What a lid hangs on the joists, part by part, and its mass [kg/m2]: together ``hung_mass``. A lid on its own joists leaves them what
    lies between. Source: geometry of the option, masses of data/materials.toml and data/options.toml."""
    below = {ply.material for ply in lid.plies}
    found = {
        "boards between the joists": sum(ply.surface_mass for ply in lid.between_joists),
        "fill": lid.fill_thickness * float(load("options")["fill"]["density"]),
    }
    for layer in () if lid.support == "independent joists" else lid.layers:
        name = "boards below the joists" if layer.name in below else layer.name
        found[name] = found.get(name, 0.0) + layer.surface_mass
    return tuple((name, mass) for name, mass in found.items() if mass > 0.0)


def screen(brief: Brief, lid: LidOption, site: Site = NOTHING_KNOWN) -> StructureResult:
    """Screen the joists for a lid. In every case a screen, not a design.

    Unknown species or grade takes the weakest; what no table covers goes to the engineer; measured joists that fail are a stop.
    Source: American Wood Council method with NDS values; loads IRC Table R301.5 and ASCE 7 Table C3.1-1.
    """
    joists = brief.shell.joists
    added = lid.hung_mass * GRAVITY
    existing = existing_dead_load(brief)
    live = live_load(brief)
    doubts = tuple(_doubts(brief, site))
    if joists.kind != "sawn":
        return StructureResult(ENGINEER, added, existing, live, None, joists.span, None, (*doubts, *_careful(brief), SCREEN))
    allowed_dead = [allowed_dead_load(value, joists, live) for value in candidates(joists)]
    span = min(allowed_span(value, joists, existing + added, live) for value in candidates(joists))
    verdict, reason = _verdict(min(allowed_dead), max(allowed_dead), existing, added)
    if verdict == PASSES and any(doubts):
        verdict = ENGINEER
    if verdict == STOP and any(assumption.question in SIZE_QUESTIONS for assumption in brief.assumptions):
        verdict = ENGINEER
        reason = "Depth, spacing or span was not measured; at the careful values assumed the joists fail: measure them first"
    return StructureResult(
        verdict, added, existing, live, min(allowed_dead), joists.span, span, (reason, *doubts, *_careful(brief), SCREEN)
    )


# Titles of the interview's questions, by which Brief.assumptions names them.
SIZE_QUESTIONS = ("Joist depth", "Joist spacing", "Joist span")
SOURCE = "span-table method of the American Wood Council, NDS values, IRC R502.3.1(2); floors above to L/360 (R301.7)"
DEAD = "weight of floor and lid, against what they carry beside the live load"
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


def _doubts(brief: Brief, site: Site) -> Iterator[str]:
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
    if site.point_loads == "yes":
        yield "Something heavy stands on the floor above, and no span table covers a load on one spot"
    if brief.shell.floor_above == "tile":
        yield "Tile above is heavy and cracks when the floor bends"
    elif brief.shell.floor_above == "unknown":
        yield "The floor finish above is not known; the weight of tile is assumed"


def _careful(brief: Brief) -> Iterator[str]:
    """What nobody knows and the screen took at its worst, so that a pass is never a silent one."""
    joists, shell = brief.shell.joists, brief.shell
    if joists.kind in ("sawn", "unknown"):
        for answer, what in ((joists.species, "wood"), (joists.grade, "grade")):
            if answer == "unknown":
                yield f"The {what} of the joists is not known, the weakest is assumed: look for the stamp on their sides"
    if shell.room_above == "unknown":
        yield "The room above is not known, the heavier live load is assumed: name it"
    if shell.subfloor == "unknown":
        yield "The subfloor is not known, the heavier is assumed: look up between two joists"


def findings(brief: Brief, result: StructureResult) -> tuple[Finding, ...]:
    """The screen's verdict as a finding: stop, caution (engineer first) or note (passes)."""
    severity = {STOP: Severity.STOP, ENGINEER: Severity.CAUTION, PASSES: Severity.NOTE}[result.verdict]
    title = {
        STOP: "The joists above cannot take this lid by the span-table screen",
        ENGINEER: "An engineer must look at the joists before anything is hung from them",
        PASSES: "The joists above pass a screen, which is not a design",
    }[result.verdict]
    known = bool(result.allowed_dead_load)  # a limit of nothing is told by the reasons, not as a number
    remedy = {
        STOP: "Hang nothing. Ask a structural engineer about sistering, a mid-span beam, or a lid on its own joists.",
        ENGINEER: "Have a structural engineer look before the lid is bought, or choose a lid on its own joists.",
        PASSES: "Show the joist size, span and added weight to the building official; ask an engineer if anything differs.",
    }[result.verdict]
    return (
        Finding(
            rule="joists",
            severity=severity,
            title=f"{title}: {DEAD}" if known else title,
            measured=result.existing_dead_load + result.added_load if known else None,
            limit=result.allowed_dead_load if known else None,
            unit="Pa" if known else "",
            source=cited(brief.code, SOURCE),
            remedy=f"{'. '.join(result.reasons)}. {remedy}",
            decides="structural engineer",
            task="structure",
        ),
    )
