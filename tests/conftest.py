"""A sample brief for every test: an invented basement and household."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import settings

from calc.brief import Air, Brief, Joists, Labour, Limits, Listener, Means, Obstruction, Shell, Side, SideKind, Use

settings.register_profile("stillroom", deadline=None)  # how long an example may take says something about the machine
settings.load_profile("stillroom")

JOISTS = Joists(kind="sawn", depth=0.235, breadth=0.038, spacing=0.406, span=4.3, species="spruce_pine_fir", grade="no2", damaged="no")

SHELL = Shell(
    length=6.1,
    width=4.3,
    height=2.40,
    slab_unevenness=0.010,
    sides=(
        Side(1, 6.1, SideKind.FOUNDATION_BELOW),
        Side(2, 4.3, SideKind.FOUNDATION_ABOVE),
        Side(3, 6.1, SideKind.OPEN),
        Side(4, 4.3, SideKind.FOUNDATION_BELOW),
    ),
    foundation="poured concrete",
    foundation_thickness=0.200,
    joists=JOISTS,
    subfloor="plywood or OSB",
    floor_above="wood",
    room_above="bedroom",
    obstructions=(Obstruction("beam", 2.15, 0.20, False), Obstruction("duct", 2.20, 0.60, True)),
    water="none",
    radon="below",
    year_built=1992,
    appliance="sealed",
    appliance_power=23_000.0,
    basement_volume_left=90.0,
    panel="elsewhere",
    gas_line="no",
    drains="no",
    escape="window",
    escape_width=0.60,
    escape_height=1.00,
    escape_sill=1.05,
    ceiling_texture="bare",
)

BRIEF = Brief(
    name="sample basement",
    units="imperial",
    code="irc_2024_existing",
    habitable="yes",
    shell=SHELL,
    use=Use(
        source="drum_kit",
        level=105.0,
        hours="evening",
        people=2,
        activity="drumming",
        session=2.0,
        equipment=200.0,
        recording=False,
        sleeping=False,
    ),
    listeners=(
        Listener("bedroom_above", "bedroom above", "tolerable_by_day", 30.0, 0.0, "closed"),
        Listener("garden_neighbour", "neighbour across the garden", "quiet_for_sleep", 25.0, 12.0, "closed"),
    ),
    air=Air(
        system="forced air",
        winter_design=-12.0,
        room_temperature=21.0,
        room_humidity=0.45,
        co2_limit=1000.0,
        bedrooms=3,
        house_area=160.0,
    ),
    means=Means(budget=30_000.0, contingency=0.15, labour=Labour.OWN, hourly_rate=60.0, hours_per_week=12.0, helpers=1, currency="$"),
    limits=Limits(lowest_ceiling=2.00, joists_may_be_touched=True),
    assumptions=(),
)


def make_brief(**changes: Any) -> Brief:
    """The sample brief with fields replaced: a field of Brief, or ``part__field`` of one of its parts (``shell__height=2.1``,
    ``shell__joists__depth=0.184``)."""
    return _replaced(BRIEF, changes)


def _replaced(part: Any, changes: dict[str, Any]) -> Any:
    own: dict[str, Any] = {key: value for key, value in changes.items() if "__" not in key}
    nested: dict[str, dict[str, Any]] = {}
    for key, value in changes.items():
        if "__" in key:
            head, rest = key.split("__", 1)
            nested.setdefault(head, {})[rest] = value
    for head, inner in nested.items():
        own[head] = _replaced(own.get(head, getattr(part, head)), inner)
    return replace(part, **own)


@pytest.fixture
def brief() -> Brief:
    return BRIEF
