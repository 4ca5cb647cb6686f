from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import make_brief
from test_headroom import BARE, lid

from calc import headroom, safety, structure, ventilation
from calc.brief import Assumption, Brief, Labour, Obstruction, Origin, SideKind
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.geometry import Room
from calc.headroom import code_limit
from calc.safety.escape import SIZE_QUESTIONS
from calc.safety.framing import own_joist_top
from calc.safety.fuel import QUESTIONS as APPLIANCE_QUESTIONS
from calc.scheme import AirPathOption, DoorOption, Layer, Scheme, WallOption
from wizard.interview.engine import QUESTIONS

WALL = WallOption(
    "w",
    "w",
    frozenset(SideKind),
    (),
    "independent wood stud",
    0.089,
    0.406,
    0.025,
    "absent",
    0,
    0,
    "glass fibre",
    0.089,
    (),
    False,
    0.15,
    True,
)
SCHEME = Scheme(
    lid(2),
    tuple((kind, WALL) for kind in SideKind),
    DoorOption("d", "d", 2, True, 30.0, 2.0),
    AirPathOption("a", "a", 6.0, 0.025, 2, True, True),
    BARE,
)
ROOM = Room(5.8, 4.0, 2.3)


def found(brief: Brief, room: Room = ROOM) -> dict[str, Finding]:
    return {finding.rule: finding for finding in safety.findings(brief, SCHEME, room)}


def severity(rule: str, **changes: object) -> Severity | None:
    finding = found(make_brief(**changes)).get(rule)
    return finding.severity if finding else None


def test_rules_have_names_of_their_own_and_say_who_decides() -> None:
    findings = safety.findings(make_brief(), SCHEME, ROOM)
    assert len({finding.rule for finding in findings}) == len(findings)
    assert all(finding.source and finding.decides and finding.remedy and finding.task for finding in findings)


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"shell__escape": "unknown"}, "escape-unknown"),
        ({"shell__water": "unknown"}, "water-unknown"),
        ({"shell__radon": "unknown"}, "radon-test"),
        ({"shell__year_built": None}, "lead"),
        ({"shell__year_built": None}, "asbestos"),
        ({"shell__appliance": "unknown"}, "appliance-air"),
        ({"shell__panel": "unknown"}, "panel-unknown"),
        ({"shell__gas_line": "unknown"}, "gas-line-unknown"),
        ({"shell__drains": "unknown"}, "drains-unknown"),
        ({"shell__ceiling_texture": "unknown"}, "old-ceiling"),
    ],
)
def test_not_knowing_always_asks(changes: dict[str, object], rule: str) -> None:
    assert severity(rule, **changes) in (Severity.CAUTION, Severity.STOP)


def test_standing_water_stops_damp_is_tested_dry_is_proved() -> None:
    assert severity("water-standing", shell__water="standing") is Severity.STOP
    assert severity("water-signs", shell__water="damp") is Severity.CAUTION
    assert severity("water-signs", shell__water="stains") is Severity.CAUTION
    assert severity("water-test", shell__water="none") is Severity.NOTE
    assert severity("mould", shell__water="damp") is Severity.CAUTION
    assert severity("mould", shell__water="none") is None


def test_no_escape_stops_only_where_people_sleep() -> None:
    assert severity("escape-none", shell__escape="none", use__sleeping=True) is Severity.STOP
    assert severity("escape-none", shell__escape="none", use__sleeping=False) is Severity.CAUTION
    small = {"shell__escape": "window", "shell__escape_width": 0.4}
    assert severity("escape-small", **small, use__sleeping=True) is Severity.STOP
    assert severity("escape-small", **small) is Severity.CAUTION
    assert severity("escape-kept", shell__escape="door", use__sleeping=True) is Severity.NOTE
    assert severity("sleeping", use__sleeping=True) is Severity.CAUTION
    assert severity("sleeping", use__sleeping=False) is None


def test_a_natural_draft_appliance_without_air_stops() -> None:
    # 23 kW needs 111 m3
    assert severity("appliance-air", shell__appliance="natural draft", shell__basement_volume_left=110.0) is Severity.STOP
    assert severity("appliance-air", shell__appliance="natural draft", shell__basement_volume_left=112.0) is Severity.CAUTION
    assert severity("appliance-air", shell__appliance="unknown", shell__basement_volume_left=50.0) is Severity.CAUTION
    assert severity("appliance-air", shell__appliance="unknown", shell__appliance_power=0.0) is Severity.CAUTION
    assert severity("appliance-air", shell__appliance="sealed") is None
    assert severity("appliance-sealed", shell__appliance="sealed") is Severity.NOTE
    assert severity("appliance-air", shell__appliance="none") is None


