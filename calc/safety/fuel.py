"""Fuel-burning appliances that lose their air to the room, and gas pipes behind its walls."""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, caution, limits, note, stop
from calc.scheme import Scheme
from calc.unit_format import format_volume

HVAC = "HVAC contractor"
SQUARE_INCH = 0.0254**2


def combustion_volume(power: float) -> float:
    """Least volume [m3] of the space an appliance of an input [W] takes its air from; below it the space is confined.

    Source: International Fuel Gas Code 304 / NFPA 54: 50 ft3 per 1,000 Btu/h.
    """
    return float(limits("combustion_air")["volume_per_power"]) * power


def indoor_opening(power: float) -> float:
    """Free area [m2] of each of two openings that join a confined space to another room of the same storey, input W.

    Source: International Fuel Gas Code 304: 1 in2 per 1,000 Btu/h, at least 100 in2.
    """
    rule = limits("combustion_air")
    return max(float(rule["opening_per_power"]) * power, float(rule["opening_min_area"]))


def outdoor_opening(power: float, way: str) -> float:
    """Free area [m2] of an outdoor combustion-air opening, input W; ``way`` is horizontal | single | vertical. Raises KeyError for others.

    Source: International Fuel Gas Code 304: 1 in2 per 2,000, 3,000 or 4,000 Btu/h.
    """
    return float(limits("combustion_air")[f"outdoor_{way}"]) * power


def appliance(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A natural-draft appliance breathes the basement's air; a tight room takes volume away. Too little is a stop, not knowing asks."""
    kind, power, left = brief.shell.appliance, brief.shell.appliance_power, brief.shell.basement_volume_left
    if kind == "none":
        return None
    source = str(limits("combustion_air")["source"])
    if kind == "sealed":
        return note(
            "appliance-sealed",
            "A sealed (direct-vent) appliance takes its air from outside, but still needs working space and a door to be reached",
            "Keep 30 in (760 mm) level working space at its control side and the way wide enough to take it out; leave both pipes "
            "untouched.",
            source="International Residential Code M1305.1, seen",
            decides=HVAC,
            task="permits",
        )
    needed = combustion_volume(power)
    name = "A natural-draft appliance" if kind == "natural draft" else "An appliance of unknown kind"
    short = power > 0.0 and left < needed
    kept = f"{name} keeps {format_volume(left, brief.units)} of basement air"
    asked = f" and needs {format_volume(needed, brief.units)}: too little, carbon monoxide kills" if short else ""
    return (stop if short and kind == "natural draft" else caution)(
        "appliance-air",
        kept + asked,
        f"Ask an HVAC contractor before the permit, and order nothing before the answer. {_air_for(power, left, brief.units)}"
        "Have any appliance that still burns the basement's air tested for draft once the boards are up and before first use, every fan "
        "running and the room's air balanced, with a carbon monoxide alarm beside it.",
        source=source,
        decides=HVAC,
        task="hazards_test",
    )


def _air_for(power: float, left: float, units: str) -> str:
    """Where the appliance's air can come from: openings for its input [W], or nothing to open into where no volume [m3] is left."""
    if left <= 0.0:
        return (
            "Nothing of the basement is left for openings to lead to: the appliance must be replaced by a sealed one or moved, or this "
            "area is not used. "
        )
    if power <= 0.0:
        return "Read the input in Btu/h or kW off its label. "
    return (
        f"Openings for that input: two of {_opening(indoor_opening(power), units)} each where a wall parts it from more space on the same "
        f"storey, or two horizontal ducts of {_opening(outdoor_opening(power, 'horizontal'), units)} each to the outside. "
        "Better: replace it by a sealed one. "
    )


def gas_line(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Gas pipe, union or shut-off that the room would enclose."""
    if brief.shell.gas_line == "no":
        return None
    known = brief.shell.gas_line == "yes"
    return caution(
        "gas-line" if known else "gas-line-unknown",
        "A gas pipe or shut-off is inside the area" if known else "Nobody has checked for a gas pipe or shut-off inside the area",
        "No joint or valve may end up sealed in: have a licensed gas fitter move it or keep it reachable, then pressure-test; "
        "clips and screws stay clear of the pipe. Smell gas: leave, ring from outside."
        if known
        else "Follow the gas pipe from the meter with your eyes through every joist bay over the area before anything is bought.",
        source="International Fuel Gas Code 404 (concealed piping) and 409 (shut-off access), from memory",
        decides="licensed gas fitter",
        task="survey",
    )


def _opening(area: float, units: str) -> str:
    return f"{area / SQUARE_INCH:.0f} sq in" if units == "imperial" else f"{area * 1e4:.0f} cm²"


RULES: tuple[Rule, ...] = (appliance, gas_line)
