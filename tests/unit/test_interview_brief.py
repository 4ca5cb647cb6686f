"""Answers to brief: everything asked arrives, in SI, with the assumptions named."""

from __future__ import annotations

import dataclasses
from importlib.resources import files

import pytest

from calc.brief import Brief, Labour, Origin, SideKind
from calc.catalogue import load
from calc.isolation.source import source
from calc.site import Site
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.answers_file import read_strictly
from wizard.interview.engine import Problems, accept, question
from wizard.interview.to_brief import to_brief


def demo() -> Answers:
    return read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))


def changed(answers: Answers, **texts: str) -> Answers:
    for key, text in texts.items():
        answers = accept(question(key), text, answers)
    return answers


def flat(part: object, prefix: str = "") -> dict[str, object]:
    out: dict[str, object] = {}
    for field in dataclasses.fields(part):  # type: ignore[arg-type]
        value = getattr(part, field.name)
        if dataclasses.is_dataclass(value):
            out |= flat(value, f"{prefix}{field.name}.")
        else:
            out[prefix + field.name] = value
    return out


def test_the_demo_gives_a_brief_with_few_assumptions() -> None:
    brief = to_brief(demo())
    assert brief.shell.length == pytest.approx(21 * 0.3048)
    assert brief.shell.height == pytest.approx(8 * 0.3048 + 1.5 * 0.0254)
    assert brief.shell.joists.spacing == pytest.approx(0.4064)
    assert [side.kind for side in brief.shell.sides].count(SideKind.OPEN) == 1
    assert brief.air.winter_design == pytest.approx(-15.0)
    assert brief.means.labour is Labour.OWN
    assert len(brief.assumptions) <= 6


