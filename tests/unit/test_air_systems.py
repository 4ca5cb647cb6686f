from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from conftest import make_brief

from calc.air_options import air_paths
from calc.brief import Brief, Side, SideKind
from calc.catalogue import load
from calc.choose import choose
from calc.geometry import Room, inner_room
from calc.isolation.duct_way import duct_size, way_length
from calc.isolation.listener import IsolationResult, isolation
from calc.isolation.opening import open_gaps
from calc.materials.air import AT_FAN, air_lines
from calc.options import doors
from calc.safety.water import vapour
from calc.scheme import AirPathOption, Scheme
from calc.unit_format import format_duration, format_temperature
from calc.ventilation import air, checks, climate, design_rules, fan_box, findings, heat
from calc.ventilation.design import AirDesign, design, lacking, room_noise, runs
from calc.ventilation.rules import sealed_room
from calc.ventilation.run import balance
from calc.ventilation.systems import Comparison, System, compare

ONE = {"use__people": 1, "use__activity": "mixing", "use__equipment": 100.0, "air__co2_limit": 1500.0, "use__source": "mixing"}


@cache
def scheme() -> Scheme:
    """The scheme of the sample brief with nothing under its joists; the other briefs here get the same construction."""
    return choose(make_brief(shell__obstructions=()), explain=False).scheme


def built(brief: Brief, path: str) -> tuple[Room, AirPathOption, IsolationResult]:
    option = next(each for each in air_paths(brief) if each.id == path)
    made = replace(scheme(), air_path=option)
    room = inner_room(brief, made)
    return room, option, isolation(brief, made, room)


def compared(path: str = "air-long-thick-3-small-basement", **changes: object) -> Comparison:
    brief = make_brief(**changes)
    room, option, heard = built(brief, path)
    return compare(brief, room, option, heard)


def designed(path: str, **changes: object) -> tuple[Brief, AirDesign]:
    brief = make_brief(**changes)
    room, option, heard = built(brief, path)
    return brief, design(brief, room, option, air(brief, room, option), heard)


def named(comparison: Comparison, key: str) -> System:
    return next(one for one in comparison.systems if one.id == key)


def failing(one: System) -> set[str]:
    return {check.rule for check in one.fails}


def test_every_system_of_the_data_is_compared_and_the_best_fits() -> None:
    found = compared()
    assert {one.id for one in found.systems} == set(load("air_systems")["system"])
    assert found.named(found.best).fits
    assert all(one.pros and one.cons and one.designer and one.cost > 0.0 for one in found.systems)


def test_two_drummers_need_outdoor_air_and_cooling() -> None:
    found = compared()
    assert found.best == "split"
    assert "CO2" in failing(named(found, "passive"))
    assert "CO2" in failing(named(found, "transfer"))
    assert "heat" in failing(named(found, "recovery"))
    assert "before it grows too warm" in named(found, "recovery").behind


def test_the_comparison_starts_from_the_path_chosen_and_says_where_another_does_more() -> None:
    for path, chosen in (("long-thick-3-large-outdoors", "split"), ("long-thick-3-large-house", "house")):
        found = compared(f"air-{path}")
        assert found.chosen == found.systems[0].id == chosen
    assert found.best == "split"  # two drummers need outdoor air
    assert found.systems[0].fails[0].sentence in found.why
    assert any(sentence.startswith(f"One may want {named(found, 'split').label} instead: ") for sentence in found.why)
    alike = compared("air-long-thick-3-large-basement", **ONE)
    assert alike.best == alike.chosen == "transfer"  # others fit as well: the one chosen stays
    assert named(alike, "house").fits
    assert not any(sentence.startswith("One may want") for sentence in alike.why)


def test_one_person_can_share_the_basements_air_with_a_fan() -> None:
    transfer = named(compared(**ONE), "transfer")
    assert transfer.fits
    assert "CO2" not in failing(transfer)


def test_passive_openings_do_for_one_quiet_person_for_a_short_while_only() -> None:
    quiet = {**ONE, "use__activity": "quiet_seated", "use__equipment": 0.0, "shell__escape": "none", "use__session": 0.5}
    short = {check.rule: check for check in named(compared(**quiet), "passive").checks}
    long = {check.rule: check for check in named(compared(**{**quiet, "use__people": 4, "use__session": 4.0}), "passive").checks}
    assert short["CO2"].ok
    assert not long["CO2"].ok
    assert long["CO2"].measured is not None
    assert long["CO2"].measured > 1500.0


