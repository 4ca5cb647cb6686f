"""Smoke and carbon monoxide alarms, inside and outside a room through whose walls nobody hears."""

from __future__ import annotations

from calc.brief import Brief
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import Rule, SiteRule, caution, note
from calc.scheme import Scheme
from calc.site import Site

OFFICIAL = "building official"


def alarms(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """Nobody inside hears the house's alarm, nobody in the house hears the room's. Sleeping or fuel makes it a caution."""
    grade = note if brief.shell.appliance == "none" and not brief.use.sleeping else caution
    return grade(
        "alarms",
        "Smoke and carbon monoxide alarms inside and outside the room, interconnected, with a strobe inside: nobody hears through these "
        "walls",
        "Fit interconnected smoke alarms on every storey and in the room, a carbon monoxide alarm where fuel burns or a garage joins, "
        "and a light inside that flashes with them. Test them with the door shut and music playing.",
        source=str(code_rule(brief.code, "alarms")["source"]),
        decides=OFFICIAL,
        task="rough_electric",
    )


def carbon_monoxide(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A flame or an attached garage asks for carbon monoxide alarms; not knowing of either asks first."""
    fuel, garage = brief.shell.appliance, site.garage
    facts = {"source": str(code_rule(brief.code, "alarms")["source"]), "decides": OFFICIAL, "task": "rough_electric"}
    if fuel in ("sealed", "natural draft") or garage == "yes":
        cause = "An attached garage" if fuel == "none" else "A fuel-burning appliance"
        return caution(
            "co-alarm",
            f"{cause} calls for carbon monoxide alarms: outside each sleeping area, and by own advice in this room",
            "One outside the bedrooms, one in the basement, one in the room that sets off its light; replace them at the date on the back. "
            "If one sounds: out first, then ring.",
            **facts,
        )
    if fuel == "none" and garage == "no":
        return None
    return caution(
        "co-alarm-unknown",
        "Nobody has said whether the house has an attached garage or burns fuel: either calls for carbon monoxide alarms",
        "Look for a garage wall or door shared with the house, a fireplace, a gas or oil appliance; fit the alarms if in doubt.",
        **facts,
    )


RULES: tuple[Rule, ...] = (alarms,)
SITE_RULES: tuple[SiteRule, ...] = (carbon_monoxide,)
