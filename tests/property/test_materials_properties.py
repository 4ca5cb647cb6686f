"""What must hold for any room and any build-up."""

from __future__ import annotations

from build_parts import builds
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry import inner_room
from calc.materials import quantities as q
from calc.materials.cost import bill, unit_cost
from calc.materials.items import items
from calc.materials.takeoff import lines


@settings(max_examples=40, deadline=None)
@given(builds())
def test_bought_covers_used_with_its_waste_and_the_bill_covers_the_linear_cost(build) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    found = lines(brief, inner_room(brief, scheme), scheme)
    made = bill(brief, found)
    for row in made.rows:
        assert row.used > 0.0
        assert row.bought >= row.used * (1.0 + row.waste) * (1.0 - 1e-6)
        assert row.bought * (1.0 + 1e-6) >= sum(pieces * length for pieces, length in row.cuts)
        if row.cuts:  # whole pieces of each length: one more of each, and of the last piece of each run
            spare = sum(length for _, length in row.cuts) + 3.6576 * 1.1 * sum(line.item == row.item for line in found)
            assert row.bought < row.used * (1.0 + row.waste) + spare + items()[row.item].package
            continue
        # and not more than a whole package beyond it, a sheet for each surface where sheets are counted by surface
        surfaces = sum(line.item == row.item for line in found) if items()[row.item].by_surface else 0
        assert row.packages * items()[row.item].package < row.used * (1.0 + row.waste) + (1 + 1.2 * surfaces) * items()[row.item].package
    assert made.total >= unit_cost(brief, found) * (1.0 + brief.means.contingency) * (1.0 - 1e-6)


@settings(max_examples=30, deadline=None)
@given(builds(), st.integers(0, 10_000))
def test_unit_cost_is_the_sum_over_any_split_of_the_lines(build, cut: int) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    found = lines(brief, inner_room(brief, scheme), scheme)
    split = cut % (len(found) + 1)
    parts = unit_cost(brief, found[:split]) + unit_cost(brief, found[split:])
    assert abs(parts - unit_cost(brief, found)) < 1e-6


@given(st.floats(0.0, 500.0), st.floats(0.1, 20.0), st.floats(0.0, 0.3))
@settings(max_examples=50)
def test_packages_cover_the_quantity(quantity: float, package: float, waste: float) -> None:
    count = q.packages(quantity, package, waste)
    assert count * package >= quantity * (1.0 + waste) - 1e-6
    assert (count - 1) * package < quantity * (1.0 + waste) + 1e-6
