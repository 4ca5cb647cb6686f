"""Framing that meets what is already there."""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution
from calc.scheme import LidOption, Scheme


def own_joist_top(height: float, lid: LidOption) -> float:
    """Height [m] over the slab of the top of an independent lid's joists, ``height`` [m] being that of the existing joists' underside.

    Source: geometry; the boards hang on the joists' underside, and the lid's layers say how far below the existing joists that is.
    """
    boards = sum(ply.thickness for ply in lid.plies)
    return height - (lid.height_taken - boards) + lid.own_joist_depth


def in_the_way(brief: Brief, lid: LidOption) -> tuple[str, ...]:
    """Kinds of things that hang lower than the top of a lid's own joists, each once; empty where it has none. Source: ``own_joist_top``."""
    if lid.own_joist_depth <= 0.0:
        return ()
    top = own_joist_top(brief.shell.height, lid)
    return tuple(dict.fromkeys(thing.kind for thing in brief.shell.obstructions if thing.underside < top))


def own_joists_meet(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A lid's own joists run from wall to wall; a beam, duct or pipe that hangs lower than their top is in the way."""
    kinds = in_the_way(brief, scheme.lid)
    if not kinds:
        return None
    named = " and ".join(f"the {kind}" for kind in kinds)
    return caution(
        "own-joists-meet",
        f"The ceiling's own joists cannot pass through {named}: nobody has drawn how they get by",
        "Have the engineer or framer draw how they pass before anything is bought: joists that run alongside and stop short on their own "
        "bearing, or another lid. A duct or pipe may also be hung lower by its own trade, where the height allows it. Never notch or hang "
        "anything on what is in the way.",
        decides="structural engineer",
        task="structure",
    )


RULES: tuple[Rule, ...] = (own_joists_meet,)
