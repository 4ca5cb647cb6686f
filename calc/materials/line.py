"""One line of the take-off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from calc.materials.items import Item, item

RUN_PIECE = 3.6576  # m, 12 ft: longer plates are hard to carry down and to keep straight. Common practice, no source
LEAST_RUN = 0.8  # m, shortest piece at the end of a run: two stud bays. Common practice, no source
JOINT_GRID = 0.4064  # m, joints in plates fall on studs. Common practice, no source


class Line(NamedTuple):
    """``quantity`` of an item used, in ``unit``, waste not counted.

    ``cuts``: finished pieces of lumber (pieces, length m) that make up the metres. ``sheets``: new sheets opened, by their size ((length,
    width) m, count), where boards were laid out; the ply's other pieces are offcuts. ``effort`` multiplies the item's hours (overhead).
    """

    item: str
    where: str
    quantity: float
    unit: str
    task: str
    cuts: tuple[tuple[int, float], ...] = ()
    sheets: tuple[tuple[tuple[float, float], int], ...] = ()
    effort: float = 1.0

    @property
    def pieces(self) -> int:
        """Finished pieces of lumber."""
        return sum(count for count, _ in self.cuts)


def line(
    which: str | Item, where: str, quantity: float, task: str = "", cuts: tuple[tuple[int, float], ...] = (), effort: float = 1.0
) -> Line:
    """A line in the item's own unit and, unless said otherwise, at the item's own task. Raises KeyError for an unknown item."""
    found = item(which) if isinstance(which, str) else which
    return Line(found.id, where, float(quantity), found.unit, task or found.task, cuts, (), effort)


def cut(which: Item, where: str, pieces: int, length: float, task: str = "") -> Line:
    """Pieces of lumber of a finished length [m]; none where there is nothing to cut."""
    cuts = ((pieces, length),) if pieces > 0 and length > 0.0 else ()
    return line(which, where, pieces * length if cuts else 0.0, task, cuts)


def run(which: Item, where: str, count: int, length: float, task: str = "") -> Line:
    """So many runs of a length [m], plates and the like, each of pieces whose joints fall on studs."""
    return runs(which, where, count, (length,), task)


def runs(which: Item, where: str, count: int, lengths: Sequence[float], task: str = "") -> Line:
    """As ``run``, so many of each of several lengths [m]."""
    cuts = tuple((count, piece) for length in lengths for piece in run_pieces(length)) if count > 0 else ()
    return line(which, where, count * sum(lengths) if cuts else 0.0, task, cuts)


def run_pieces(length: float) -> tuple[float, ...]:
    """Lengths [m] of the pieces of one run, the full ones first. No piece is a stub: the last two share what is left."""
    if length <= 0.0:
        return ()
    whole, rest = divmod(length - 1e-6, RUN_PIECE)
    pieces = [RUN_PIECE] * int(whole)
    rest += 1e-6
    if pieces and rest < LEAST_RUN:
        both = pieces.pop() + rest
        first = round(both / 2.0 / JOINT_GRID) * JOINT_GRID
        return (*pieces, first, both - first)
    return (*pieces, rest)
