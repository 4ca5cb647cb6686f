"""The stages of one scheme: which tasks, where the warnings stand, how the time adds up."""

from __future__ import annotations

import math
import re
import timeit
from dataclasses import replace

import pytest
from build_parts import BOARD, LID, WALL, scheme
from conftest import make_brief

from calc.brief import Assumption, Brief, Labour, Origin, SideKind
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.geometry import inner_room, lid_extent
from calc.materials.cost import bill
from calc.materials.cost import labour_hours as line_hours
from calc.materials.items import item, items
from calc.materials.shopping import shopping
from calc.materials.takeoff import lines
from calc.options import lids
from calc.schedule import Schedule, Task, in_order, labour_hours, schedule
from calc.scheme import Layer, Scheme
from calc.task_facts import truths


def stages(brief: Brief, build: Scheme, *findings: Finding) -> Schedule:
    room = inner_room(brief, build)
    return schedule(brief, build, room, bill(brief, lines(brief, room, build)), findings)


def ids(made: Schedule) -> list[str]:
    return [task.id for task in made.tasks]


def task(made: Schedule, name: str) -> Task:
    return next(each for each in made.tasks if each.id == name)


def test_every_item_belongs_to_a_task() -> None:
    tasks = {row["id"] for row in load("tasks")["task"]}
    assert {each.task for each in items().values()} <= tasks
    for row in load("tasks")["task"]:
        assert set(row["after"]) <= tasks
        assert ("when" in row) == ("otherwise" in row)  # a task that may fall away names who carries its findings
        assert row.get("otherwise", row["id"]) in tasks
        assert ("wait_days" in row) == ("wait_for" in row)


def test_tasks_that_a_build_does_not_need_fall_away() -> None:
    brief = make_brief(shell__year_built=2005, shell__obstructions=())
    plain = ids(stages(brief, scheme(replace(LID, plies=(BOARD,)), replace(WALL, inner_plies=(BOARD,)))))
    for absent in ("hazards_test", "water", "between_joists", "own_ceiling", "boards_first", "combustion"):
        assert absent not in plain
    full = ids(stages(make_brief(shell__year_built=1960, shell__water="damp", shell__appliance="natural draft"), scheme()))
    for present in ("hazards_test", "water", "boards_first", "combustion"):
        assert present in full


def test_own_joists_stand_on_inner_walls_that_are_there() -> None:
    own = replace(LID, support="independent joists", support_spacing=0.406, clip_spacing=0.0, own_joist_depth=0.14)
    order = ids(stages(make_brief(), scheme(own)))
    assert order.index("frame") < order.index("own_ceiling") < order.index("inspect_rough") < order.index("boards_first")
    assert "clips_channel" not in order


def test_boards_between_the_joists_come_before_ducts_fill_and_clips() -> None:
    order = ids(stages(make_brief(), scheme(replace(LID, between_joists=(BOARD, BOARD)))))
    assert order.index("demolish") < order.index("between_joists") < order.index("rough_hvac") < order.index("insulate")
    assert order.index("insulate") < order.index("clips_channel") < order.index("boards_first") < order.index("boards_last")
    assert order.index("seal_leak_test") < order.index("finish")


def test_no_demolition_before_the_hazard_tests_and_no_load_before_the_letter() -> None:
    order = ids(stages(make_brief(shell__year_built=None), scheme()))
    assert order.index("hazards_test") < order.index("demolish")
    assert order.index("structure") < order.index("clips_channel")
    assert order.index("permits") < order.index("demolish")