# One other answer for a question, and the field of the brief that it must move.
MOVES = {
    "shell_length": ("25 ft", "shell.length"),
    "shell_width": ("12 ft", "shell.width"),
    "shell_height": ("8 ft 6", "shell.height"),
    "joist_depth": ("11 1/4", "shell.joists.depth"),
    "joist_spacing": ("24", "shell.joists.spacing"),
    "joist_span": ("10 ft", "shell.joists.span"),
    "source": ("piano", "use.source"),
    "hours": ("day", "use.hours"),
    "listeners": ("bedroom_above", "listeners"),
    "people": ("5", "use.people"),
    "lowest_ceiling": ("7 ft 2", "limits.lowest_ceiling"),
    "budget": ("50k", "means.budget"),
    "code": ("nbc_2020", "code"),
    "habitable": ("no", "habitable"),
    "currency": ("EUR", "means.currency"),
    "side_1": ("foundation_above", "shell.sides"),
    "side_2": ("foundation_below", "shell.sides"),
    "side_3": ("party", "shell.sides"),
    "side_4": ("open", "shell.sides"),
    "foundation": ("wood", "shell.foundation"),
    "foundation_thickness": ("12 in", "shell.foundation_thickness"),
    "slab_unevenness": ("1 in", "shell.slab_unevenness"),
    "joist_kind": ("i-joist", "shell.joists.kind"),
    "joist_breadth": ("2 in", "shell.joists.breadth"),
    "joist_species": ("hem_fir", "shell.joists.species"),
    "joist_grade": ("no3", "shell.joists.grade"),
    "joist_damaged": ("yes", "shell.joists.damaged"),
    "joists_may_be_touched": ("no", "limits.joists_may_be_touched"),
    "subfloor": ("boards", "shell.subfloor"),
    "floor_above": ("tile", "shell.floor_above"),
    "room_above": ("living", "shell.room_above"),
    "ceiling_texture": ("boarded", "shell.ceiling_texture"),
    "obstructions": ("pipe", "shell.obstructions"),
    "duct_underside": ("7 ft", "shell.obstructions"),
    "duct_width": ("30 in", "shell.obstructions"),
    "duct_movable": ("no", "shell.obstructions"),
    "duct_length": ("8 ft", "shell.obstructions"),
    "corners_measured": ("no", "site.corner_heights"),
    "corner_1": ("8 ft", "site.corner_heights"),
    "corner_2": ("8 ft", "site.corner_heights"),
    "corner_3": ("8 ft", "site.corner_heights"),
    "corner_4": ("8 ft", "site.corner_heights"),
    "corner_middle": ("8 ft", "site.corner_heights"),
    "foundation_state": ("bowed", "site.foundation_state"),
    "point_loads": ("yes", "site.point_loads"),
    "clip_rating": ("36 lbf", "site.clip_rating"),
    "slab_state": ("cracked", "site.slab_state"),
    "slab_thickness": ("4 in", "site.slab_thickness"),
    "wall_test": ("wet", "site.wall_test"),
    "mould": ("small", "site.mould"),
    "appliance_clear": ("20 in", "site.appliance_clear"),
    "wiring": ("knob and tube", "site.wiring"),
    "well": ("none", "site.well"),
    "well_projection": ("30 in", "site.well_projection"),
    "well_width": ("3 ft", "site.well_width"),
    "well_depth": ("4 ft", "site.well_depth"),
    "stair_headroom": ("6 ft 2", "site.stair_headroom"),
    "stair_width": ("32", "site.stair_width"),
    "board_length": ("10 ft", "site.board_length"),
    "suspect": ("yes", "site.suspect"),
    "water": ("damp", "shell.water"),
    "radon": ("above", "shell.radon"),
    "year_built": ("1950", "shell.year_built"),
    "appliance": ("natural draft", "shell.appliance"),
    "appliance_power": ("120,000", "shell.appliance_power"),
    "basement_rest": ("300", "shell.basement_volume_left"),
    "panel": ("in the area", "shell.panel"),
    "gas_line": ("yes", "shell.gas_line"),
    "drains": ("yes", "shell.drains"),
    "escape": ("none", "shell.escape"),
    "escape_width": ("20 in", "shell.escape_width"),
    "escape_height": ("30 in", "shell.escape_height"),
    "escape_sill": ("44 in", "shell.escape_sill"),
    "level": ("95", "use.level"),
    "activity": ("mixing", "use.activity"),
    "session": ("4", "use.session"),
    "equipment": ("900", "use.equipment"),
    "recording": ("yes", "use.recording"),
    "sleeping": ("yes", "use.sleeping"),
    "bedroom_above_target": ("quiet_by_day", "listeners"),
    "bedroom_above_background": ("32", "listeners"),
    "garden_neighbour_distance": ("100 ft", "listeners"),
    "garden_neighbour_window": ("open", "listeners"),
    "surroundings": ("town", "listeners"),
    "sureness": ("four_in_five", "limits.likelihood"),
    "stair_door": ("no", "house.stair_door"),
    "heating": ("hydronic", "air.system"),
    "winter_design": ("20", "air.winter_design"),
    "room_temperature": ("66", "air.room_temperature"),
    "room_humidity": ("60", "air.room_humidity"),
    "co2_limit": ("900", "air.co2_limit"),
    "bedrooms": ("4", "air.bedrooms"),
    "house_area": ("3,000", "air.house_area"),
    "breaks": ("rare", "air.breaks"),
    "arrivals": ("one_by_one", "air.arrivals"),
    "summer_design": ("100", "air.summer_design"),
    "summer_damp": ("dry", "air.summer_damp"),
    "duct_outdoors": ("no", "air.duct_outdoors"),
    "duct_reach": ("30", "air.duct_reach"),
    "contingency": ("20", "means.contingency"),
    "labour": ("hired", "means.labour"),
    "hours_per_week": ("20", "means.hours_per_week"),
    "helpers": ("0", "means.helpers"),
}


