"""Ways to bring air into this room, compared by rules on numbers: which can work here, what each lacks, what it costs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation import paths as ways
from calc.isolation.duct_way import duct_size, needed
from calc.isolation.listener import IsolationResult
from calc.materials.air import AT_FAN, air_lines
from calc.materials.cost import unit_cost
from calc.materials.line import line
from calc.scheme import AirPathOption
from calc.ventilation import checks, design
from calc.ventilation.air import air
from calc.ventilation.checks import Check
from calc.ventilation.run import end_of


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

    @property
    def behind(self) -> str:
        """The sentence that rules it out, else the one that waits for an answer, else what it lacks; "" where nothing is against it."""
        first = self.fails[:1] if not self.fits else (*self.asks, *self.fails)
        return first[0].sentence if first else ""


@dataclass(frozen=True)
class Comparison:
    """All systems, the chosen one first, then the better ones first. ``chosen``: id of the one that the air path of the plan belongs to;
    ``best``: that of the one that lacks least, the chosen one where no other lacks less, "" where none fits; ``why``, a sentence each: what
    the chosen one lacks, and what is better."""

    systems: tuple[System, ...]
    chosen: str
    best: str
    why: tuple[str, ...]

    def named(self, key: str) -> System:
        """The system of an id. Raises StopIteration for another one."""
        return next(one for one in self.systems if one.id == key)


def compare(brief: Brief, room: Room, option: AirPathOption, isolation: IsolationResult) -> Comparison:
    """The systems of data/air_systems.toml through the ducts of an air path, ended as each of them asks.

    Those that fit rank first; of them those that wait for no answer, then those that lack least, then the one chosen, as its sound was
    looked at with its cost, then the cheapest. Raises as design.runs. Source: own order; rules of calc.ventilation.checks.
    """
    chosen = chosen_system(option, needed(brief).cooling_needed)
    found = [system(brief, room, option, isolation, key) for key in load("air_systems")["system"]]
    ranked = sorted(found, key=lambda one: (not one.fits, len(one.asks), len(one.fails), one.id != chosen, one.cost))
    best, own = ranked[0] if ranked[0].fits else None, next(one for one in ranked if one.id == chosen)
    others = tuple(one for one in ranked if one is not own)
    return Comparison((own, *others), chosen, best.id if best else "", _why(own, best))


def chosen_system(option: AirPathOption, cooling: bool) -> str:
    """Id of the system that an air path with its fans belongs to, with cooling in the bill or without. Source: data/air_systems.toml."""
    end = end_of(option)
    rows = [(key, row) for key, row in load("air_systems")["system"].items() if row["end"] == end and row["fan"]]
    return str(next((key for key, row in rows if row["cooling"] == cooling), rows[0][0]))


def _why(own: System, best: System | None) -> tuple[str, ...]:
    """What the chosen one lacks, and what another does better; what it does is told with it, what rules another out beside that one."""
    lacks = tuple(check.sentence for check in (*own.asks, *own.fails))
    if best is None:
        return ("No way compared here fits this brief: the HVAC designer has to find one.", *lacks)
    if best is own:
        return lacks
    gains = " ".join(check.sentence for check in best.checks if check.ok and _open(own, check)) or "it lacks less."
    return (*lacks, f"One may want {best.label} instead: {gains}")


def _open(own: System, check: Check) -> bool:
    return any(each.rule == check.rule for each in (*own.asks, *own.fails))


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
