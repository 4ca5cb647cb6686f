"""Targets, paths and levels at listeners."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from conftest import BRIEF, make_brief

from calc.bands import BANDS, a_weighted, energy_sum
from calc.brief import Listener, SideKind
from calc.catalogue import load
from calc.geometry import inner_room
from calc.isolation.criteria import (
    background_spectrum,
    hearing_threshold,
    listener_kinds,
    target_dba,
    target_kinds,
    target_spectrum,
)
from calc.isolation.duct_way import duct_way
from calc.isolation.flanking import lid_flanking, wall_flanking
from calc.isolation.listener import IsolationResult, isolation, judge
from calc.isolation.paths import Path
from calc.options import air_paths, doors, floors, lids, walls
from calc.scheme import Scheme

WHO = {
    kind: Listener(kind, kind, row["target"], row["background_night"], 10.0, "open")
    for kind, row in listener_kinds().items()
    if row["where"] != "inside"
}

BEST_AIR = "air-long-thick-3-large-boxed-basement"


def scheme(lid: str = "lid-1-clip-2", part: str = "two_rows-2", door: str = "pair_sealed", air: str = BEST_AIR) -> Scheme:
    def wall(kind: SideKind):  # type: ignore[no-untyped-def]
        key = f"wall-{part}" if kind is SideKind.OPEN else "wall-frame-2"
        return kind, next(w for w in walls(BRIEF, kind) if w.id == key)

    kinds = (SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.OPEN)
    return Scheme(
        next(each for each in lids(BRIEF) if each.id == lid),
        tuple(wall(kind) for kind in kinds),
        next(each for each in doors(BRIEF) if each.id == door),
        next(each for each in air_paths(BRIEF) if each.id == air),
        floors(BRIEF)[0],
    )


def result(which: Scheme, *kinds: str, **changes: object) -> IsolationResult:
    brief = make_brief(listeners=tuple(WHO[kind] for kind in kinds), **changes)
    return isolation(brief, which, inner_room(brief, which))


def test_targets_never_ask_for_less_than_can_be_heard() -> None:
    for target in target_kinds():
        for background in (15.0, 25.0, 40.0):
            listener = replace(WHO["bedroom_above"], target=target, background=background, limit=30.0)
            assert np.all(target_spectrum(listener) >= hearing_threshold())


def test_stricter_targets_are_lower() -> None:
    names = ("quiet_for_sleep", "quiet_by_day", "tolerable_by_day")
    spectra = [target_spectrum(replace(WHO["bedroom_above"], target=name)) for name in names]
    assert np.all(spectra[0] <= spectra[1])
    assert np.all(spectra[1] <= spectra[2])
    assert target_dba(replace(WHO["bedroom_above"], target="quiet_for_sleep")) == 30.0


def test_sleep_bands_add_up_to_the_stated_total() -> None:
    # an even share over 21 bands: the sum may not pass the total by more than the rounding of the share (13 for 13.2 dB)
    listener = replace(WHO["bedroom_above"], target="quiet_for_sleep")
    assert a_weighted(target_spectrum(listener)) == pytest.approx(30.0, abs=0.5)


def test_background_keeps_its_level_and_slope() -> None:
    spectrum = background_spectrum(27.0)
    assert a_weighted(spectrum) == pytest.approx(27.0)
    assert spectrum[BANDS == 500][0] - spectrum[BANDS == 1000][0] == pytest.approx(5.0)


def test_a_by_law_hears_more_before_the_window_than_behind_it() -> None:
    levels = []
    for window in ("outside", "open", "closed"):
        brief = make_brief(listeners=(replace(WHO["garden_neighbour"], window=window, target="by_law", limit=45.0),))
        found = isolation(brief, scheme(), inner_room(brief, scheme())).listeners[0]
        assert found.target_dba == 45.0
        levels.append(found.level_dba)
    assert levels[0] > levels[1] + 3.0
    assert levels[1] > levels[2] + 3.0


@pytest.mark.parametrize("kind", list(WHO))
def test_paths_add_up_to_the_level(kind: str) -> None:
    (found,) = result(scheme(), kind).listeners
    assert found.levels == pytest.approx(energy_sum(np.stack([path.levels for path in found.paths]), axis=0))
    assert found.level_dba == pytest.approx(a_weighted(found.levels))
    assert [path.level_dba for path in found.paths] == sorted((path.level_dba for path in found.paths), reverse=True)
    assert found.margin <= found.target_dba - found.level_dba + 1e-9


def test_level_rises_with_the_source_one_for_one() -> None:
    quiet, loud = (result(scheme(), "bedroom_above", use__level=level).listeners[0] for level in (70.0, 80.0))
    assert loud.level_dba - quiet.level_dba == pytest.approx(10.0)
    assert quiet.margin - loud.margin == pytest.approx(10.0)
    assert quiet.likelihood > loud.likelihood


def test_a_better_lid_helps_the_room_above_a_better_door_the_basement() -> None:
    plain = "solid_perimeter"
    which = {"base": scheme(door=plain), "lid": scheme(lid="lid-2-clip-3", door=plain), "door": scheme(door="pair_sealed")}
    levels = {name: [r.level_dba for r in result(s, "bedroom_above", "rest_of_basement").listeners] for name, s in which.items()}
    assert levels["lid"][0] < levels["base"][0]
    assert levels["door"][1] < levels["base"][1] - 10.0


def test_flanking_caps_a_lid_by_what_holds_it() -> None:
    by_id = {lid.id: lid for lid in lids(BRIEF)}
    order = [lid_flanking(by_id[f"lid-0-{key}-2"])[10] for key in ("direct", "channel", "clip", "below")]
    assert order == sorted(order)
    assert len(set(order)) == 4


def test_every_wall_has_a_flanking_value() -> None:
    for kind in SideKind:
        for wall in walls(BRIEF, kind):
            assert wall_flanking(wall).shape == BANDS.shape


def test_further_neighbours_hear_less() -> None:
    near, far = (
        isolation(b, scheme(), inner_room(b, scheme())).listeners[0].level_dba
        for b in (make_brief(listeners=(replace(WHO["garden_neighbour"], distance=d),)) for d in (50.0, 100.0))
    )
    assert near - far == pytest.approx(20.0 * np.log10(2.0), abs=0.3)  # the way rises to the window, and air takes a little


def test_a_sealed_shell_without_a_window_reaches_outdoors_less() -> None:
    some, none = (result(scheme(), "garden_neighbour", shell__escape=word).listeners[0] for word in ("window", "none"))
    assert some.level_dba > none.level_dba
    assert "escape window" in [path.name for path in some.paths]


def test_each_step_of_the_air_path_is_quieter() -> None:
    by_id = {path.id.removesuffix("-basement"): duct_way(BRIEF, path) for path in air_paths(BRIEF)}
    steps = ["bare", "short-thin-1", "long-thick-3", "long-thick-3-small", "long-thick-3-large"]
    for better, worse in pairwise(reversed([by_id[f"air-{step}"].mouth for step in steps])):
        assert np.all(better >= worse)
    assert np.all(by_id["air-long-thick-3-large-boxed"].casing >= by_id["air-long-thick-3-large"].casing)


def test_the_most_critical_listener_has_the_least_margin() -> None:
    found = result(scheme(), *WHO)
    assert found.most_critical is not None
    assert found.listeners[found.most_critical].margin == min(r.margin for r in found.listeners)
    assert result(scheme()).most_critical is None


def test_elements_carry_their_ratings() -> None:
    elements = {e.boundary: e for e in result(scheme(), "bedroom_above").elements}
    assert elements["door"].stc == 50
    assert elements["lid"].option_id == "lid-1-clip-2"
    assert {"lid", "door", "window", *(kind.value for kind in SideKind if kind is not SideKind.PARTY)} == set(elements)


def test_the_worst_band_is_named_only_where_a_band_decides() -> None:
    listener, quiet = replace(WHO["bedroom_above"], target="quiet_for_sleep"), np.zeros(BANDS.size)
    target = target_spectrum(listener)
    hump = judge(listener, [Path("one band", np.where(BANDS == 125, target + 9.0, -40.0), quiet)], 3.0)
    assert hump.worst_band_hz == 125
    assert hump.margin == pytest.approx(-9.0)
    # each band at its own target, which together come a little over the total: the total decides
    even = judge(listener, [Path("all bands", np.asarray(target), quiet)], 3.0)
    assert even.worst_band_hz is None
    assert even.margin == pytest.approx(target_dba(listener) - a_weighted(target))


def test_pitched_instruments_have_no_hole_where_one_tune_has_no_note() -> None:
    for name in ("bass_guitar", "electric_guitar", "piano"):
        octaves = np.array(load("sources")["shape"][name]["levels"]).reshape(7, 3)
        assert np.ptp(octaves, axis=1).max() == 0.0


def test_a_level_that_nobody_knows_counts_its_doubt_once() -> None:
    stated, careful, measured = (
        result(scheme(), "bedroom_above", use__level=110.0, **{key: True} if key else {}).listeners[0]
        for key in ("", "use__level_careful", "use__level_measured")
    )
    assert careful.level_dba == stated.level_dba  # the five decibels stand in the level
    assert careful.high_dba < stated.high_dba
    assert (careful.low_dba, careful.high_dba) == (measured.low_dba, measured.high_dba)