# Asked of who records only.
RECORDING_MOVES = {
    "this_room_target": ("nr_15", "listeners"),
    "walking": ("hard", "house.walking"),
    "plumbing": ("yes", "house.plumbing"),
    "machine": ("laundry", "house.machine"),
    "street_level": ("61", "house.outdoors"),
}


# Asked only after another answer than the demo's: that answer, then as above.
BRANCH_MOVES = {
    "duct_place": ({"duct_underside": "7 ft"}, "desk", "shell.obstructions"),
    "beam_place": ({"obstructions": "beam", "beam_underside": "7 ft"}, "door", "shell.obstructions"),
    "pipe_length": ({"obstructions": "pipe"}, "5 ft", "shell.obstructions"),
    "slope_underside": ({"obstructions": "slope"}, "4 ft", "shell.obstructions"),
    "slope_place": ({"obstructions": "slope"}, "side", "shell.obstructions"),
    "slope_width": ({"obstructions": "slope"}, "6 ft", "shell.obstructions"),
    "slope_length": ({"obstructions": "slope"}, "9 ft", "shell.obstructions"),
    "panel_clear": ({"panel": "in the area"}, "40 in", "site.panel_clear"),
    "tight_house": ({"appliance": "natural draft"}, "yes", "site.tight_house"),
    "garage": ({"appliance": "none"}, "yes", "site.garage"),
    "party_wall": ({"side_1": "party"}, "brick", "shell.party"),
}


@pytest.mark.parametrize("key", BRANCH_MOVES)
def test_each_answer_of_a_branch_moves_its_field_there_and_nothing_elsewhere(key: str) -> None:
    opening, text, field = BRANCH_MOVES[key]
    opened = changed(demo(), **opening)
    assert question(key) in engine.applicable(opened)
    assert flat(to_brief(opened))[field] != flat(to_brief(changed(opened, **{key: text})))[field]
    assert question(key) not in engine.applicable(demo())
    assert to_brief(changed(demo(), **{key: text})) == to_brief(demo())


def test_the_corners_count_when_all_four_are_measured() -> None:
    heights = to_brief(demo()).site.corner_heights
    assert [round(height / 0.0254, 3) for height in heights] == [97.75, 97.5, 97.625, 97.875, 97.75]
    assert to_brief(changed(demo(), corner_middle="?")).site.corner_heights == heights[:4]
    assert to_brief(changed(demo(), corner_3="?")).site.corner_heights == ()


def test_what_nobody_knows_of_the_site_stays_unknown() -> None:
    answers = demo()
    for item in engine.applicable(answers):
        if item.id in MOVES and MOVES[item.id][1].startswith("site."):
            answers = changed(answers, **{item.id: "?"})
    assert to_brief(answers).site == Site()


def test_a_clip_is_rated_in_any_unit_of_force() -> None:
    ratings = [to_brief(changed(demo(), clip_rating=text)).site.clip_rating for text in ("36", "36 lbf", "160.14 N", "16.33 kg")]
    assert ratings == pytest.approx([160.14] * 4, rel=1e-3)


def test_a_slope_is_part_of_the_house_and_is_never_movable() -> None:
    (slope,) = to_brief(changed(demo(), obstructions="slope", slope_underside="5 ft")).shell.obstructions
    assert (slope.kind, slope.movable) == ("slope", False)


def test_a_wall_to_the_neighbour_that_nobody_named_is_listed_as_assumed() -> None:
    answers = changed(demo(), side_1="party")
    assert "Wall to the neighbour" in {row.question for row in to_brief(answers).assumptions}
    assert "Wall to the neighbour" not in {row.question for row in to_brief(changed(answers, party_wall="brick")).assumptions}
    assert to_brief(changed(answers, party_wall="?")).shell.party == "hollow block"


