"""Brief (and scheme) to assessment: calls every calculation once, holds no physics."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from calc import acoustics, safety, structure, ventilation
from calc import headroom as headroom_
from calc import schedule as schedule_
from calc.brief import Brief
from calc.choose import Choice, choose
from calc.finding import Finding, Severity
from calc.geometry import Room, inner_room
from calc.isolation import wishes
from calc.isolation.listener import IsolationResult, isolation
from calc.isolation.opening import open_gaps
from calc.kept import Kept
from calc.materials.cost import Bill, bill
from calc.materials.order_sizes import order_sizes
from calc.materials.treatment import treatment_lines
from calc.next_steps import NextStep
from calc.options import doors, floors, lids
from calc.placing import placing
from calc.problem import bill_of
from calc.scheme import Scheme
from calc.ventilation import design, design_rules, systems

_SOUNDS: Kept[acoustics.RoomSound] = Kept(16)
SEVERITY_ORDER = {Severity.STOP: 0, Severity.CAUTION: 1, Severity.NOTE: 2}


@dataclass(frozen=True)
class Assessment:
    """Everything known about one brief and the scheme chosen for it. ``height_map`` is None where no corner was measured."""

    brief: Brief
    scheme: Scheme
    choice: Choice
    room: Room
    headroom: headroom_.HeadroomResult
    height_map: headroom_.HeightMap | None
    lid_costs: tuple[headroom_.LidCost, ...]
    floor_costs: tuple[headroom_.FloorCost, ...]
    structure: structure.StructureResult
    isolation: IsolationResult
    air: ventilation.AirResult
    findings: tuple[Finding, ...]
    bill: Bill
    schedule: schedule_.Schedule

    @property
    def stops(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.severity is Severity.STOP)

    @property
    def cautions(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.severity is Severity.CAUTION)

    @property
    def notes(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.severity is Severity.NOTE)

    @cached_property
    def sound(self) -> acoustics.RoomSound:
        """How the room sounds and what to hang where; computed when asked, as nothing of it decides whether the room can be built."""
        brief, room, floor = self.brief, self.room, self.scheme.floor
        openings, use = placing(brief, room, self.scheme).openings, brief.use
        asked = (use.source, use.recording, use.sleeping, brief.limits.lowest_ceiling, brief.shell.sides)
        return _SOUNDS.get((asked, room, floor, openings), lambda: acoustics.room_sound(brief, room, floor, openings))

    @cached_property
    def sound_findings(self) -> tuple[Finding, ...]:
        """Findings about the sound in the room, beside ``findings``."""
        return acoustics.findings(self.brief, self.sound)

    @cached_property
    def air_design(self) -> design.AirDesign:
        """Ducts, grilles, noise and silencer box of the air path chosen; computed when asked, as it decides nothing."""
        return design.design(self.brief, self.room, self.scheme.air_path, self.air, self.isolation, open_gaps(self.scheme.door))

    @cached_property
    def air_systems(self) -> systems.Comparison:
        """The ways to bring air into this room, best first; computed when asked."""
        return systems.compare(self.brief, self.room, self.scheme.air_path, self.isolation)

    @cached_property
    def air_findings(self) -> tuple[Finding, ...]:
        """Findings about the design of the air and the systems compared, beside ``findings``."""
        return design_rules.findings(self.brief, self.air, self.air_design, self.air_systems)

    @cached_property
    def sealed_door_cost(self) -> float | None:
        """What the cheapest door sealed all round would cost more than the one chosen [currency]; None where that one is.

        Nobody whom the brief names may need it; the rest of the basement hears it all the same. Source: calc.problem.bill_of.
        """
        if self.scheme.door.sealed:
            return None
        sealed = [replace(self.scheme, door=door) for door in doors(self.brief) if door.sealed]
        return min(bill_of(self.brief, each).total for each in sealed) - self.bill.total

    @cached_property
    def sound_bill(self) -> Bill:
        """What is hung for the sound in the room, beside ``bill``: nobody else hears it, and it waits until the room has been heard."""
        return bill(self.brief, treatment_lines(self.sound.treatments))

    @cached_property
    def order_sizes(self) -> Mapping[str, str]:
        """What a seller must be told beside the name of an item: size, flow or power, by item."""
        return order_sizes(self.brief, self.scheme, self.air, self.air_design)

    @property
    def next_steps(self) -> tuple[NextStep, ...]:
        """The cheapest steps beyond the choice that can be heard."""
        return self.choice.next_steps

    @property
    def wasted(self) -> tuple[NextStep, ...]:
        """Steps beyond the choice that buy less than can be heard anywhere."""
        return self.choice.wasted

    @property
    def feasible(self) -> bool:
        """False while a stop finding stands."""
        return not self.stops


def assess(brief: Brief, scheme: Scheme | None = None, explain: bool = True) -> Assessment:
    """Assess a brief with the given scheme, or with the cheapest one that meets it.

    Without ``explain`` the choice carries no reasons and no alternatives, which is several times faster.
    Source: each called module names its own.
    """
    choice = choose(brief, explain=explain)
    scheme = scheme or choice.scheme
    room = inner_room(brief, scheme)
    heights = headroom_.headroom(brief, scheme.lid, scheme.floor)
    corners = headroom_.height_map(brief, scheme.lid, scheme.floor, brief.site)
    load = structure.screen(brief, scheme.lid, brief.site)
    air = ventilation.air(brief, room, scheme.air_path)
    heard = isolation(brief, scheme, room)
    hopeless = wishes.out_of_reach(heard)
    found = (
        *((hopeless,) if hopeless is not None else ()),
        *headroom_.findings(brief, heights, corners),
        *structure.findings(brief, load),
        *safety.findings(brief, scheme, room, brief.site),
        *ventilation.findings(brief, air),
        *wishes.findings(brief),
    )
    findings = tuple(sorted(found, key=lambda f: SEVERITY_ORDER[f.severity]))
    priced = bill_of(brief, scheme)
    return Assessment(
        brief=brief,
        scheme=scheme,
        choice=choice,
        room=room,
        headroom=heights,
        height_map=corners,
        lid_costs=headroom_.lid_costs(brief, lids(brief), scheme.floor),
        floor_costs=headroom_.floor_costs(floors(brief)),
        structure=load,
        isolation=heard,
        air=air,
        findings=findings,
        bill=priced,
        schedule=schedule_.schedule(brief, scheme, room, priced, findings),
    )
