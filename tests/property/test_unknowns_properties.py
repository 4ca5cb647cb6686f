"""What nobody knows is asked about, whatever else is known, and never makes a plan look safer."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from build_parts import builds
from conftest import make_brief
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import safety
from calc.brief import Obstruction
from calc.codes import NOT_READ
from calc.finding import Severity
from calc.geometry import Room
from calc.headroom import findings, headroom
from calc.scheme import FloorOption, Layer, LidOption, Ply
from calc.site import NOTHING_KNOWN, Site
from calc.structure import findings as structure_findings
from calc.structure import line_load_capacity, screen

quick = settings(max_examples=40, deadline=None)
ROOM = Room(5.0, 4.0, 2.2)
BARE = FloorOption("bare", "bare slab", ())
HARMLESS = Site(
    corner_heights=(2.4, 2.4, 2.4, 2.4), stair_headroom=2.1, stair_width=1.0, point_loads="no", clip_rating=1e6, slab_thickness=0.3,
    slab_state="sound", foundation_state="sound", well="none", garage="no", tight_house="no", appliance_clear=1.0, panel_clear=1.2,
    wiring="modern", wall_test="dry", mould="no", suspect="no",
)  # fmt: skip
# Each answer of the shell that can be "don't know", and a word in the rule that must then ask.
SHELL = {
    "water": "water", "radon": "radon", "appliance": "appliance", "panel": "panel", "gas_line": "gas", "drains": "drains",
    "escape": "escape", "ceiling_texture": "ceiling", "year_built": "lead",
}  # fmt: skip


@quick
@given(builds(), st.sets(st.sampled_from(sorted(SHELL)), min_size=1))
def test_each_answer_of_the_shell_not_known_is_asked_about(build: Any, unknown: set[str]) -> None:
    brief, scheme = build
    shell = replace(brief.shell, **{name: None if name == "year_built" else "unknown" for name in unknown})
    found = safety.findings(replace(brief, shell=shell), scheme, ROOM)
    for name in unknown:
        assert any(SHELL[name] in each.rule and each.severity is not Severity.NOTE for each in found), name


@quick
@given(builds(), st.sampled_from([field.name for field in fields(Site)]), st.sampled_from(["none", "sealed", "natural draft", "unknown"]))
def test_not_knowing_a_fact_never_looks_safer_than_knowing_it_harmless(build: Any, fact: str, appliance: str) -> None:
    brief, scheme = build
    brief = replace(brief, shell=replace(brief.shell, appliance=appliance))
    unknown = replace(HARMLESS, **{fact: getattr(NOTHING_KNOWN, fact)})
    asks, knows = (
        sum(each.severity is not Severity.NOTE for each in safety.findings(brief, scheme, ROOM, site)) for site in (unknown, HARMLESS)
    )
    assert asks >= knows


@quick
@given(builds(), st.sampled_from(["obc_2012", "nbc_2020", "irc_2024_existing", "elsewhere", "unknown"]))
def test_every_finding_says_what_it_rests_on_and_who_decides(build: Any, code: str) -> None:
    brief, scheme = build
    brief = replace(brief, code=code)
    result = headroom(brief, scheme.lid, scheme.floor)
    found = (
        *safety.findings(brief, scheme, ROOM),
        *findings(brief, result),
        *structure_findings(brief, screen(brief, scheme.lid)),
    )
    for each in found:
        assert each.source, each.rule
        assert each.remedy, each.rule
        assert each.decides, each.rule
        assert (each.measured is None) or each.unit, each.rule
        if code in ("irc_2024_existing", "elsewhere", "unknown"):
            assert NOT_READ not in each.source
    assert len({each.rule for each in found}) == len(found)


@quick
@given(builds(), st.sampled_from(["species", "grade", "damaged", "kind", "room_above", "subfloor", "floor_above"]))
def test_each_answer_about_the_floor_above_not_known_is_told_in_the_screen(build: Any, fact: str) -> None:
    brief, scheme = build
    shell, joists = brief.shell, replace(brief.shell.joists, kind="sawn", species="hem_fir", grade="no2", damaged="no")
    known = replace(brief, shell=replace(shell, joists=joists, room_above="living", subfloor="boards", floor_above="wood"))
    whole = known.shell
    if hasattr(joists, fact):
        unknown = replace(known, shell=replace(whole, joists=replace(joists, **{fact: "unknown"})))
    else:
        unknown = replace(known, shell=replace(whole, **{fact: "unknown"}))
    asks, knows = (structure_findings(each, screen(each, scheme.lid))[0] for each in (unknown, known))
    assert "not known" in asks.remedy or "Nobody has looked" in asks.remedy
    assert "not known" not in knows.remedy
    assert "Nobody has looked" not in knows.remedy


places = st.sampled_from(["unknown", "walking route", "door", "desk", "side"])
things = st.builds(
    Obstruction,
    kind=st.sampled_from(["beam", "duct", "pipe", "slope"]),
    underside=st.floats(1.3, 2.3),
    width=st.floats(0.05, 2.0),
    movable=st.booleans(),
    place=places,
    length=st.floats(0.0, 4.0),
)


@quick
@given(st.lists(things, max_size=4), st.floats(1.9, 3.0), st.floats(0.0, 0.3), st.floats(0.0, 0.3), st.floats(0.0, 0.2))
def test_a_thicker_lid_or_floor_never_gains_height_in_any_zone(
    obstructions: list[Obstruction], height: float, lid: float, extra: float, more_floor: float
) -> None:
    brief = make_brief(shell__height=height, shell__obstructions=tuple(obstructions))
    thin, thick = (headroom(brief, _lid(each), BARE) for each in (lid, lid + extra))
    low = headroom(brief, _lid(lid), FloorOption("f", "f", (Layer("floor", more_floor, 1.0),)))
    lowest = min(zone.height for zone in thin.zones)
    assert min(zone.height for zone in thick.zones) <= lowest
    assert min(zone.height for zone in low.zones) <= lowest + 1e-9
    assert thin.ok or not thick.ok
    assert thin.ok or not low.ok


@quick
@given(st.floats(0.05, 0.3), st.floats(0.0, 0.1), st.booleans())
def test_a_thicker_slab_never_carries_less(thickness: float, extra: float, edge: bool) -> None:
    thin, thick = (line_load_capacity(each, 17e6, 14e6, edge) for each in (thickness, thickness + extra))
    assert thick >= thin


def _lid(thickness: float) -> LidOption:
    layers = (Layer("boards", thickness, 10.0),)
    return LidOption("t", "t", (), "none", 0.0, "isolation clip", 0.6, 1.2, 0.0, (Ply("b", thickness, 10.0),), False, layers, 10.0)
