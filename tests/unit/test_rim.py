"""The rim of the joists: the way out of the house over the foundation walls."""

from __future__ import annotations

import numpy as np
import pytest
from conftest import make_brief

from calc.bands import a_weighted
from calc.brief import Listener, Side, SideKind
from calc.geometry import Room
from calc.isolation.flanking import lid_flanking
from calc.isolation.listener import predicted
from calc.isolation.path import Loss, Path, Together
from calc.isolation.paths import lid_paths
from calc.isolation.rim import rim_area, rim_loss
from calc.options import lid_assembly, lids
from calc.scheme import LidOption

BRIEF = make_brief()
ROOM = Room(BRIEF.shell.length, BRIEF.shell.width, BRIEF.shell.height)
LIDS = {lid.id: lid for lid in lids(BRIEF)}
GARDEN = Listener("garden_neighbour", "neighbour", "quiet_for_sleep", 25.0, 12.0, "closed")


def ways(lid: LidOption | Together[LidOption], listener: Listener = GARDEN) -> list[Path]:
    items = lid.items if isinstance(lid, Together) else (lid,)
    found = predicted([lid_assembly(item, BRIEF) for item in items])
    loss = Loss(np.stack([each.tl for each in found]), np.stack([each.std_uncertainty for each in found]))
    return [path for path in lid_paths(BRIEF, ROOM, listener, lid, loss) if "rim" in path.name]


def test_its_area_is_that_of_the_joists_over_the_foundation_walls() -> None:
    length = sum(ROOM.side_length(side.number) for side in BRIEF.shell.sides if side.kind is not SideKind.OPEN)
    assert rim_area(BRIEF, ROOM) == pytest.approx(length * BRIEF.shell.joists.depth)
    inner = make_brief(shell__sides=tuple(Side(n, 4.0, SideKind.OPEN) for n in (1, 2, 3, 4)))
    assert rim_area(inner, ROOM) == 0.0


def test_it_leads_outdoors_and_nowhere_else() -> None:
    lid = LIDS["lid-0-clip-2"]
    assert len(ways(lid)) == 1
    assert not ways(lid, Listener("bedroom_above", "bedroom", "quiet_for_sleep", 25.0, 0.0, "closed"))


def test_heavier_boards_and_softer_supports_let_less_out() -> None:
    fixed, clip, two, three = (
        a_weighted(ways(LIDS[key])[0].levels) for key in ("lid-0-direct-2", "lid-0-clip-2", "lid-0-channel-2", "lid-0-channel-3")
    )
    assert clip < two < fixed
    assert three <= two


def test_it_never_keeps_in_more_than_what_the_joists_carry() -> None:
    for lid in LIDS.values():
        assert np.all(rim_loss(BRIEF, lid) <= lid_flanking(lid) + 1e-9)


def test_many_lids_at_once_are_what_each_is_alone() -> None:
    items = tuple(LIDS.values())[:4]
    together = ways(Together(items))[0].levels
    for row, lid in zip(together, items, strict=True):
        assert row == pytest.approx(ways(lid)[0].levels)
