from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from conftest import make_brief

from calc.brief import ITSELF, Listener, Side, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.isolation.duct_way import duct_size
from calc.kept import as_costed, as_heard, as_priced
from calc.materials.takeoff import air_lines
from calc.options import air_paths
from calc.scheme import AirPathOption
from calc.unit_format import format_length
from calc.ventilation import air, co2, findings
from calc.ventilation.air import AIR_CHANGES, DWELLING, HOLDS_CO2, ROOM_62_1, AirResult
from calc.ventilation.words import duct_area

PATH = AirPathOption("a", "a", 6.0, 0.025, 2, True, True)
ROOM = Room(5.8, 4.0, 2.3)


def result(**changes: object) -> AirResult:
    return air(make_brief(**changes), ROOM, PATH)


def rules(**changes: object) -> set[str]:
    brief = make_brief(**changes)
    return {finding.rule for finding in findings(brief, air(brief, ROOM, PATH))}


def test_the_largest_room_rate_governs_and_the_dwelling_rate_never_does() -> None:
    band = result(use__people=5, use__activity="standing_playing")
    assert band.basis == HOLDS_CO2
    assert band.fresh_air == max(band.rates[name] for name in (HOLDS_CO2, ROOM_62_1, AIR_CHANGES))
    assert result(use__people=1, use__activity="quiet_seated", air__co2_limit=5000.0).basis == ROOM_62_1
    mansion = result(use__people=1, use__activity="quiet_seated", air__house_area=2000.0)
    assert mansion.rates[DWELLING] > mansion.fresh_air


def test_the_chosen_flow_holds_the_limit() -> None:
    band = result(use__people=4, use__activity="standing_playing", use__session=10.0)
    assert band.co2_steady == pytest.approx(1000.0)
    times, levels = band.co2_curve
    assert times[0] == 0.0
    assert times[-1] == 10.0
    assert max(levels) <= 1000.0 + 1e-9
    assert all(later >= earlier - 1e-9 for earlier, later in pairwise(levels))


def test_the_standards_minimum_does_not_hold_1000_ppm_for_active_players() -> None:
    assert "air-62-1-minimum" in rules(use__people=5, use__activity="standing_playing")
    assert "air-62-1-minimum" not in rules(use__people=1, use__activity="quiet_seated")


def test_equipment_heat_calls_for_cooling() -> None:
    hot = result(use__people=4, use__activity="standing_playing", use__equipment=1500.0)
    assert hot.cooling_needed
    assert hot.cooling_W == pytest.approx(hot.heat_sensible + hot.heat_latent + hot.summer.fresh_sensible + hot.summer.fresh_latent)
    assert hot.summer.fresh_sensible > 0.0
    assert hot.heat_sensible == pytest.approx(sum(hot.heat_parts.values()))
    assert "air-cooling" in rules(use__equipment=1500.0)
    cool = result(use__people=1, use__activity="quiet_seated", use__equipment=0.0, air__co2_limit=480.0)
    assert not cool.cooling_needed
    assert cool.cooling_W == 0.0


def test_a_limit_at_outdoor_air_cannot_be_held() -> None:
    with pytest.raises(ValueError, match="not above outdoor air"):
        co2.flow_to_hold(430.0, 1e-5, 430.0)


def test_recording_asks_for_slower_air_and_wider_ducts() -> None:
    assert result(use__recording=True).duct_velocity < result(use__recording=False).duct_velocity
    assert result(use__recording=True).duct_diameter > result(use__recording=False).duct_diameter
    plain = result()
    assert plain.duct_area * plain.duct_velocity == pytest.approx(plain.fresh_air)


def test_foundation_wall_condenses_and_an_open_basement_has_none() -> None:
    cold = result(air__winter_design=-20.0, air__room_humidity=0.5)
    assert cold.wall_surface_humidity == 1.0
    assert "air-cold-wall" in rules(air__winter_design=-20.0, air__room_humidity=0.5)
    sides = tuple(Side(number, 5.0, SideKind.OPEN) for number in (1, 2, 3, 4))
    inside = result(shell__sides=sides)
    assert inside.wall_surface_humidity is None
    assert inside.wall_surface_temperature is None


def test_unknown_house_system_asks() -> None:
    brief = make_brief(air__system="unknown")
    found = {finding.rule: finding for finding in findings(brief, air(brief, ROOM, PATH))}
    assert found["air-house-system"].severity == "caution"


def test_something_bought_moves_the_air_through_every_path() -> None:
    brief = make_brief()
    for path in air_paths(brief):
        bought = {each.item for each in air_lines(brief, path)}
        assert ("heat_recovery_unit" if path.fan_unit else "duct_takeoff" if path.house_ducts else "inline_fan") in bought