def test_the_warning_against_screws_through_the_channel_gives_their_length_for_walls_on_channel_alone() -> None:
    # Two 5/8 in boards on channel take 1-5/8 in; three on studs take 2-1/2 in, which would go through both and 1/2 in of channel.
    heavy = replace(WALL, inner_plies=(BOARD,) * 3)
    soft = replace(WALL, support="resilient channel", support_spacing=0.61)
    brief = make_brief()
    kinds = [side.kind for side in brief.shell.sides]
    build = replace(scheme(), walls=tuple((kind, soft if kind is kinds[0] else heavy) for kind in SideKind))
    made = task(stages(brief, build), "boards_last")
    told = next(warning for warning in made.warnings if "No screw long enough" in warning)
    sides = [f"wall on side {side.number}" for side in brief.shell.sides if side.kind is kinds[0]]
    assert told.endswith(f"Longest screw of a face: {', '.join(['lid', *sides])}, {{length:screw_41}}.")
    assert made.lengths["screw_41"] == pytest.approx(0.041)
    listed = {(face, ply): length for row in made.screws for face in row.faces for ply, length in row.plies}
    assert listed[sides[0], 2] == pytest.approx(0.041)
    assert max(listed.values()) == pytest.approx(0.064)
    direct = scheme(replace(LID, support="absent", support_spacing=0.0, clip_spacing=0.0))
    assert not any("channel" in warning for warning in task(stages(make_brief(), direct), "boards_last").warnings)


def test_a_clip_is_bought_for_all_that_hangs_on_it() -> None:
    # Two plies of 10.7 kg/m2, channel of 2.0 kg/m2 and fill of 1.1 kg/m2 on a grid of 0.61 by 1.22 m: 24.5 kg/m2, 179 N, 40 lb.
    hung = replace(LID, layers=(Layer("channel", 0.041, 2.0), *(Layer("board", 0.0159, 10.7) for _ in range(2))))
    assert LID.fill_thickness * load("options")["fill"]["density"] == pytest.approx(1.148)
    made = stages(make_brief(), scheme(hung))
    for name in ("clips_channel", "structure"):  # what is bought and what the engineer is asked for
        assert "179 N (40 lb)" in " ".join(task(made, name).steps)


def test_each_ply_of_each_face_has_its_screw_at_the_task_that_hangs_it() -> None:
    brief = make_brief()
    build = scheme(replace(LID, plies=(BOARD,) * 3, between_joists=(BOARD,)), replace(WALL, inner_plies=(BOARD,)))
    made = stages(brief, build)
    rows = {each.id: {face: row for row in each.screws for face in row.faces} for each in made.tasks}
    assert rows["boards_first"]["lid"].plies == ((1, 0.025), (2, 0.041))
    assert rows["boards_last"]["lid"].plies == ((3, 0.057),)
    assert rows["boards_last"]["wall on side 1"].plies == ((1, 0.032),)
    assert "wall on side 1" not in rows["boards_first"]
    assert rows["boards_last"]["wall on side 1"].longer == ""
    assert "joist" in rows["boards_last"]["lid"].longer
    assert "floor above" in rows["between_joists"]["between the joists, against the subfloor"].longer
    for name in ("boards_first", "boards_last"):
        used = {what.item for what in task(made, name).materials if what.item.startswith("board_screw")}
        assert {length for row in task(made, name).screws for _, length in row.plies} == {item(each).facts["length"] for each in used}


def test_clips_are_told_on_the_joists_that_are_there() -> None:
    wide = make_brief(shell__joists__spacing=0.625)  # 0.813 m along a row would end between two joists
    lid = next(each for each in lids(wide) if each.id == "lid-0-clip-3")
    told = task(stages(wide, scheme(lid)), "clips_channel")
    assert "a clip on every joist, {length:clip_spacing} apart" in told.steps[0]
    assert told.lengths["clip_spacing"] == 0.625
    over = lid_extent(wide, scheme(lid))
    short, long = sorted((over.length, over.width))
    inner = math.floor((short - 0.0127) / 0.6096)  # rows at every 24 in
    rows = 1 + inner + (short - inner * 0.6096 > 0.1524)
    assert f" {rows * (math.floor(long / 0.625) + 1)} clips, each" in told.steps[0]
    load_of_one = (3 * 11.0 + 2.0 + lid.fill_thickness * 8.2) * 9.80665 * 0.6096 * 0.625
    assert f"at most {load_of_one:.0f} N" in told.steps[0]


