"""Which height limits a scheme misses, whose they are, where and by how much; and whether any other ceiling would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from calc.headroom import headroom
from calc.headroom.rules import there
from calc.problem import Problem
from calc.scheme import FloorOption, LidOption
from calc.solve import HAIR, Hard
from calc.unit_format import format_length

CODE, OWN = "the model code", "the lowest ceiling you accept"  # whose limits there are
Miss = tuple[str, str]  # whose limit is missed; where and by how much, in words


def missed(p: Problem, lid: int, floor: int) -> tuple[Miss, ...]:
    """Every limit that a lid and a floor, by number, miss. Source: calc.headroom."""
    return tuple(_missed(p, lid, floor)) if p.short[lid, floor] > HAIR else ()


def _missed(p: Problem, lid: int, floor: int) -> Iterator[Miss]:
    over, under = p.lids.items[lid], p.floors.items[floor]
    zones = headroom(p.brief, over, under).zones if isinstance(over, LidOption) and isinstance(under, FloorOption) else ()
    for zone in zones:
        for whose, limit in ((CODE, zone.limit), (OWN, zone.own_limit or 0.0)):
            if limit - zone.height > HAIR:
                yield whose, f"{there(zone)} by {format_length(limit - zone.height, p.brief.units, step_mm=1.0)}"


def in_words(misses: Iterable[Miss]) -> str:
    """Limits that are missed as the end of a sentence that says what misses them; "" for none."""
    found: dict[str, list[str]] = {}
    for whose, where in sorted(misses, key=lambda miss: miss[0] == OWN):
        found.setdefault(whose, []).append(where)
    return ", and ".join(f"{whose} {' and '.join(filter(None, (', '.join(at[:-1]), at[-1])))}" for whose, at in found.items())


def too_low(p: Problem, hard: Hard, picks: tuple[int, ...]) -> tuple[str, bool]:
    """What is true where no ceiling keeps every limit, as whole sentences; and whether it decides anything: the person's own limit
    decides nothing where it is missed with each ceiling alike."""
    now = missed(p, picks[0], picks[1])
    breach = any(whose == CODE for whose, _ in now)
    kept = "" if breach else "Every height limit of the model code is kept. "
    said = f"{kept}The ceiling shown misses {in_words(now)}."
    allowed = np.flatnonzero(hard.lids)
    least = allowed[p.short[allowed].min(axis=1) <= hard.short + HAIR]
    if least.size == allowed.size and all(missed(p, *pair) == now for pair in _unlike(p, least)):
        return (
            f"{said} So does every other: something else sets the height there, so a thinner ceiling does not help. The one shown is "
            "chosen by targets, load and budget."
        ), breach
    if least.size > 1:
        better = "No other does better where most is missed; of those that do as well there"
        return f"{said} {better} the one shown is chosen by targets, load and budget.", True
    return f"{said} Every other does worse where most is missed.", True


def _unlike(p: Problem, lids: np.typing.NDArray[np.intp]) -> list[tuple[int, int]]:
    """Of lids, by number, one for each height that they take, with the floor that leaves most."""
    first = dict.fromkeys(float(taken) for taken in p.taken[lids])
    return [(lid := int(lids[np.flatnonzero(p.taken[lids] == taken)[0]]), int(p.short[lid].argmin())) for taken in first]
