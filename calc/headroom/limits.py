"""What the model codes ask of a ceiling, by edition and case."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from calc.brief import Obstruction
from calc.catalogue import load
from calc.codes import ELSEWHERE, YARDSTICK, country
from calc.scheme import Layer

SLOPE = "slope"
TOLERANCE = 1e-6  # m; heights that differ by less are the same tape reading
HEIGHT_QUESTION = "Height to the joists"  # titles of the interview's questions, by which Brief.assumptions names them
UNDERSIDE_QUESTION = "Underside of the {kind}"


@dataclass(frozen=True)
class HeightLimit:
    """A height that a model code asks for, m, with edition and section."""

    height: float
    source: str


@dataclass(frozen=True)
class SlopeRule:
    """How much of a floor must have full height where a ceiling slopes or steps down.

    ``lowest`` m: lower parts count for nothing. ``required_area`` m2 must lie under at least ``lowest``; of it, or of the whole floor where
    it is None, ``share`` must have full height.
    """

    lowest: float
    required_area: float | None
    share: float
    source: str


def _known(cases: dict[str, Any]) -> list[str]:
    return [key for key, case in cases.items() if not case.get("careful")]


@cache
def code_limit(code: str, habitable: str, obstruction: bool) -> HeightLimit:
    """Least ceiling height [m] of a model-code case.

    ``code`` is a key of data/rules.toml's ceiling table, ``habitable`` yes | no | unknown; not knowing counts as yes.
    A case marked careful takes the highest limit of all others. Raises KeyError for an unknown code.
    Source: the edition and section that data/rules.toml names for the case.
    """
    cases = load("rules")["ceiling"]
    if cases[code].get("careful"):
        highest = max((code_limit(key, habitable, obstruction) for key in _known(cases)), key=lambda limit: limit.height)
        why = YARDSTICK if country(code) == ELSEWHERE else "the highest of the editions, as yours is not known"
        return HeightLimit(highest.height, f"{highest.source}; {why}")
    case: dict[str, Any] = cases[code]
    use = "non_habitable" if habitable == "no" else "habitable"
    height = float(case[f"{use}_obstruction" if obstruction else use])
    return HeightLimit(height, f"{case['edition']}, {case[f'section_{use}']} ({case['basis']}); model code, check the local one")


@cache
def slope_rule(code: str) -> SlopeRule:
    """What the case asks of sloped and stepped ceilings; not knowing the edition takes the rule with the larger share.

    Source: the edition and section that data/rules.toml names. Raises KeyError for an unknown code.
    """
    rules = load("rules")["slope"]
    where = country(code)
    row = rules[where] if where in rules else max(rules.values(), key=lambda rule: rule["share"])
    return SlopeRule(float(row["lowest"]), row.get("required_area"), float(row["share"]), str(row["source"]))


def door_head() -> float:
    """Height [m] over the finished floor that a door leaf of the usual size and its frame take. Source: data/rules.toml, door_head."""
    row = load("rules")["door_head"]
    return float(row["leaf"] + row["frame"])


@dataclass(frozen=True)
class SoffitSides:
    """One side of the box round what hangs, from the obstruction out [m]: clear gap, frame, boards."""

    gap: float
    frame: float
    skin: float

    @property
    def whole(self) -> float:
        return self.gap + self.frame + self.skin


@cache
def soffit_sides() -> SoffitSides:
    """What stands on each side of an obstruction that is boxed in [m]. Source: common practice, no source (data/rules.toml)."""
    rows = load("rules")["soffit"]
    boards = sum(row["thickness"] for row in rows if row["name"].endswith(" ply"))
    return SoffitSides(float(rows[0]["thickness"]), float(load("rules")["soffit_sides"]["frame"]), float(boards))


def boxed_width(thing: Obstruction) -> float:
    """How wide an obstruction is once it is boxed in [m]; a slope has no sides to box. Source: as ``soffit_sides``."""
    return thing.width if thing.kind == SLOPE else thing.width + 2.0 * soffit_sides().whole


@cache
def soffit_layers() -> tuple[Layer, ...]:
    """What boxes in a beam, duct or pipe, from its underside down; m, kg/m2. Source: common practice, no source (data/rules.toml)."""
    return tuple(Layer(row["name"], row["thickness"], row["surface_mass"]) for row in load("rules")["soffit"])
