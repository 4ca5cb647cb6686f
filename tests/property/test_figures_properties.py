"""Figures of odd rooms: narrow, tiny, large, crowded overhead, many listeners with long names. Each fits a page, its texts keep apart and
it is to scale."""

from __future__ import annotations

from conftest import make_brief
from figures_kit import NINE_POINTS, TALLEST, lengths_at_scale, read
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import Assessment, assess
from calc.brief import Brief, Listener, Obstruction, Side, SideKind
from calc.options import air_paths, doors, floors, lids, walls
from calc.scheme import Scheme
from wizard.figures import figures

NAMES = ("hall", "Ünïcode flat, third floor", "</text><script>", "room " * 30, "W" * 200, "\u202e\u0000")
KINDS = ("bedroom_above", "living_above", "garden_neighbour", "stair_hall")


@st.composite
def odd_rooms(draw: st.DrawFn) -> Brief:
    length = draw(st.sampled_from((1.8, 2.4, 3.2, 5.0, 9.0, 14.0)))
    width = draw(st.sampled_from((1.6, 2.2, 3.2, 4.6, 8.0)))
    height = draw(st.sampled_from((1.95, 2.2, 2.6, 3.4)))
    sides = tuple(Side(n, length if n % 2 else width, draw(st.sampled_from(list(SideKind)))) for n in (1, 2, 3, 4))
    things = tuple(
        Obstruction(
            draw(st.sampled_from(("beam", "duct", "pipe", "slope"))), height - draw(st.sampled_from((0.05, 0.2, 0.4))),
            draw(st.sampled_from((0.1, 0.3, 0.8))), draw(st.booleans()), draw(st.sampled_from(("side", "desk", "unknown"))),
        )
        for _ in range(draw(st.integers(0, 5)))
    )  # fmt: skip
    heard = tuple(
        Listener(draw(st.sampled_from(KINDS)), draw(st.sampled_from(NAMES)), "quiet_for_sleep", 25.0, 10.0, "closed")
        for _ in range(draw(st.integers(0, 7)))
    )
    return make_brief(
        units=draw(st.sampled_from(("metric", "imperial"))), name=draw(st.sampled_from(NAMES)), listeners=heard,
        shell__length=length, shell__width=width, shell__height=height, shell__sides=sides, shell__obstructions=things,
        shell__panel=draw(st.sampled_from(("in the area", "elsewhere", "none", "unknown"))),
        shell__appliance=draw(st.sampled_from(("none", "sealed", "unknown"))),
        shell__escape=draw(st.sampled_from(("none", "window", "door"))),
        shell__foundation=draw(st.sampled_from(("poured concrete", "hollow block", "brick or stone"))),
        use__source=draw(st.sampled_from(("drum_kit", "mixing"))), use__people=draw(st.sampled_from((1, 6))),
    )  # fmt: skip


def check(a: Assessment) -> None:
    found = figures(a)
    assert len({each.name for each in found}) == len(found)
    for each in found:
        drawing = read(each.svg)
        assert drawing.wide == 170.0
        assert drawing.tall <= TALLEST, (each.name, drawing.tall)
        assert min((text.size for text in drawing.texts), default=NINE_POINTS) >= NINE_POINTS - 1e-3
        assert not drawing.overlaps(), (each.name, drawing.overlaps())
        assert not drawing.outside(), (each.name, drawing.outside())
        assert drawing.strays() == [], (each.name, drawing.strays())
    plan = read(next(each.svg for each in found if each.name == "floor-plan"))
    for metres in (a.brief.shell.length, a.brief.shell.width):
        assert lengths_at_scale(plan, metres), metres


@settings(max_examples=12, deadline=None)
@given(odd_rooms())
def test_figures_of_odd_rooms_fit_a_page_and_their_texts_keep_apart(brief: Brief) -> None:
    check(assess(brief, explain=False))


@st.composite
def schemes(draw: st.DrawFn, brief: Brief) -> Scheme:
    """Any construction that the catalogue offers for a brief, whether it meets anything or not."""
    kinds = dict.fromkeys(side.kind for side in brief.shell.sides)
    sides = tuple((kind, draw(st.sampled_from(walls(brief, kind)))) for kind in kinds)
    lid, door, air, floor = (draw(st.sampled_from(of(brief))) for of in (lids, doors, air_paths, floors))
    return Scheme(lid, sides, door, air, floor)


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_figures_of_any_construction_fit_a_page_and_their_texts_keep_apart(data: st.DataObject) -> None:
    brief = data.draw(odd_rooms())
    check(assess(brief, data.draw(schemes(brief)), explain=False))