def test_every_clip_that_is_bought_is_named_where_it_hangs() -> None:
    brief = make_brief()  # with a beam and a duct that get soffits
    build = scheme(wall=replace(WALL, support="isolation clip", support_spacing=0.61, clip_spacing=1.22))
    made = stages(brief, build)
    told = [" ".join(task(made, name).steps) for name in ("structure", "clips_channel")]
    lid, soffits = re.search(r"(\d+) clips in the joists.*Another (\d+) clips go in the soffits", told[0]).groups()  # type: ignore[union-attr]
    walls = re.search(r"Walls: (\d+) clips", told[1])
    assert walls
    assert f"crosses: {lid} clips" in told[1]
    bought = sum(line.quantity for line in lines(brief, inner_room(brief, build), build) if line.item == "isolation_clip")
    rows = [int(count) for count in re.findall(r"Over the soffit round the \w+: (\d+) clips", told[0])]
    assert len(rows) == 2
    assert re.findall(r"Over the soffit round the \w+: (\d+) clips", told[1]) == [str(count) for count in rows]
    assert int(lid) + int(soffits) + int(walls[1]) + sum(rows) == bought
    bare = " ".join(task(stages(make_brief(shell__obstructions=()), scheme()), "structure").steps)
    assert "clips in the joists" in bare
    assert "soffits" not in bare


@pytest.mark.parametrize(
    ("support", "framed", "filled"), [("isolation clip", "clips_channel", "clips_channel"), ("absent", "frame", "insulate")]
)
def test_a_soffit_is_framed_and_filled_once_what_it_hangs_from_is_up(support: str, framed: str, filled: str) -> None:
    brief = make_brief()  # with a beam and a duct that get soffits
    build = scheme(lid=replace(LID, support=support))
    made = stages(brief, build)
    for words, name in (("Frame the sides of the soffits", framed), ("Fill the sides of the soffits", filled)):
        assert [each.id for each in made.tasks if words in " ".join(each.steps)] == [name]
    bought = [line for line in lines(brief, inner_room(brief, build), build) if line.where.startswith("soffit")]
    assert {line.task for line in bought if item(line.item).facts.get("kind") == "wood"} == {framed}
    assert {line.task for line in bought if line.item.startswith("glass_fibre")} == {filled}


def test_an_assumed_joist_spacing_is_measured_before_clips_are_bought() -> None:
    guess = Assumption("Joist spacing", "first", "24 in", "", Origin.UNKNOWN)
    assumed, measured = make_brief(assumptions=(guess,)), make_brief(assumptions=())
    channel = scheme(replace(LID, support="resilient channel", clip_spacing=0.0))
    told = [
        " ".join(task(stages(*each), "order_materials").steps) for each in ((assumed, scheme()), (measured, scheme()), (assumed, channel))
    ]
    assert ["before clips and channel are bought" in each for each in told] == [True, False, False]


def test_bays_are_cleared_before_anything_is_built_in_them() -> None:
    between = replace(LID, between_joists=(BOARD,))
    assert any("Clear every joist bay" in step for step in task(stages(make_brief(), scheme(between)), "demolish").steps)
    assert not any("Clear every joist bay" in step for step in task(stages(make_brief(), scheme()), "demolish").steps)


def test_walls_of_one_ply_wait_for_the_last_ply() -> None:
    one = " ".join(task(stages(make_brief(), scheme(wall=replace(WALL, inner_plies=(BOARD,)))), "boards_first").steps)
    assert "waits for the next task" in one
    assert "more than one ply" not in one
    two = " ".join(task(stages(make_brief(), scheme()), "boards_first").steps)
    assert "waits for the next task" not in two
    assert "more than one ply" in two


def test_each_side_is_named_with_its_wall() -> None:
    made = task(stages(make_brief(), scheme()), "frame")
    for side in range(1, 5):
        assert any(step.startswith(f"Side {side}: inner frame") for step in made.steps)
        assert made.lengths[f"side_{side}_spacing"] == pytest.approx(WALL.stud_spacing)


def test_texts_are_filled_and_name_only_lengths_that_the_task_has() -> None:
    own = replace(
        LID, support="independent joists", support_spacing=0.406, clip_spacing=0.0, own_joist_depth=0.14, between_joists=(BOARD, BOARD)
    )
    channel = replace(LID, support="resilient channel", clip_spacing=0.0, plies=(BOARD,) * 3)
    for lid in (LID, own, channel):
        for each in stages(make_brief(shell__year_built=None, shell__water="unknown", shell__appliance="unknown"), scheme(lid)).tasks:
            for text in (*each.steps, *each.checks, *each.warnings):
                rest = re.sub(r"\{length:([a-z0-9_]+)\}", lambda match, each=each: f"{each.lengths[match[1]]:.3f}", text)
                assert "{" not in rest