def test_nobody_is_asked_what_cannot_matter() -> None:
    asked = {item.id for item in engine.applicable(changed(demo(), escape="door", joists_may_be_touched="no", water="standing"))}
    assert not asked & {"well", "well_width", "clip_rating", "wall_test", "tight_house", "garage", "panel_clear"}
    canadian = {item.id for item in engine.applicable(changed(demo(), code="obc_2012"))}
    assert "well_projection" in canadian
    assert not canadian & {"well_width", "well_depth"}
    inside = {item.id for item in engine.applicable(changed(demo(), side_1="open", side_2="open", side_3="open", side_4="party"))}
    assert "foundation_state" not in inside
    assert "duct_length" not in {item.id for item in engine.applicable(changed(demo(), habitable="no"))}


@pytest.mark.parametrize("key", RECORDING_MOVES)
def test_each_answer_about_the_house_moves_its_field_for_a_recording_room(key: str) -> None:
    text, field = RECORDING_MOVES[key]
    recording = changed(demo(), recording="yes")
    assert flat(to_brief(recording))[field] != flat(to_brief(changed(recording, **{key: text})))[field]
    assert to_brief(changed(demo(), **{key: text})) == to_brief(demo())


def test_a_recording_room_listens_to_the_house_itself_unless_it_is_told_not_to() -> None:
    recording = changed(demo(), recording="yes")
    assert [(who.kind, who.target) for who in to_brief(recording).listeners][-1] == ("this_room", "nc_20")
    for quiet in (demo(), changed(recording, this_room_target="none"), changed(demo(), source="mixing")):
        assert "this_room" not in [who.kind for who in to_brief(quiet).listeners]
    assert "this_room" in [who.kind for who in to_brief(changed(demo(), source="mixing", this_room_target="nc_25")).listeners]


def test_nobody_within_earshot_leaves_the_room_itself_at_most() -> None:
    alone = changed(demo(), listeners="none")
    assert to_brief(alone).listeners == ()
    assert [who.kind for who in to_brief(changed(alone, recording="yes")).listeners] == ["this_room"]
    with pytest.raises(engine.Problem, match="cannot be chosen together"):
        changed(demo(), listeners="none, bedroom_above")


def test_a_number_by_law_holds_outdoors_at_the_window_or_inside_the_room() -> None:
    answers = changed(
        demo(), garden_neighbour_target="by_law", garden_neighbour_limit="50", bedroom_above_target="by_law", bedroom_above_limit="33"
    )
    bedroom, _, garden = to_brief(answers).listeners
    assert (bedroom.limit, bedroom.window) == (33.0, "closed")
    assert (garden.limit, garden.window) == (50.0, "outside")
    assert "outdoors at the window" in garden.label
    assert to_brief(changed(answers, garden_neighbour_target="quiet_for_sleep")).listeners[2].limit == 0.0


def test_a_fence_counts_only_where_one_stands() -> None:
    fenced = changed(
        demo(), garden_neighbour_barrier="yes", garden_neighbour_barrier_height="6 ft", garden_neighbour_barrier_distance="10 ft"
    )
    garden = to_brief(fenced).listeners[2]
    assert (garden.barrier_height, garden.barrier_distance) == pytest.approx((1.8288, 3.048))
    for without in ("no", "?"):
        garden = to_brief(changed(fenced, garden_neighbour_barrier=without)).listeners[2]
        assert (garden.barrier_height, garden.barrier_distance) == (0.0, 0.0)
    with pytest.raises(Problems) as caught:
        to_brief(changed(fenced, garden_neighbour_barrier_distance="40 ft"))
    assert [problem.question_id for problem in caught.value.problems] == ["garden_neighbour_barrier_distance"]


def test_the_kind_of_place_gives_the_background_and_the_street() -> None:
    levels = [
        [listener.background for listener in to_brief(changed(demo(), recording="yes", surroundings=kind)).listeners[1:3]]
        for kind in ("countryside", "suburb", "town", "busy_street")
    ]
    assert levels == sorted(levels)
    assert levels[0] != levels[-1]
    streets = {kind: to_brief(changed(demo(), recording="yes", surroundings=kind)).house.outdoors for kind in ("suburb", "town", "?")}
    assert streets["suburb"] < streets["town"] < streets["?"]
    assert [listener.background for listener in to_brief(changed(demo(), surroundings="?")).listeners[1:3]] == levels[0]


