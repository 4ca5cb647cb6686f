"""Cut plans, clips and screws against printed examples."""

from __future__ import annotations

import pytest

from calc.brief import SideKind
from calc.materials.cutting import cut_plan
from calc.materials.items import item, items, screw_item
from calc.materials.support import grid, room_behind
from calc.materials.surface import STEEL_PENETRATION
from calc.structure import clip_weight, framing_step

FT, INCH, LBF = 0.3048, 0.0254, 4.4482216
PSF = 4.88242764  # kg/m2 a pound-mass per square foot

# A paper machine with rolls of 5600 mm: 13 widths, 407,160 mm in all, at least 72.7 rolls; 73 are enough, with 0.401 % waste. Source: the
# example of "Cutting stock problem", Wikipedia (seen in two copies).
PAPER = (
    (22, 1.380), (25, 1.520), (12, 1.560), (14, 1.710), (18, 1.820), (18, 1.880), (20, 1.930), (10, 2.000), (12, 2.050), (14, 2.100),
    (16, 2.140), (18, 2.150), (20, 2.200),
)  # fmt: skip


def test_the_paper_machine_needs_73_rolls() -> None:
    plan = cut_plan(PAPER, (5.6,), 0.0)
    assert plan.total == pytest.approx(73 * 5.6)
    assert plan.optimal
    assert sum(count * length for count, length in PAPER) == pytest.approx(407.160)
    assert 1.0 - 407.160 / plan.total == pytest.approx(0.00401, abs=0.00001)
    cut = {width: sum(stock.count * n for stock in plan.stocks for n, length in stock.pieces if length == width) for _, width in PAPER}
    assert cut == {width: count for count, width in PAPER}
    assert all(sum(n * length for n, length in stock.pieces) <= 5.6 + 1e-9 for stock in plan.stocks)


def test_the_textbook_order_of_four_widths_needs_453_rolls() -> None:
    # Rolls of 100 in; 211 pieces of 14 in, 395 of 31, 610 of 36, 97 of 45: 452.25 rolls where parts of rolls count, so 453. Source: order
    # from Chvatal, Linear Programming, 1983, ch. 13; 452.25 is what the tests of an open solver assert.
    plan = cut_plan(((211, 0.14), (395, 0.31), (610, 0.36), (97, 0.45)), (1.0,), 0.0)
    assert plan.total == pytest.approx(453.0)
    assert plan.optimal


@pytest.mark.parametrize(("clips", "rows", "pounds"), [(48, 24, 42), (48, 16, 28), (32, 24, 28)])
def test_weight_on_a_clip_at_5_3_pounds_a_square_foot(clips: int, rows: int, pounds: int) -> None:
    # Recomputed from geometry: 5.3 psf on cells of 48 x 24, 48 x 16 and 32 x 24 in.
    along = framing_step(clips * INCH, 16 * INCH) * 16 * INCH
    assert clip_weight(5.3 * PSF, rows * INCH, along) / LBF == pytest.approx(pounds, abs=0.6)


def test_35_clips_under_12_by_16_feet() -> None:
    # Recomputed: 48 x 24 in, rows along 16 ft: 7 rows of 5; none further than 6 in from the edge it runs along.
    made = grid(12 * FT, 16 * FT, 24 * INCH, 48 * INCH, 16 * INCH)
    assert (len(made.rows), len(made.points), made.count) == (7, 5, 35)
    assert made.rows[0] <= 6 * INCH + 1e-9
    assert made.rows[-1] >= (12 * FT) - 6 * INCH - 1e-9


def test_screw_lengths_for_5_8_inch_board_on_channel() -> None:
    # 1 in for one 5/8 in board on channel, 1-5/8 in for the second (printed in installation guides); a third takes 2-1/4 in, as 2-1/2 in
    # would touch the joist behind a 1/2 in channel.
    lengths = [screw_item(n * 0.0159, STEEL_PENETRATION, room_behind("resilient channel")).id for n in (1, 2, 3)]
    assert lengths == ["board_screw_25", "board_screw_41", "board_screw_57"]


@pytest.mark.parametrize("support", ["resilient channel", "isolation clip"])
def test_no_screw_of_any_option_reaches_past_its_channel(support: str) -> None:
    from conftest import make_brief

    from calc import options
    from calc.geometry import Room
    from calc.materials.takeoff import lid_lines, wall_lines

    brief, room = make_brief(), Room(5.5, 3.8, 2.1)
    depth = {"resilient channel": 0.0127, "isolation clip": 0.0413}[support]  # 1/2 in channel; 1-5/8 in clip and channel
    built = [(each.plies, lid_lines(brief, room, each), "lid") for each in options.lids(brief) if each.support == support]
    for kind in SideKind:
        found = [each for each in options.walls(brief, kind) if each.support == support]
        built += [(each.inner_plies, wall_lines(brief, room, kind, each), "wall") for each in found]
    assert built
    for plies, found_lines, face in built:
        for line in found_lines:
            if line.item.startswith("board_screw") and line.where.startswith(face):
                number = int(line.where.rsplit(" ", 1)[1])
                buried = sum(ply.thickness for ply in plies[:number])
                assert float(item(line.item).facts["length"]) - buried < depth


def test_a_screw_that_would_bridge_the_channel_is_refused() -> None:
    with pytest.raises(ValueError, match="behind it"):
        screw_item(
            2 * 0.0127, STEEL_PENETRATION, room_behind("resilient channel")
        )  # 41 mm in 25.4 mm of board: 15.6 mm, the channel has 13
    assert {"board_screw_57", "lap_screw"} <= set(items())
