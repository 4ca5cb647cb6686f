"""Parts of schemes for the tests of take-off, money and stages: one scheme by hand, and any scheme by hypothesis."""

from __future__ import annotations

from conftest import make_brief
from hypothesis import strategies as st

from calc.brief import Labour, Obstruction, Side, SideKind
from calc.scheme import AirPathOption, DoorOption, FloorOption, Layer, LidOption, Ply, Scheme, WallOption

BOARD = Ply("gypsum board type X", 0.0159, 10.7)
LID = LidOption("lid", "two plies on clips", (), "glass fibre", 0.14, "isolation clip", 0.61, 1.22, 0.0, (BOARD, BOARD), True, (), 23.0)
WALL = WallOption(
    "wall", "inner frame", frozenset(SideKind), (), "independent wood stud", 0.089, 0.4064, 0.025, "absent", 0.0, 0.0,
    "glass fibre", 0.089, (BOARD, BOARD), True, 0.146, True,
)  # fmt: skip
DOOR = DoorOption("pair_sealed", "two in series", 2, True, 22.0, 1.9, air_lock=0.23, lined=True)
AIR = AirPathOption("air", "silencer and recovery", 3.0, 0.025, 2, True, True)
FLOOR = FloorOption("floor", "plank", (Layer("underlay", 0.003, 0.5), Layer("vinyl plank", 0.005, 8.0)))
BARE_FLOOR = FloorOption("bare", "bare", ())


def scheme(lid: LidOption = LID, wall: WallOption = WALL) -> Scheme:
    return Scheme(lid, tuple((kind, wall) for kind in SideKind if kind is not SideKind.PARTY), DOOR, AIR, FLOOR)


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
    door = DoorOption("pair_sealed", "", draw(st.integers(1, 2)), draw(st.booleans()), 22.0, 1.9, False, 0.23, True)
    air = AirPathOption("air", "", draw(st.floats(0.5, 5.0)), 0.025, draw(st.integers(0, 3)), draw(st.booleans()), draw(st.booleans()))
    floor = FloorOption("floor", "", draw(st.sampled_from(((), (Layer("vinyl plank", 0.005, 8.0),)))))
    scheme = Scheme(lid, tuple((kind, wall) for kind in dict.fromkeys(kinds)), door, air, floor)
    return brief, scheme
