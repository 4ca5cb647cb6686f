"""How quiet the air must be in the room: the target set for the room itself, else what is usual for its use."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.brief import ITSELF, Brief
from calc.catalogue import load
from calc.ratings import NC_CURVES, NC_NUMBERS, nr_curve


@dataclass(frozen=True)
class NoiseTarget:
    """NC number as text, a key of the air speeds in data/air.toml, and where it comes from, to be read behind a comma."""

    number: str
    reason: str


def noise_target(brief: Brief) -> NoiseTarget:
    """What the air system is sized for: the target set for the room itself, where there is one, else by what the room is for.

    Source: the person's own answer; by use common practice, no source (data/air.toml).
    """
    stated = next((each.target for each in brief.listeners if each.kind == ITSELF), None)
    if stated is not None:
        return _stated(stated)
    use = "recording" if brief.use.recording else "mixing" if brief.use.activity == "mixing" else "playing"
    row = load("air")["noise_target"][use]
    return NoiseTarget(str(row["nc"]), str(row["reason"]))


@lru_cache(maxsize=16)
def _stated(target: str) -> NoiseTarget:
    """The highest NC that air speeds are known for and that keeps within a target in every octave, the lowest where none does.

    Raises KeyError for a target of data/criteria.toml that is none of a room. Source: the curves of calc.ratings.
    """
    row = load("criteria")["target"][target]
    rule, curve = str(row["rule"]), float(row["curve"])
    numbers = sorted(load("air")["grille_speed"], key=float)
    within = [each for each in numbers if np.all(_curve("nc", float(each)) <= _curve(rule, curve))]
    name, own = f"{rule.upper()} {curve:.0f}", "the target set for the room itself"
    if not within:
        return NoiseTarget(numbers[0], f"the lowest that air speeds are known for; {own}, {name}, is a little stricter")
    same = rule == "nc" and float(within[-1]) == curve
    return NoiseTarget(within[-1], own if same else f"which keeps within {own}, {name}")


def _curve(rule: str, number: float) -> NDArray[np.float64]:
    """Octave levels 63 to 8000 Hz (8,) [dB] of an NR curve, or of a printed NC curve."""
    return nr_curve(number)[1:] if rule == "nr" else np.asarray(NC_CURVES[number == NC_NUMBERS][0])
