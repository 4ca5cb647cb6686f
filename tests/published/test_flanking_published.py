"""Flanking by heavy structure against the worked examples of EN ISO 12354, and light flanking against what has been published."""

from __future__ import annotations

import tomllib
from math import log10
from pathlib import Path

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import BANDS
from calc.brief import SideKind
from calc.isolation.built import heavy
from calc.isolation.flanking import subfloor_flanking, wall_flanking
from calc.isolation.junction import (
    Element,
    absorption_length,
    apparent,
    cross_corner,
    cross_through,
    edge_absorption,
    interlayer,
    light_corner,
    light_through,
    loss_factor,
    path_loss,
    rated_impact,
    rated_lining,
    rated_path,
    tee_corner,
    tee_through,
)
from calc.isolation.materials import ply
from calc.options import walls
from calc.ratings import rw, stc

# ---- simplified model: EN 12354-1:2000 Annex H.3, separating wall Rw 57, 11.5 m2, 460 kg/m2 ------------------------------
# name: Rw, junction length, printed K_Ff, K_Fd, printed R_Ff, R_Fd, mass. The masses are recalled, not read; that all eight printed K
# follow from them is what makes them usable.
H3 = {
    "floor": (49, 4.5, 12.4, 8.9, 65.5, 66.0, 287.0),
    "ceiling": (46, 4.5, 14.4, 9.2, 64.5, 64.8, 230.0),
    "facade": (42, 2.55, 12.6, 6.7, 61.1, 62.7, 175.0),
    "internal wall": (33, 2.55, 33.5, 15.7, 73.0, 67.2, 67.0),
}


@pytest.mark.parametrize("name", H3)
def test_simplified_paths_of_annex_h3(name: str) -> None:
    rating, length, through, corner, printed_through, printed_corner, _ = H3[name]
    assert rated_path(rating, rating, through, 11.5, length) == pytest.approx(printed_through, abs=0.051)
    assert rated_path(rating, 57.0, corner, 11.5, length) == pytest.approx(printed_corner, abs=0.051)


def test_simplified_total_of_annex_h3() -> None:
    # Printed R'w 52.2, rated 52. Each flanking element counts Ff, Fd and Df.
    each = [57.0]
    for rating, length, through, corner, *_ in H3.values():
        each += [rated_path(rating, rating, through, 11.5, length), *[rated_path(rating, 57.0, corner, 11.5, length)] * 2]
    total = -10.0 * log10(sum(10.0 ** (-r / 10.0) for r in each))
    assert total == pytest.approx(52.2, abs=0.05)
    assert apparent([np.full(BANDS.size, r) for r in each]) == pytest.approx(total)


def test_vibration_reduction_indices_of_annex_h3() -> None:
    # Rigid cross, rigid cross, rigid T, T with flexible interlayers at 500 Hz; printed to 0.1 dB.
    for name in ("floor", "ceiling"):
        mass = H3[name][6]
        assert (cross_through(460.0, mass), cross_corner(460.0, mass)) == pytest.approx(H3[name][2:4], abs=0.051)
    mass = H3["facade"][6]
    assert (tee_through(460.0, mass), tee_corner(460.0, mass)) == pytest.approx(H3["facade"][2:4], abs=0.051)
    mass, soft = H3["internal wall"][6], interlayer(500.0)
    assert (tee_through(460.0, mass) + 2.0 * soft, tee_corner(460.0, mass) + soft) == pytest.approx(H3["internal wall"][2:4], abs=0.051)


def test_light_junctions_by_their_formula() -> None:
    # EN 12354-1:2000 Annex E, lightweight facade: through 5 + 10 M, at least 5; corner 10 + 10 |M|. At M = 1 and M = -1.
    assert (light_through(200.0, 20.0), light_through(20.0, 200.0)) == (15.0, 5.0)
    assert light_corner(200.0, 20.0) == light_corner(20.0, 200.0) == 20.0


# ---- detailed model: ISO 12354-1:2017 Annex L ------------------------------
# Everything printed stands in annex_l.toml.
ANNEX_L = tomllib.loads(Path(__file__).with_name("annex_l.toml").read_text(encoding="utf-8"))
PRINTED, FLOATING = ANNEX_L["path"], np.array(ANNEX_L["floor"]["improvement"])
# wall: area m2, junction length m, mass kg/m2, critical frequency Hz, whose loss factor stands in for it
WALLS = {
    "1": (11.0, 4.0, 219.0, 92.6, "1"),
    "2": (13.75, 5.0, 219.0, 92.6, "1"),
    "3": (11.0, 4.0, 360.0, 128.4, "3"),
    "4": (13.75, 5.0, 360.0, 128.4, "3"),
}
FLOOR_MASS, FLOOR_CRITICAL = 484.0, 76.8


def _element(name: str) -> Element:
    area, _, mass, _, like = WALLS.get(name, (20.0, 0.0, FLOOR_MASS, 0.0, "d"))
    return Element(np.array(ANNEX_L["in_situ"][name]), area, absorption_length(area, np.array(ANNEX_L["loss_factor"][like])), mass)


