"""What the person said of the site reaches every part of the assessment."""

from __future__ import annotations

from dataclasses import replace

from conftest import make_brief

from calc.assess import Assessment, assess
from calc.options import doors
from calc.site import Site

KNOWN = Site(
    corner_heights=(2.46, 2.40, 2.42, 2.46, 2.44),
    stair_headroom=2.1,
    stair_width=0.95,
    point_loads="no",
    clip_rating=160.0,
    slab_thickness=0.1,
    slab_state="sound",
    foundation_state="sound",
    well="none",
    garage="no",
    tight_house="no",
    appliance_clear=0.9,
    wiring="modern",
    wall_test="dry",
    mould="no",
    suspect="no",
)


def assessed(site: Site) -> Assessment:
    return assess(make_brief(site=site), explain=False)


def rules(assessment: Assessment) -> set[str]:
    return {finding.rule for finding in assessment.findings}


def test_an_answer_takes_away_the_finding_that_asks_for_it() -> None:
    unknown, known = rules(assessed(Site())), rules(assessed(KNOWN))
    asking = {rule for rule in unknown if rule.endswith("-unknown")}
    assert {"stairs-unknown", "point-load-unknown", "foundation-unknown", "escape-well-unknown"} <= asking
    assert not {rule for rule in known if rule.endswith("-unknown") and not rule.startswith("headroom-place")}


def test_a_point_load_sends_the_joists_to_the_engineer() -> None:
    assert assessed(KNOWN).structure.verdict == "passes the screen"
    heavy = assessed(Site(point_loads="yes"))
    assert heavy.structure.verdict == "engineer first"
    assert "point-load" in rules(heavy)


def test_corners_make_a_height_map_and_each_option_its_cost_in_height() -> None:
    assert assessed(Site()).height_map is None
    known = assessed(KNOWN)
    assert known.height_map is not None
    assert known.height_map.lowest.name == "corner of sides 2 and 3"
    assert "headroom-spread" in rules(known)
    taken = [cost.taken for cost in known.lid_costs]
    assert taken == sorted(taken)
    assert known.scheme.lid in {cost.option for cost in known.lid_costs}
    assert known.scheme.floor in {cost.option for cost in known.floor_costs}
    chosen = next(cost for cost in known.lid_costs if cost.option == known.scheme.lid)
    assert chosen.height == known.headroom.open_field.height


def test_what_a_seal_at_the_foot_of_the_door_would_cost_is_told_only_where_it_has_none() -> None:
    found = assessed(KNOWN)
    open_foot, sealed = (next(each for each in doors(found.brief) if each.id == name) for name in ("solid_perimeter", "solid_sealed"))
    hung = assess(found.brief, replace(found.scheme, door=open_foot), explain=False)
    shut = assess(found.brief, replace(found.scheme, door=sealed), explain=False)
    assert shut.sealed_door_cost is None
    assert hung.sealed_door_cost is not None
    assert 0.0 < hung.sealed_door_cost <= shut.bill.total - hung.bill.total