def test_who_read_a_meter_is_told_apart_from_who_did_not() -> None:
    assert to_brief(demo()).use.level_measured
    assert to_brief(changed(demo(), level="101 dBA")).use.level_measured
    assert not to_brief(demo().with_answer("level", Answer("101 dBA", Origin.ESTIMATED))).use.level_measured
    assert not to_brief(demo().without("level")).use.level_measured
    unknown = to_brief(changed(demo(), level="?")).use
    assert unknown.level_careful
    assert not unknown.level_measured
    assert unknown.level == pytest.approx(source(unknown.source).level + load("certainty")["source_stated"])  # one doubt, counted once
    assert not to_brief(demo()).use.level_careful
    assert not to_brief(demo().without("level")).use.level_careful


@pytest.mark.parametrize("key", MOVES)
def test_each_answer_moves_its_field(key: str) -> None:
    text, field = MOVES[key]
    before, after = flat(to_brief(demo())), flat(to_brief(changed(demo(), **{key: text})))
    assert before[field] != after[field]


def test_every_field_of_the_brief_is_moved_by_some_answer() -> None:
    moved = {moves[-1] for moves in (*MOVES.values(), *RECORDING_MOVES.values(), *BRANCH_MOVES.values())} | {
        "use.level_measured",
        "use.level_careful",
        "means.hourly_rate",
        "name",
        "units",
        "assumptions",
        "prices.currency",  # the price book stands beside the interview
        "prices.prices",
    }
    assert set(flat(to_brief(demo()))) == moved


def test_the_rate_of_hired_builders() -> None:
    assert to_brief(changed(demo(), labour="hired", hourly_rate="75")).means.hourly_rate == 75.0


def test_an_empty_interview_names_each_needed_answer() -> None:
    with pytest.raises(Problems) as caught:
        to_brief(Answers())
    assert [problem.question_id for problem in caught.value.problems] == [
        "shell_length",
        "shell_width",
        "shell_height",
        "source",
        "listeners",
        "budget",
    ]


def test_masked_answers_never_reach_the_brief() -> None:
    masked = demo().with_answer("beam_underside", Answer("1 mm"))  # not even readable as a sensible height
    assert to_brief(masked) == to_brief(demo())


def test_unreadable_answers_are_problems() -> None:
    with pytest.raises(Problems) as caught:
        to_brief(demo().with_answer("people", Answer("many")))
    assert [problem.question_id for problem in caught.value.problems] == ["people"]


def test_unknowns_are_assumed_and_named() -> None:
    brief = to_brief(changed(demo(), water="?", escape="don't know", joist_span="I don't know"))
    origins = {assumption.question: assumption.origin for assumption in brief.assumptions}
    assert origins["Water"] is origins["Second way out"] is origins["Joist span"] is Origin.UNKNOWN
    assert brief.shell.water == "unknown"
    assert (brief.shell.escape, brief.shell.escape_width) == ("unknown", 0.0)
    assert brief.shell.joists.span == brief.shell.length


def test_a_beam_is_never_movable() -> None:
    brief = to_brief(changed(demo(), obstructions="beam, pipe", pipe_movable="yes"))
    assert [(item.kind, item.movable) for item in brief.shell.obstructions] == [("beam", False), ("pipe", True)]


def test_all_unknown_still_makes_a_brief() -> None:
    answers = changed(demo(), obstructions="beam, duct, pipe, slope", labour="hired")
    for item in engine.applicable(answers):
        if item.unknown is not None:
            answers = changed(answers, **{item.id: "?"})
    assert isinstance(to_brief(answers), Brief)
