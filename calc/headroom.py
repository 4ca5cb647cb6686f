"""The stack under the joists: finished height in the open field and under every obstruction, against code and own limits."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from calc.brief import Brief, Obstruction
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.scheme import FloorOption, Layer, LidOption
from calc.unit_format import format_length

TOLERANCE = 1e-6  # m; heights that differ by less are the same tape reading
HEIGHT_QUESTION = "Height to the joists"  # titles of the interview's questions, by which Brief.assumptions names them
UNDERSIDE_QUESTION = "Underside of the {kind}"


@dataclass(frozen=True)
class HeightLimit:
    """A height that a model code asks for, m, with edition and section."""

    height: float
    source: str


@dataclass(frozen=True)
class ZoneHeight:
    """Finished floor to finished ceiling in one zone, m. ``stack`` runs down from the joists (or the obstruction) to the slab.

    ``own_limit`` is None where the person's own lowest ceiling does not apply: under a narrow soffit. ``bare`` is the height with nothing
    built, from the highest spot of the slab; ``assumed``: nobody measured what it hangs on.
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
    def ok(self) -> bool:
        """Every zone keeps the code limit and the person's own."""
        return all(zone.ok_code and zone.ok_own for zone in self.zones)


@cache
def code_limit(code: str, habitable: str, obstruction: bool) -> HeightLimit:
    """Least ceiling height [m] of a model-code case.

    ``code`` is a key of data/rules.toml's ceiling table, ``habitable`` yes | no | unknown; not knowing counts as yes.
    A case marked careful takes the highest limit of all others. Raises KeyError for an unknown code.
    Source: the edition and section that data/rules.toml names for the case.
    """
    cases = load("rules")["ceiling"]
    if cases[code].get("careful"):
        known = [code_limit(key, habitable, obstruction) for key, case in cases.items() if not case.get("careful")]
        highest = max(known, key=lambda limit: limit.height)
        return HeightLimit(highest.height, f"{highest.source}; the highest of the editions, as yours is not known")
    case: dict[str, Any] = cases[code]
    use = "non_habitable" if habitable == "no" else "habitable"
    height = float(case[f"{use}_obstruction" if obstruction else use])
    return HeightLimit(height, f"{case['edition']}, {case[f'section_{use}']} ({case['basis']}); model code, check the local one")


@cache
def soffit_layers() -> tuple[Layer, ...]:
    """What boxes in a beam, duct or pipe, from its underside down; m, kg/m2. Source: common practice, no source (data/rules.toml)."""
    return tuple(Layer(row["name"], row["thickness"], row["surface_mass"]) for row in load("rules")["soffit"])


def headroom(brief: Brief, lid: LidOption, floor: FloorOption) -> HeadroomResult:
    """Finished heights [m] with a lid and a floor finish, taken at the highest spot of the slab.

    A soffit that would end above the lid is no zone of its own: the lid hides it.
    Source: geometry; limits as in ``code_limit``.
    """
    field = _field(brief, lid, floor)
    zones = (field, *_soffits(brief, field, floor))
    binding = min(zones, key=lambda zone: zone.margin)
    return HeadroomResult(zones, field, binding, _gains(brief, lid, floor, binding), brief.units)


def findings(brief: Brief, result: HeadroomResult) -> tuple[Finding, ...]:
    """One finding for each zone that fails a limit, and one that asks when habitability or edition is not known."""
    found = [finding for zone in result.zones for finding in _zone_findings(brief, result, zone)]
    found += _asked(brief)
    return tuple(found)


def _field(brief: Brief, lid: LidOption, floor: FloorOption) -> ZoneHeight:
    stack = (*lid.layers, *_below(brief, floor))
    return _zone(brief, "open field", brief.shell.height, stack, HEIGHT_QUESTION, own=True)


