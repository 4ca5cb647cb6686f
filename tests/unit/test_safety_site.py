"""Rules that need facts of the site: each not known asks, each known is held to its limit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import make_brief
from test_headroom import lid
from test_safety_rules import ROOM, SCHEME, WALL, found, severity

from calc import safety
from calc.brief import Side, SideKind
from calc.finding import Finding, Severity
from calc.geometry import Room
from calc.safety.electric import receptacle_count
from calc.scheme import Layer
from calc.site import NOTHING_KNOWN, Site

KNOWN = Site(
    corner_heights=(2.4, 2.4, 2.4, 2.4), stair_headroom=2.1, stair_width=0.95, point_loads="no", clip_rating=300.0, slab_thickness=0.1,
    slab_state="sound", foundation_state="sound", well="none", garage="no", tight_house="no", appliance_clear=1.0, panel_clear=1.2,
    wiring="modern", wall_test="dry", mould="no", suspect="no",
)  # fmt: skip


def at(rule: str, site: Site, **changes: object) -> Finding | None:
    """The finding of a rule with facts of the site."""
    return {each.rule: each for each in safety.findings(make_brief(**changes), SCHEME, ROOM, site)}.get(rule)


def grade(rule: str, site: Site, **changes: object) -> Severity | None:
    finding = at(rule, site, **changes)
    return finding.severity if finding else None


def test_each_site_fact_not_known_is_asked_for() -> None:
    house = {"shell__appliance": "natural draft", "shell__year_built": 1960}
    asking = {
        "stair_headroom": "stairs-unknown", "stair_width": "stairs-unknown", "point_loads": "point-load-unknown",
        "clip_rating": "clips-rating-unknown", "slab_thickness": "slab-unknown", "slab_state": "slab-unknown",
        "foundation_state": "foundation-unknown", "well": "escape-well-unknown", "tight_house": "tight-house-unknown",
        "appliance_clear": "appliance-space-unknown", "wiring": "wiring-unknown", "wall_test": "water-test", "suspect": "asbestos",
    }  # fmt: skip
    scheme = replace(SCHEME, lid=replace(SCHEME.lid, support_spacing=0.406, clip_spacing=0.813))
    for fact, rule in asking.items():
        value = getattr(NOTHING_KNOWN, fact)
        site, brief = replace(KNOWN, **{fact: value}), make_brief(**house)
        assert rule in {each.rule for each in safety.findings(brief, scheme, ROOM, site)}, fact
        if rule not in ("asbestos",):
            assert rule not in {each.rule for each in safety.findings(brief, scheme, ROOM, KNOWN)}, fact
    assert grade("co-alarm-unknown", replace(KNOWN, garage="unknown"), shell__appliance="none") is Severity.CAUTION
    assert at("co-alarm-unknown", KNOWN, shell__appliance="none") is None


def test_alarms_for_carbon_monoxide_follow_fuel_and_garage() -> None:
    assert grade("co-alarm", replace(KNOWN, garage="yes"), shell__appliance="none") is Severity.CAUTION
    assert grade("co-alarm", KNOWN, shell__appliance="sealed") is Severity.CAUTION
    assert at("co-alarm", KNOWN, shell__appliance="none") is None


def test_stairs_are_held_to_headroom_and_width() -> None:
    assert grade("stairs-headroom", replace(KNOWN, stair_headroom=2.02)) is Severity.CAUTION
    assert grade("stairs-clear", replace(KNOWN, stair_width=0.80)) is Severity.CAUTION
    low = at("stairs-headroom", replace(KNOWN, stair_headroom=2.02), code="obc_2012")
    assert low is None  # 1.95 m in a Canadian dwelling


def test_a_small_well_stops_a_bedroom() -> None:
    small = replace(KNOWN, well="yes", well_projection=0.90, well_width=1.2, well_depth=0.5)
    assert grade("escape-well-small", small) is Severity.CAUTION
    assert grade("escape-well-small", small, use__sleeping=True) is Severity.STOP
    assert grade("escape-well", replace(small, well_projection=0.95)) is Severity.NOTE
    assert grade("escape-well-small", replace(small, well_projection=0.92, well_width=0.90)) is Severity.CAUTION
    deep = at("escape-well", replace(small, well_projection=0.95, well_depth=1.3))
    assert deep is not None
    assert "ladder" in deep.title
    assert at("escape-well", small, shell__escape="door") is None


def test_a_tight_house_with_a_natural_draft_stops_and_asks() -> None:
    tight = replace(KNOWN, tight_house="yes")
    assert grade("tight-house", tight, shell__appliance="natural draft") is Severity.STOP
    assert grade("tight-house", tight, shell__appliance="unknown") is Severity.CAUTION
    assert at("tight-house", tight, shell__appliance="sealed") is None
    assert at("tight-house-unknown", NOTHING_KNOWN, shell__appliance="none") is None


def test_in_a_tight_house_a_burner_gets_its_air_from_outside_alone() -> None:
    confined = {"shell__appliance": "natural draft", "shell__basement_volume_left": 50.0}
    tight, loose = (at("appliance-air", replace(KNOWN, tight_house=answer), **confined) for answer in ("yes", "no"))
    assert tight is not None
    assert loose is not None
    assert "same storey" in loose.remedy
    assert "same storey" not in tight.remedy
    assert "to the outside" in tight.remedy


def test_panel_and_appliance_keep_their_space() -> None:
    assert grade("panel-clearance", replace(KNOWN, panel_clear=0.8), shell__panel="in the area") is Severity.STOP
    assert grade("panel", replace(KNOWN, panel_clear=1.0), shell__panel="in the area") is Severity.CAUTION
    assert grade("appliance-space", replace(KNOWN, appliance_clear=0.7)) is Severity.CAUTION
    assert at("appliance-space", replace(KNOWN, appliance_clear=0.762)) is None


def test_old_wiring_and_its_age() -> None:
    assert grade("wiring-old", replace(KNOWN, wiring="aluminium")) is Severity.CAUTION
    unknown = replace(KNOWN, wiring="unknown")
    for year, severe in ((1930, True), (1970, True), (None, True), (1995, False)):
        assert (grade("wiring-unknown", unknown, shell__year_built=year) is Severity.CAUTION) is severe


def test_wet_walls_and_large_mould_stop() -> None:
    assert grade("water-test-wet", replace(KNOWN, wall_test="wet")) is Severity.STOP
    assert grade("water-dry", KNOWN) is Severity.NOTE
    assert grade("mould-large", replace(KNOWN, mould="large")) is Severity.STOP
    assert grade("mould", replace(KNOWN, mould="small")) is Severity.CAUTION


@pytest.mark.parametrize(
    ("water", "rule"), [("stains", "water-signs"), ("damp", "water-signs"), ("none", "water-dry"), ("unknown", "water-unknown")]
)
def test_a_dry_sheet_test_is_told_and_repeated_once(water: str, rule: str) -> None:
    dry, open_ = (
        at(name, site, shell__water=water) for name, site in ((rule, KNOWN), ("water-test" if water == "none" else rule, NOTHING_KNOWN))
    )
    assert dry is not None
    assert open_ is not None
    assert "sheet test was dry" in dry.title
    assert "Repeat" in dry.remedy
    assert "48 hours" not in dry.remedy
    assert "48 hours" in open_.remedy


def test_suspect_material_is_tested_whatever_the_year() -> None:
    assert grade("asbestos", replace(KNOWN, suspect="yes"), shell__year_built=2005) is Severity.CAUTION
    assert grade("asbestos", KNOWN, shell__year_built=1970) is Severity.NOTE
    assert grade("asbestos", replace(KNOWN, suspect="unknown"), shell__year_built=1970) is Severity.CAUTION


def test_a_bowed_wall_stops_and_a_cracked_slab_waits() -> None:
    assert grade("foundation-bowed", replace(KNOWN, foundation_state="bowed")) is Severity.STOP
    assert grade("foundation-cracked", replace(KNOWN, foundation_state="cracked")) is Severity.CAUTION
    assert grade("slab-cracked", replace(KNOWN, slab_state="cracked")) is Severity.CAUTION
    brief = make_brief()
    heavy = replace(WALL, inner_plies=lid(2).plies)
    scheme = replace(SCHEME, walls=tuple((kind, heavy) for kind in SideKind), lid=replace(SCHEME.lid, own_joist_depth=0.14))
    rules = {each.rule: each for each in safety.findings(brief, scheme, ROOM, replace(KNOWN, slab_thickness=0.05))}
    thin = rules["slab-load"]
    assert thin.measured is not None
    assert thin.limit is not None
    assert thin.measured > thin.limit


def test_clips_are_held_to_the_rating_of_the_clip() -> None:
    # two plies of 10.7 kg/m2, 1.5 of channel, 90 mm of fill at 8.2 kg/m3: 23.6 kg/m2 on 0.61 x 1.22 m is 173 N
    weak, strong = at("clips-overloaded", replace(KNOWN, clip_rating=170.0)), at("clips", KNOWN)
    assert weak is not None
    assert weak.severity is Severity.STOP
    assert weak.measured == pytest.approx(172.5, abs=1.0)
    assert strong is not None
    assert strong.severity is Severity.NOTE


def test_a_soffit_too_heavy_for_clips_on_every_joist_is_a_question_to_the_engineer() -> None:
    heavy, light = at("soffit-clips-overloaded", replace(KNOWN, clip_rating=40.0)), at("soffit-clips-overloaded", KNOWN)
    assert heavy is not None
    assert heavy.decides == "structural engineer"
    assert heavy.limit == 40.0
    assert heavy.measured is not None
    assert heavy.measured > 40.0
    assert light is None
    assert at("soffit-clips-overloaded", replace(KNOWN, clip_rating=40.0), shell__obstructions=()) is None


def test_outlets_are_counted_round_the_room() -> None:
    assert receptacle_count(Room(3.6576, 3.6576, 2.2)) == 4  # 48 ft of wall, one each 12 ft
    assert receptacle_count(Room(3.7, 3.6576, 2.2)) == 5


def test_the_vapour_rule_tells_the_dew_point() -> None:
    damp = at("vapour", KNOWN, air__room_humidity=0.65)
    dry = at("vapour", KNOWN, air__room_humidity=0.2, air__winter_design=10.0, use__people=1, use__activity="quiet_seated")
    assert damp is not None
    assert dry is not None
    assert "water forms where" in damp.title
    assert "no water forms" in dry.title
    indoors = tuple(Side(n, 5.0, SideKind.OPEN) for n in (1, 2, 3, 4))
    assert at("vapour", KNOWN, shell__sides=indoors) is None


def test_draft_is_stopped_where_the_ceiling_hangs() -> None:
    assert severity("draftstopping") is Severity.NOTE
    assert severity("draftstopping", shell__joists__kind="truss") is Severity.CAUTION
    large = found(make_brief(), Room(12.0, 8.0, 2.3))["draftstopping"]
    assert large.severity is Severity.CAUTION


def test_canadian_plans_cite_canadian_text_or_say_that_none_was_read() -> None:
    american = ("International", "NEC", "IRC")
    brief = make_brief(code="obc_2012", shell__drains="yes", shell__gas_line="yes", shell__joists__kind="truss")
    for finding in safety.findings(brief, SCHEME, ROOM):
        if any(word in finding.source for word in american):
            assert "no Canadian clause was read" in finding.source, finding.rule
    assert "Ontario" in found(make_brief(code="nbc_2020"))["fireblocking"].source
    assert "Canadian" not in found(make_brief())["circuits"].source


def test_the_floor_above_keeps_clear_of_own_joists() -> None:
    # spruce-pine-fir No. 2 2x10 at 406 mm over 4.3 m, 40 psf: 5 w L4 / 384 E I with w = 778 N/m is 9 mm; over 5.0 m 16 mm
    own = replace(SCHEME.lid, support="independent joists", own_joist_depth=0.14, layers=(Layer("gap", 0.013, 0.0), *SCHEME.lid.layers))
    for span, meets in ((4.3, False), (5.0, True)):
        brief = make_brief(shell__joists__span=span, shell__room_above="living")
        rules = {each.rule: each for each in safety.findings(brief, replace(SCHEME, lid=own), ROOM, KNOWN)}
        assert ("own-joists-clearance" in rules) is meets
    assert rules["own-joists-clearance"].measured == pytest.approx(0.0160, abs=0.0002)
    assert "own-joists-size" in rules
