"""The shopping list by shop and stage."""

from __future__ import annotations

from build_parts import scheme
from conftest import make_brief

from calc.acoustics.treatment import Treatment
from calc.geometry import inner_room
from calc.materials.cost import bill, sheet_label
from calc.materials.items import items
from calc.materials.line import line
from calc.materials.shopping import BESIDE, beside, shop_of, shopping, shops, stages
from calc.materials.takeoff import lines
from calc.materials.treatment import treatment_lines


def test_the_list_adds_up_to_the_bill_and_no_stage_waits_for_a_package() -> None:
    brief = make_brief()
    made = bill(brief, lines(brief, inner_room(brief, scheme()), scheme()))
    found = shopping(made)
    for row in made.rows:
        mine = [each for each in found if (each.item, each.package_label) == (row.item, row.package_label)]
        assert sum(each.packages for each in mine) == row.packages
        assert abs(sum(each.total for each in mine) - row.total) < 1e-6
        assert all(each.packages > 0 for each in mine)
    assert [shops().index(each.shop) for each in found] == sorted(shops().index(each.shop) for each in found)
    boards = {each.stage: each.packages for each in found if each.item == "gypsum_x_159"}
    assert "Close in" in boards
    assert "Finish" not in boards
    # Sealant is used from the framing on: some of it is on site before the boards.
    sealant = [each.stage for each in found if each.item == "sealant"]
    assert sealant == sorted(sealant, key=stages().index)
    assert sealant[0] == "Rough work"


def test_sheets_of_a_size_come_in_the_stage_whose_plies_open_them() -> None:
    """Shares of the area, rounded up, would bring two of the long sheets before any ply that is cut from them."""
    usual, long = (2.4384, 1.2192), (3.048, 1.2192)
    early = line("gypsum_x_159", "between the joists, ply 1", 60.0, "between_joists")._replace(sheets=((usual, 23),))
    first = line("gypsum_x_159", "lid, ply 1", 30.0, "boards_first")._replace(sheets=((usual, 11),))
    soffit = line("gypsum_x_159", "soffit, ply 1", 15.0, "boards_first")._replace(sheets=((long, 5),))
    found = {(each.stage, each.package_label): each for each in shopping(bill(make_brief(), (early, first, soffit)))}
    assert [(stage, label) for stage, label in found if label == sheet_label(long)] == [("Close in", sheet_label(long))]
    brought = found["Close in", sheet_label(long)]
    assert (brought.packages, brought.where) == (5, "soffit, ply 1")
    assert found["Rough work", sheet_label(usual)].packages >= 23
    assert found["Close in", sheet_label(usual)].where == "lid, ply 1"


def test_what_is_hung_for_the_sound_is_a_stage_of_its_own() -> None:
    panel = Treatment("wall_panel", "panel", 4, 2.88, 0.05, 0.05, 0.0, 12.0, (), "walls", (), "")
    found = beside(bill(make_brief(), treatment_lines((panel,))))
    assert {each.stage for each in found} == {BESIDE}
    assert BESIDE not in stages()
    assert {"panel_frame", "panel_fabric", "panel_fixing", "wood_screw"} <= {each.item for each in found}
    assert beside(bill(make_brief(), ())) == ()


def test_every_item_has_a_shop() -> None:
    assert {shop_of(each) for each in items().values()} <= set(shops())
