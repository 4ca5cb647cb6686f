"""What could win height back where it is least."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.brief import Brief, Obstruction
from calc.catalogue import load
from calc.headroom.limits import soffit_layers
from calc.scheme import FloorOption, LidOption

LEAST = 0.001  # m; a smaller gain is not worth a line
OPEN_FIELD = "open field"

Gain = tuple[float, str]


def named(obstructions: tuple[Obstruction, ...]) -> list[tuple[str, Obstruction]]:
    """Obstructions with a name each: 'the beam', or 'duct 2' where there are several of a kind."""
    count: dict[str, int] = {}
    found = []
    for thing in obstructions:
        count[thing.kind] = count.get(thing.kind, 0) + 1
        several = sum(other.kind == thing.kind for other in obstructions) > 1
        found.append((f"{thing.kind} {count[thing.kind]}" if several else f"the {thing.kind}", thing))
    return found


def gains(brief: Brief, lid: LidOption, floor: FloorOption, binding: str) -> tuple[Gain, ...]:
    """Measures that would gain height in the zone named ``binding`` and the height [m] each gains, largest first.

    Source: geometry of the parts in data/options.toml and data/rules.toml.
    """
    found = [*(_in_field(brief, lid) if binding == OPEN_FIELD else _under(brief, lid, binding))]
    found.append((floor.height_taken, "leave the slab bare or paint it"))
    found.append((brief.shell.slab_unevenness, "grind the high spots of the slab"))
    return tuple(sorted((gain for gain in found if gain[0] > LEAST), key=lambda gain: -gain[0]))


def _in_field(brief: Brief, lid: LidOption) -> Iterator[Gain]:
    """Thinner lids."""
    support: dict[str, Any] = load("options")["lid"]["support"]
    board = lid.plies[-1].thickness if len(lid.plies) > 1 else 0.0
    yield board, "leave out one ply below the joists"
    if lid.plies and not lid.between_joists and brief.limits.joists_may_be_touched:
        yield board, "put one ply between the joists, against the subfloor, in place of one below"
    held = lid.height_taken - sum(ply.thickness for ply in lid.plies)
    between = float(support["interleaved"]["drop"])
    low = lid.own_joist_depth > 0.0 and held > between + LEAST
    if low and not lid.between_joists and brief.shell.joists.kind != "truss" and lid.own_joist_depth - between < brief.shell.joists.depth:
        yield held - between, "set the ceiling's own joists between the existing ones, where the bays are clear of ducts and bridging"
    if lid.support in ("isolation clip", "independent joists") and brief.limits.joists_may_be_touched:
        yield held - float(support["channel"]["drop"]), "hold the boards on resilient channel, at a loss of isolation"


def _under(brief: Brief, lid: LidOption, binding: str) -> Iterator[Gain]:
    """What helps under an obstruction: moving it, or a thinner box round it."""
    taken = bool(lid.between_joists) or lid.own_joist_depth > 0.0  # boards or own joists stand where a duct would go
    place = "out of the room" if taken else "out of the room or up between the joists"
    soffit = sum(layer.thickness for layer in soffit_layers())
    for name, thing in named(brief.shell.obstructions):
        if binding == f"under {name}" and thing.movable:
            yield brief.shell.height - lid.height_taken - (thing.underside - soffit), f"move {name} {place}"
    yield soffit_layers()[-1].thickness, "box it in with one ply in place of two, at a loss of isolation"
