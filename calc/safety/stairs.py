"""The stairs that lead to the room: headroom and width."""

from __future__ import annotations

from calc.brief import Brief
from calc.codes import rule as code_rule
from calc.finding import Finding
from calc.geometry import Room
from calc.safety.rule import SiteRule, caution
from calc.scheme import Scheme
from calc.site import Site
from calc.unit_format import format_length

SAME = 1e-6  # m; less than any tape shows


def stairs(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Headroom over the nosings and clear width of the only usual way out."""
    rule = code_rule(brief.code, "stairs")
    facts = {"source": str(rule["source"]), "decides": "building official", "task": "survey"}
    for what, measured, limit in (
        ("Headroom over the basement stairs", site.stair_headroom, float(rule["headroom"])),
        ("Clear width of the basement stairs", site.stair_width, float(rule["width"])),
    ):
        if measured is not None and measured < limit - SAME:
            return caution(
                f"stairs-{what.split()[0].lower()}",
                f"{what} is under the model code's limit",
                "Build nothing that lowers or narrows it further: no lid, duct or soffit over the flight, no wall into it. Ask the "
                "official whether finishing the basement means that the stairs must be mended; old ones may often stay as they are.",
                measured=measured,
                limit=limit,
                unit="m",
                **facts,
            )
    if site.stair_headroom is None or site.stair_width is None:
        return caution(
            "stairs-unknown",
            f"Nobody has measured the basement stairs: headroom {format_length(float(rule['headroom']), brief.units)} and width "
            f"{format_length(float(rule['width']), brief.units)} are the model code's least",
            "Lay a straight board on the nosings and measure straight up from it to whatever hangs lowest; then the clear width above the "
            f"handrail. Steps even, no higher than {format_length(float(rule['riser']), brief.units)} and no less than "
            f"{format_length(float(rule['tread']), brief.units)} deep in a new flight; a handrail, and a light with a switch at each end.",
            **facts,
        )
    return None


SITE_RULES: tuple[SiteRule, ...] = (stairs,)
