"""Code and hazard rules: each one small function of brief, scheme and room that returns a finding or nothing.

An answer of "don't know" always yields a finding that asks. A model-code limit is never the local law: the finding names edition and
section, and who decides.
"""

from __future__ import annotations

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety import electric, escape, fire, framing, fuel, health, water, work
from calc.scheme import Scheme

RULES = (*escape.RULES, *fuel.RULES, *water.RULES, *fire.RULES, *framing.RULES, *electric.RULES, *health.RULES, *work.RULES)


def findings(brief: Brief, scheme: Scheme, room: Room) -> tuple[Finding, ...]:
    """Every finding of the hazard and code rules, in the order of the rules. Sources: each finding names its own."""
    return tuple(found for rule in RULES if (found := rule(brief, scheme, room)) is not None)