def test_no_air_handler_no_tie_in_and_not_knowing_asks() -> None:
    assert "possible" in failing(named(compared(air__system="hydronic"), "house"))
    unknown = named(compared(air__system="unknown"), "house")
    assert [check.rule for check in unknown.asks] == ["possible"]
    outdoors = compared(air__duct_outdoors="unknown")
    assert "possible" in {check.rule for check in named(outdoors, "split").asks}
    assert not named(compared(air__duct_outdoors="no"), "recovery").fits


def test_a_burner_in_the_basement_forbids_fans_that_draw_on_it() -> None:
    assert "flames" in failing(named(compared(shell__appliance="natural draft", **ONE), "transfer"))
    assert "flames" in {check.rule for check in named(compared(shell__appliance="unknown", **ONE), "transfer").asks}
    assert "flames" not in failing(named(compared(shell__appliance="natural draft", **ONE), "split"))


def test_ducts_may_end_where_no_hard_rule_fails() -> None:
    room, path = Room(5.8, 4.0, 2.3), AirPathOption("a", "a", 3.0, 0.025, 2, True, False)
    for changes, ends in (
        ({}, {"outdoors"}),
        (ONE, {"outdoors", "house", "basement"}),
        ({**ONE, "air__system": "hydronic", "shell__appliance": "natural draft"}, {"outdoors"}),
        ({**ONE, "air__duct_outdoors": "no"}, {"house", "basement"}),
    ):
        brief = make_brief(**changes)
        need = air(brief, room, path)
        assert {end for end in ("outdoors", "house", "basement") if checks.may_end(brief, room, need, end)} == ends


def test_no_rest_of_the_basement_no_transfer() -> None:
    sides = tuple(Side(number, 5.0, SideKind.FOUNDATION_BELOW) for number in (1, 2, 3, 4))
    assert checks.possible(make_brief(shell__sides=sides), "basement").ok is False


def test_recovery_costs_less_than_with_a_split_unit_and_more_than_openings() -> None:
    found = compared()
    costs = {one.id: one.cost for one in found.systems}
    assert costs["passive"] < costs["recovery"] < costs["split"]


def test_a_bare_duct_gets_a_box_and_a_boxed_one_does_not() -> None:
    brief, bare = designed("air-bare-basement")
    assert bare.silencer is not None
    assert bare.silencer.enough
    assert bare.needs.listener in {each.label for each in brief.listeners}
    _, good = designed("air-long-thick-3-large-boxed-basement")
    assert good.needs.met
    assert good.silencer is None


def test_the_box_puts_the_air_path_under_the_wall() -> None:
    brief = make_brief()
    room, option, heard = built(brief, "air-bare-basement")
    found = design(brief, room, option, air(brief, room, option), heard)
    assert found.silencer is not None
    per_band = np.repeat(found.silencer.loss, 3)

    class Boxed:
        def __init__(self, name: str, levels: np.ndarray) -> None:
            self.name, self.levels = name, levels - per_band

    # The path had no box: with the designed one in, its far end lacks nothing any more.
    boxed = {each.listener: [Boxed(path.name, path.levels) for path in each.paths] for each in heard.listeners}
    needs = lacking(heard.listeners, lambda listener: boxed[listener])
    assert needs.mouth.max() <= 1e-6


def test_no_box_is_asked_for_where_no_target_is_missed_by_the_air_path() -> None:
    brief = make_brief()
    _, _, heard = built(brief, "air-bare-basement")
    assert not lacking(heard.listeners).met
    kept = [replace(each, target_levels=each.target_levels + 60.0, target_dba=each.target_dba + 60.0) for each in heard.listeners]
    assert lacking(kept).met
    least = min(min(path.levels.min() for path in each.paths) for each in heard.listeners)
    hopeless = [replace(each, target_levels=np.full(21, least - 90.0), target_dba=least - 90.0) for each in heard.listeners]
    silent = {each.listener: [replace(path, levels=path.levels - 60.0) for path in each.paths] for each in heard.listeners}
    assert lacking(hopeless, lambda listener: silent[listener]).met  # a missed target that the air path has no part in


