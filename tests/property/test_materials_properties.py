"""What must hold for any room and any build-up."""

from __future__ import annotations

from build_parts import builds
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.geometry import inner_room
from calc.materials import quantities as q
from calc.materials.cost import bill, unit_cost
from calc.materials.items import items
from calc.materials.takeoff import air_lines, common_lines, door_lines, floor_lines, lid_lines, lines, wall_lines


@settings(max_examples=40, deadline=None)
@given(builds())
def test_bought_covers_used_with_its_waste_and_the_bill_covers_the_linear_cost(build) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    found = lines(brief, inner_room(brief, scheme), scheme)
    made = bill(brief, found)
    for row in made.rows:
        what = items()[row.item]
        assert row.used > 0.0
        assert row.bought >= row.used * (1.0 - 1e-9)
        assert row.waste >= -1e-9
        assert row.low == row.total == row.high
        if row.cuts:
            assert row.bought * (1.0 + 1e-6) >= sum(pieces * length for pieces, length in row.cuts)
        elif not any(line.sheets for line in found if line.item == row.item):
            assert row.bought >= row.used * (1.0 + row.waste) * (1.0 - 1e-6)
            # and not more than a whole package beyond it, a sheet for each surface where sheets are counted by surface
            surfaces = sum(line.item == row.item for line in found) if what.by_surface else 0
            assert row.packages * what.package < row.used * (1.0 + row.waste) + (1 + 1.2 * surfaces) * what.package
    for name in {line.item for line in found}:
        mine = [line for line in found if line.item == name]
        bought = sum(row.bought for row in made.rows if row.item == name)
        used = sum(row.used for row in made.rows if row.item == name)
        assert abs(used - sum(line.quantity for line in mine)) < 1e-3 * max(1.0, used)
        assert bought >= used * (1.0 + items()[name].spare) * (1.0 - 1e-6)
    for _, plan in made.plans:
        assert plan.total >= plan.bound - 1e-6
        assert all(sum(n * (length + 0.003) for n, length in stock.pieces) <= stock.length + 0.0031 for stock in plan.stocks)


@settings(max_examples=40, deadline=None)
@given(builds())
def test_the_linear_cost_is_near_the_bill(build) -> None:  # type: ignore[no-untyped-def]
    # The search minimises the one and checks the other against the budget; packages make small rooms dearer.
    brief, scheme = build
    room = inner_room(brief, scheme)
    found = [*lid_lines(brief, room, scheme.lid), *door_lines(brief, scheme.door), *air_lines(brief, scheme.air_path)]
    found += [*floor_lines(brief, room, scheme.floor), *common_lines(brief, room)]
    for kind, wall in scheme.walls:
        found += wall_lines(brief, room, kind, wall)
    linear = unit_cost(brief, found) * (1.0 + brief.means.contingency)
    assert 0.97 < bill(brief, lines(brief, room, scheme)).total / linear < 1.10


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
