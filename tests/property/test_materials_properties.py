"""What must hold for any room and any build-up."""

from __future__ import annotations

from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.brief import Labour, Obstruction, Side, SideKind
from calc.geometry import inner_room
from calc.materials import quantities as q
from calc.materials.cost import bill, unit_cost
from calc.materials.items import items
from calc.materials.takeoff import lines
from calc.scheme import AirPathOption, DoorOption, FloorOption, Layer, LidOption, Ply, Scheme, WallOption

BOARD = Ply("gypsum board type X", 0.0159, 10.7)
PLIES = st.lists(st.just(BOARD), min_size=1, max_size=3).map(tuple)
KINDS = st.sampled_from(tuple(SideKind))


@st.composite
def builds(draw: st.DrawFn):  # type: ignore[no-untyped-def]
    length, width, height = draw(st.floats(3.0, 12.0)), draw(st.floats(3.0, 8.0)), draw(st.floats(2.0, 3.0))
    kinds = draw(st.lists(KINDS, min_size=4, max_size=4))
    brief = make_brief(
        shell__length=length,
        shell__width=width,
        shell__height=height,
        shell__sides=tuple(Side(n, length if n % 2 else width, kind) for n, kind in enumerate(kinds, start=1)),
        shell__obstructions=(Obstruction("beam", height - 0.2, 0.2, draw(st.booleans())),),
        means__labour=draw(st.sampled_from(tuple(Labour))),
    )
    support, own = draw(
        st.sampled_from((("isolation clip", 0.0), ("resilient channel", 0.0), ("independent joists", 0.14), ("absent", 0.0)))
    )
    between = draw(st.lists(st.just(BOARD), max_size=2).map(tuple))
    fill = draw(st.sampled_from(("none", "glass fibre", "mineral wool")))
    depth = 0.0 if fill == "none" else draw(st.sampled_from((0.089, 0.14, 0.178)))
    damped = draw(st.booleans())
    lid = LidOption("lid", "", between, fill, depth, support, 0.406 if own else 0.61, 1.22, own, draw(PLIES), damped, (), 20.0)
    frame = draw(
        st.sampled_from(("wood stud", "staggered wood stud", "separate rows of wood stud", "light steel stud", "independent wood stud"))
    )
    wall_support = draw(st.sampled_from(("absent", "resilient channel", "isolation clip")))
    steel = "steel" in frame
    gap = draw(st.sampled_from((0.0, 0.025)))
    outer = draw(st.sampled_from(((), (BOARD,))))
    wall = WallOption("wall", "", frozenset(SideKind), outer, frame, 0.092 if steel else 0.089, 0.406, gap, wall_support,
                      0.61, 1.22, fill, 0.089 if depth else 0.0, draw(PLIES), damped, 0.15, not steel)  # fmt: skip
    door = DoorOption("door", "", draw(st.integers(1, 2)), draw(st.booleans()), 22.0, 1.9)
    air = AirPathOption("air", "", draw(st.floats(0.5, 5.0)), 0.025, draw(st.integers(0, 3)), draw(st.booleans()), draw(st.booleans()))
    floor = FloorOption("floor", "", draw(st.sampled_from(((), (Layer("vinyl plank", 0.005, 8.0),)))))
    scheme = Scheme(lid, tuple((kind, wall) for kind in dict.fromkeys(kinds)), door, air, floor)
    return brief, scheme


@settings(max_examples=40, deadline=None)
@given(builds())
def test_bought_covers_used_with_its_waste_and_the_bill_covers_the_linear_cost(build) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    found = lines(brief, inner_room(brief, scheme), scheme)
    made = bill(brief, found)
    for row in made.rows:
        assert row.used > 0.0
        assert row.bought >= row.used * (1.0 + row.waste) * (1.0 - 1e-6)
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
