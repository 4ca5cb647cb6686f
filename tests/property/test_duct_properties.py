"""What must hold of every air path."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.air_options import air_paths
from calc.isolation.duct_way import DuctSize, DuctWay, _way, box, duct_size, duct_way, house_ducts_loss, house_trunk_loss
from calc.scheme import AirPathOption

SIDES = st.floats(0.10, 0.40)
PATH = AirPathOption("p", "p", 2.0, 0.050, 2, True, False, 2, 0.1, 2)
ENDS = st.sampled_from(({}, {"fan_unit": True}, {"house_ducts": True}))


def way(side: float, length: float = 6.0, **changes: object) -> DuctWay:
    path = replace(PATH, **changes)  # type: ignore[arg-type]
    return _way(DuctSize(1, side, side + 2.0 * path.lining), path, length)


def pairs(low: float, high: float) -> st.SearchStrategy[tuple[float, float]]:
    return st.tuples(st.floats(low, high), st.floats(low, high)).map(lambda each: (min(each), max(each)))


@settings(max_examples=40, deadline=None)
@given(SIDES, pairs(0.5, 4.0), st.booleans(), ENDS)
def test_a_longer_lining_never_lets_more_out_of_the_end(
    side: float, lengths: tuple[float, float], boxed: bool, end: dict[str, bool]
) -> None:
    short, long = (way(side, lined_length=each, silencer_box=boxed, **end).mouth for each in lengths)
    assert np.all(long >= short - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIDES, st.floats(0.5, 30.0), pairs(0.0, 1.0), st.integers(0, 5), st.booleans(), st.booleans(), ENDS)
def test_more_of_a_way_lined_is_never_louder(
    side: float, length: float, shares: tuple[float, float], elbows: int, boxed: bool, boards: bool, end: dict[str, bool]
) -> None:
    few, most = (
        way(side, length, lined_length=share * length, elbows=elbows, silencer_box=boxed, enclosed=boards, lining=0.025, **end)
        for share in shares
    )
    assert np.all(most.mouth >= few.mouth - 1e-9)
    assert np.all(most.casing >= few.casing - 1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 60.0), st.integers(1, 12))
def test_of_two_air_paths_alike_the_longer_lined_is_never_louder(reach: float, people: int) -> None:
    brief = make_brief(air__duct_reach=max(reach, 3.0), use__people=people)
    found = air_paths(brief)
    for path in found:
        longer = [each for each in found if each.id == path.id.replace("air-short", "air-long") != path.id]
        for each in longer:
            assert np.all(duct_way(brief, each).mouth >= duct_way(brief, path).mouth - 1e-9)
            assert np.all(duct_way(brief, each).casing >= duct_way(brief, path).casing - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIDES, pairs(3.0, 60.0), st.booleans(), ENDS)
def test_a_longer_way_lets_less_out_of_its_end_and_more_through_its_walls(
    side: float, lengths: tuple[float, float], lined: bool, end: dict[str, bool]
) -> None:
    bare = {} if lined else {"lined_length": 0.0, "lining": 0.0}
    near, far = (way(side, each, elbows=0, **bare, **end) for each in lengths)
    assert np.all(far.mouth >= near.mouth - 1e-9)
    assert np.all(far.casing <= near.casing + 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIDES, pairs(0.012, 0.075), ENDS)
def test_a_thicker_lining_never_lets_more_out_of_the_end(side: float, linings: tuple[float, float], end: dict[str, bool]) -> None:
    thin, thick = (way(side, lining=each, **end).mouth for each in linings)
    assert np.all(thick >= thin - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIDES, st.integers(0, 5), st.booleans(), ENDS)
def test_more_elbows_are_never_louder(side: float, elbows: int, lined: bool, end: dict[str, bool]) -> None:
    bare = {} if lined else {"lined_length": 0.0, "lining": 0.0}
    few, many = (way(side, elbows=each, **bare, **end) for each in (elbows, elbows + 1))
    assert np.all(many.mouth >= few.mouth - 1e-9)
    assert np.all(many.casing >= few.casing - 1e-9)


@settings(max_examples=40, deadline=None)
@given(SIDES, st.integers(1, 3), pairs(0.05, 0.10), ENDS)
def test_a_box_and_boards_are_never_louder(side: float, chambers: int, linings: tuple[float, float], end: dict[str, bool]) -> None:
    none, one = way(side, silencer_box=False, **end), way(side, chambers=chambers, box_lining=linings[0], **end)
    assert np.all(one.mouth >= none.mouth)
    assert np.all(way(side, chambers=chambers + 1, box_lining=linings[1], **end).mouth >= one.mouth - 1e-9)
    assert np.all(way(side, enclosed=True, **end).casing >= way(side, **end).casing)


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 10), st.integers(1, 10), st.booleans())
def test_more_people_need_a_larger_opening_and_a_larger_box(one: int, other: int, recording: bool) -> None:
    few, many = (make_brief(use__people=each, use__recording=recording) for each in sorted((one, other)))
    assert duct_way(few, PATH).area <= duct_way(many, PATH).area * 1.5  # sizes come in steps, and one large duct beside two smaller
    for brief in (few, many):
        size = duct_size(brief, PATH)
        made = box(size, PATH)
        assert made is not None
        assert min(made.length, made.width, made.height) > size.side  # the openings fit in its ends


def test_every_option_is_finite_and_told_apart() -> None:
    for system in ("forced air", "hydronic"):
        brief = make_brief(air__system=system)
        found = air_paths(brief)
        assert len(found) >= 20
        assert len({path.id for path in found}) == len({path.label for path in found}) == len(found)
        assert any(path.house_ducts for path in found) == (system == "forced air")
        for path in found:
            assert np.all(np.isfinite(duct_way(brief, path).mouth))
            assert np.all(np.isfinite(duct_way(brief, path).casing))
    assert np.all(house_ducts_loss() > 0.0)
    assert np.all(house_trunk_loss() >= 0.0)
