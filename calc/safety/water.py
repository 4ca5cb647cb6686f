"""Water first: nothing is built over a leak, a wet wall or the drain that would save the room."""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.unit_format import format_area

TEST = (
    "Tape a clear plastic sheet, about 2 ft (600 mm) square, to wall and slab in several places for 48 hours: drops under it come from "
    "the "
    "ground, drops on it from the air. Repeat in the wet season."
)


def water_signs(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Standing water stops the project; stains and damp are tested first; none seen is still tested."""
    facts = {"source": "US EPA, moisture control guidance, from memory; sheet test is common practice", "task": "water"}
    match brief.shell.water:
        case "standing":
            return stop(
                "water-standing",
                "Water stands in the basement: build nothing until it stays out for a wet season",
                "Gutters, grading, cracks, drains and sump first, by a waterproofing contractor; then watch it through the wettest months.",
                decides="waterproofing contractor",
                **facts,
            )
        case "stains" | "damp":
            return caution(
                "water-signs",
                "Stains or damp: find out where the water comes from before a wall hides it",
                f"{TEST} Look outside first: gutters, downspouts, soil that falls towards the house.",
                decides="waterproofing contractor",
                **facts,
            )
        case "none":
            return note("water-test", "No water seen: prove it before the walls are closed", TEST, decides="owner", **facts)
        case _:
            return caution(
                "water-unknown",
                "Nobody has looked for water signs",
                f"Look for stains, white bloom, rust at posts. {TEST}",
                decides="owner",
                **facts,
            )


def mould(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Mould grows where it was wet."""
    if brief.shell.water == "none":
        return None
    return caution(
        "mould",
        "Where it was wet, look for mould before anything is covered",
        f"Dry wet materials within 24-48 hours; beyond {format_area(float(limits('moisture')['mould_area']), brief.units)} call a "
        "professional; wear a P100 or N95 mask, gloves and goggles below it. Never seal mould behind a wall.",
        source="US EPA, mould clean-up guidance, from memory",
        decides="owner",
        task="hazards_test",
    )


def drains(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A sump, floor drain or clean-out under the new floor must stay reachable."""
    if brief.shell.drains == "no":
        return None
    known = brief.shell.drains == "yes"
    return caution(
        "drains" if known else "drains-unknown",
        "A sump, floor drain or clean-out is inside the area"
        if known
        else "Nobody has checked for a sump, floor drain or clean-out inside the area",
        "Keep it reachable through a sealed hatch, keep its trap wet, fit an alarm to a sump; or have a plumber move it first."
        if known
        else "Lift rugs and shelves and look at the slab and the foot of the walls; find where the sewer leaves the house.",
        source="International Plumbing Code, access to clean-outs, from memory",
        decides="licensed plumber",
        task="survey",
    )


RULES: tuple[Rule, ...] = (water_signs, mould, drains)