def test_a_finding_stands_at_its_task_and_is_never_lost() -> None:
    load_finding = Finding(
        "load", Severity.CAUTION, "Joists near their limit.", 1.0, 0.9, "kPa", "x", "Ask the engineer.", "engineer", "structure"
    )
    lost = replace(load_finding, task="own_ceiling", title="Slab under the walls")
    unheard = replace(load_finding, task="no such task", title="Something else")
    made = stages(make_brief(), scheme(), load_finding, lost, unheard, replace(load_finding, task=""))
    assert task(made, "structure").findings == (load_finding,)
    assert task(made, "survey").findings == (unheard,)
    assert task(made, "frame").findings == (lost,)  # own joists are not part of this build; their walls are
    assert sum(len(each.findings) for each in made.tasks) == 3


def test_nothing_is_built_while_a_stop_stands() -> None:
    stop = Finding("height", Severity.STOP, "Too low under the beam", 1.8, 1.93, "m", "x", "Move it.", "building official", "permits")
    made = stages(make_brief(), scheme(), stop, replace(stop, title="No way out", task=""))
    settle = task(made, "settle_stops")
    assert "Too low under the beam. No way out" in settle.hold_point
    assert [each.title for each in settle.findings] == ["Too low under the beam", "No way out"]
    assert not task(made, "permits").findings
    behind: dict[str, set[str]] = {}
    for each in made.tasks:
        behind[each.id] = set(each.after).union(*(behind[before] for before in each.after))
        assert each.id in ("survey", "settle_stops") or "settle_stops" in behind[each.id]
    assert "settle_stops" not in ids(stages(make_brief(), scheme(), replace(stop, severity=Severity.CAUTION)))


def test_what_the_tasks_use_sums_to_what_the_bill_uses() -> None:
    brief, build = make_brief(), scheme()
    priced = bill(brief, lines(brief, inner_room(brief, build), build))
    made = stages(brief, build)
    for name in {row.item for row in priced.rows if row.group != "fees"}:
        by_task = sum(each.quantity for one in made.tasks for each in one.materials if each.item == name)
        assert by_task == pytest.approx(sum(row.used for row in priced.rows if row.item == name))


def test_a_gas_pipe_that_nobody_looked_for_may_be_there() -> None:
    def warned(answer: str) -> str:
        return " ".join(task(stages(make_brief(shell__gas_line=answer), scheme()), "demolish").warnings)

    assert "may cross" in warned("unknown")
    assert "is inside the area" in warned("yes")
    assert "gas" not in warned("no")


def test_a_burner_is_guarded_from_the_first_day_and_off_while_a_fan_draws_on_its_air() -> None:
    def warned(appliance: str, name: str) -> str:
        return " ".join(task(stages(make_brief(shell__appliance=appliance), scheme()), name).warnings)

    for appliance in ("natural draft", "unknown"):
        assert "carbon monoxide alarm beside it before any work" in warned(appliance, "survey")
        assert "stays off while the filtered fan runs" in warned(appliance, "demolish")
        assert "stays off while the test fan runs" in warned(appliance, "seal_leak_test")
        brief = make_brief(shell__appliance=appliance)
        assert any(each.item == "co_alarm" for each in task(stages(brief, scheme()), "survey").materials)
    for name in ("survey", "demolish", "seal_leak_test"):
        assert "burner" not in warned("sealed", name)


def test_radon_above_the_level_is_drawn_off_before_a_frame_stands() -> None:
    made = stages(make_brief(shell__radon="above"), scheme())
    cleared = task(made, "demolish")
    assert any("radon contractor" in step for step in cleared.steps)
    assert any("no frame is built before" in check for check in cleared.checks)
    assert ids(made).index("demolish") < ids(made).index("frame")
    assert not any("radon" in step.lower() for step in task(stages(make_brief(shell__radon="below"), scheme()), "demolish").steps)


