"""Compound between the boards never makes a construction worse, whether or not the same boards without it were tested."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pytest
from conftest import make_brief

from calc.brief import SideKind
from calc.isolation import tested
from calc.isolation.assembly import Assembly
from calc.isolation.predict import WITHOUT_COMPOUND, Prediction, predict, predictions
from calc.options import lid_assembly, lids, wall_assembly, walls


def built(kind: SideKind) -> list[Assembly]:
    brief = make_brief()
    return [wall_assembly(wall, kind, brief) for wall in walls(brief, kind)]


def pairs(found: Iterable[Assembly]) -> list[tuple[Prediction, Prediction]]:
    """Predictions without and with compound."""
    by_id = {each.id: each for each in found}
    damped = [key for key in by_id if key.endswith("d")]
    assert damped
    bare, with_it = predictions([by_id[key[:-1]] for key in damped]), predictions([by_id[key] for key in damped])
    return list(zip(bare, with_it, strict=True))


@pytest.mark.parametrize("kind", SideKind)
def test_damping_never_lowers_a_wall_that_is_offered(kind: SideKind) -> None:
    for bare, with_it in pairs(built(kind)):
        assert np.all(with_it.tl >= bare.tl)
        assert with_it.stc >= bare.stc
        assert with_it.rw >= bare.rw


@pytest.mark.parametrize("finish", ["wood", "carpet"])
def test_damping_never_lowers_a_lid_that_is_offered(finish: str) -> None:
    brief = make_brief(shell__floor_above=finish)
    for bare, with_it in pairs(lid_assembly(lid, brief) for lid in lids(brief)):
        assert np.all(with_it.tl >= bare.tl)
        assert with_it.iic is not None
        assert bare.iic is not None
        assert with_it.iic >= bare.iic


def test_the_test_without_compound_is_carried_over_and_named() -> None:
    by_id = {each.id: each for each in built(SideKind.OPEN)}
    plain, damped = predict(by_id["wall-two_rows-2"]), predict(by_id["wall-two_rows-2d"])
    alone, damped_alone = (predict(by_id[key], use_measured=False) for key in ("wall-two_rows-2", "wall-two_rows-2d"))
    assert plain.basis.startswith("measured: ")
    assert damped.basis == WITHOUT_COMPOUND + plain.basis.removeprefix("measured: ")
    assert damped.tl - damped_alone.tl == pytest.approx(plain.tl - alone.tl)  # the same difference, and no other
    assert np.all(damped.std_uncertainty >= plain.std_uncertainty)
    assert damped_alone.basis == "predicted"


def test_it_is_carried_to_nothing_else() -> None:
    by_id = {each.id: each for each in built(SideKind.OPEN)}
    assert tested.matching_test(by_id["wall-two_rows-3"]) is None
    assert predict(by_id["wall-two_rows-3"]).basis == "predicted"
    assert predict(by_id["wall-two_rows-3d"]).basis == "predicted"


def test_no_test_of_the_catalogue_has_compound() -> None:
    # a test with compound would be taken before one without; this says that both kinds of basis then need looking at
    assert not any(leaf.damped for test in tested.tested_assemblies() for leaf in test.leaves)
