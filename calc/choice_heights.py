"""Which height limits a scheme misses, whose they are, where and by how much; and whether any other ceiling would help."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from calc.headroom import headroom
from calc.headroom.rules import there
from calc.problem import Problem
from calc.scheme import FloorOption, LidOption
from calc.solve import HAIR, Hard
from calc.unit_format import format_length


def missed(p: Problem, lid: int, floor: int) -> tuple[tuple[bool, str], ...]:
    """Every limit that a lid and a floor, by number, miss: whether it is the model code's, and in words. Source: calc.headroom."""
    return tuple(_missed(p, lid, floor)) if p.short[lid, floor] > HAIR else ()


def _missed(p: Problem, lid: int, floor: int) -> Iterator[tuple[bool, str]]:
    over, under = p.lids.items[lid], p.floors.items[floor]
    zones = headroom(p.brief, over, under).zones if isinstance(over, LidOption) and isinstance(under, FloorOption) else ()
    for zone in zones:
        for code, limit, name in ((True, zone.limit, "the model code"), (False, zone.own_limit or 0.0, "the lowest ceiling you accept")):
            if limit - zone.height > HAIR:
                by = format_length(limit - zone.height, p.brief.units, step_mm=1.0)
                yield code, f"{name} {there(zone)} by {by}"


def too_low(p: Problem, hard: Hard, picks: tuple[int, ...]) -> tuple[str, bool]:
    """What is true where no ceiling keeps every limit, as whole sentences; and whether it decides anything: the person's own limit
    decides nothing where it is missed with each ceiling alike."""
    now = missed(p, picks[0], picks[1])
    breach = any(code for code, _ in now)
    kept = "" if breach else "Every height limit of the model code is kept. "
    said = f"{kept}The ceiling shown misses {' and '.join(text for _, text in now)}."
    allowed = np.flatnonzero(hard.lids)
    least = allowed[p.short[allowed].min(axis=1) <= hard.short + HAIR]
    if least.size == allowed.size and all(missed(p, *pair) == now for pair in _unlike(p, least)):
        return (
            f"{said} So does every other: something else sets the height there, so a thinner ceiling does not help. The one shown is "
            "chosen by targets, load and budget."
        ), breach
    if least.size > 1:
        return f"{said} No other loses less; of those that lose as little the one shown is chosen by targets, load and budget.", True
    return f"{said} Every other loses more.", True


def _unlike(p: Problem, lids: np.typing.NDArray[np.intp]) -> list[tuple[int, int]]:
    """Of lids, by number, one for each height that they take, with the floor that leaves most."""
    first = dict.fromkeys(float(taken) for taken in p.taken[lids])
    return [(lid := int(lids[np.flatnonzero(p.taken[lids] == taken)[0]]), int(p.short[lid].argmin())) for taken in first]
