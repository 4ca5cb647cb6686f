"""What the lid adds to the joists: named first to the engineer, and equal to the sum of its parts."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from pathlib import Path

import pytest
from conftest import make_brief

from calc.assess import assess
from calc.brief import Obstruction
from calc.geometry import Room
from calc.materials.soffit import soffit_rows
from calc.options import lids
from calc.structure import hung_parts
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief
from wizard.render import handoff_sheets, plan_text
from wizard.weights import hung_soffits, weights

EXAMPLE = Path(__file__).parent.parent / "golden_plans" / "easy.toml"


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_engineer_reads_the_weight_first_and_its_parts_make_it(units: str) -> None:
    told = read_strictly(EXAMPLE.read_text(encoding="utf-8"))
    told = replace(told, units=units)
    found = assess(to_brief(told))
    sheet = handoff_sheets(found, told, datetime.date(2026, 3, 4))["structural-engineer"]
    first = re.search(r"(?m)^\*\*To be added .*$", sheet)
    assert first
    assert first.start() < sheet.index("**Facts of the house")
    total, parts = re.search(r"That is ([\d.]+) (?:kg/m²|lb per sq ft): (.*?\d\.\d)\.", first[0]).groups()  # type: ignore[union-attr]
    assert sum(round(float(each) * 10) for each in re.findall(r"\d+\.\d", parts)) == round(float(total) * 10)
    mass = found.scheme.lid.hung_mass * (1.0 if units == "metric" else 0.204816)
    assert float(total) == pytest.approx(mass, abs=0.051)
    assert len(parts.split(", ")) >= 2


def test_weights_by_part_add_up_to_what_hangs_in_either_units() -> None:
    for depth in (0.140, 0.184, 0.286):
        for lid in lids(make_brief(shell__joists__depth=depth)):
            assert sum(mass for _, mass in hung_parts(lid)) == pytest.approx(lid.hung_mass)
            for units in ("metric", "imperial"):
                told = weights(lid, units)
                assert sum(round(float(each) * 10) for _, each in told.parts) == round(float(told.total.split()[0]) * 10)
    both = next(lid for lid in lids(make_brief()) if lid.id == "lid-2-clip-3")  # 5 boards of 11.0 kg/m2, channel of 2.0
    assert dict(hung_parts(both)) == {
        "boards between the joists": pytest.approx(22.0), "fill": pytest.approx(both.fill_thickness * 8.2),
        "isolation clips and channel": pytest.approx(2.0), "boards below the joists": pytest.approx(33.0),
    }  # fmt: skip


def test_soffits_are_named_beside_the_weight_of_the_lid() -> None:
    brief = make_brief()  # a beam at 2.15 m and a duct at 2.20 m under joists at 2.40 m
    found = hung_soffits(brief, Room(5.0, 4.0, 2.2), next(lid for lid in lids(brief) if lid.id == "lid-0-clip-1"))
    beam = next(each for each in found if "beam" in each.where)
    # 57 mm of lid; gap, frame and two plies take 66.7 mm below the beam and 108.5 mm on both sides of its 0.20 m; two boards of 10.7 kg/m2
    side, width = (2.40 - 0.0569) - (2.15 - 0.0667), 0.20 + 2 * 0.1085
    assert beam.mass == pytest.approx((width + 2 * side) * beam.length * 21.4, rel=0.01)


@pytest.mark.parametrize(("lid_id", "thing"), [("lid-0-clip-1", "clip"), ("lid-0-channel-1", "screw")])
def test_the_engineer_and_section_7_read_what_each_clip_over_a_soffit_carries(lid_id: str, thing: str) -> None:
    told = read_strictly(EXAMPLE.read_text(encoding="utf-8"))
    brief = replace(to_brief(told), shell=replace(to_brief(told).shell, obstructions=(Obstruction("beam", 1.95, 0.2, False),)))
    usual = assess(brief, None, False)
    lid = next(each for each in lids(brief) if each.id == lid_id)
    found = assess(brief, replace(usual.scheme, lid=lid), False)
    load = next(iter(soffit_rows(brief, found.room, lid))).load
    told_load = f"{load:.0f} N" if brief.units == "metric" else f"{load / 4.44822:.0f} lb"
    sheet = handoff_sheets(found, told, datetime.date(2026, 3, 4))["structural-engineer"]
    assert f"at most {told_load} on each {thing}" in re.sub(r"\s+", " ", sheet)
    assert "those of the rows over the soffits" in sheet
    section = plan_text(found, told, datetime.date(2026, 3, 4))
    assert re.search(rf"On each {thing} of the two rows of channel that the soffit round a beam hangs from.*\| {told_load} \|", section)
