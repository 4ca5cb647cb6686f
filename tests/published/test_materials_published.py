"""Take-off rules against printed examples."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from calc.materials import quantities as q
from calc.materials.boards import laid_out
from calc.materials.cost import packages_for
from calc.materials.faces import Face
from calc.materials.items import item
from calc.scheme import Ply

FT = 0.3048


def test_gypsum_board_for_a_house() -> None:
    # Estimating in Building Construction (Dagostino, Peterson), ch. 16, Example 16-3 and the example before it: 148 ft of exterior wall
    # boarded on one side,
    # 149 ft of interior wall on two, 8 ft high, ceiling 24 x 50 ft, 5 % waste: 37, 75 and 38 sheets, 118 and 40 to order.
    exterior, interior, ceiling = 148 * 8 * FT**2, 2 * 149 * 8 * FT**2, 24 * 50 * FT**2
    assert [q.sheets([area], q.SHEET_AREA, 0.0) for area in (exterior, interior, ceiling)] == [37, 75, 38]
    assert q.sheets([exterior, interior], q.SHEET_AREA, 0.05) == 118
    assert q.sheets([ceiling], q.SHEET_AREA, 0.05) == 40


def test_gypsum_board_for_a_wall_of_10_ft_sheets() -> None:
    # Same book: 346 ft of wall, 10 ft high, both sides, 4 x 10 ft sheets upright, 5 % waste: 183 sheets.
    side = 346 * 10 * FT**2
    assert q.sheets([side, side], 40 * FT**2, 0.05) == 183


def test_compound_and_tape_for_7000_square_feet() -> None:
    # Same book: 7,000 ft2 take 35 gal of joint compound and 2,660 ft of tape: 59 rolls of 50 ft with 10 %.
    area = 7000 * FT**2
    assert area * q.JOINT_COMPOUND / (128 * q.FLUID_OUNCE) == pytest.approx(35.0)
    assert area * q.JOINT_TAPE / FT == pytest.approx(2660.0)
    assert q.packages(area * q.JOINT_TAPE, 50 * FT, 0.10) == 59


@pytest.mark.parametrize(("ounces", "cubic_inches"), [(10.1, 18.2), (27.0, 48.7), (30.0, 54.1)])
def test_volume_of_a_sealant_tube(ounces: float, cubic_inches: float) -> None:
    # Volumes printed on sealant data sheets; one US fluid ounce is 1.8047 in3 (NIST Handbook 44, appendix C).
    assert ounces * q.FLUID_OUNCE / 0.0254**3 == pytest.approx(cubic_inches, abs=0.1)


@pytest.mark.parametrize(("inches", "feet"), [(0.25, 85.8), (0.375, 38.1)])
def test_feet_of_bead_from_a_28_ounce_tube(inches: float, feet: float) -> None:
    # Recomputed from the volume: 50.53 in3 over the area of a round bead.
    tube = item("sealant").package / q.LITRES
    assert tube / q.bead_volume(1.0, inches * 0.0254) / FT == pytest.approx(feet, abs=0.05)


def test_damping_compound_film() -> None:
    # Coverage printed by compound makers: a 5 gal pail for 11 sheets of 4 x 8 ft, 58.2 fl oz a sheet; two 28 to 29 oz tubes a sheet.
    # Film 0.58 mm recomputed.
    assert pytest.approx(58.2, rel=0.01) == q.DAMPING_FILM * q.SHEET_AREA / q.FLUID_OUNCE
    assert pytest.approx(0.58, abs=0.005) == q.DAMPING_FILM * 1000.0
    tubes = q.LITRES * q.DAMPING_FILM * q.SHEET_AREA / item("damping_compound").package
    assert tubes == pytest.approx(2.0, rel=0.05)


@pytest.mark.parametrize(("spacing_inches", "screws"), [(8, 49), (12, 35), (16, 28), (24, 21)])
def test_screws_in_a_sheet_across_studs_at_16_inches(spacing_inches: int, screws: int) -> None:
    # Recomputed: (96/16 + 1) rows of (floor(48/spacing) + 1).
    assert q.screws_per_sheet(16 * 0.0254, spacing_inches * 0.0254) == screws


def test_room_of_12_by_16_by_8_feet() -> None:
    # Recomputed by the rules above: 46 studs, 35 clips at 48 x 24 in with rows along 16 ft, 288 ft of bead for two plies, 16 + 7 sheets
    # a ply with 10 %.
    long_side, short_side, height = 16 * FT, 12 * FT, 8 * FT
    assert 2 * q.rows(long_side, 16 * 0.0254) + 2 * q.rows(short_side, 16 * 0.0254) == 46
    assert q.rows(short_side, 24 * 0.0254) * q.rows(long_side, 48 * 0.0254) == 35
    board = item("gypsum_x_159")
    walls = 2 * (long_side + short_side) * height
    assert packages_for(board, [walls]) == 16
    assert packages_for(board, [long_side * short_side]) == 7
    bead = 288 * FT
    assert math.ceil(q.LITRES * q.bead_volume(bead, 0.25 * 0.0254) / item("sealant").package) == 4
    assert math.ceil(q.LITRES * q.bead_volume(bead, 0.375 * 0.0254) / item("sealant").package) == 8


def test_the_layout_of_the_12_by_16_by_8_ft_room_takes_the_whole_sheets_and_no_more() -> None:
    # The same room laid out: walls of 8 ft take 14 sheets upright, the ceiling six; the rule above orders 16 and 7 for the waste that a
    # layout shows. Two plies need more, as their joints must not fall in line.
    board = Ply("gypsum board type X", 0.0159, 10.7)
    walls = [Face(f"wall {n}", length * FT, 8 * FT, 0.4064, "upright", 0.4064, (board,)) for n, length in enumerate((16, 12, 16, 12))]
    lid = Face("lid", 16 * FT, 12 * FT, 0.6096, "level", 0.3048, (board,), turned=False)
    assert sum(laid.opened for laid in laid_out(walls)) == 14
    assert sum(laid.opened for laid in laid_out([lid])) == 6
    two = [replace(wall, plies=(board, board)) for wall in walls]
    assert 28 <= sum(laid.opened for laid in laid_out(two)) <= 32
    assert sum(laid.screws for laid in laid_out(walls)) == 14 * 28  # 28 screws in an upright sheet at 16 in


def test_the_wall_of_10_ft_sheets_by_layout() -> None:
    # 346 ft in 4 ft sheets upright: 86 and a half a side; the half left over serves the other side: 173, and 5 % makes 182; the book, whole
    # sheets a side, 183.
    board = Ply("gypsum board type X", 0.0159, 10.7)
    sides = [Face(f"side {n}", 346 * FT, 10 * FT, 0.4064, "upright", 0.4064, (board,)) for n in (1, 2)]
    assert sum(laid.opened for laid in laid_out(sides, ((10 * FT, 4 * FT),))) == 173
