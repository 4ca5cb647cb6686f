"""Findings about the air path worked out and the systems compared: each rule one small function."""

from __future__ import annotations

from calc.brief import Brief
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.unit_format import format_flow, format_length, format_money, format_nominal, format_share
from calc.ventilation import words
from calc.ventilation.air import AirResult
from calc.ventilation.design import AirDesign
from calc.ventilation.rules import HVAC
from calc.ventilation.systems import Comparison, System


def findings(brief: Brief, air: AirResult, design: AirDesign, comparison: Comparison) -> tuple[Finding, ...]:
    """All findings about the design of the air, in the order of the rules."""
    found = (
        system(brief, air, comparison),
        pressure(brief, design),
        grilles(brief, design),
        balance(brief, design),
        fan_silencer(brief, design),
        noise(brief, design),
        sound_out(brief, design),
    )
    return tuple(each for each in found if each is not None)


def system(brief: Brief, air: AirResult, comparison: Comparison) -> Finding | None:
    """The path chosen for its sound and cost ends where another system is needed, or waits for an answer."""
    own, best = comparison.named(comparison.chosen), comparison.named(comparison.best) if comparison.best else None
    if best is None:
        said, remedy = "No way to bring air that is compared here fits this room", comparison.why[0]
    elif not own.fits:
        said = f"The air path chosen by sound and money is not enough here. {own.fails[0].sentence}"
        remedy = f"Plan {best.label} instead, about {format_money(best.cost, brief.means.currency)} at invented prices."
    else:
        said = f"The air system of this plan, chosen by sound and money: {own.label}"
        remedy = " ".join(check.sentence for check in own.checks if check.hard and check.ok)
        if best is not own:
            lacks = " ".join(check.sentence for check in own.fails)
            remedy = (
                f"{remedy} {lacks} One may want {best.label}, about {format_money(best.cost, brief.means.currency)} at invented prices."
            )
    settle = own if own.fits else best
    asks = [check.sentence for check in settle.asks] if best and settle else []
    return Finding(
        rule="air-system",
        severity=Severity.NOTE if best is not None and not asks and own.fits else Severity.CAUTION,
        title=said,
        measured=None,
        limit=None,
        unit="",
        source="this plan's own rules on CO2, heat, moisture, flames, pressure and noise; pros and cons are common practice, no source",
        remedy=" ".join((remedy, *asks, _questions(settle if best else None))).strip(),
        decides=HVAC,
        task="air_design",
    )


def _questions(one: System | None) -> str:
    return f"To settle with the designer: {' '.join(one.designer)}" if one else ""


def pressure(brief: Brief, design: AirDesign) -> Finding | None:
    """The fan cannot move the air through its ducts; the size that would do, where one is sold."""
    worst = max((design.supply, design.extract), key=lambda run: run.pressure - run.available)
    if worst.enough:
        return None
    most, wider = max(worst.parts, key=lambda part: part.pressure), design.wider
    size = f"{wider.runs} of {format_nominal(wider.casing, brief.units)} square each way" if wider else "no size sold does: shorter ducts"
    return Finding(
        rule="air-pressure",
        severity=Severity.CAUTION,
        title=f"The {worst.name} takes {words.draught(worst.pressure, brief.units)} at {format_flow(worst.flow, brief.units)}; "
        f"the fan leaves {words.draught(worst.available, brief.units)}",
        measured=None,
        limit=None,
        unit="",
        source="Darcy-Weisbach with Colebrook; SMACNA HVAC Systems Duct Design Table A-7; fan pressures common practice, no source",
        remedy=f"Most of it goes in: {most.name}. Wider ducts ({size}), round elbows in place of mitred ones, "
        "or a quiet fan of the room's own.",
        decides=HVAC,
        task="air_design",
    )


def grilles(brief: Brief, design: AirDesign) -> Finding | None:
    """What to buy at the ends in the room."""
    share, units = float(load("duct_flow")["grille"]["free_share"]), brief.units
    sizes = " and ".join(
        f"{f'{run.ducts} times ' if run.ducts > 1 else ''}{format_nominal(run.grille.width, units)} by "
        f"{format_nominal(run.grille.height, units)} for the {run.name}"
        for run in (design.supply, design.extract)
    )
    return Finding(
        rule="air-grilles",
        severity=Severity.NOTE,
        title=f"Grilles with {format_share(share)} free area need a face of {sizes}",
        measured=None,
        limit=None,
        unit="",
        source="free area = flow over quiet speed; free share common practice, no source",
        remedy="Ask the seller for the free area, not the face; straight bars, no damper, no filter behind them that cannot be reached.",
        decides=HVAC,
        task="air_design",
    )