def _soffits(brief: Brief, field: ZoneHeight, floor: FloorOption) -> list[ZoneHeight]:
    zones = []
    stack = (*soffit_layers(), *_below(brief, floor))
    for name, thing in _named(brief.shell.obstructions):
        wide = thing.width > load("rules")["ceiling_rules"]["wide_obstruction"]
        zone = _zone(brief, f"under {name}", thing.underside, stack, UNDERSIDE_QUESTION.format(kind=thing.kind), own=wide)
        if zone.height < field.height:
            zones.append(zone)
    return zones


def _named(obstructions: tuple[Obstruction, ...]) -> list[tuple[str, Obstruction]]:
    """Obstructions with a name each: 'the beam', or 'duct 2' where there are several of a kind."""
    count: dict[str, int] = {}
    named = []
    for thing in obstructions:
        count[thing.kind] = count.get(thing.kind, 0) + 1
        several = sum(other.kind == thing.kind for other in obstructions) > 1
        named.append((f"{thing.kind} {count[thing.kind]}" if several else f"the {thing.kind}", thing))
    return named


def _below(brief: Brief, floor: FloorOption) -> tuple[Layer, ...]:
    """What takes height from below: the floor finish, and the slab where it stands higher than where the tape stood."""
    uneven = brief.shell.slab_unevenness
    return (*floor.layers, Layer("uneven slab, highest spot", uneven, 0.0)) if uneven > 0.0 else floor.layers


def _zone(brief: Brief, name: str, top: float, stack: tuple[Layer, ...], question: str, own: bool) -> ZoneHeight:
    """The zone under ``top`` [m above where the tape stood], which the answer to ``question`` (its title) gave."""
    obstruction = question != HEIGHT_QUESTION
    height = top - sum(layer.thickness for layer in stack)
    limit = code_limit(brief.code, brief.habitable, obstruction)
    own_limit = brief.limits.lowest_ceiling if own else None
    return ZoneHeight(
        name=name,
        obstruction=obstruction,
        height=height,
        limit=limit.height,
        limit_source=limit.source,
        own_limit=own_limit,
        ok_code=height >= limit.height - TOLERANCE,
        ok_own=own_limit is None or height >= own_limit - TOLERANCE,
        stack=stack,
        bare=top - max(brief.shell.slab_unevenness, 0.0),
        assumed=any(assumption.question == question for assumption in brief.assumptions),
    )


def _gains(brief: Brief, lid: LidOption, floor: FloorOption, binding: ZoneHeight) -> tuple[tuple[float, str], ...]:
    """Measures that would gain height in the binding zone and the height [m] each gains, largest first."""
    gains: list[tuple[float, str]] = []
    if binding.name == "open field":
        board = lid.plies[-1].thickness if len(lid.plies) > 1 else 0.0
        gains.append((board, "leave out one ply below the joists"))
        held = lid.height_taken - sum(ply.thickness for ply in lid.plies)
        if lid.plies and not lid.between_joists and brief.limits.joists_may_be_touched:
            gains.append((board, "put one ply between the joists, against the subfloor, in place of one below"))
        if lid.support in ("isolation clip", "independent joists"):
            channel = float(load("options")["lid"]["support"]["channel"]["drop"])
            gains.append((held - channel, "hold the boards on resilient channel, at a loss of isolation"))
    else:
        taken = bool(lid.between_joists) or lid.own_joist_depth > 0.0  # boards or own joists stand where a duct would go
        place = "out of the room" if taken else "out of the room or up between the joists"
        for name, thing in _named(brief.shell.obstructions):
            if binding.name == f"under {name}" and thing.movable:
                lid_underside = brief.shell.height - lid.height_taken
                soffit = sum(layer.thickness for layer in soffit_layers())
                gains.append((lid_underside - (thing.underside - soffit), f"move {name} {place}"))
        gains.append((soffit_layers()[-1].thickness, "box it in with one ply in place of two, at a loss of isolation"))
    gains.append((floor.height_taken, "leave the slab bare or paint it"))
    gains.append((brief.shell.slab_unevenness, "grind the high spots of the slab"))
    return tuple(sorted((gain for gain in gains if gain[0] > 0.001), key=lambda gain: -gain[0]))


