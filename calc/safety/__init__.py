"""Code and hazard rules: each one small function of brief, scheme, room (and site) that returns a finding or nothing.

An answer of "don't know" always yields a finding that asks. A model-code limit is never the local law: the finding names edition and
section, and who decides.
"""

from __future__ import annotations

from itertools import chain

from calc.brief import Brief
from calc.finding import Finding
from calc.geometry import Room
from calc.safety import alarms, electric, escape, fire, framing, fuel, health, stairs, structural, water, work
from calc.scheme import Scheme
from calc.site import NOTHING_KNOWN, Site

RULES = tuple(chain.from_iterable(part.RULES for part in (escape, alarms, fuel, water, fire, framing, structural, electric, health, work)))
SITE_RULES = tuple(chain.from_iterable(part.SITE_RULES for part in (escape, alarms, stairs, fuel, water, structural, electric, health)))


def findings(brief: Brief, scheme: Scheme, room: Room, site: Site = NOTHING_KNOWN) -> tuple[Finding, ...]:
    """Every finding of the hazard and code rules, in the order of the rules. Sources: each finding names its own."""
    found = chain((rule(brief, scheme, room) for rule in RULES), (rule(brief, scheme, room, site) for rule in SITE_RULES))
    return tuple(finding for finding in found if finding is not None)