def test_an_appliance_with_nothing_left_is_replaced_or_moved_and_asked_about_before_anything_is_built() -> None:
    none_left = found(make_brief(shell__appliance="natural draft", shell__basement_volume_left=0.0))["appliance-air"]
    assert none_left.severity is Severity.STOP
    assert "replaced" in none_left.remedy
    assert "two of" not in none_left.remedy
    some_left = found(make_brief(shell__appliance="natural draft", shell__basement_volume_left=50.0))["appliance-air"]
    assert "two of" in some_left.remedy
    order = [task["id"] for task in load("tasks")["task"]]
    assert order.index(some_left.task) < order.index("permits")


def test_hearing_compares_the_session_with_the_niosh_time() -> None:
    assert severity("hearing", use__level=100.0, use__session=0.5) is Severity.CAUTION
    assert severity("hearing", use__level=100.0, use__session=0.2) is Severity.NOTE
    assert severity("hearing", use__level=80.0) is None


@pytest.mark.parametrize(("level", "time"), [(91.0, "2 h"), (100.0, "15 min"), (115.0, "28 s"), (130.0, "1 s")])
def test_the_niosh_time_never_reads_as_none(level: float, time: str) -> None:
    # 8 h at 85 dBA, half for each 3 dB: 115 dBA is 10 halvings, 28 s
    assert f"have {time} a day" in found(make_brief(use__level=level))["hearing"].title


def test_the_escape_window_gets_a_second_sash_and_no_plug_but_for_the_leak_test() -> None:
    kept = found(make_brief(shell__escape="window", shell__escape_width=0.9))["escape-kept"].remedy
    assert "second sash" in kept
    assert "through both" in kept
    assert "sash" not in found(make_brief(shell__escape="door"))["escape-kept"].remedy


def test_a_second_sash_is_warned_of_where_the_window_is_only_just_large_enough() -> None:
    # 0.7 m by 0.5 m is 0.35 m2, the least in Canada; a frame of 25 mm a side leaves 0.65 m by 0.45 m, 0.29 m2
    bare = {"code": "nbc_2020", "shell__escape": "window", "shell__escape_width": 0.7, "shell__escape_height": 0.5}
    finding = found(make_brief(**bare))["escape-bare"]
    assert finding.severity is Severity.CAUTION
    assert (finding.measured, finding.limit) == (pytest.approx(0.35), 0.35)
    assert "escape-kept" in found(make_brief(**{**bare, "shell__escape_height": 0.7}))  # 0.65 by 0.65: 0.42 m2
    assert "escape-bare" not in found(make_brief(**{**bare, "shell__escape": "door"}))


def test_own_joists_meet_what_hangs_lower_than_their_top() -> None:
    # joists 140 mm deep whose underside is 100 mm under the old joists at 2.4 m: their top is at 2.44 m, between the old ones
    boards = lid(2).plies
    between = replace(
        lid(2),
        support="independent joists",
        own_joist_depth=0.140,
        layers=(Layer("own joists", 0.1, 0.0), *lid(2, ()).layers),
        plies=boards,
    )
    assert own_joist_top(2.4, between) == pytest.approx(2.44)
    below = replace(between, layers=(Layer("gap", 0.05, 0.0), Layer("own joists", 0.14, 0.0), *lid(2, ()).layers))
    for option, underside, meets in ((between, 2.39, True), (below, 2.34, True), (below, 2.36, False), (lid(2), 2.0, False)):
        brief = make_brief(shell__height=2.4, shell__obstructions=(Obstruction("beam", underside, 0.2, False),))
        rules = {each.rule for each in safety.findings(brief, replace(SCHEME, lid=option), ROOM)}
        assert ("own-joists-meet" in rules) is meets


def test_a_number_is_printed_only_where_the_title_says_what_it_is() -> None:
    named = {
        "radon-retest", "radon-above", "radon-test", "lifting", "room-size", "escape-small", "escape-bare", "clips-overloaded",
        "slab-unknown",
    }  # fmt: skip
    for brief in (make_brief(), make_brief(**UNKNOWNS), make_brief(shell__escape_width=0.4, shell__radon="above")):
        numbers = {each.rule for each in safety.findings(brief, SCHEME, ROOM) if (each.measured, each.limit) != (None, None)}
        assert numbers <= named


def test_age_decides_lead_and_asbestos() -> None:
    for year, lead, asbestos in ((1960, True, True), (1980, False, True), (2005, False, False)):
        rules = found(make_brief(shell__year_built=year))
        assert ("lead" in rules, "asbestos" in rules) == (lead, asbestos)


def test_radon() -> None:
    assert severity("radon-above", shell__radon="above") is Severity.CAUTION
    assert severity("radon-test", shell__radon="untested") is Severity.CAUTION
    assert severity("radon-retest", shell__radon="below") is Severity.NOTE
    assert found(make_brief(code="nbc_2020"))["radon-retest"].limit == 200.0


