"""Door and escape stand in one place: in the figures, in the boards of the bill and in what is said of the room's sound."""

from __future__ import annotations

from dataclasses import replace

import pytest
from build_parts import BARE_FLOOR, LID, scheme
from conftest import make_brief

from calc.acoustics import Opening, findings, room_sound
from calc.acoustics.layout import KIT, layout, way_is_free
from calc.acoustics.reflections import keep_free, reflections, struck
from calc.assess import assess
from calc.brief import Brief, Obstruction, Side, SideKind
from calc.finding import Severity
from calc.geometry import Room, inner_room
from calc.headroom import headroom
from calc.materials.faces import faces
from calc.materials.lid import lid_lines
from calc.materials.takeoff import layouts
from calc.placing import FROM_CORNER, placing
from wizard.figures.places import places

BELOW, ABOVE, OPEN, PARTY = SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.OPEN, SideKind.PARTY
ROUGH = 0.025  # m about a door's leaf that the hole in the boards is larger


def _sides(length: float, width: float, *kinds: SideKind) -> tuple[Side, ...]:
    return tuple(Side(n, length if n % 2 else width, kind) for n, kind in enumerate(kinds, start=1))


@pytest.mark.parametrize("source", ["drum_kit", "mixing"])
def test_figure_bill_and_sound_agree_on_the_place_of_door_and_window(source: str) -> None:
    a = assess(make_brief(use__source=source), explain=False)
    drawn = places(a)
    assert drawn.escape is not None
    assert a.sound.openings == (drawn.door, drawn.escape)
    assert a.sound.layout == drawn.layout
    cut = {
        (hole.kind, laid.face.side, hole.x + ROUGH, hole.width - 2.0 * ROUGH)
        for laid in layouts(a.brief, a.room, a.scheme)
        if laid.face.side and not laid.face.name.startswith("outer")
        for hole in laid.face.holes
    }
    for kind, side, start, width in cut:
        opening = next(o for o in a.sound.openings if o.kind == kind)
        assert (side, start, width) == pytest.approx((opening.side, opening.start, opening.width))
    assert {kind for kind, *_ in cut} == {"door", "window"}


def test_no_opening_is_suggested_in_the_first_reflections_where_the_wall_has_room() -> None:
    brief = make_brief(use__source="mixing", use__recording=True)
    room = inner_room(brief, scheme())
    found = placing(brief, room, scheme())
    stretches = keep_free(room, reflections(room, found.layout))
    assert stretches
    assert not struck(stretches, found.openings)
    assert found.layout.front not in {opening.side for opening in found.openings}


def _one_outer(length: float, **changes: object) -> tuple[Brief, Room]:
    """Only side 1 leads anywhere: door and escape share it."""
    brief = make_brief(shell__sides=_sides(length, length, ABOVE, PARTY, PARTY, PARTY), **changes)
    return brief, Room(length, length, 2.2)


def test_door_and_escape_on_one_side_keep_the_studs_between_them() -> None:
    found = placing(*_one_outer(4.0, shell__escape_width=1.0), scheme())
    door, escape = found.door, found.escape
    assert escape is not None
    assert door.side == escape.side == 1
    assert max(escape.start - door.end, door.start - escape.end) >= FROM_CORNER - 1e-9


def test_an_escape_wider_than_what_is_left_is_drawn_as_wide_as_fits() -> None:
    found = placing(*_one_outer(1.8, shell__escape_width=1.5), scheme())
    assert found.escape is not None
    assert 0.0 < found.escape.width < 1.5
    assert found.escape.end <= found.door.start - FROM_CORNER + 1e-9 or found.escape.start >= found.door.end + FROM_CORNER - 1e-9


def test_an_escape_goes_to_the_next_outer_side_where_the_best_is_too_short() -> None:
    brief = make_brief(shell__sides=_sides(5.0, 0.9, BELOW, ABOVE, OPEN, PARTY), shell__escape_width=1.2)
    found = placing(brief, Room(4.7, 0.6, 2.2), scheme())
    assert found.escape is not None
    assert (found.escape.side, found.escape.width) == (1, 1.2)


@pytest.mark.parametrize("size", [(-0.2, 3.0, 2.0), (0.1, 0.1, -0.5), (4.0, 0.0, 2.0)])
def test_a_room_without_size_raises_nothing(size: tuple[float, float, float]) -> None:
    found = placing(make_brief(use__source="mixing"), Room(*size), scheme())
    assert found.door.width >= 0.0


def test_no_escape_no_opening() -> None:
    brief = make_brief(shell__escape="none")
    assert placing(brief, inner_room(brief, scheme()), scheme()).escape is None
    landlocked = make_brief(shell__sides=_sides(6.1, 4.3, PARTY, PARTY, OPEN, PARTY))
    assert placing(landlocked, Room(5.8, 4.0, 2.2), scheme()).escape is None


