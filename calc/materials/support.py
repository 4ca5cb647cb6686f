"""Channel and clips under a lid or on a wall: where rows and clips stand, laps of the channel."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.catalogue import load
from calc.materials import quantities as q
from calc.structure.clip import framing_step, inch_grid

ROW_EDGE = 0.1524  # m, most between the last row and the edge of the face. Common practice, no source
FIRST_ROW = ROW_EDGE / 2.0  # m from the edge, of a row that no end of a board asks for. Common practice, no source
CLOSEST_ROW = 0.0254  # m from the edge: half a channel, clear of the wall's frame. Common practice, no source
BOTH_GAPS = 0.0127  # m that boards leave open along an extent, 1/4 in at each edge: none ends nearer to the far one
CHANNEL_PIECE = 3.6576  # m, 12 ft (common trade size)
LAP = 0.1524  # m that two pieces of channel overlap, screwed or tied together. Common practice, no source
SCREW_CLEAR = 0.003  # m that must stay between the tip of a board screw and what stands behind the channel. Common practice, no source


@dataclass(frozen=True)
class Grid:
    """``rows``: where channels run, from the edge where the boards begin; ``points``: where each is held, from its own end [m].

    ``along`` is the length of a row, ``joints`` the laps in it.
    """

    rows: tuple[float, ...]
    points: tuple[float, ...]
    across: float
    along: float
    joints: int

    @property
    def count(self) -> int:
        """Clips, or fixings of the channel."""
        return len(self.rows) * len(self.points)

    @property
    def channel(self) -> float:
        """Channel used, laps included [m]."""
        return len(self.rows) * (self.along + self.joints * LAP)


def grid(across: float, along: float, spacing: float, point_spacing: float, framing: float) -> Grid:
    """Rows at every ``spacing`` from the edge where the boards begin, where calc.materials.boards lets the boards end, and one near each
    edge; points on framing members at most ``point_spacing`` apart [m].

    Members stand every ``framing`` [m], the rest of the length shared between both ends; a row is always held at its first and last member.
    Raises ValueError for a spacing that is not positive. Source: geometry, constants above.
    """
    if min(spacing, point_spacing, framing) <= 0.0:
        raise ValueError("rows, clips and framing need a spacing above 0 m")
    members = math.floor(along / framing + 1e-6)
    first = (along - members * framing) / 2.0
    every = max(1, framing_step(point_spacing, framing))
    held = sorted({*range(0, members + 1, every), members})
    joints = q.whole((along - CHANNEL_PIECE) / (CHANNEL_PIECE - LAP)) if along > CHANNEL_PIECE else 0
    return Grid(_rows(across, inch_grid(spacing)), tuple(first + n * framing for n in held), across, along, joints)


def _rows(across: float, spacing: float) -> tuple[float, ...]:
    edge, inner = min(FIRST_ROW, across / 4.0), max(0, math.ceil((across - BOTH_GAPS) / spacing - 1e-6) - 1)
    rows = (edge, *(min(n * spacing, across - CLOSEST_ROW) for n in range(1, inner + 1)))
    return rows if across - rows[-1] <= ROW_EDGE else (*rows, across - edge)


def room_behind(support: str) -> float | None:
    """Depth [m] a board screw may reach behind boards on a resilient support before it comes near the framing; None on rigid framing.

    Source: the depth of the channel or clip, data/options.toml, less a clearance.
    """
    drops = {row["word"]: float(row["drop"]) for row in load("options")["lid"]["support"].values()}
    return drops[support] - SCREW_CLEAR if support in ("resilient channel", "isolation clip") else None