def test_the_fan_that_draws_radon_off_can_draw_on_a_burner_too() -> None:
    above = {"shell__radon": "above"}
    assert "draft" in found(make_brief(**above, shell__appliance="natural draft"))["radon-above"].remedy
    assert "draft" in found(make_brief(**above, shell__appliance="unknown"))["radon-above"].remedy
    assert "draft" not in found(make_brief(**above, shell__appliance="sealed"))["radon-above"].remedy


def test_a_certified_firm_for_lead_is_asked_for_only_where_that_rule_holds() -> None:
    old = {"shell__year_built": 1960}
    assert "certified firm" in found(make_brief(**old, code="irc_2018_2021"))["lead"].remedy
    assert "certified firm" not in found(make_brief(**old, code="nbc_2020"))["lead"].remedy


def test_panel_gas_and_drains_inside_the_area() -> None:
    assert severity("panel", shell__panel="in the area") is Severity.CAUTION
    assert severity("gas-line", shell__gas_line="yes") is Severity.CAUTION
    assert severity("drains", shell__drains="yes") is Severity.CAUTION
    clear = found(make_brief(shell__panel="none", shell__gas_line="no", shell__drains="no"))
    assert not {"panel", "panel-unknown", "gas-line", "gas-line-unknown", "drains", "drains-unknown"} & set(clear)


def test_light_joists_ask_for_the_membrane() -> None:
    assert severity("floor-membrane", shell__joists__kind="i-joist") is Severity.CAUTION
    assert severity("floor-membrane", shell__joists__depth=0.184) is Severity.NOTE
    assert severity("floor-membrane") is None


def test_working_alone_and_lifting() -> None:
    alone = {"means__helpers": 0, "means__labour": Labour.OWN}
    assert severity("alone", **alone) is Severity.CAUTION
    assert severity("lifting", **alone) is Severity.CAUTION
    assert severity("alone", means__helpers=1) is None
    assert severity("lifting", means__helpers=1) is Severity.NOTE


def test_a_double_frame_is_fireblocked() -> None:
    assert severity("fireblocking") is not None


def test_a_room_too_small_to_be_habitable() -> None:
    small = Room(4.0, 2.0, 2.3)
    assert found(make_brief(habitable="yes"), small)["room-size"].severity is Severity.CAUTION
    assert "room-size" not in found(make_brief(habitable="no"), small)
    assert "room-size" not in found(make_brief())


UNKNOWNS = {
    "shell__escape": "unknown", "shell__water": "unknown", "shell__radon": "unknown", "shell__year_built": None,
    "shell__appliance": "unknown",
    "shell__panel": "unknown", "shell__gas_line": "unknown", "shell__drains": "unknown", "shell__ceiling_texture": "unknown",
}  # fmt: skip


def test_every_finding_belongs_to_a_stage_that_exists() -> None:
    stages = {task["id"] for task in load("tasks")["task"]}
    harsh = make_brief(
        **UNKNOWNS, code="unknown", habitable="unknown", shell__height=1.9, use__sleeping=True, use__activity="drumming", use__people=8,
        means__helpers=0, air__system="unknown", shell__joists__kind="i-joist",
    )  # fmt: skip
    mild = make_brief(shell__appliance="natural draft", shell__water="standing", shell__radon="above", shell__panel="in the area")
    for brief in (harsh, mild):
        found = (
            *safety.findings(brief, SCHEME, ROOM),
            *headroom.findings(brief, headroom.headroom(brief, SCHEME.lid, BARE)),
            *structure.findings(brief, structure.screen(brief, SCHEME.lid)),
            *ventilation.findings(brief, ventilation.air(brief, ROOM, SCHEME.air_path)),
        )
        assert {finding.task for finding in found} <= stages


def test_limits_of_other_countries_never_pass_as_law() -> None:
    assert "check the local one" in code_limit("nbc_2020", "yes", False).source


def test_a_door_to_climb_out_of_is_measured_too_and_a_guess_is_called_one() -> None:
    hatch = {"shell__escape": "door", "shell__escape_width": 0.45, "shell__escape_height": 2.0, "shell__escape_sill": 0.0}
    assert severity("escape-small", **hatch) is Severity.CAUTION
    assert severity("escape-small", **{**hatch, "shell__escape_width": 0.8}) is None
    guess = (Assumption(SIZE_QUESTIONS[0], "hazards", "0.45 m", "", Origin.DEFAULT),)
    assert "assumed" in found(make_brief(**hatch, assumptions=guess))["escape-small"].title
    assert "assumed" not in found(make_brief(**hatch))["escape-small"].title


def test_assumptions_are_found_by_the_titles_of_the_questions() -> None:
    assert {*SIZE_QUESTIONS, *APPLIANCE_QUESTIONS} <= {question.title for question in QUESTIONS}