def balance(brief: Brief, design: AirDesign) -> Finding | None:
    """A sealed room shows every imbalance at its door."""
    found, wrong = design.balance, float(load("duct_flow")["balance"]["imbalance"])
    more = words.draught(found.damper, brief.units)
    alike = f"the {found.damper_in} needs {more} more" if found.damper >= 2.0 else "as designed they take the same"
    if found.room_pressure <= found.allowed:
        return None
    return Finding(
        rule="air-balance",
        severity=Severity.NOTE,
        title=f"In a room this tight, supply and return that differ by {format_share(wrong)} push the door with about "
        f"{words.force(found.door_force, brief.units)}",
        measured=None,
        limit=None,
        unit="",
        source="orifice flow; leak of a sealed room and the limit common practice, no source",
        remedy=f"Measure both flows at the start, set them equal by dampers outside the room ({alike}), and run both fans from one switch.",
        decides=HVAC,
        task="air_start",
    )


def fan_silencer(brief: Brief, design: AirDesign) -> Finding | None:
    """The box between fan and duct without which the room is too loud for its use; the bill has it."""
    box = design.at_fan
    if box is None:
        return None
    sizes = " by ".join(format_length(side, brief.units, 1.0) for side in box.outside)
    chambers = f"{box.chambers} lined {'chamber' if box.chambers == 1 else 'chambers'}"
    return Finding(
        rule="air-fan-silencer",
        severity=Severity.NOTE,
        title=f"Each duct has a silencer box at its fan, {sizes} outside: with it fan and air come to NC {max(design.noise.nc, 0.0):.0f} "
        "in the room",
        measured=None,
        limit=None,
        unit="",
        source="fan sound power 40 + 10 lg Q + 20 lg P, engineering reference after ASHRAE; Wells 1958; ANSI/ASA S12.2",
        remedy=f"Build it with {chambers}, lining {format_length(box.lining, brief.units)}, between fan and duct; the bill has it. "
        "A fan whose maker states a lower sound power may do without.",
        decides=HVAC,
        task="air_design",
    )


def noise(brief: Brief, design: AirDesign) -> Finding | None:
    """Fan and air are louder in the room than its use allows."""
    found = design.noise
    if found.quiet:
        return None
    return Finding(
        rule="air-noise",
        severity=Severity.CAUTION,
        title=f"Fan and air come to NC {found.nc:.0f} in the room; its use asks for NC {found.target:.0f}",
        measured=found.nc,
        limit=found.target,
        unit="NC",
        source="fan sound power 40 + 10 lg Q + 20 lg P, engineering reference after ASHRAE; Reynolds & Bledsoe; ANSI/ASA S12.2",
        remedy=f"Up to {found.short.max():.0f} dB more have to go between fan and room: more lining, a larger silencer box at the fan, or "
        "a fan whose maker states a lower sound power at this point.",
        decides=HVAC,
        task="air_design",
    )


def sound_out(brief: Brief, design: AirDesign) -> Finding | None:
    """The path lets out more than walls and lid do, and the box that would mend it."""
    box, needs = design.silencer, design.needs
    if box is None:
        return None
    sizes = " by ".join(format_length(side, brief.units) for side in box.outside)
    panel = f"{box.layers} {'layer' if box.layers == 1 else 'layers'} of panel"
    made = f"{box.kind}, {box.count}, lining {format_length(box.lining, brief.units)}, {panel}"
    boards = ", boxed in with two plies of board" if box.enclosed else ""
    rest = "" if box.enough else f" It still lacks {box.short.max():.0f} dB in its worst octave: add lined duct, or a second box."
    return Finding(
        rule="air-silencer",
        severity=Severity.CAUTION,
        title=f"Sound through the air path is what misses a target; who hears it first: {needs.listener}",
        measured=max(float(needs.mouth.max()), float(needs.walls.max())),
        limit=0.0,
        unit="dB",
        source="Wells 1958; Reynolds & Bledsoe; SMACNA breakout; the margin of 6 dB is own choice: the sum then rises by 1 dB",
        remedy=f"On each duct build a box of {sizes} outside ({made}{boards}) in place of the one planned; the bill does not "
        f"count it.{rest}",
        decides=HVAC,
        task="air_design",
    )
