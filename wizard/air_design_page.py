"""The parts of the page "Air" about how the air comes in: ducts and grilles, noise in the room, sound out through the ducts, other ways
and their cost. Lines of text for any width, no Textual here."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from wizard.lines import Line, Part, hung, section
from wizard.present import at_least_one, filters, plural

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.ventilation.design import AirDesign
    from calc.ventilation.run import Run
    from calc.ventilation.systems import Comparison, System

NAME, COLUMN = 26, 17  # columns of what a row is about, and of each run


def design_lines(found: Assessment, room: int) -> list[Line]:
    """All sections, prose in ``room`` columns."""
    design, systems = found.air_design, found.air_systems
    write = filters(found.brief.units, found.brief.means.currency)
    work = ", work included" if found.bill.labour > 0 else ""
    return [
        *section("Ducts and grilles", [_table(design, write)], Part.CHART),
        *_prose([_path(found, write), *_pressure(design, write)], room),
        *section("Noise in the room", [hung("", text, room) for text in _noise(design, found.air.noise_reason, write)]),
        *section("Sound out through the ducts", [hung("", text, room) for text in _out(design, write)]),
        *section(
            "Ways to bring air in, and what each costs",
            [hung("", _ways(systems), room), *(block for system in systems.systems for block in _system(system, write, room))],
        ),
        *_prose([f"Costs are of the parts alone at invented prices{work}, without contingency."], room),
    ]


def _prose(texts: list[str], room: int) -> list[Line]:
    return [Line(Part.TEXT, line) for text in texts for line in hung("", text, room)]


def _path(found: Assessment, write: dict[str, Callable[..., Any]]) -> str:
    air, thin = found.air, write["thin"]
    free, outside = thin(air.duct_diameter), thin(air.duct_outside)
    lined = "" if free == outside else f", {outside} outside with its lining"
    return (
        f"Both ways: {write['own'](found.scheme.air_path.label)}. A round duct would need {free} of free diameter or more{lined}. "
        f"Air no faster than {write['velocity'](air.duct_velocity)} at the supply grille keeps to NC {air.noise_target}."
    )


def _table(design: AirDesign, write: dict[str, Callable[..., Any]]) -> list[str]:
    rows: list[tuple[str, Callable[[Run], str]]] = [
        ("Flow", lambda run: write["flow"](run.flow)),
        ("Ducts side by side", lambda run: f"{run.ducts}"),
        ("Free side, inside lining", lambda run: write["nominal"](run.side)),
        ("Air speed in the duct", lambda run: write["velocity"](run.speed)),
        ("Grille face, wide", lambda run: write["nominal"](run.grille.width)),
        ("Grille face, high", lambda run: write["nominal"](run.grille.height)),
        ("Grille free area, at least", lambda run: write["duct_area"](run.grille.free_area)),
        ("Pressure that it takes", lambda run: write["draught"](run.pressure)),
        ("Pressure that the fan has", lambda run: write["draught"](run.available)),
    ]
    cells = [("", "supply", "return"), *((name, told(design.supply), told(design.extract)) for name, told in rows)]
    return [f"  {name:<{NAME}}  {here:<{COLUMN}}  {there}".rstrip() for name, here, there in cells]


def _pressure(design: AirDesign, write: dict[str, Callable[..., Any]]) -> list[str]:
    if design.supply.enough and design.extract.enough:
        return ["The fan has pressure enough."]
    if design.wider is None:
        return ["The fan lacks pressure, and no size sold would do: shorter ducts, or a stronger fan."]
    side = write["nominal"](design.wider.casing)
    return [f"The fan lacks pressure with these ducts; {design.wider.runs} of {side} square each way would do."]


def _noise(design: AirDesign, reason: str, write: dict[str, Callable[..., Any]]) -> list[str]:
    noise, thin = design.noise, write["thin"]
    told = "quiet enough" if noise.quiet else f"too loud by up to {noise.short.max():.0f} dB in an octave"
    texts = [f"Fan and air come to NC {noise.nc:.0f}: {told}. Wanted is NC {noise.target:.0f}, {reason}."]
    if design.at_fan:
        size = " × ".join(thin(side) for side in design.at_fan.outside)
        chambers = plural(design.at_fan.chambers, "lined chamber")
        texts.append(f"That takes a silencer box on each duct at its fan: {size} outside, {chambers}; it is in the bill.")
    if not noise.quiet:
        texts.append("More lining, a larger silencer box, or a fan whose maker states a lower sound power would help.")
    return texts


def _out(design: AirDesign, write: dict[str, Callable[..., Any]]) -> list[str]:
    if design.silencer is None:
        return ["The air path is not what misses anyone's target: no box besides those named above is needed."]
    box, thin = design.silencer, write["thin"]
    lacks = at_least_one(max(design.needs.mouth.max(), design.needs.walls.max()))
    inside, outside = (" × ".join(thin(side) for side in sides) for sides in (box.inside, box.outside))
    boxed = ", boxed in with two plies of board" if box.enclosed else ""
    short = f" Even so it lacks {box.short.max():.0f} dB in its worst octave: add lined duct, or a second box." if not box.enough else ""
    return [
        f"A target is missed and the air path is part of why, heard first by: {design.needs.listener}. It lacks up to {lacks} dB in its "
        "worst band to stay 6 dB under walls and lid.",
        f"The smallest box on each duct that gives it, not in the bill: {box.count} × {box.kind}, {outside} outside, each passage or "
        f"chamber {inside} inside, lining {thin(box.lining)}, walls of {plural(box.layers, 'layer')} of panel{boxed}.{short}",
    ]


def _ways(systems: Comparison) -> str:
    """What the choice rests on. Works beside the plan's own sentence in templates/air.md.j2."""
    if systems.best == systems.chosen:
        return "The first is in the plan, chosen by sound and money; nothing compared lacks less."
    if systems.best:
        return f"The first is in the plan, chosen by sound and money. On air alone this lacks less: {systems.named(systems.best).label}."
    return "None of these fits this room as it is described: the HVAC designer has to find one. The plan counts the first until then."


def _system(system: System, write: dict[str, Callable[..., Any]], room: int) -> list[list[str]]:
    """What one way is, what it costs, what speaks for it and against it, and what it lacks here."""
    lacks = " ".join(check.sentence for check in (*system.fails, *system.asks))
    told = (("for it", "; ".join(system.pros)), ("against it", "; ".join(system.cons)), ("lacks here", lacks))
    return [
        hung("- ", f"{system.label}: {_works(system)}, {write['money'](system.cost)}", room),
        *(hung(f"    {name}: ", str(write["own"](text)), room) for name, text in told if text),
    ]


def _works(system: System) -> str:
    if not system.fits:
        return "does not work here"
    return "works if a missing answer allows it" if system.asks else "works with more to do" if system.fails else "works here"
