"""Places, pieces and findings of the room's sound, case by case."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from conftest import make_brief

from calc.acoustics import Opening, findings, room_sound
from calc.acoustics.layout import KIT, LISTENER, LOUDSPEAKERS, front_side, layout, to_room
from calc.acoustics.porous import layer_absorption
from calc.acoustics.proportions import proportions
from calc.acoustics.reflections import keep_free, reflections
from calc.acoustics.reverberation import bare_absorption, floor_surface, target_time, target_times
from calc.acoustics.size import sizes
from calc.acoustics.treatment import cloud_kind, free_corners, treated_absorption
from calc.brief import Side, SideKind
from calc.catalogue import load
from calc.finding import Severity
from calc.geometry import Room
from calc.scheme import FloorOption, Layer

ROOM = Room(5.8, 3.9, 2.25)
VINYL = FloorOption("floor", "plank", (Layer("underlay", 0.003, 0.5), Layer("vinyl plank", 0.005, 8.0)))
CARPET = FloorOption("carpet", "", (Layer("carpet cushion", 0.01, 1.0), Layer("carpet", 0.01, 2.0)))
MIXING = make_brief(use__source="mixing")


def rules(brief, sound):  # type: ignore[no-untyped-def]
    return {found.rule: found for found in findings(brief, sound)}


@pytest.mark.parametrize(
    ("front", "expected"),
    [(1, (1.0, 0.5)), (2, (5.5, 1.0)), (3, (4.0, 3.5)), (4, (0.5, 3.0))],
)
def test_left_hand_of_who_faces_each_wall(front: int, expected: tuple[float, float]) -> None:
    # Sides go clockwise: facing side 1 (top), side 2 is at the right hand. 0.5 m ahead of the wall, 1 m from the left.
    assert to_room(Room(6.0, 4.0, 2.2) if front in (2, 4) else Room(5.0, 4.0, 2.2), front, 0.5, 1.0, 1.2) == (*expected, 1.2)


def test_desk_stands_on_the_centre_line_before_a_short_wall() -> None:
    placed = layout(MIXING, ROOM)
    ears, left, right = (np.array(placed.point(name)) for name in (LISTENER, *LOUDSPEAKERS))
    assert placed.front == 4  # all below ground; side 2 is partly above
    assert ears[0] == pytest.approx(0.38 * 5.8)
    assert ears[1] == pytest.approx(3.9 / 2)
    assert math.dist(left, right) == pytest.approx(math.dist(left, ears))
    assert math.dist(left, ears) == pytest.approx(math.dist(right, ears))
    assert left[1] > right[1]  # facing side 4, the left hand points to side 3
    assert placed.fits


def test_a_window_sends_the_desk_to_the_other_short_wall() -> None:
    assert front_side(MIXING, ROOM, (Opening("window", 4, 1.0, 0.8),)) == 2
    assert front_side(MIXING, Room(3.9, 5.8, 2.25), ()) == 1  # the short walls are now 1 and 3, and 3 is open to the basement


def test_loudspeakers_stay_off_a_party_wall() -> None:
    sides = tuple(Side(n, 5.0, SideKind.PARTY if n == 4 else SideKind.OPEN) for n in (1, 2, 3, 4))
    assert front_side(make_brief(shell__sides=sides, use__source="mixing"), ROOM) == 2


def test_kit_stands_off_the_middle_and_behind_a_desk_where_one_records() -> None:
    alone = layout(make_brief(use__source="drum_kit"), ROOM)
    assert alone.names == (KIT,)
    assert reflections(ROOM, alone) == ()
    both = layout(make_brief(use__source="drum_kit", use__recording=True), ROOM)
    assert both.point(KIT)[0] > both.point(LISTENER)[0] + 1.0
    assert not layout(make_brief(use__source="drum_kit", use__recording=True), Room(3.4, 2.5, 2.1)).fits


def test_side_wall_reflections_by_hand() -> None:
    # Loudspeaker and ears at one height: the near side wall is struck where the two distances to it divide the way.
    found = reflections(ROOM, layout(MIXING, ROOM))
    right = next(r for r in found if r.source == LOUDSPEAKERS[1] and r.surface == "side 1")
    ears, base = 0.38 * 5.8, 2.0
    ahead = ears - base * math.sqrt(3.0) / 2.0
    near, far = 3.9 / 2 - base / 2, 3.9 / 2
    assert right.point[0] == pytest.approx(ahead + (ears - ahead) * near / (near + far))
    assert right.delay == pytest.approx((math.hypot(ears - ahead, near + far) - base) / 343.0)
    assert right.level == pytest.approx(20.0 * math.log10(base / math.hypot(ears - ahead, near + far)))
    assert right.treat
    behind = [r for r in found if r.surface == "side 4"]
    assert behind
    assert not any(r.treat for r in behind)


def test_stretches_to_keep_free_are_told_apart_from_the_rest() -> None:
    found = reflections(ROOM, layout(MIXING, ROOM))
    free = keep_free(ROOM, found)
    assert [stretch.side for stretch in free] == [1, 3]
    clear = room_sound(MIXING, ROOM, VINYL, (Opening("door", 3, 4.5, 0.8),))
    blocked = room_sound(MIXING, ROOM, VINYL, (Opening("door", 3, 1.2, 0.8),))
    assert not clear.blocked
    assert rules(MIXING, clear)["sound-openings"].severity is Severity.NOTE
    assert rules(MIXING, blocked)["sound-openings"].severity is Severity.CAUTION
    assert "door on side 3" in rules(MIXING, blocked)["sound-openings"].title.lower()


def test_corners_that_a_door_takes() -> None:
    assert free_corners(ROOM, ()) == 4
    assert free_corners(ROOM, (Opening("door", 1, 0.2, 0.8),)) == 3
    assert free_corners(ROOM, (Opening("door", 1, 0.2, 0.8), Opening("window", 4, 0.1, 0.6))) == 3  # the same corner
    assert free_corners(ROOM, (Opening("door", 3, 4.9, 0.8),)) == 3
    assert free_corners(ROOM, (Opening("door", 3, 2.0, 0.8),)) == 4


@pytest.mark.parametrize(("least", "kind"), [(2.0, "cloud"), (2.15, "cloud"), (2.16, "thin_cloud"), (2.20, "thin_cloud"), (2.21, None)])
def test_ceiling_panel_that_fits(least: float, kind: str | None) -> None:
    assert cloud_kind(ROOM, least) == kind  # 2.25 m under the lid; 100 or 50 mm deep


def test_no_ceiling_panel_where_the_lid_is_low() -> None:
    sound = room_sound(make_brief(limits__lowest_ceiling=2.24), ROOM, VINYL)
    assert sound.cloud == ""
    assert not any(item.height_taken for item in sound.treatments)
    assert "No ceiling panel fits" in rules(make_brief(), sound)["sound-cloud-height"].title
    higher = room_sound(make_brief(limits__lowest_ceiling=1.9), ROOM, VINYL, least_height=2.18)
    assert higher.cloud == "thin_cloud"


def test_floor_on_top_counts() -> None:
    assert floor_surface(VINYL) == "hard_floor"
    assert floor_surface(CARPET) == "carpet"
    assert floor_surface(FloorOption("odd", "", ())) == "hard_floor"
    assert np.all(bare_absorption(ROOM, CARPET) > bare_absorption(ROOM, VINYL))


def test_a_panel_hides_the_wall_behind_it() -> None:
    bare, one = bare_absorption(ROOM, VINYL), treated_absorption(ROOM, VINYL, Counter({"wall_panel": 1}))
    assert (one - bare)[3] == pytest.approx(0.72 * (0.86 - 0.04))


def test_target_follows_use_and_recording() -> None:
    drums, recorded = make_brief(use__source="drum_kit"), make_brief(use__source="drum_kit", use__recording=True)
    assert target_time(drums.use, 50.0) == pytest.approx(0.35)
    assert target_time(recorded.use, 50.0) < target_time(drums.use, 50.0) < target_time(make_brief(use__source="piano").use, 50.0)
    assert target_time(make_brief(use__source="something new").use, 50.0) == pytest.approx(0.40)
    times = target_times(drums.use, 50.0)
    assert times[0] > times[1] == times[-1]


@pytest.mark.parametrize("source", ["drum_kit", "amplified_band", "electric_guitar_bass", "piano", "voice_acoustic"])
def test_treatment_reaches_the_target_of_playing(source: str) -> None:
    sound = room_sound(make_brief(use__source=source), ROOM, VINYL)
    assert sound.reverberation.off_bands == ()
    assert sound.reverberation.bare_mean > 1.0
    assert "sound-treatment-short" not in rules(make_brief(), sound)


def test_bass_uses_fill_the_corners_and_a_kit_gets_a_cloud() -> None:
    sound = room_sound(make_brief(use__source="drum_kit"), ROOM, VINYL)
    pieces = {item.kind: item for item in sound.treatments}
    assert pieces["bass_corner"].pieces == 4
    assert pieces["cloud"].area >= 2.88 - 0.72
    assert (*sound.layout.point(KIT)[:2], ROOM.height) in pieces["cloud"].points
    assert sound.hung_mass == pytest.approx(pieces["cloud"].area * 4.0)


def test_plot_data_of_the_modes() -> None:
    sound = room_sound(MIXING, ROOM, VINYL)
    assert [low for low, _ in sound.mode_steps] == list(sound.mode_frequencies[:-1])
    assert [step for _, step in sound.mode_steps] == pytest.approx([b - a for a, b in pairwise(sound.mode_frequencies)])
    assert sound.spacing == max(step for _, step in sound.mode_steps)


def test_a_square_room_is_told_what_helps() -> None:
    room = Room(4.2, 4.2, 2.1)
    sound = room_sound(MIXING, room, VINYL)
    finding = rules(MIXING, sound)["sound-proportions"]
    assert not sound.within_standard
    assert "outside" in finding.title
    assert len(sound.sizes) > 1
    assert "costs" in finding.remedy
    assert any(size.standard for size in sound.sizes)
    whole = next(p for p in proportions(4.2, 4.2, 2.1) if p.name.startswith("length to width"))
    assert whole.ok is False


def test_a_size_with_bass_as_even_as_planned_is_worth_its_floor_for_the_proportions_alone() -> None:
    sound = room_sound(MIXING, ROOM, VINYL)
    now = replace(sound.sizes[0], roughness=2.62, standard=False)
    alike = replace(now, length=now.length - 0.5, roughness=2.58, standard=True)
    for better, smoother in ((alike, False), (replace(alike, roughness=1.9), True)):
        changed = replace(sound)
        vars(changed)["sizes"] = (now, better)
        remedy = rules(MIXING, changed)["sound-proportions"].remedy
        assert ("smoother" in remedy) is smoother
        assert ("comes inside the recommended range, with bass as even as planned (2.6 dB from even)" in remedy) is not smoother


def test_sizes_keep_the_smallest_room_a_code_allows() -> None:
    assert len(sizes(2.4, 2.8, 2.1, 0.4)) == 1  # 6.72 m2: any step goes under 6.5 m2 or 2.13 m, or is no better


def test_findings_name_tasks_that_exist() -> None:
    tasks = {task["id"] for task in load("tasks")["task"]}
    sound = room_sound(MIXING, Room(4.2, 4.2, 2.1), VINYL, (Opening("door", 1, 1.0, 0.8),))
    assert {finding.task for finding in findings(MIXING, sound)} <= tasks | {""}


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0 m"):
        room_sound(MIXING, Room(0.0, 4.0, 2.0), VINYL)
    with pytest.raises(ValueError, match="flow resistivity"):
        layer_absorption(np.array([100.0]), 0.05, 0.0, 0.0)
