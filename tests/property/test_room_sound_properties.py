"""What must hold for sound in any room."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from conftest import make_brief
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from calc.acoustics import Opening, findings, room_sound
from calc.acoustics.modes import bonello, modes
from calc.acoustics.reflections import mirror, reflection_point
from calc.acoustics.reverberation import eyring_time, sabine_time
from calc.acoustics.size import sizes
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.source import source_ids
from calc.scheme import FloorOption, Layer

quick = settings(max_examples=30, deadline=None)
slow = settings(max_examples=12, deadline=None)
sides = st.floats(2.2, 8.0)
heights = st.floats(1.9, 3.0)
FLOORS = (
    FloorOption("paint", "", (Layer("concrete sealer or paint", 0.0, 0.0),)),
    FloorOption("carpet", "", (Layer("carpet cushion", 0.01, 1.0), Layer("carpet", 0.01, 2.0))),
    FloorOption("odd", "", ()),
)
rooms = st.builds(Room, sides, sides, heights)


@quick
@given(sides, sides, heights, st.floats(1.1, 3.0))
def test_modes_ascend_and_fall_as_the_room_grows(length: float, width: float, height: float, factor: float) -> None:
    small = [mode.frequency for mode in modes(length, width, height, 120.0)]
    large = [mode.frequency for mode in modes(length * factor, width * factor, height * factor, 120.0 / factor)]
    assert small == sorted(small)
    assert abs(len(small) - len(large)) <= 1  # one may stand on the limit itself
    shared = min(len(small), len(large))
    np.testing.assert_allclose(np.array(small[:shared]), factor * np.array(large[:shared]), rtol=1e-9)


@quick
@given(sides, sides, heights)
def test_every_mode_is_counted_once_in_third_octaves(length: float, width: float, height: float) -> None:
    frequencies = np.array([mode.frequency for mode in modes(length, width, height, 230.0)])
    inside = frequencies[(frequencies >= 1000.0 * 10**-1.75) & (frequencies < 1000.0 * 10**-0.65)]
    assert sum(third.count for third in bonello(frequencies)) == len(inside)


@quick
@given(st.floats(10.0, 300.0), st.floats(50.0, 400.0), st.floats(0.01, 0.9), st.floats(0.0, 0.09))
def test_more_absorption_never_rings_longer(volume: float, surface: float, mean: float, more: float) -> None:
    before, after = mean * surface, (mean + more) * surface
    assert sabine_time(volume, after) <= sabine_time(volume, before)
    assert eyring_time(volume, surface, after) <= eyring_time(volume, surface, before)
    assert eyring_time(volume, surface, before) <= sabine_time(volume, before)


@slow
@given(sides, sides, heights, st.floats(0.2, 0.8))
@example(7.0, 6.875, 2.25, 0.5)  # the smoothest of all loses less floor than the smoothest inside the standards
def test_suggested_sizes_stay_inside_the_shell(length: float, width: float, height: float, time: float) -> None:
    found = sizes(length, width, height, time)
    assert (found[0].length, found[0].width, found[0].lost) == (length, width, 0.0)
    assert len(found) <= 2 * len(load("acoustics")["size"]["shares"])
    for size in found:
        assert 0.0 < size.length <= length
        assert 0.0 < size.width <= width
        assert size.height == height
        assert size.lost == pytest.approx(length * width - size.length * size.width)
        assert size.length == pytest.approx(length - size.shorter)
    for earlier, later in pairwise(found):  # nothing that costs floor for nothing
        assert later.lost >= earlier.lost
        assert later.roughness < earlier.roughness or (later.standard and not earlier.standard)


@quick
@given(rooms, st.data())
def test_a_reflection_takes_the_shortest_way_off_its_surface(room: Room, data: st.DataObject) -> None:
    def inside() -> tuple[float, float, float]:
        shares = [data.draw(st.floats(0.1, 0.9)) for _ in range(3)]
        return shares[0] * room.length, shares[1] * room.width, shares[2] * room.height

    source, ears = inside(), inside()
    surface = data.draw(st.sampled_from(("side 1", "side 2", "side 3", "side 4", "floor", "ceiling")))
    point = np.array(reflection_point(room, surface, source, ears))
    path = np.linalg.norm(np.subtract(mirror(room, surface, source), ears))
    assert np.linalg.norm(point - source) + np.linalg.norm(point - ears) == pytest.approx(path)
    assert np.all(point >= -1e-9)
    assert np.all(point <= np.array([room.length, room.width, room.height]) + 1e-9)
    assert mirror(room, surface, mirror(room, surface, source)) == pytest.approx(source)


@slow
@given(rooms, st.sampled_from(source_ids()), st.booleans(), st.sampled_from(FLOORS), st.sampled_from((1, 2, 3, 4)), st.floats(0.0, 0.9))
def test_treatment_places_and_findings(room: Room, source: str, recording: bool, floor: FloorOption, side: int, share: float) -> None:
    assume(room.floor_area > 6.0)
    brief = make_brief(use__source=source, use__recording=recording, limits__lowest_ceiling=2.0)
    door = Opening("door", side, share * (room.side_length(side) - 0.8), 0.8)
    sound = room_sound(brief, room, floor, (door,))
    times = sound.reverberation
    assert all(after <= bare + 1e-9 for after, bare in zip(times.after, times.bare, strict=True))
    assert abs(times.after_mean - times.target_mean) <= max(times.tolerance, abs(times.bare_mean - times.target_mean))
    rows = load("acoustics")["treatment"]
    on_walls = sum(item.area for item in sound.treatments if rows[item.kind]["place"] == "walls")
    assert on_walls <= 0.5 * room.wall_area
    for item in sound.treatments:
        assert room.height - item.height_taken >= 2.0 - 1e-6 or not item.height_taken
    assert not (floor.id == "carpet" and any(item.kind == "rug" for item in sound.treatments))
    for place in sound.layout.places if sound.layout.fits else ():
        x, y, z = place.point
        assert 0.0 <= x <= room.length
        assert 0.0 <= y <= room.width
        assert 0.0 <= z <= room.height
    shorter = sound.layout.front in ((2, 4) if room.length >= room.width else (1, 3))
    assert shorter or "door or way out would not stay free" in sound.layout.why
    for stretch in sound.keep_free:
        assert 0.0 <= stretch.start < stretch.end <= room.side_length(stretch.side)
    for found in findings(brief, sound):
        assert found.title
        assert found.remedy
        assert found.source
        assert "None" not in found.title + found.remedy