def _zone_findings(brief: Brief, result: HeadroomResult, zone: ZoneHeight) -> list[Finding]:
    walked = float(load("rules")["ceiling_rules"]["walked_minimum"])
    said = " (assumed: measure first)" if zone.assumed else ""
    found = []
    if not zone.ok_code:
        stop = brief.habitable == "yes" or zone.height < walked - TOLERANCE
        found.append(
            Finding(
                rule=f"headroom-code-{zone.name.replace(' ', '-')}",
                severity=Severity.STOP if stop else Severity.CAUTION,
                title=f"Finished height {zone.name} is below the model-code minimum{said}",
                measured=zone.height,
                limit=zone.limit,
                unit="m",
                source=zone.limit_source,
                remedy=_remedy(brief, result, zone, zone.limit) + _other_editions(brief, zone),
                decides="building official",
                task="survey",
            )
        )
    if not zone.ok_own:
        found.append(
            Finding(
                rule=f"headroom-own-{zone.name.replace(' ', '-')}",
                severity=Severity.CAUTION,
                title=f"Finished height {zone.name} is below the lowest ceiling you accept{said}",
                measured=zone.height,
                limit=zone.own_limit,
                unit="m",
                source="your own limit",
                remedy=_remedy(brief, result, zone, zone.own_limit or 0.0),
                decides="owner",
                task="survey",
            )
        )
    return found


def _remedy(brief: Brief, result: HeadroomResult, zone: ZoneHeight, limit: float) -> str:
    """What helps where a zone is under a limit [m]; a lid helps only over the open field, and not where the bare height already fails."""
    first = "This height was not measured: measure it at the lowest spot before anything else. " if zone.assumed else ""
    hung = zone.name.removeprefix("under ") if zone.obstruction else "the joists"
    if zone.bare < limit - TOLERANCE:
        first += f"No lid and no floor cure it: with nothing built, {hung} and the highest spot of the slab are only "
        first += (
            f"{format_length(zone.bare, brief.units)} apart. Choose another place for the room, or ask a structural engineer what can move"
        )
    elif zone.obstruction:
        first += f"A thinner lid does not help here: {hung} sets this height. Choose a thinner floor or another place for the room"
    else:
        first += "Choose a thinner lid or another place for the room"
    gain = "; ".join(result.win_back) if zone is result.binding else ""
    return f"{first}. Height to win back: {gain}." if gain else f"{first}."


def _other_editions(brief: Brief, zone: ZoneHeight) -> str:
    """Where the edition is not known: whether one of the known editions would let this height pass."""
    cases = load("rules")["ceiling"]
    if not cases[brief.code].get("careful"):
        return ""
    known = [key for key, case in cases.items() if not case.get("careful")]
    passing = [cases[key]["label"] for key in known if zone.height >= code_limit(key, brief.habitable, zone.obstruction).height]
    return f" Ask which edition is in force: this height would pass under {'; '.join(passing)}." if passing else ""


def _asked(brief: Brief) -> list[Finding]:
    asked = []
    if brief.habitable == "unknown":
        asked.append(("headroom-habitable-unknown", "Ask whether the room counts as habitable space; it is planned as if it does"))
    if load("rules")["ceiling"][brief.code].get("careful"):
        height = format_length(code_limit(brief.code, brief.habitable, obstruction=False).height, brief.units)
        title = f"Ask which code edition is in force; the highest limit of the known editions is used, {height}"
        asked.append(("headroom-edition-unknown", title))
    return [
        Finding(
            rule=rule,
            severity=Severity.CAUTION,
            title=title,
            measured=None,
            limit=None,
            unit="",
            source=code_limit(brief.code, brief.habitable, obstruction=False).source,
            remedy="Ring the building department before anything is bought: one call, and it can change the ceiling you may build.",
            decides="building official",
            task="permits",
        )
        for rule, title in asked
    ]
