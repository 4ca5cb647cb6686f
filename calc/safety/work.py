"""The work itself: heavy boards overhead and nobody within call."""

from __future__ import annotations

from calc.brief import Brief, Labour
from calc.finding import Finding
from calc.geometry import Room
from calc.options import needs_joists
from calc.safety.rule import Rule, caution, limits, note, stop
from calc.scheme import Scheme


def lifting(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A ceiling board weighs more than one person should lift, least of all overhead."""
    rule = limits("lifting")
    plies = (*scheme.lid.plies, *scheme.lid.between_joists)
    heaviest = max((ply.surface_mass for ply in plies), default=0.0) * float(rule["sheet_area"])
    if heaviest <= rule["one_person"]:
        return None
    return (note if brief.means.helpers > 0 else caution)(
        "lifting",
        "A full ceiling board is heavier than one person should lift",
        "Rent a panel lift and work in twos, helmets and goggles on; never stand under a board that is not screwed; cut boards that go "
        "between joists.",
        measured=heaviest,
        limit=float(rule["one_person"]),
        unit="kg",
        source=str(rule["source"]),
        decides="owner",
        task="boards_first",
    )


def untouched_joists(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """The lid hangs from joists that may not be touched, because no ceiling of its own spans the room."""
    if not needs_joists(brief, scheme.lid):
        return None
    return stop(
        "untouched_joists",
        "The ceiling hangs from joists that you said may not be touched: no ceiling on joists of its own spans this room",
        "Ask whoever owns the joists, and a structural engineer, whether they may carry a ceiling; or have the engineer design own joists "
        "with a beam or posts between, or make the room narrower.",
        decides="structural engineer",
        task="permits",
    )


def alone(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Cutting, lifting and wiring with nobody within call."""
    if brief.means.labour is not Labour.OWN or brief.means.helpers > 0:
        return None
    return caution(
        "alone",
        "You plan to work alone: a fall, a cut or a shock in a shut basement goes unheard",
        "No ladder, saw, ceiling or electrical work alone; a telephone on you; someone who looks in at set times. Nobody hears you once "
        "the door is on.",
        decides="owner",
        task="demolish",
    )


RULES: tuple[Rule, ...] = (lifting, untouched_joists, alone)
