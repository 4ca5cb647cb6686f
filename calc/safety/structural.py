"""Structure beyond the joist screen: clips, own joists, point loads, slab and foundation wall."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.codes import cited
from calc.finding import Finding
from calc.geometry import Room
from calc.materials.soffit import soffit_rows
from calc.safety.rule import Rule, SiteRule, caution, note, stop
from calc.scheme import Scheme
from calc.site import Site
from calc.structure import candidates, clip_load, clip_rating, live_deflection, live_load
from calc.structure.ceiling import own_joist_span
from calc.structure.slab import heaviest_wall, line_load_capacity
from calc.unit_format import format_area, format_length

ENGINEER = "structural engineer"
DRILL = "Drill clear of pipes and cables, draw off the dust, and go through no old tile or glue before its test."


def clips(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Each clip carries its share of the lid over people's heads: against the rating of the clip that is bought."""
    carried, rating = clip_load(scheme.lid), clip_rating(site)
    if carried <= 0.0:
        return None
    cell = scheme.lid.support_spacing * scheme.lid.clip_spacing
    facts: dict[str, Any] = {"measured": carried, "limit": rating, "unit": "N", "decides": ENGINEER, "task": "order_materials"}
    source = "weight of boards, channel and fill on one cell of the clip grid, which stands on the joists"
    if carried > rating:
        most = format_area(cell * rating / carried, brief.units)
        return stop(
            "clips-overloaded",
            "The weight on each isolation clip is more than its rating",
            f"Hang nothing on this grid: no clip may hold more than {most} of this lid. Set rows and clips closer by the maker's table, or "
            "choose a lighter lid.",
            source=source,
            **facts,
        )
    if site.clip_rating is None:
        return note(
            "clips-rating-unknown",
            "The weight on each isolation clip, against a rating that is assumed: ask for that of the clip you buy",
            "Take the allowed load per clip from the maker's test report, safety factor in, and the screw it asks for into wood. If it is "
            "less, give it to the plan: rows or clips come closer, or another lid is chosen.",
            source=f"{source}; the rating assumed is common practice, no source",
            **facts,
        )
    return note(
        "clips",
        "The weight on each isolation clip, against its rating",
        "Keep the grid as planned; every screw into solid wood, in the middle of a joist's underside.",
        source=source,
        **facts,
    )