def test_no_ceiling_is_opened_for_the_engineer_before_the_tests() -> None:
    steps = " ".join(task(stages(make_brief(), scheme()), "structure").steps)
    assert "No ceiling is opened" in steps


def test_a_frame_that_carries_own_joists_under_the_existing_ones_leaves_their_depth() -> None:
    boards = sum(ply.thickness for ply in LID.plies)
    layers = (Layer("own joists and the gap above them", 0.153, 0.0), Layer("boards", boards, 20.0))
    own = replace(LID, support="independent joists", support_spacing=0.4064, own_joist_depth=0.140, layers=layers)
    made = task(stages(make_brief(shell__obstructions=()), replace(scheme(), lid=own)), "frame")
    assert made.lengths["inner_top_gap"] == pytest.approx(0.153)
    assert made.lengths["inner_drop"] == pytest.approx(0.153 - 0.025, abs=0.001)
    assert any("{length:inner_drop} shorter" in step for step in made.steps)
    assert any("header" in step for step in made.steps)


def test_a_lid_of_one_ply_is_hung_once() -> None:
    single = task(stages(make_brief(), replace(scheme(), lid=replace(LID, plies=(BOARD,)))), "boards_first")
    assert any("lid of one ply waits" in step for step in single.steps)
    assert not any(step.startswith("Lid first") for step in single.steps)
    double = task(stages(make_brief(), replace(scheme(), lid=replace(LID, plies=(BOARD, BOARD)))), "boards_first")
    assert double.steps[0].startswith("Lid first")


def test_more_hours_a_week_end_sooner_and_waits_stay() -> None:
    slow = stages(make_brief(means__hours_per_week=6.0, means__helpers=0), scheme())
    fast = stages(make_brief(means__hours_per_week=40.0, means__helpers=2), scheme())
    assert fast.weeks < slow.weeks
    assert fast.hours_total == pytest.approx(slow.hours_total)
    # Letter of the engineer, permit, delivery, rough, framing and insulation inspections, second delivery, drying, final: the waits alone.
    assert fast.weeks > (10 + 21 + 5 + 3 + 3 + 1 + 3 + 5 + 3) / 7.0
    with pytest.raises(ValueError, match="hours a week"):
        stages(make_brief(means__hours_per_week=0.0), scheme())


def test_two_helpers_shorten_what_needs_two_but_not_the_drying() -> None:
    one = stages(make_brief(means__helpers=1), scheme())
    two = stages(make_brief(means__helpers=2), scheme())
    for name in ("demolish", "frame", "clips_channel", "boards_first", "boards_last"):
        before, after = task(one, name), task(two, name)
        assert (before.people, before.crew, after.crew) == (2, 2, 3)
        assert after.finish - after.start == pytest.approx((before.finish - before.start) * 2.0 / 3.0)
    for name in ("finish", "floor", "permits", "inspect_rough"):
        assert task(two, name).ready - task(two, name).finish == pytest.approx(task(one, name).wait_days / 7.0)
    assert task(two, "finish").wait_for == "compound and paint to dry"
    alone = stages(make_brief(means__helpers=0), scheme())
    assert task(alone, "frame").crew == 2  # never fewer than it needs: the plan tells the owner to find the second


def test_what_one_can_do_and_what_needs_two_is_all_there_is() -> None:
    made = stages(make_brief(), scheme())
    assert {"frame", "boards_last", "door"} <= {each.id for each in made.together}
    assert {"survey", "fireblock", "finish", "floor"} <= {each.id for each in made.alone}
    assert sorted((*made.alone, *made.together), key=lambda each: each.number) == list(made.tasks)


def test_waiting_runs_beside_other_work_and_leaves_slack() -> None:
    made = stages(make_brief(shell__year_built=1960, shell__water="damp"), scheme())
    permits, clear, board = task(made, "permits"), task(made, "demolish"), task(made, "inspect_board")
    assert task(made, "water").ready > permits.start
    assert permits.critical
    assert clear.slack > 0.0
    assert not clear.critical
    assert clear not in made.critical
    assert board.ready > task(made, "seal_leak_test").start
    assert clear.start < task(made, "deliver_first").start  # cleared while the first delivery is on its way
    assert task(made, "fireblock").start < task(made, "inspect_rough").ready  # blocks go in while the inspector is waited for


