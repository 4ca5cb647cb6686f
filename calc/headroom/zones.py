"""Finished height zone by zone: the open field, and under each obstruction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.brief import Brief, Obstruction
from calc.catalogue import load
from calc.headroom.gains import gains, named
from calc.headroom.limits import (
    HEIGHT_QUESTION,
    SLOPE,
    TOLERANCE,
    UNDERSIDE_QUESTION,
    HeightLimit,
    boxed_width,
    code_limit,
    slope_rule,
    soffit_layers,
)
from calc.scheme import FloorOption, Layer, LidOption
from calc.unit_format import format_length

WALKED = ("walking route", "door")


@dataclass(frozen=True)
class ZoneHeight:
    """Finished floor to finished ceiling in one zone, m. ``stack`` runs down from the joists (or the obstruction) to the slab.

    ``limit`` is 0 under a slope too low to be counted as floor.

    ``own_limit`` is None where the person's own lowest ceiling does not apply: under a narrow soffit that nobody walks under. ``bare`` is
    the height with nothing built, from the highest spot of the slab; ``assumed``: nobody measured what it hangs on. ``place`` says what
    lies under it ("" for the open field); ``area`` [m2] is what it covers at the most, 0 for the open field; ``sloped``: a slope's lowest.
    """

    name: str
    obstruction: bool
    height: float
    limit: float
    limit_source: str
    own_limit: float | None
    ok_code: bool
    ok_own: bool
    stack: tuple[Layer, ...]
    bare: float
    assumed: bool
    place: str = ""
    area: float = 0.0
    sloped: bool = False

    @property
    def asked(self) -> float:
        """The higher of the two limits [m]."""
        return max(self.limit, self.own_limit or 0.0)

    @property
    def margin(self) -> float:
        """Height left over the higher limit [m]; negative when it fails."""
        return self.height - self.asked


@dataclass(frozen=True)
class HeadroomResult:
    """``binding`` is the zone with the least left over its limits; ``gains`` says what would win height back there [m], most first."""

    zones: tuple[ZoneHeight, ...]
    open_field: ZoneHeight
    binding: ZoneHeight
    gains: tuple[tuple[float, str], ...]
    units: str

    @property
    def win_back(self) -> tuple[str, ...]:
        """The gains in words, in the person's units."""
        return tuple(f"{text}: gains {format_length(gain, self.units, step_mm=1.0)}" for gain, text in self.gains)

    @property
    def lowest(self) -> ZoneHeight:
        """The zone with the least height of those that count as floor; ``binding`` may be another, where more is asked."""
        return min((zone for zone in self.zones if zone.limit > 0.0), key=lambda zone: zone.height, default=self.open_field)

    @property
    def ok(self) -> bool:
        """Every zone keeps the code limit and the person's own."""
        return all(zone.ok_code and zone.ok_own for zone in self.zones)


def headroom(brief: Brief, lid: LidOption, floor: FloorOption) -> HeadroomResult:
    """Finished heights [m] with a lid and a floor finish, taken at the highest spot of the slab under the lowest joist.

    A soffit that would end above the lid is no zone of its own: the lid hides it.
    Source: geometry; limits as in ``code_limit``.
    """
    field = open_field(brief, lid, floor)
    zones = (field, *_soffits(brief, field, floor))
    binding = _binding(zones)
    return HeadroomResult(zones, field, binding, gains(brief, lid, floor, binding.name), brief.units)


def tightest(brief: Brief, lid: LidOption, floor: FloorOption) -> ZoneHeight:
    """The zone with the least left over its limits, as ``headroom`` finds it. Source: as ``headroom``."""
    field = open_field(brief, lid, floor)
    return _binding((field, *_soffits(brief, field, floor)))


def _binding(zones: Sequence[ZoneHeight]) -> ZoneHeight:
    return min(zones, key=lambda zone: zone.margin)


def open_field(brief: Brief, lid: LidOption, floor: FloorOption) -> ZoneHeight:
    """The zone between the obstructions, as ``headroom`` finds it. Source: as ``headroom``."""
    stack = (*lid.layers, *_below(brief, floor))
    return _zone(brief, "open field", brief.shell.height, stack, HEIGHT_QUESTION, code_limit(brief.code, brief.habitable, False), True)


def _soffits(brief: Brief, field: ZoneHeight, floor: FloorOption) -> list[ZoneHeight]:
    stack = (*soffit_layers(), *_below(brief, floor))
    zones = [_soffit(brief, name, thing, stack) for name, thing in named(brief.shell.obstructions)]
    return [zone for zone in zones if zone.height < field.height]


def _soffit(brief: Brief, name: str, thing: Obstruction, stack: tuple[Layer, ...]) -> ZoneHeight:
    """The zone under one obstruction. The person's own lowest ceiling holds where people walk, and where it is wide and no desk stands.

    A slope that nobody walks under has no least height: where it is lower than the code counts, its floor is not counted at all.
    """
    wide = thing.width > load("rules")["ceiling_rules"]["wide_obstruction"]
    own = thing.place in WALKED or (wide and thing.kind != SLOPE and thing.place != "desk")
    limit = code_limit(brief.code, brief.habitable, True)
    if thing.kind == SLOPE and thing.place not in WALKED:
        rule = slope_rule(brief.code)
        counts = thing.underside - sum(layer.thickness for layer in stack) >= rule.lowest - TOLERANCE
        limit = HeightLimit(rule.lowest if counts else 0.0, rule.source)
    question = UNDERSIDE_QUESTION.format(kind=thing.kind)
    length = thing.run(max(brief.shell.length, brief.shell.width))
    return _zone(
        brief, f"under {name}", thing.underside, stack, question, limit, own, thing.place, boxed_width(thing) * length, thing.kind == SLOPE
    )


def _below(brief: Brief, floor: FloorOption) -> tuple[Layer, ...]:
    """What takes height from below: the floor finish, and the slab where it stands higher than where the tape stood."""
    uneven = brief.shell.slab_unevenness
    layers = floor.layers[::-1]  # the stack runs down to the slab
    return (*layers, Layer("uneven slab, highest spot", uneven, 0.0)) if uneven > 0.0 else layers


def _zone(
    brief: Brief,
    name: str,
    top: float,
    stack: tuple[Layer, ...],
    question: str,
    limit: HeightLimit,
    own: bool,
    place: str = "",
    area: float = 0.0,
    sloped: bool = False,
) -> ZoneHeight:
    """The zone under ``top`` [m above where the tape stood], which the answer to ``question`` (its title) gave."""
    height = top - sum(layer.thickness for layer in stack)
    own_limit = brief.limits.lowest_ceiling if own else None
    return ZoneHeight(
        name=name,
        obstruction=question != HEIGHT_QUESTION,
        height=height,
        limit=limit.height,
        limit_source=limit.source,
        own_limit=own_limit,
        ok_code=height >= limit.height - TOLERANCE,
        ok_own=own_limit is None or height >= own_limit - TOLERANCE,
        stack=stack,
        bare=top - max(brief.shell.slab_unevenness, 0.0),
        assumed=any(assumption.question == question for assumption in brief.assumptions),
        place=place,
        area=area,
        sloped=sloped,
    )