def test_an_oversized_way_takes_more_pressure_than_a_house_has() -> None:
    brief, found = designed("air-long-thick-3-large-house", air__duct_reach=40.0)
    assert not found.supply.enough or not found.extract.enough
    assert design_rules.pressure(brief, found) is not None
    assert found.wider is not None
    size = duct_size(brief, next(path for path in air_paths(brief) if path.id == "air-long-thick-3-large-house"))
    assert found.wider.area > size.area
    _, easy = designed("air-long-thick-3-small-basement")
    assert easy.wider is None
    assert {part.name for part in found.supply.parts} >= {"grille", "lined duct", "elbows", "chambers of the silencer box"}


def test_return_may_be_faster_than_supply_and_both_move_the_same_air() -> None:
    _, found = designed("air-long-thick-3-small-basement")
    assert found.supply.flow == found.extract.flow
    assert found.extract.grille.free_area < found.supply.grille.free_area
    assert found.balance.damper == pytest.approx(abs(found.supply.pressure - found.extract.pressure))


def test_an_open_foot_of_the_door_lets_out_what_would_push_a_sealed_one() -> None:
    _, found = designed("air-long-thick-3-small-basement")
    open_foot, sealed = (next(each for each in doors(make_brief()) if each.id == name) for name in ("solid_perimeter", "solid_sealed"))
    assert open_gaps(sealed) == 0.0
    # 2 mm at the foot of a door 2.03 m high.
    assert open_gaps(open_foot) == pytest.approx(0.002 * open_foot.area / 2.03, rel=0.01)
    leaky = balance(found.supply, found.extract, open_gaps(open_foot))
    assert leaky.room_pressure < 0.3 * found.balance.room_pressure
    assert found.balance.room_pressure == balance(found.supply, found.extract).room_pressure


def test_a_bare_duct_takes_a_box_at_its_fan_and_lining_does_without() -> None:
    brief, bare = designed("air-bare-basement")
    _, lined = designed("air-long-thick-3-small-basement")
    assert lined.at_fan is None
    assert bare.at_fan is not None
    assert bare.noise.quiet
    assert lined.noise.quiet
    assert lined.noise.nc < bare.noise.nc
    assert design_rules.fan_silencer(brief, bare) is not None
    assert design_rules.fan_silencer(brief, lined) is None
    loud = replace(bare, noise=replace(bare.noise, short=bare.noise.short + 3.0))
    assert design_rules.noise(brief, bare) is None
    assert design_rules.noise(brief, loud) is not None


@pytest.mark.parametrize("recording", [False, True])
def test_no_air_path_is_louder_in_the_room_than_its_use_allows_and_the_bill_has_the_box(recording: bool) -> None:
    brief = make_brief(use__recording=recording)
    room = Room(5.5, 3.8, 2.1)
    boxed = 0
    for option in air_paths(brief):
        need, size, at_fan = air(brief, room, option), duct_size(brief, option), fan_box.fan_box(brief, option)
        pressure = runs(brief, option, need, size)[0].pressure
        assert room_noise(brief, room, option, need, size, pressure).quiet, option.id
        bought = sum(each.quantity for each in air_lines(brief, option) if each.where == AT_FAN and each.item == "silencer_panel")
        assert (bought > 0.0) == (at_fan is not None)
        boxed += at_fan is not None
        if at_fan is not None:  # without it the room would be too loud
            length = way_length(brief, option)
            without = fan_box.room_noise(size, option, length, None, need.fresh_air, pressure, float(need.noise_target), 50.0)
            assert not without.quiet
    assert 0 < boxed < len(air_paths(brief))


def test_findings_say_when_the_chosen_end_is_not_enough() -> None:
    brief = make_brief()
    room, option, heard = built(brief, "air-long-thick-3-small-house")
    need = air(brief, room, option)
    found = {
        each.rule: each
        for each in design_rules.findings(brief, need, design(brief, room, option, need, heard), compare(brief, room, option, heard))
    }
    assert found["air-system"].severity == "caution"
    assert "split unit" in found["air-system"].remedy
    assert {"air-grilles", "air-balance"} <= set(found)


def test_what_nobody_knows_is_asked_and_what_is_damp_is_said() -> None:
    room, path = Room(5.8, 4.0, 2.3), AirPathOption("a", "a", 3.0, 0.025, 2, True, True)

    def rules(**changes: object) -> dict[str, str]:
        brief = make_brief(**changes)
        return {each.rule: each.severity for each in findings(brief, air(brief, room, path))}

    unknown = rules(air__summer_damp="unknown", air__duct_outdoors="unknown")
    assert unknown["air-damp-summer"] == "caution"
    assert unknown["air-outdoors"] == "caution"
    dry = rules(air__summer_damp="dry", air__room_humidity=0.4, use__people=1, use__activity="quiet_seated")
    assert "air-damp-summer" not in dry
    assert "air-dry-winter" in dry
    assert "air-duct-sweat" in rules(air__winter_design=-12.0)
    assert "air-duct-sweat" not in rules(air__winter_design=20.0)
    assert "air-breaks" in rules(air__breaks="hourly")
    assert "air-breaks" not in rules()


