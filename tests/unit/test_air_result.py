from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from conftest import make_brief

from calc.brief import Side, SideKind
from calc.catalogue import load
from calc.geometry import Room
from calc.materials.takeoff import air_lines
from calc.options import air_paths
from calc.scheme import AirPathOption
from calc.ventilation import air, co2, findings
from calc.ventilation.air import AIR_CHANGES, DWELLING, HOLDS_CO2, ROOM_62_1, AirResult

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