def _hung(length: float, **changes: object) -> Brief:
    return make_brief(shell__obstructions=(Obstruction("duct", 2.15, 0.4, True, length=length),), **changes)


def _boards(brief: Brief) -> float:
    """Area of boards round the duct by the quick count of the lid [m2]."""
    found = lid_lines(brief, inner_room(brief, scheme()), LID)
    return sum(line.quantity for line in found if line.item.startswith("gypsum") and line.where.startswith("soffit"))


def test_a_soffit_is_as_long_as_what_it_hides_in_bill_figure_and_headroom() -> None:
    whole, part = _hung(0.0), _hung(2.5)
    wide = 0.4 + 2 * (0.0127 + 0.064 + 0.0318)  # gap, frame and two plies on both sides
    room, side = inner_room(part, scheme()), 2.40 - (2.15 - 0.0667)
    assert _boards(whole) == pytest.approx(2 * (wide + 2 * side) * room.length, rel=0.001)
    assert _boards(part) == pytest.approx(2 * ((wide + 2 * side) * 2.5 + wide * side), rel=0.001)  # and its free end
    mine = [face for face in faces(part, room, scheme()) if face.name.startswith("soffit")]
    assert [face.width for face in mine] == pytest.approx([2.5, 2.5, 2.5, wide])
    zone = headroom(part, LID, BARE_FLOOR).zones[1]
    assert zone.area == pytest.approx(wide * 2.5)
    (over,) = places(assess(part, explain=False)).overhead
    assert over.x1 - over.x0 == pytest.approx(2.5)


def test_a_soffit_is_never_longer_than_the_room_and_runs_its_longer_way() -> None:
    assert _boards(_hung(9.0)) == pytest.approx(_boards(_hung(0.0)))
    turned = _hung(0.0, shell__length=4.3, shell__width=6.1, shell__sides=_sides(4.3, 6.1, BELOW, ABOVE, OPEN, BELOW))
    room = inner_room(turned, scheme())
    long = [face.width for face in faces(turned, room, scheme()) if face.name.startswith("soffit")]
    assert long == pytest.approx([room.width] * 3)
    assert headroom(_hung(9.0), LID, BARE_FLOOR).zones[1].area == pytest.approx((0.4 + 0.217) * 6.1)


def test_desk_and_kit_leave_an_escape_window_that_they_would_stand_before() -> None:
    sides = _sides(5.4, 4.1, PARTY, ABOVE, BELOW, OPEN)
    changes = {"shell__length": 5.4, "shell__width": 4.1, "shell__sides": sides, "use__source": "drum_kit", "use__recording": True}
    brief, room = make_brief(**changes, shell__escape_width=1.0), Room(5.104, 3.808, 2.213)
    found = placing(brief, room, scheme())
    assert found.escape is not None
    assert found.escape.side == 2  # which is where the desk stands without it
    assert layout(brief, room).front == layout(brief, room, (found.door,)).front == 2
    assert found.layout.front == 4
    x, y, _ = found.layout.point(KIT)
    dx, dy = max(room.length - 0.9 - x, 0.0), max(abs(y - (found.escape.start + found.escape.end) / 2.0) - 0.5, 0.0)
    assert (dx**2 + dy**2) ** 0.5 >= 1.0 - 1e-9
    assert found.layout.clear
    assert way_is_free(room, found.layout, found.openings)


def test_what_cannot_stand_clear_of_the_way_out_is_named_in_a_caution() -> None:
    brief, room = make_brief(use__source="drum_kit"), Room(2.2, 2.2, 2.2)
    door, escape = Opening("door", 4, 0.2, 0.8), Opening("window", 2, 0.6, 1.0)
    sound = room_sound(brief, room, BARE_FLOOR, (door, escape))
    (found,) = [each for each in findings(brief, sound) if each.rule == "sound-way-out"]
    assert found.severity is Severity.CAUTION
    assert f"the window on side 2 has {KIT} before it" in found.title


def test_a_way_out_closed_off_without_being_built_over_is_a_caution_too() -> None:
    brief, room = make_brief(use__source="drum_kit"), Room(5.0, 2.1, 2.2)  # a kit is as wide as the room
    door, escape = Opening("door", 4, 0.2, 0.8), Opening("window", 2, 0.6, 1.0)
    sound = room_sound(brief, room, BARE_FLOOR, (door, escape))
    (found,) = [each for each in findings(brief, sound) if each.rule == "sound-way-out"]
    assert sound.in_way == ()
    assert "no way from the door to the way out" in found.title


def test_the_same_question_asked_again_costs_nothing() -> None:
    brief = make_brief()
    room = inner_room(brief, scheme())
    assert placing(brief, room, scheme()) is placing(replace(brief), room, scheme())
