"""Ways to bring air into this room, compared by rules on numbers: which can work here, what each lacks, what it costs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation import paths as ways
from calc.isolation.duct_way import duct_size
from calc.isolation.listener import IsolationResult
from calc.materials.air import AT_FAN, air_lines
from calc.materials.cost import unit_cost
from calc.materials.line import line
from calc.scheme import AirPathOption
from calc.ventilation import checks, design
from calc.ventilation.air import air
from calc.ventilation.checks import Check


@dataclass(frozen=True)
class System:
    """One way: words of data/air_systems.toml, the path it goes through, what it was found to do, its cost in the person's currency
    (invented prices; labour in where hired), the heat that its fresh air takes in winter [W], the flow it moves [m3/s]."""

    id: str
    label: str
    option: AirPathOption
    checks: tuple[Check, ...]
    cost: float
    winter_heat: float
    flow: float
    pros: tuple[str, ...]
    cons: tuple[str, ...]
    designer: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """No hard rule fails; one may still wait for an answer."""
        return all(check.ok is not False for check in self.checks if check.hard)

    @property
    def asks(self) -> tuple[Check, ...]:
        """Rules that wait for an answer."""
        return tuple(check for check in self.checks if check.ok is None)

    @property
    def fails(self) -> tuple[Check, ...]:
        """Rules that fail, the hard ones first."""
        return tuple(sorted((check for check in self.checks if check.ok is False), key=lambda check: not check.hard))


@dataclass(frozen=True)
class Comparison:
    """All systems, best first; the best one's id, "" where none fits; why it is best, a sentence each."""

    systems: tuple[System, ...]
    best: str
    why: tuple[str, ...]


def compare(brief: Brief, room: Room, option: AirPathOption, isolation: IsolationResult) -> Comparison:
    """The systems of data/air_systems.toml through the ducts of an air path, ended as each of them asks.

    Those that fit come first; of them those that wait for no answer, then those that lack least, then the cheapest. Raises as
    design.runs. Source: own order; rules of calc.ventilation.checks.
    """
    found = [system(brief, room, option, isolation, key) for key in load("air_systems")["system"]]
    ranked = tuple(sorted(found, key=_rank))
    best = ranked[0] if ranked[0].fits else None
    return Comparison(ranked, best.id if best else "", _why(best, ranked))


def _rank(one: System) -> tuple[bool, int, int, float]:
    return not one.fits, len(one.asks), len(one.fails), one.cost


def _why(best: System | None, ranked: tuple[System, ...]) -> tuple[str, ...]:
    """What the best one does, and for each other that fits what puts it behind, or the first rule that rules it out."""
    if best is None:
        return ("No way compared here fits this brief: the HVAC designer has to find one.", *(_against(one) for one in ranked))
    hard = tuple(check.sentence for check in best.checks if check.hard)
    return (*hard, *(check.sentence for check in best.fails if not check.hard), *(_against(one) for one in ranked[1:]))


def _against(one: System) -> str:
    hard = [check for check in one.fails if check.hard]
    if hard:
        return f"Not {one.label}: {hard[0].sentence}"
    if one.asks:
        return f"Perhaps {one.label}: {one.asks[0].sentence}"
    if one.fails:
        return f"Behind it, {one.label}: {one.fails[0].sentence}"
    return f"As well, but dearer: {one.label}."


def ended(option: AirPathOption, end: str) -> AirPathOption:
    """The same ducts with another end: outdoors | house | basement."""
    return replace(option, id=f"{option.id}-as-{end}", fan_unit=end == "outdoors", house_ducts=end == "house")


def system(brief: Brief, room: Room, option: AirPathOption, isolation: IsolationResult, key: str) -> System:
    """One system of data/air_systems.toml in this room. Raises KeyError for another key, else as ``compare``. Source: as that."""
    row: dict[str, Any] = load("air_systems")["system"][key]
    end, path = row["end"], ended(option, row["end"])
    result = air(brief, room, path)
    size = duct_size(brief, path)
    supply, extract = design.runs(brief, path, result, size, row["fan"])
    cooling = result.cooling_needed and row["cooling"]
    flow = result.fresh_air if row["fan"] else checks.passive_flow(brief, supply, extract, result.heat_sensible)
    needs = design.lacking(isolation.listeners, lambda listener: ways.air_paths(brief, listener, path))
    most = max(float(needs.mouth.max()), float(needs.walls.max()))
    made = [
        checks.possible(brief, end),
        checks.holds_co2(brief, room, result, end, None if row["fan"] else flow),
        checks.carries_heat(result, cooling, flow),
        checks.leaves_flames_alone(brief, end),
        checks.keeps_dry(result, cooling),
        checks.lets_no_sound_out(most, needs.listener),
    ]
    if row["fan"]:
        made += [
            checks.has_pressure(brief, supply, extract),
            checks.is_quiet(design.room_noise(brief, room, path, result, size, supply.pressure)),
        ]
    return System(
        id=key,
        label=row["label"] + (", with a split unit besides for the heat" if cooling and key != "split" else ""),
        option=path,
        checks=tuple(made),
        cost=_cost(brief, path, cooling or key == "split", row["fan"]),
        winter_heat=result.heating_W if end == "outdoors" else 0.0,
        flow=flow,
        pros=tuple(row["pros"]),
        cons=tuple(row["cons"]),
        designer=tuple(row["designer"]),
    )


def _cost(brief: Brief, path: AirPathOption, cooling: bool, fan: bool) -> float:
    """What its lines cost [currency], a cooling unit in where it is part of it. Source: calc.materials.air; invented prices."""
    lines = [
        each
        for each in air_lines(brief, path)
        if each.item != "cooling_unit" and (fan or (each.item != "inline_fan" and each.where != AT_FAN))
    ]
    extra = [line("cooling_unit", "cooling that recirculates inside the room", 1)] if cooling else []
    return unit_cost(brief, [*lines, *extra])