def test_a_crowd_needs_wider_ducts_and_the_lining_takes_its_thickness_twice() -> None:
    one, crowd = (result(use__people=people, use__activity="standing_playing") for people in (1, 10))
    assert crowd.duct_diameter > one.duct_diameter
    assert one.duct_outside - 2.0 * PATH.lining == pytest.approx(one.duct_diameter)
    brief = make_brief(units="metric")
    lined = {finding.rule: finding for finding in findings(brief, air(brief, ROOM, PATH))}["air-duct-size"]
    bare = replace(PATH, lined_length=0.0, lining=0.0)
    plain = {finding.rule: finding for finding in findings(brief, air(brief, ROOM, bare))}["air-duct-size"]
    assert "after lining" in lined.title
    assert "lining" not in plain.title + plain.remedy


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_the_finding_on_duct_size_tells_a_free_area_and_calls_a_diameter_that_of_a_round_duct(units: str) -> None:
    """The plan buys square ducts: a width alone would be taken for theirs."""
    brief = make_brief(units=units)
    made = air(brief, ROOM, PATH)
    found = {finding.rule: finding for finding in findings(brief, made)}["air-duct-size"]
    wide, round_only = format_length(made.duct_outside, units), found.remedy.split("If round instead:")
    assert f"{duct_area(made.duct_area, units)} free after lining" in found.title
    assert wide not in found.title + round_only[0]
    assert wide in round_only[1]
    assert duct_size(brief, PATH).area >= made.duct_area


def wanting(target: str, **changes: object) -> AirResult:
    return result(listeners=(Listener(ITSELF, "itself", target, 22.0, 0.0, "closed"),), **changes)


@pytest.mark.parametrize(
    ("target", "number", "reason"),
    [
        ("nc_15", "15", "the target set for the room itself"),
        ("nc_20", "20", "the target set for the room itself"),
        ("nc_25", "25", "the target set for the room itself"),
        ("nr_25", "20", "which keeps within the target set for the room itself, NR 25"),
        ("nr_20", "15", "which keeps within the target set for the room itself, NR 20"),
        ("nr_15", "15", "the lowest that air speeds are known for; the target set for the room itself, NR 15, is a little stricter"),
    ],
)
def test_the_air_is_as_quiet_as_the_target_stated_for_the_room_itself(target: str, number: str, reason: str) -> None:
    made = wanting(target, use__recording=True)
    assert (made.noise_target, made.noise_reason) == (number, reason)
    assert made.duct_velocity == load("air")["grille_speed"][number]


def test_without_a_stated_target_the_use_says_how_quiet_the_air_must_be() -> None:
    others = tuple(who for who in make_brief().listeners if who.kind != ITSELF)
    assert others
    made = [
        result(listeners=others, use__recording=recording, use__activity=activity)
        for recording, activity in ((True, "mixing"), (False, "mixing"), (False, "standing_playing"))
    ]
    assert [(each.noise_target, each.noise_reason) for each in made] == [
        ("15", "usual for a room that records; no target is set for the room itself"),
        ("20", "usual for a room to mix in; no target is set for the room itself"),
        ("25", "usual for a room to play in"),
    ]


def test_a_target_that_is_stated_anew_sizes_ducts_and_bill_anew_from_what_is_kept() -> None:
    """Every key under which sizes and costs are kept holds the target, and nothing else of who listens."""
    itself = Listener(ITSELF, "itself", "nc_15", 22.0, 0.0, "closed")
    quiet = make_brief(listeners=(itself,), use__recording=True)
    louder, renamed = (replace(quiet, listeners=(each,)) for each in (replace(itself, target="nc_25"), replace(itself, label="studio")))
    assert duct_size(quiet, PATH).area > duct_size(louder, PATH).area
    for key in (as_heard, as_priced, lambda brief: as_costed(brief, ROOM, PATH)):
        assert key(quiet) != key(louder)
        assert key(quiet) == key(renamed)
    assert as_heard(quiet, by_air=False) == as_heard(louder, by_air=False)
    assert as_costed(quiet, ROOM, None) == as_costed(louder, ROOM, None)


def test_a_wet_foundation_wall_is_decided_before_framing() -> None:
    brief = make_brief(air__winter_design=-20.0, air__room_humidity=0.5)
    found = {finding.rule: finding for finding in findings(brief, air(brief, ROOM, PATH))}["air-cold-wall"]
    order = [task["id"] for task in load("tasks")["task"]]
    assert order.index(found.task) < order.index("frame")
    assert "before framing" in found.remedy


def test_a_recovery_unit_saves_heat_and_summer_needs_none() -> None:
    brief = make_brief(air__winter_design=-12.0)
    assert air(brief, ROOM, PATH).heating_W < air(brief, ROOM, replace(PATH, fan_unit=False)).heating_W
    warm = make_brief(air__winter_design=25.0)
    assert air(warm, ROOM, PATH).heating_W == 0.0


def test_nobody_in_a_sealed_room_never_reaches_the_limit() -> None:
    assert co2.sealed_minutes(1000.0, 0.0, 50.0, 430.0) == float("inf")
    assert co2.steady(0.0, 1e-5, 430.0) == float("inf")