def test_trades_take_their_own_time() -> None:
    made = task(stages(make_brief(means__hours_per_week=80.0, means__helpers=3), scheme()), "rough_electric")
    assert made.finish - made.start == pytest.approx(made.trade_hours / 40.0)


@pytest.mark.parametrize(("told", "words"), [("dry", "was dry. Repeat it once"), ("wet", "was wet"), ("unknown", "Tape a square")])
def test_the_sheet_test_is_asked_for_by_what_it_showed(told: str, words: str) -> None:
    steps = " ".join(task(stages(make_brief(shell__water="stains", site__wall_test=told), scheme()), "water").steps)
    assert words in steps
    assert steps.count("two days") == 1


def test_radon_that_was_measured_is_not_measured_again_before_the_suction_works() -> None:
    def kits(radon: str) -> list[str]:
        made = stages(make_brief(shell__radon=radon, shell__year_built=2005), scheme())
        return [each.id for each in made.tasks if any(used.item == "radon_test" for used in each.materials)]

    assert kits("untested") == ["hazards_test"]
    assert kits("above") == ["demolish"]
    assert kits("below") == []
    made = stages(make_brief(shell__radon="above", shell__year_built=1960), scheme())
    assert not any("radon" in step.casefold() for step in task(made, "hazards_test").steps)
    assert any("test kits with the suction on" in step for step in task(made, "demolish").steps)


@pytest.mark.parametrize("name", ["outlet_box", "light", "smoke_alarm", "grille"])
def test_what_sits_on_the_boards_is_mounted_after_the_last_ply(name: str) -> None:
    made = stages(make_brief(use__people=6), scheme())
    mounted = [each for each in made.tasks if any(used.item == name for used in each.materials)]
    brief, build = make_brief(use__people=6), scheme()
    tasks = {each.task for each in lines(brief, inner_room(brief, build), build) if each.item == name}
    assert tasks == {"air_start"}
    last, after = task(made, "boards_last"), task(made, "air_start")
    assert last.ready <= after.start
    assert mounted == [after]
    assert task(made, after.supply).ready <= after.start


def test_the_cooling_unit_is_paid_for_where_its_first_part_is_set_and_its_indoor_part_waits() -> None:
    brief, build = make_brief(use__people=6), scheme()
    made, paid = stages(brief, build), bill(brief, lines(brief, inner_room(brief, build), build))
    assert [each.stage for each in shopping(paid) if each.item == "cooling_unit"] == ["Rough work"]
    assert [each.task for each in paid.lines if each.item == "cooling_unit"] == ["rough_hvac"]
    assert any("outdoor part" in step and "Keep its indoor part boxed" in step for step in task(made, "rough_hvac").steps)
    assert any("hang the indoor part" in step for step in task(made, "air_start").steps)


def test_rough_work_mounts_nothing_on_a_face_that_is_not_there_yet() -> None:
    made = stages(make_brief(use__people=6), scheme())
    rough = " ".join((*task(made, "rough_electric").steps, *task(made, "rough_hvac").steps))
    assert "grille" not in rough.replace("the grilles for later", "")
    assert "come after it" in rough
    seal, finish = " ".join(task(made, "seal_leak_test").steps), " ".join(task(made, "air_start").steps)
    assert "every duct collar" in seal
    assert {"sealant", "backer_rod"} <= {used.item for used in task(made, "seal_leak_test").materials}
    for word in ("mount boxes, lights", "CO alarms", "hang the indoor part", "set grilles"):
        assert word in finish
    assert task(made, "rough_electric").trade_hours > 0.0
    assert task(made, "air_start").trade_hours > 0.0


def test_the_week_of_notes_waits_for_nothing_and_is_read_before_anything_is_ordered() -> None:
    made = stages(make_brief(), scheme())
    survey, order = task(made, "survey"), task(made, "order_materials")
    assert any(step.startswith("Begin to note") and "beside the tasks that follow" in step for step in survey.steps)
    assert not survey.wait_days
    assert order.steps[0].startswith("Compare the week of levels that you noted")
    assert order.start - survey.finish > 1.0


