"""One line of the take-off."""

from __future__ import annotations

from dataclasses import dataclass

from calc.materials import quantities as q
from calc.materials.items import Item, item

RUN_PIECE = 3.6576  # m, 12 ft. Common practice, no source


@dataclass(frozen=True)
class Line:
    """``quantity`` of an item used, in ``unit``, waste not counted. ``pieces`` of ``piece_length`` [m] say how the metres are cut, 0
    where that means nothing.

    ``effort`` multiplies the hours of the item (overhead work).
    """

    item: str
    where: str
    quantity: float
    unit: str
    task: str
    pieces: int = 0
    piece_length: float = 0.0
    effort: float = 1.0


def line(
    which: str | Item, where: str, quantity: float, task: str = "", pieces: int = 0, piece_length: float = 0.0, effort: float = 1.0
) -> Line:
    """A line in the item's own unit and, unless said otherwise, at the item's own task. Raises KeyError for an unknown item."""
    found = item(which) if isinstance(which, str) else which
    return Line(found.id, where, float(quantity), found.unit, task or found.task, pieces, piece_length, effort)


def cut(which: Item, where: str, pieces: int, length: float, task: str = "") -> Line:
    """Pieces of lumber of a finished length [m], each cut from its own stock length."""
    stock = q.stock_length(length)
    return line(which, where, pieces * stock, task, pieces, stock)


def run(which: Item, where: str, length: float, task: str = "") -> Line:
    """Lumber in continuous runs [m], plates and the like, whose joints may fall anywhere: bought in pieces of one stock length."""
    return line(which, where, length, task, q.whole(length / RUN_PIECE), RUN_PIECE)
