"""What calc.problem keeps and asks in one go: the same numbers as part by part."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from conftest import make_brief

from calc.brief import Listener
from calc.geometry import side_kinds
from calc.isolation import paths
from calc.isolation.criteria import target_spectrum
from calc.isolation.listener import loss, predicted
from calc.options import lid_assembly, lids
from calc.problem import ROWS, Part, part_cost, problem
from calc.scheme import LidOption

BED = Listener("bedroom_above", "bedroom above", "quiet_for_sleep", 25.0, 0.0, "closed")
ITSELF = Listener("this_room", "this room", "nc_20", 22.0, 0.0, "closed")


def test_what_a_part_costs_does_not_depend_on_who_listens_how_loud_it_is_or_the_money_there_is() -> None:
    brief = make_brief(listeners=(BED, ITSELF), use__level=104.0, means__budget=9_000.0, means__contingency=0.25)
    p = problem(brief)
    parts = [p.lids, p.floors, *(options for _, options in p.walls), p.doors, p.airs]
    kinds = side_kinds(brief)
    for number, options in enumerate(parts):
        for item, kept in zip(options.items, options.cost, strict=True):
            part: Part = (kinds[number - 2], item) if 2 <= number < 2 + len(kinds) else item  # type: ignore[assignment]
            assert kept == part_cost(brief, p.room, part)


def test_options_asked_together_let_through_what_each_does_alone() -> None:
    brief = make_brief(listeners=(BED, replace(BED, kind="stair_hall"), ITSELF))
    p = problem(brief)
    found = predicted([lid_assembly(lid, brief) for lid in lids(brief)])
    for lid, one, row in zip(p.lids.items, found, p.lids.rows, strict=True):
        assert isinstance(lid, LidOption)
        for place, listener in enumerate(brief.listeners):
            ways = paths.lid_paths(brief, p.room, listener, lid, loss(one))
            energy = sum((10.0 ** (way.levels / 10.0) for way in ways), np.zeros(ROWS - 1))
            share = energy / 10.0 ** (target_spectrum(listener) / 10.0)
            np.testing.assert_allclose(row[place * ROWS : (place + 1) * ROWS - 1], share, rtol=1e-9)
