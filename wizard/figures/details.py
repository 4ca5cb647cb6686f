"""The details that make or break it, as far as they apply."""

from __future__ import annotations

from collections.abc import Iterator

from calc.assess import Assessment
from wizard.figures import details_hung as hung
from wizard.figures import details_inside as inside
from wizard.figures import details_level as level
from wizard.figures import details_upright as upright
from wizard.figures.figure import Figure
from wizard.figures.places import boxed

RESILIENT = ("resilient channel", "isolation clip")


def details(a: Assessment, units: str) -> Iterator[Figure]:
    """In the order of the work: foot, head, corner, lid edge, channel, soffit, door, duct, box, fireblock."""
    yield upright.wall_foot(a, units)
    yield upright.wall_head(a, units)
    yield level.corner(a, units)
    yield upright.lid_edge(a, units)
    if a.scheme.lid.support in RESILIENT or any(wall.support in RESILIENT for _, wall in a.scheme.walls):
        yield hung.clip_and_channel(a, units)
    yield from _soffit(a, units)
    yield level.door(a, units)
    yield level.duct_crossing(a, units)
    yield inside.electrical_box(a, units)
    block = inside.fireblock(a, units)
    if block is not None:
        yield block


def _soffit(a: Assessment, units: str) -> Iterator[Figure]:
    """Of the lowest obstruction that needs a box; a slope needs none."""
    if things := boxed(a):
        thing = min(things, key=lambda each: each.underside)
        zones = [zone for zone in a.headroom.zones if zone.obstruction and not zone.sloped]
        zone = min(zones, key=lambda each: abs(each.bare + a.brief.shell.slab_unevenness - thing.underside), default=None)
        if zone is not None:
            yield hung.soffit(a, units, zone, thing)
