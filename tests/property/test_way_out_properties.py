"""Nothing is suggested before door or way out in any room, and one walks from one to the other; else a caution says so."""

from __future__ import annotations

import itertools

from build_parts import BARE_FLOOR, scheme
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.acoustics import Opening, findings, room_sound
from calc.acoustics.clearance import Shape, clear_places, walkable
from calc.acoustics.layout import layout, shapes
from calc.brief import Side, SideKind
from calc.geometry import Room
from calc.isolation.source import source_ids
from calc.placing import placing

sides = st.floats(2.2, 8.0)
kinds = st.lists(st.sampled_from(list(SideKind)), min_size=4, max_size=4)


def _corners(room: Room, opening: Opening) -> tuple[float, float, float, float]:
    """Lowest and highest x and y of the floor before an opening, 0.9 m of it at least."""
    low, high, deep = opening.start, opening.start + opening.width, 0.9
    return {
        1: (low, high, 0.0, deep),
        2: (room.length - deep, room.length, low, high),
        3: (low, high, room.width - deep, room.width),
        4: (0.0, deep, low, high),
    }[opening.side]


def _stands_in(shape: Shape, box: tuple[float, float, float, float]) -> bool:
    """Whether any of many points of a shape lies inside a rectangle: its rim and its middle, in steps of a hundredth."""
    x0, x1, y0, y1 = box
    for across, down in itertools.product(range(-50, 51, 2), repeat=2):
        if shape.radius and across**2 + down**2 > 49.9**2:
            continue
        x = shape.x + across / 50.0 * (shape.half_x + shape.radius)
        y = shape.y + down / 50.0 * (shape.half_y + shape.radius)
        if x0 + 1e-6 < x < x1 - 1e-6 and y0 + 1e-6 < y < y1 - 1e-6:
            return True
    return False


@settings(max_examples=40, deadline=None)
@given(sides, sides, kinds, st.sampled_from(source_ids()), st.booleans(), st.floats(0.4, 1.6), st.sampled_from(("window", "door")))
def test_nothing_stands_before_door_or_way_out_unless_a_caution_says_so(
    length: float, width: float, found: list[SideKind], source: str, recording: bool, wide: float, escape: str
) -> None:
    brief = make_brief(
        shell__sides=tuple(Side(n, length if n % 2 else width, kind) for n, kind in enumerate(found, start=1)),
        shell__escape=escape,
        shell__escape_width=wide,
        use__source=source,
        use__recording=recording,
    )
    room = Room(length, width, 2.2)
    openings = placing(brief, room, scheme()).openings
    sound = room_sound(brief, room, BARE_FLOOR, openings)
    cautions = [each for each in findings(brief, sound) if each.rule == "sound-way-out"]
    blocked = [place.name for place, shape in shapes(sound.layout) for opening in openings if _stands_in(shape, _corners(room, opening))]
    assert cautions or not blocked
    if not sound.in_way:
        assert bool(cautions) != sound.way_free
    for each in cautions:
        assert each.severity.value == "caution"
        assert "way out" in each.title


@settings(max_examples=40, deadline=None)
@given(sides, sides, st.sampled_from(source_ids()), st.booleans(), st.integers(1, 4), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_large_room_keeps_the_way_out_free_wherever_it_is(
    length: float, width: float, source: str, recording: bool, side: int, door_share: float, share: float
) -> None:
    room = Room(max(length, 4.5), max(width, 4.0), 2.2)
    brief = make_brief(use__source=source, use__recording=recording)
    door = Opening("door", 4, door_share * (room.width - 0.9), 0.9)
    escape = Opening("window", side, share * (room.side_length(side) - 1.0), 1.0)
    if side == 4 and door.start < escape.end and escape.start < door.end:
        return
    sound = room_sound(brief, room, BARE_FLOOR, (door, escape))
    assert sound.layout.clear
    assert sound.way_free
    assert sound.in_way == ()
    assert sound.layout == layout(brief, room, (door, escape))


@settings(max_examples=40, deadline=None)
@given(sides, sides, st.floats(0.0, 1.0), st.floats(0.3, 1.5), st.floats(0.2, 1.0))
def test_places_are_clear_and_the_nearest_comes_first(length: float, width: float, share: float, half: float, radius: float) -> None:
    room, wall = Room(length, width, 2.2), Shape(share * length, width / 2.0, half, half)
    places = clear_places(room, (length / 2.0, width / 2.0), radius, (wall,))
    for x, y in places:
        assert radius - 1e-6 <= x <= length - radius + 1e-6
        assert not _stands_in(Shape(x, y, radius=radius), (wall.x - half, wall.x + half, wall.y - half, wall.y + half))
    away = [(x - length / 2.0) ** 2 + (y - width / 2.0) ** 2 for x, y in places]
    assert all(later >= earlier - 1e-5 for earlier, later in itertools.pairwise(away))


@settings(max_examples=30, deadline=None)
@given(st.floats(3.0, 8.0), st.floats(2.0, 6.0), st.floats(0.0, 1.0), st.floats(0.0, 2.0))
def test_a_wall_across_the_room_is_passed_through_a_wide_enough_gap_alone(length: float, width: float, share: float, gap: float) -> None:
    room, low = Room(length, width, 2.2), share * max(width - gap, 0.0)
    first, second = Shape(0.45, width / 2.0, 0.45, 0.5), Shape(length - 0.45, width / 2.0, 0.45, 0.5)
    across = (
        Shape(length / 2.0, low / 2.0, 0.05, low / 2.0),
        Shape(length / 2.0, (low + gap + width) / 2.0, 0.05, max(width - low - gap, 0.0) / 2.0),
    )
    passes = walkable(room, first, second, across, 0.6)
    assert passes or gap < 0.8  # a grid of 0.1 m finds every gap that is so much wider
    assert not passes or gap >= 0.6 - 1e-6