def soffit_clips(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A soffit hangs from two rows of the lid's channel: where clips on every joist are not enough, only the engineer knows what is."""
    rows = [] if scheme.lid.support != "isolation clip" else soffit_rows(replace(brief, site=site), room, scheme.lid)
    carried, rating = max(((each.load, each.soffit.where) for each in rows), default=(0.0, "")), clip_rating(site)
    if carried[0] <= rating:
        return None
    return caution(
        "soffit-clips-overloaded",
        f"The weight on each isolation clip over the {carried[1]}, with a clip on every joist, is more than its rating",
        "Ask the engineer what else is to carry this soffit: blocks between the joists with more clips, or frames that stand on the slab.",
        measured=carried[0],
        limit=rating,
        unit="N",
        source="weight of one framed side of the soffit, half its bottom and the lid beside it",
        decides=ENGINEER,
        task="structure",
    )


def own_joists(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """A ceiling on joists of its own: a first size, never the last word."""
    lid = scheme.lid
    if lid.own_joist_depth <= 0.0:
        return None
    span = own_joist_span(lid.own_joist_depth, sum(ply.surface_mass for ply in lid.plies))
    return note(
        "own-joists-size",
        f"The ceiling's own joists, {format_length(lid.own_joist_depth, brief.units)} deep, are a first size: their span, against the "
        "longest that the screen allows",
        "Have the engineer confirm size, spacing, bearing, the inner walls that carry them and what spans the openings in those walls; buy "
        "the wood by its grade stamp.",
        measured=min(room.length, room.width),
        limit=span,
        unit="m",
        source=cited(brief.code, "span-table method of the American Wood Council, spruce-pine-fir No. 2, L/240; live load of IRC R301.5"),
        decides=ENGINEER,
        task="structure",
    )


def own_joists_clear(brief: Brief, scheme: Scheme, room: Room) -> Finding | None:
    """The floor above comes down on a ceiling of its own when it is loaded: where they touch, sound crosses and boards crack."""
    lid, joists = scheme.lid, brief.shell.joists
    if lid.own_joist_depth <= 0.0 or joists.kind != "sawn" or not lid.layers:
        return None
    gap = lid.layers[0].thickness
    sag = max(live_deflection(value, joists, live_load(brief)) for value in candidates(joists))
    if sag <= gap:
        return None
    return caution(
        "own-joists-clearance",
        "Under its full live load the floor above can come down further than the clear gap to the ceiling's own joists",
        "Leave a wider gap, at the cost of that much height, or have the engineer say how far this floor really moves.",
        measured=sag,
        limit=gap,
        unit="m",
        source=cited(brief.code, "deflection of a simple span under the live load of IRC Table R301.5, NDS moduli"),
        decides=ENGINEER,
        task="structure",
    )


def point_loads(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """Something heavy on a few joists: no span table knows it."""
    if site.point_loads == "no":
        return None
    known = site.point_loads == "yes"
    return caution(
        "point-load" if known else "point-load-unknown",
        "Something heavy stands on the floor above: no span table covers it, an engineer must look before a lid is hung"
        if known
        else "Nobody has said whether something heavy stands on the floor above: piano, bath, aquarium, stone top, stove, post or wall",
        "Sketch where it stands and which way the joists run, and give its weight; hang nothing until the engineer has answered."
        if known
        else "Walk the room above. Note what weighs more than a few people together, and each wall and post that stands on the joists.",
        source=cited(brief.code, "IRC R502.3 and R502.4: span tables hold for uniform loads, not for loads on one spot; from memory"),
        decides=ENGINEER,
        task="structure",
    )


def slab(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """New walls stand on the slab, most of them near its edge."""
    facts = load("joists")["slab"]
    thickness = float(facts["thickness"]) if site.slab_thickness is None else site.slab_thickness
    carried = heaviest_wall(brief, scheme, room)
    if carried <= 0.0:
        return None
    capacity = line_load_capacity(thickness, float(facts["strength"]), float(facts["subgrade"]), at_edge=True)
    known = site.slab_thickness is not None
    assumed = "" if known else f", {format_length(thickness, brief.units)} thick for want of a measurement"
    common: dict[str, Any] = {"source": str(facts["source"]), "decides": ENGINEER, "task": "structure"}
    if site.slab_state == "cracked":
        return caution(
            "slab-cracked",
            "The slab is cracked, hollow or settled: no wall stands on it before an engineer has looked",
            "Mark and photograph the cracks, tap for hollow spots, and ask whether walls need a strip of new slab under them.",
            **common,
        )
    if carried > capacity:
        return caution(
            "slab-load",
            f"The heaviest new wall loads the edge of a slab more than the screen lets it{assumed}",
            f"Drill one small hole where a wall will stand and measure the slab. {DRILL} Then ask the engineer, who may want a thicker "
            "strip under the wall or a lighter lid.",
            measured=carried,
            limit=capacity,
            unit="N/m",
            **common,
        )
    ask = known and site.slab_state == "sound"
    return note(
        "slab" if ask else "slab-unknown",
        f"The heaviest new wall against what the edge of the slab carries{assumed}"
        + ("" if ask else "; nobody has said how thick and how sound the slab is"),
        "Keep the plates off cracks and joints."
        if ask
        else "Look at a pipe hole or drill a small one to see the thickness; tap the slab for hollow spots and look for cracks and steps. "
        + DRILL,
        measured=carried,
        limit=capacity,
        unit="N/m",
        **common,
    )


def foundation_wall(brief: Brief, scheme: Scheme, room: Room, site: Site) -> Finding | None:
    """A foundation wall that moves is cured before an inner wall hides it."""
    kinds = {side.kind for side in brief.shell.sides}
    if site.foundation_state == "sound" or not kinds & {SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE}:
        return None
    facts = {"source": "common practice, no source", "decides": ENGINEER, "task": "structure"}
    if site.foundation_state == "bowed":
        return stop(
            "foundation-bowed",
            "A foundation wall bows or leans: build nothing in front of it",
            "Have a structural engineer look before anything else; keep vehicles and fresh fill away from that side.",
            **facts,
        )
    if site.foundation_state == "cracked":
        return caution(
            "foundation-cracked",
            "A foundation wall is cracked: find out whether it moves or leaks before an inner wall hides it",
            "Mark the ends of each crack with the date and look again after a wet season; steps, offsets, and cracks that run level or are "
            "wider than a coin are for the engineer at once.",
            **facts,
        )
    return caution(
        "foundation-unknown",
        "Nobody has looked whether the foundation walls are cracked, bowed or leaning",
        "Sight along each wall, hold a long straight board and a plumb line to it, and photograph every crack with a ruler beside it.",
        **facts,
    )


RULES: tuple[Rule, ...] = (own_joists, own_joists_clear)
SITE_RULES: tuple[SiteRule, ...] = (point_loads, foundation_wall, slab, clips, soffit_clips)
