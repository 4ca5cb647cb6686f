from __future__ import annotations

from dataclasses import replace

import pytest
from conftest import make_brief
from test_headroom import lid

from calc.brief import Listener
from calc.finding import Severity
from calc.scheme import LidOption
from calc.structure import ENGINEER, PASSES, STOP, allowed_span, candidates, existing_dead_load, findings, screen, wood

PSF = 47.88026
FEET = 0.3048
TWO = lid(2)
NOTHING_HUNG = replace(TWO, support="independent joists", hung_mass=0.0)


def joists(**changes: object) -> dict[str, object]:
    """Spruce-pine-fir No. 2 2x10 at 16 in over 12 ft with carpet above, changed by name."""
    facts: dict[str, object] = {
        "kind": "sawn", "depth": 0.235, "breadth": 0.0381, "spacing": 0.4064, "span": 12 * FEET,
        "species": "spruce_pine_fir", "grade": "no2", "damaged": "no", **changes,
    }  # fmt: skip
    return {f"shell__joists__{key}": value for key, value in facts.items()} | {"shell__room_above": "living"}


def verdict(option: LidOption = TWO, floor: str = "carpet", **changes: object) -> str:
    return screen(make_brief(**joists(**changes), shell__floor_above=floor), option).verdict


def test_a_moderate_span_passes_and_a_long_one_stops() -> None:
    assert verdict() == PASSES
    assert verdict(span=16 * FEET) == STOP


@pytest.mark.parametrize(
    ("fact", "answer"), [("kind", "i-joist"), ("kind", "truss"), ("kind", "unknown"), ("damaged", "yes"), ("damaged", "unknown")]
)
def test_what_no_table_covers_goes_to_the_engineer(fact: str, answer: str) -> None:
    assert verdict(**{fact: answer}) == ENGINEER


@pytest.mark.parametrize("floor", ["tile", "unknown"])
def test_tile_above_goes_to_the_engineer(floor: str) -> None:
    assert verdict(floor=floor, span=8 * FEET) == ENGINEER


def test_unknown_wood_takes_the_weakest() -> None:
    brief = make_brief(**joists(species="unknown", grade="unknown"))
    result = screen(brief, TWO)
    weakest = min(
        allowed_span(value, brief.shell.joists, result.existing_dead_load + result.added_load, result.live_load)
        for value in candidates(brief.shell.joists)
    )
    assert len(candidates(brief.shell.joists)) == 16
    assert result.allowed_span == pytest.approx(weakest)
    assert verdict(species="unknown", grade="unknown") == ENGINEER
    assert verdict(species="unknown", grade="unknown", span=2.5) == PASSES
    assert verdict(species="unknown", grade="unknown", span=8.0) == STOP


def test_a_lid_on_its_own_joists_hangs_nothing_and_never_stops() -> None:
    assert screen(make_brief(**joists(span=18 * FEET)), NOTHING_HUNG).added_load == 0.0
    assert verdict(NOTHING_HUNG, span=18 * FEET) == ENGINEER
    assert verdict(NOTHING_HUNG) == PASSES


def test_dead_load_of_the_floor_is_never_under_the_table_class() -> None:
    assert existing_dead_load(make_brief(shell__floor_above="vinyl")) == pytest.approx(10 * PSF, rel=1e-4)
    assert existing_dead_load(make_brief(shell__floor_above="tile")) > 18 * PSF


def test_live_load_is_lighter_under_a_bedroom() -> None:
    assert screen(make_brief(shell__room_above="bedroom"), TWO).live_load == pytest.approx(30 * PSF, rel=1e-4)
    assert screen(make_brief(shell__room_above="unknown"), TWO).live_load == pytest.approx(40 * PSF, rel=1e-4)


def test_a_living_room_listener_over_the_room_raises_the_live_load_and_a_bedroom_never_lowers_it() -> None:
    living = Listener("living_above", "living room", "tolerable_by_day", 35.0, 0.0, "closed")
    bedroom = replace(living, kind="bedroom_above")
    outside = replace(living, kind="garden_neighbour")
    for room, listeners, psf in (("bedroom", (bedroom, living), 40), ("bedroom", (bedroom, outside), 30), ("living", (bedroom,), 40)):
        brief = make_brief(shell__room_above=room, listeners=listeners)
        assert screen(brief, TWO).live_load == pytest.approx(psf * PSF, rel=1e-4)


def test_odd_depths_take_the_lower_value() -> None:
    # a full 10 in joist is deeper than a dressed 2x10 (9 1/4 in), so it takes the factor of the 2x12
    dressed = wood("spruce_pine_fir", "no2", 0.23495, 0.4064).bending
    full = wood("spruce_pine_fir", "no2", 0.254, 0.4064).bending
    assert full / dressed == pytest.approx(1.0 / 1.1)
    assert wood("southern_pine", "no2", 0.35, 0.4064).bending < wood("southern_pine", "no2", 0.285, 0.4064).bending


def test_wide_spacing_loses_the_repetitive_factor() -> None:
    ratio = wood("hem_fir", "no1", 0.184, 0.61).bending / wood("hem_fir", "no1", 0.184, 0.70).bending
    assert ratio == pytest.approx(1.15)


@pytest.mark.parametrize(
    ("changes", "severity"), [({}, Severity.NOTE), ({"damaged": "yes"}, Severity.CAUTION), ({"span": 16 * FEET}, Severity.STOP)]
)
def test_every_verdict_is_said_to_be_a_screen(changes: dict[str, object], severity: Severity) -> None:
    brief = make_brief(**joists(**changes), shell__floor_above="carpet")
    (found,) = findings(brief, screen(brief, TWO))
    assert found.severity is severity
    assert "screen, not a design" in found.remedy
    assert found.decides == "structural engineer"