def test_deliveries_say_what_they_bring() -> None:
    made = stages(make_brief(), scheme())
    assert [each.id for each in made.deliveries] == ["deliver_first", "deliver_boards"]
    first, second = (" ".join(each.steps) for each in made.deliveries)
    assert "lumber" in first
    assert "doors" not in first
    assert "boards" in second
    assert "doors" in second
    assert "flooring" in second
    between = stages(make_brief(), scheme(replace(LID, between_joists=(BOARD,))))
    assert "boards" in " ".join(task(between, "deliver_first").steps)
    # The rough work needs a few boards, between joists and over the walls: the bulk comes after the framing inspection.
    assert any("only what its own tasks use" in step for step in task(between, "order_materials").steps)


def test_every_condition_that_a_text_names_is_known() -> None:
    brief, build = make_brief(), scheme()
    known = set(truths(brief, build, lines(brief, inner_room(brief, build), build))) | {"used", "settle_stops"}
    named = {row["when"] for row in load("tasks")["task"] if "when" in row}
    for row in load("tasks")["task"]:
        named |= {text["when"] for key in ("steps", "checks", "warnings") for text in row[key] if isinstance(text, dict)}
    assert named <= known


def test_every_shop_group_of_goods_has_a_word() -> None:
    assert {each.group for each in items().values()} - {"fees"} == set(load("tasks")["goods"])


def test_a_lift_is_there_for_the_first_ceiling_board() -> None:
    def where(build: Scheme) -> list[str]:
        return [each.id for each in stages(make_brief(), build).tasks if any(used.item == "board_lift_hire" for used in each.materials)]

    assert where(scheme()) == ["boards_first", "boards_last"]
    assert where(scheme(replace(LID, plies=(BOARD,)))) == ["boards_last"]


def test_hours_of_labour_are_quickly_counted() -> None:
    brief, build = make_brief(), scheme()
    found = lines(brief, inner_room(brief, build), build)
    labour_hours(brief, build, found)
    assert min(timeit.repeat(lambda: labour_hours(brief, build, found), number=1, repeat=20)) < 0.002


def test_hours_come_from_materials_and_base() -> None:
    brief, build = make_brief(), scheme()
    found = lines(brief, inner_room(brief, build), build)
    made = stages(brief, build)
    base = sum(row["base_hours"] for row in load("tasks")["task"] if row["id"] in ids(made))
    assert made.hours_total == pytest.approx(base + line_hours(found))
    assert made.trade_hours == sum(each.quantity for each in found if each.item in ("electrician", "hvac_designer", "hvac_contractor"))


def test_a_hired_crew_is_paid_for_the_building_stages() -> None:
    brief, build = make_brief(means__labour=Labour.HIRED), scheme()
    found = lines(brief, inner_room(brief, build), build)
    paid = labour_hours(brief, build, found)
    assert line_hours(found) < paid < stages(brief, build).hours_total
    assert "hired crew" in task(stages(brief, build), "boards_last").who
    assert "owner" in task(stages(brief, build), "survey").who


def test_a_circle_of_predecessors_is_reported() -> None:
    with pytest.raises(ValueError, match="a, b"):
        in_order([{"id": "a", "after": ("b",)}, {"id": "b", "after": ("a",)}])


def test_an_owner_alone_is_told_to_find_a_second_person() -> None:
    alone = stages(make_brief(means__helpers=0), scheme())
    told = [each.id for each in alone.tasks if any("second person" in warning for warning in each.warnings)]
    assert {"demolish", "frame", "boards_first", "boards_last", "door"} <= set(told)
    assert "finish" not in told
    for brief in (make_brief(means__helpers=1), make_brief(means__helpers=0, means__labour=Labour.HIRED)):
        assert not any("second person" in warning for each in stages(brief, scheme()).tasks for warning in each.warnings)


def test_lumber_of_a_task_is_listed_in_pieces() -> None:
    studs = next(each for each in task(stages(make_brief(), scheme()), "frame").materials if each.item == "lumber_89")
    assert sum(pieces * length for pieces, length in studs.cuts) >= studs.quantity * (1.0 - 1e-9)