def annex_l_paths() -> dict[str, np.ndarray]:
    """All 13 paths from the printed R, loss factors, areas and masses; K by Annex E from the masses."""
    floor, found = _element("d"), {"Dd": np.array(ANNEX_L["in_situ"]["d"]) + FLOATING}
    for name, (_, length, mass, _, _) in WALLS.items():
        wall, outer = _element(name), name in "12"
        through = tee_through(FLOOR_MASS, mass) if outer else cross_through(FLOOR_MASS, mass)
        corner = tee_corner(FLOOR_MASS, mass) if outer else cross_corner(FLOOR_MASS, mass)
        found[name * 2] = path_loss(wall, wall, through, length, 20.0)
        found[f"{name}d"] = path_loss(wall, floor, corner, length, 20.0)
        found[f"D{name}"] = path_loss(floor, wall, corner, length, 20.0, FLOATING)
    return found


@pytest.mark.parametrize("name", PRINTED)
def test_detailed_paths_of_annex_l(name: str) -> None:
    # Printed to 0.1 dB from R printed to 0.1 dB: 0.11 dB where every input is printed. The loss factors of walls 2 and 4 are not: those of
    # 1 and 3, shorter by 1 m, stand in, which is worth up to 0.6 dB in 22 and half of it in paths with one of them.
    exact = name.strip("Dd") in ("", "1", "11", "3", "33")
    assert annex_l_paths()[name] == pytest.approx(PRINTED[name], abs=0.11 if exact else 0.6)


def test_detailed_total_of_annex_l() -> None:
    # The printed total from the printed paths, rated 57 (the print says 57.8/57.9); ours with 0.3 dB for the stand-in loss factors.
    printed = apparent([np.array(row) for row in PRINTED.values()])
    assert printed == pytest.approx(ANNEX_L["total"]["loss"], abs=0.11)
    assert int(rw(printed).value) == 57
    assert apparent(list(annex_l_paths().values())) == pytest.approx(ANNEX_L["total"]["loss"], abs=0.3)


def test_loss_factor_of_annex_l() -> None:
    # The floor's total loss factor in all 21 bands, printed to four decimals, from masses, critical frequencies, lengths and radiation.
    outer = edge_absorption([(92.6, tee_corner(219.0, FLOOR_MASS))] * 2)
    inner = edge_absorption([(128.4, cross_corner(360.0, FLOOR_MASS))] * 2 + [(FLOOR_CRITICAL, cross_through(360.0, FLOOR_MASS))])
    eta = loss_factor(0.005, FLOOR_MASS, FLOOR_CRITICAL, 20.0, 9.0 * outer + 9.0 * inner, np.array(ANNEX_L["floor"]["radiation"]))
    assert eta == pytest.approx(ANNEX_L["loss_factor"]["d"], abs=1.01e-4)
    assert (9.0 * outer + 9.0 * inner) / 18.0 == pytest.approx(0.148, abs=0.001)  # what data/flanking.toml takes for edges


# ---- linings and impact ----------------------------------------


def test_lining_table() -> None:
    # ISO 12354-1:2017 Table D.1: Rw 50, f0 50 -> 15.4; Rw 40, f0 100 -> 14.4; the fixed rows.
    assert rated_lining(50.0, 50.0) == pytest.approx(15.4, abs=0.05)
    assert rated_lining(100.0, 40.0) == pytest.approx(14.4, abs=0.05)
    assert rated_lining(104.0, 40.0) == rated_lining(100.0, 40.0)  # read at the third octave that contains it
    rows = {200: -1, 250: -3, 315: -5, 400: -7, 500: -9, 630: -10, 1000: -10, 1600: -10, 2000: -5, 5000: -5}
    assert {f: rated_lining(float(f), 50.0) for f in rows} == rows
    with pytest.raises(ValueError, match="30 to 5000"):
        rated_lining(20.0, 50.0)


def test_impact_example() -> None:
    # EN 12354-2:2000 Annex E.3: 322 kg/m2, covering 33, K 2 -> L'n,w 45.
    assert round(rated_impact(322.0, 33.0, 2.0)) == 45


def test_a_block_wall_as_built_is_about_as_published() -> None:
    # Harris, Handbook of Acoustical Measurements and Noise Control 3e Table 31.5: bare block of 190 mm, STC 50.
    wall = heavy(ply("hollow concrete block, normal weight, sealed", 0.190), 4.3, 2.4, soil=0.0)
    assert int(stc(wall.loss)) == pytest.approx(50, abs=3)


# ---- light structure ----------------------------------------


def test_subfloor_that_runs_on_is_what_was_heard() -> None:
    # A subfloor that runs on under a party wall "can make an STC 62 party wall behave like STC 45" (quoted advice for home owners).
    total = apparent([subfloor_flanking(), subfloor_flanking() + 17.0])  # the wall itself: 62
    assert int(stc(total)) == 45


def test_boards_under_joists_cost_what_the_guide_found() -> None:
    # NRC RR-219 (2006) p. 55: with boards of all walls on channels, two plies direct, one ply direct: 53, 48, 46; more plies leak less,
    # boards on channels next to nothing (p. 22).
    by_id = {wall.id: wall_flanking(wall)[BANDS == 500.0].item() for wall in walls(make_brief(), SideKind.OPEN)}
    energy = [10.0 ** (-each / 10.0) - 10.0**-5.3 for each in (4.6 * 10, 4.8 * 10)]
    assert by_id["wall-single-2"] - by_id["wall-single-1"] == pytest.approx(10.0 * log10(energy[0] / energy[1]), abs=0.1)
    assert by_id["wall-channel-2"] - by_id["wall-single-2"] >= 10.0
