"""Materials, fills, ties and tests of the catalogue: complete, of one meaning, and each usable by the engine."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields

import numpy as np
import pytest

from calc.catalogue import load
from calc.isolation import tested
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import material, material_ids, ply
from calc.isolation.parameters import Parameters, parameters
from calc.isolation.predict import predict, predictions, transmission_loss
from calc.isolation.tie import frames, supports
from calc.ratings import rw, stc

BOARD = Leaf((ply("gypsum board type X", 0.0159),))


def wall(*leaves: Leaf, cavity: Cavity | None = None, element: str = "wall") -> Assembly:
    between = (cavity or Cavity(0.1, "glass fibre", 0.09, "wood stud", 0.406),) * (len(leaves) - 1)
    return Assembly("wall", element, leaves, between)


@pytest.mark.parametrize("name", material_ids())
def test_every_material_makes_a_leaf(name: str) -> None:
    facts = material(name)
    assert facts.massive == isinstance(facts.loss, float) or name == "fibreboard"
    assert not facts.massive or facts.speed > 0.0
    assert isinstance(facts.loss, float) or hasattr(parameters(), f"loss_{facts.loss}")
    board = ply(name)
    assert board.surface_mass > 0.0
    tl = transmission_loss([wall(Leaf((board,))), wall(Leaf((board,)), BOARD)])
    assert np.isfinite(tl).all()
    assert (tl > 0.0).all()


def test_a_word_means_one_material() -> None:
    table = load("materials")["material"]
    words = Counter(word.lower() for name, row in table.items() for word in {name, *row.get("aliases", ())})
    assert [word for word, count in words.items() if count > 1] == []


@pytest.mark.parametrize("frame", frames())
@pytest.mark.parametrize("support", supports())
def test_every_frame_and_support_is_predicted(frame: str, support: str) -> None:
    found = predict(wall(BOARD, BOARD, cavity=Cavity(0.15, "mineral wool", 0.09, frame, 0.406, support, 0.61, 1.22)))
    assert 25 <= found.stc <= 75
    assert np.isfinite(found.std_uncertainty).all()


def test_every_constant_has_unit_and_source() -> None:
    table = load("ties")["constant"]
    assert set(table) == {field.name for field in fields(Parameters)}
    for name, row in table.items():
        assert row["unit"], name
        assert len(row["source"]) > 10, name


def test_masonry_with_linings_on_both_sides() -> None:
    block = Leaf((ply("concrete block", 0.19),))
    lining = Cavity(0.065, "glass fibre", 0.065, "independent light steel stud", 0.6)
    bare, one, both = predictions([wall(block), wall(block, BOARD, cavity=lining), wall(BOARD, block, BOARD, cavity=lining)], False)
    assert bare.stc < one.stc < both.stc


def test_damping_never_lowers_and_gains_at_coincidence() -> None:
    two = (ply("gypsum board type X", 0.0159),) * 2
    plain, damped = predictions([wall(Leaf(two), Leaf(two)), wall(Leaf(two, True), Leaf(two, True))], False)
    assert (damped.tl - plain.tl).min() > -1.0
    assert (damped.tl - plain.tl)[17] > 3.0  # 2.5 kHz


def test_isolation_clips_are_points_whose_spacing_matters() -> None:
    def lid(along: float) -> Assembly:
        deck = Leaf((ply("plywood or OSB", 0.018),))
        return wall(
            deck, BOARD, cavity=Cavity(0.276, "glass fibre", 0.15, "wood joist", 0.406, "isolation clip", 0.61, along), element="floor"
        )

    close, wide = transmission_loss([lid(0.4), lid(1.22)])
    assert wide[4:12].mean() > close[4:12].mean()


def test_impact_class_only_for_floors() -> None:
    slab = Leaf((ply("concrete", 0.15),))
    assert predict(wall(slab)).iic is None
    assert predict(wall(slab, element="floor")).iic is not None


def test_the_rating_shown_is_the_rating_of_the_bands_shown() -> None:
    for found in predictions(tested.tested_assemblies()[::12]):
        assert found.stc == stc(found.tl)
        assert (found.rw, found.c, found.ctr) == (rw(found.tl).value, rw(found.tl).c, rw(found.tl).ctr)


def test_unknown_words_and_sizes_are_refused() -> None:
    with pytest.raises(KeyError):
        ply("unobtainium")
    with pytest.raises(ValueError, match="between"):
        ply("glass", 0.0)
    with pytest.raises(ValueError, match="cavities"):
        Assembly("x", "wall", (BOARD, BOARD), ())