def test_a_unit_that_recovers_heat_alone_keeps_no_summer_water_out() -> None:
    room, path = Room(5.8, 4.0, 2.3), AirPathOption("a", "a", 3.0, 0.025, 2, True, True)
    brief = make_brief(air__summer_damp="muggy")
    result = air(brief, room, path)
    assert result.summer.supply_water == result.summer.outdoor_water
    inside = climate.water_in(brief.air.room_temperature, brief.air.room_humidity)
    energy = climate.season(brief, climate.SUMMER, result.fresh_air, result.moisture, True, keeps_moisture=True)
    assert energy.supply_water == pytest.approx((result.summer.outdoor_water + inside) / 2.0)  # half of it, data/air.toml
    assert energy.take_out < result.summer.take_out
    assert energy.fresh_latent == pytest.approx(result.summer.fresh_latent / 2.0)
    assert result.cooling_W == pytest.approx(
        result.heat_sensible + result.heat_latent + result.summer.fresh_sensible + result.summer.fresh_latent
    )
    winter = climate.season(brief, climate.WINTER, result.fresh_air, result.moisture, True)
    assert winter.supply_water == winter.outdoor_water
    damp = {each.rule: each for each in findings(brief, result)}["air-damp-summer"]
    assert "recovers moisture too" in damp.remedy


def test_one_humidity_for_one_winter_day() -> None:
    brief = make_brief(air__winter_design=-12.0, air__room_humidity=0.5)
    room, path = Room(5.8, 4.0, 2.3), AirPathOption("a", "a", 3.0, 0.025, 2, True, True)
    for option in (path, replace(path, fan_unit=False)):
        result = air(brief, room, option)
        day, inside = result.damp_winter, brief.air.room_temperature
        assert result.dew_point == day.dew_point
        assert day.humidity >= result.winter.humidity  # a mild day's air holds more water, and the house's own is the same on both
        assert result.wall_surface_temperature is not None
        there = heat.surface_humidity(inside, min(day.humidity, 1.0), result.wall_surface_temperature)
        assert result.wall_surface_humidity == pytest.approx(min(there, 1.0))
        wet = {each.rule: each for each in findings(brief, result)}["air-cold-wall"]
        note = vapour(brief, replace(scheme(), air_path=option), room)
        assert note is not None
        dew = f"dew point {format_temperature(day.dew_point, brief.units)}"
        assert dew in wet.remedy
        assert dew in note.title
        assert ("water forms where" in note.title) == (there >= 1.0) == (day.dew_point >= result.wall_surface_temperature)
        assert "it is damp enough" in note.title or there >= 1.0


def test_no_way_out_no_unit_that_needs_one() -> None:
    assert all(not path.fan_unit for path in air_paths(make_brief(air__duct_outdoors="no")))
    assert any(path.fan_unit for path in air_paths(make_brief(air__duct_outdoors="unknown")))


def test_breaks_and_late_arrivals_delay_the_limit_and_lower_the_peak() -> None:
    room, path = Room(5.8, 4.0, 2.3), AirPathOption("a", "a", 3.0, 0.025, 2, True, True)
    base = {"use__people": 4, "use__activity": "standing_playing"}
    plain, late = (air(make_brief(air__arrivals=word, **base), room, path) for word in ("together", "one_by_one"))
    assert late.co2_session_minutes > plain.co2_session_minutes == pytest.approx(plain.co2_sealed_minutes)
    assert late.co2_sealed_minutes == plain.co2_sealed_minutes, "who warns counts everybody in from the start"
    warned = sealed_room(make_brief(air__arrivals="one_by_one", **base), late)
    assert warned is not None
    assert "4 people inside" in warned.title
    assert f"after {format_duration(plain.co2_sealed_minutes / 60.0)}" in warned.title
    paused = air(make_brief(air__breaks="hourly", **base), room, path)
    assert paused.co2_peak < plain.co2_peak
    assert paused.fresh_air == plain.fresh_air
    assert 0 in paused.people
