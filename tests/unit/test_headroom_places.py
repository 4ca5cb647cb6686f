"""Where low places stand, what slopes, what the corners show, and what each choice costs in height."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from conftest import make_brief
from test_headroom import BARE, SOFFIT, lid

from calc.brief import Brief, Obstruction
from calc.finding import Finding, Severity
from calc.headroom import door_head, findings, floor_costs, headroom, height_map, lid_costs, slope_rule
from calc.headroom.spots import surface
from calc.options import floors, lids
from calc.site import NOTHING_KNOWN, Site

NARROW = Obstruction("beam", 2.05, 0.2, False)


def basement(*things: Obstruction, **changes: object) -> Brief:
    return make_brief(shell__height=2.4, shell__slab_unevenness=0.0, shell__obstructions=things, **changes)


def found(brief: Brief, site: Site = NOTHING_KNOWN) -> dict[str, Finding]:
    result = headroom(brief, lid(1), BARE)
    return {each.rule: each for each in findings(brief, result, height_map(brief, lid(1), BARE, site))}


@pytest.mark.parametrize(
    ("place", "own"), [("unknown", None), ("side", None), ("desk", None), ("walking route", 2.0), ("door", 2.0)]
)  # the sample accepts 2.00 m
def test_the_own_limit_holds_under_a_narrow_beam_only_where_people_walk(place: str, own: float | None) -> None:
    assert headroom(basement(replace(NARROW, place=place)), lid(1), BARE).zones[1].own_limit == own


def test_the_lowest_place_may_be_another_than_the_one_that_misses_most() -> None:
    beam, duct = replace(NARROW, place="walking route", underside=2.03), Obstruction("duct", 2.01, 0.3, False)
    slope = Obstruction("slope", 1.2, 0.5, False)
    result = headroom(basement(beam, duct, slope), lid(1), BARE)
    assert (result.binding.name, result.lowest.name) == ("under the beam", "under the duct")  # the slope is no floor at all
    assert result.lowest.ok_code
    assert not result.binding.ok_own
    assert headroom(basement(), lid(1), BARE).lowest.name == "open field"


def test_the_own_limit_leaves_a_desk_alone_even_under_a_wide_duct() -> None:
    wide = Obstruction("duct", 2.1, 1.2, True)
    assert headroom(basement(wide), lid(1), BARE).zones[1].own_limit == 2.0
    assert headroom(basement(replace(wide, place="desk")), lid(1), BARE).zones[1].own_limit is None
    assert found(basement(replace(wide, place="desk")))["headroom-desk-under-the-duct"].severity is Severity.NOTE


def test_a_low_place_that_nobody_placed_is_asked_about() -> None:
    assert found(basement(NARROW))["headroom-place-unknown"].severity is Severity.CAUTION
    assert "headroom-place-unknown" not in found(basement(replace(NARROW, place="side")))
    high = Obstruction("beam", door_head() + SOFFIT + 0.01, 0.2, False)
    assert "headroom-place-unknown" not in found(basement(high))


def test_a_door_of_the_usual_height_needs_its_height() -> None:
    over = replace(NARROW, place="door", underside=2.1)
    door = found(basement(over))["headroom-door-under-the-beam"]
    assert door.measured == pytest.approx(2.1 - SOFFIT)
    assert door.limit == pytest.approx(2.032 + 0.051)
    low = make_brief(shell__height=2.13, shell__slab_unevenness=0.0, shell__obstructions=())
    assert "headroom-door-open-field" in found(low)
    assert "headroom-door-open-field" not in found(basement())


def test_a_slope_has_the_limit_of_slopes_and_takes_area() -> None:
    # 6.1 x 4.3 m = 26.2 m2; IRC: 5 ft at the lowest, half of 70 ft2 at full height
    slope = Obstruction("slope", 1.65, 1.0, False, "side", 4.0)
    zone = headroom(basement(slope), lid(1), BARE).zones[1]
    assert zone.sloped
    assert zone.limit == pytest.approx(1.524)
    assert zone.ok_code
    assert zone.area == pytest.approx(4.0)
    assert "headroom-slope-area" not in found(basement(slope))
    wide = replace(slope, width=4.0, length=6.0)  # 24 of 26.2 m2: 2.2 m2 are left at full height
    assert found(basement(wide))["headroom-slope-area"].measured == pytest.approx(6.1 * 4.3 - 24.0)
    walked = replace(slope, place="walking route")
    assert headroom(basement(walked), lid(1), BARE).zones[1].limit == pytest.approx(1.9304)


def test_a_slope_too_low_to_count_stops_nothing_and_counts_for_nothing() -> None:
    # IRC R305.1 exception 1: of the required 70 ft2 none may be lower than 5 ft; floor beyond those 70 ft2 may
    slope = Obstruction("slope", 1.1, 1.0, False, "side", 4.0)
    zone = headroom(basement(slope), lid(1), BARE).zones[1]
    assert (zone.limit, zone.ok_code) == (0.0, True)
    assert not {rule for rule in found(basement(slope)) if "slope" in rule}
    wide = replace(slope, width=3.5, length=6.0)  # 21 of 26.2 m2: 5.2 m2 are left, less than 70 ft2
    counted = found(basement(wide))["headroom-counted-area"]
    assert counted.measured == pytest.approx(6.1 * 4.3 - 21.0)
    walked = headroom(basement(replace(slope, place="door")), lid(1), BARE).zones[1]
    assert not walked.ok_code


def test_canada_asks_for_full_height_over_three_quarters() -> None:
    assert slope_rule("obc_2012").share == 0.75
    assert slope_rule("unknown").share == 0.75
    slope = Obstruction("slope", 1.65, 2.0, False, "side", 4.0)  # 8 of 26.2 m2: 69 % is left
    assert "headroom-slope-area" in found(basement(slope, code="obc_2012"))
    assert "headroom-slope-area" not in found(basement(replace(slope, width=1.0), code="obc_2012"))


def test_low_soffits_do_not_count_towards_the_least_area() -> None:
    small = {"shell__length": 3.0, "shell__width": 2.6}  # 7.8 m2; a duct of 0.6 m, 0.817 m as boxed, x 3.0 m leaves 5.35 of the 6.5 asked
    duct = Obstruction("duct", 2.05, 0.6, True, "side")
    assert found(basement(duct, **small))["headroom-counted-area"].measured == pytest.approx(7.8 - 0.817 * 3.0)
    assert "headroom-counted-area" not in found(basement(replace(duct, width=0.2), **small))
    assert "headroom-counted-area" not in found(basement(duct, **small, habitable="no"))


def test_corners_make_a_map() -> None:
    brief = basement(limits__lowest_ceiling=1.9)
    site = replace(NOTHING_KNOWN, corner_heights=(2.40, 2.45, 2.45, 2.40, 2.43))
    heights = height_map(brief, lid(1), BARE, site)
    assert heights is not None
    assert [spot.height for spot in heights.spots] == pytest.approx([found - lid(1).height_taken for found in site.corner_heights])
    assert heights.lowest.name == "corner of sides 1 and 2"
    assert heights.spread == pytest.approx(0.05)
    assert heights.share_full == 1.0
    assert height_map(brief, lid(1), BARE, NOTHING_KNOWN) is None


def test_a_plane_that_falls_has_half_of_it_over_its_middle() -> None:
    # along side 1 from 2.0 to 2.2 m: an even fall, so half lies over 2.1 m
    fall = surface((2.2, 2.2, 2.0, 2.0))
    assert float((fall >= 2.1 - 1e-9).mean()) == pytest.approx(0.5, abs=0.01)
    assert surface((2.2, 2.2, 2.0, 2.0, 2.3))[40, 40] == pytest.approx(2.3)
    with pytest.raises(ValueError, match="four corners"):
        surface((2.0, 2.1))


def test_a_lower_corner_and_more_spread_than_the_slab_has_are_told() -> None:
    brief = basement()
    low = replace(NOTHING_KNOWN, corner_heights=(2.37, 2.40, 2.41, 2.40))
    rules = found(brief, low)
    assert rules["headroom-lower-spot"].measured == pytest.approx(2.37)
    assert rules["headroom-spread"].measured == pytest.approx(0.04)
    even = replace(NOTHING_KNOWN, corner_heights=(2.40, 2.405, 2.40, 2.40))
    assert not {"headroom-lower-spot", "headroom-spread"} & set(found(brief, even))


def test_what_each_lid_and_floor_costs() -> None:
    brief = make_brief()
    options, floor = lids(brief), floors(brief)[0]
    costs = lid_costs(brief, options, floor)
    assert len(costs) == len(options)
    assert [cost.taken for cost in costs] == sorted(cost.taken for cost in costs)
    for thin, thick in pairwise(costs):
        assert thick.height <= thin.height + 1e-9
        assert thick.margin <= thin.margin + 1e-9
    for cost in costs:
        assert cost.height == pytest.approx(headroom(brief, cost.option, floor).open_field.height)
    assert floor_costs(floors(brief))[0].taken == 0.0


def test_own_joists_under_the_old_ones_could_go_between_them() -> None:
    brief = make_brief(shell__obstructions=())
    by_key = {option.id: option for option in lids(brief)}
    below, between = by_key["lid-0-below-2"], by_key["lid-0-interleaved-2"]
    text = "between the existing ones"
    gain = next(gain for gain, words in headroom(brief, below, BARE).gains if text in words)
    assert gain == pytest.approx(below.height_taken - between.height_taken)
    assert not any(text in words for _, words in headroom(brief, between, BARE).gains)


def test_a_height_that_just_passes_is_measured_again() -> None:
    taken = lid(1).height_taken
    for over, tight in ((0.0, True), (0.009, True), (0.011, False), (-0.001, False)):
        brief = make_brief(shell__height=2.032 + taken + over, shell__slab_unevenness=0.0, shell__obstructions=())
        assert ("headroom-tight-open-field" in found(brief)) is tight
