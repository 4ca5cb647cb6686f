"""Money: what the lines cost, linearly for the choice of a scheme, in whole packages for the bill.

Prices are invented (data/prices.toml says so).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calc.brief import Brief, Labour
from calc.materials import quantities as q
from calc.materials.items import Item, item, price_note
from calc.materials.line import Line

_PLACE = re.compile(
    r"^(under the plates|studs|plates|sole plates), |, (under )?ply \d+$"
)  # a row is bought for a place, whichever part of it
FEES = "fees"  # the group of items that are services, not goods


@dataclass(frozen=True)
class Row:
    """One item to buy, in one size of package.

    ``used`` and ``bought`` in ``unit``; ``unit_price`` is that of one package; ``cuts`` are the pieces of lumber to buy (pieces, length m).
    """

    item: str
    label: str
    group: str
    used: float
    waste: float  # share, 0..1
    bought: float
    unit: str
    packages: int
    package_label: str
    unit_price: float
    total: float
    where: str
    cuts: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Bill:
    """Money in the person's currency.

    ``over`` is what the total exceeds the budget by, 0 within it. ``lines`` are those the bill was made of.
    """

    rows: tuple[Row, ...]
    lines: tuple[Line, ...]
    materials: float
    labour_hours: float
    labour: float
    fees: float
    contingency: float
    total: float
    budget: float
    over: float
    price_note: str


def labour_hours(lines: Iterable[Line]) -> float:
    """A person's hours to build the lines [h]; licensed trades not counted. Base hours of tasks come on top: see schedule.labour_hours."""
    return sum(each.quantity * each.effort * item(each.item).hours_per_unit for each in lines)


def unit_cost(brief: Brief, lines: Sequence[Line]) -> float:
    """Cost [currency] linear in the lines: waste in, no rounding to packages, fees in, labour in when hired, no contingency.

    Additive over lines, so the cost of a scheme is the sum over its parts: what choose.py minimises. Raises KeyError for an unknown item.
    """
    goods = sum(each.quantity * (1.0 + item(each.item).waste) * item(each.item).unit_price for each in lines)
    return goods + (labour_hours(lines) * brief.means.hourly_rate if brief.means.labour is Labour.HIRED else 0.0)


def bill(brief: Brief, lines: Sequence[Line], hours: float | None = None) -> Bill:
    """The bill in whole packages, an item a row; lumber a row for each length it is bought in.

    ``hours``: hired labour [h], schedule.labour_hours for the whole job; None counts the lines alone. Own labour costs nothing.
    Contingency is a share of
    materials, labour and fees. Raises KeyError for an unknown item.
    """
    rows = tuple(
        row for each in dict.fromkeys(line.item for line in lines) for row in _rows(item(each), [x for x in lines if x.item == each])
    )
    fees = sum(row.total for row in rows if row.group == FEES)
    materials = sum(row.total for row in rows) - fees
    worked = labour_hours(lines) if hours is None else hours
    labour = worked * brief.means.hourly_rate if brief.means.labour is Labour.HIRED else 0.0
    contingency = brief.means.contingency * (materials + labour + fees)
    total = materials + labour + fees + contingency
    over = max(0.0, total - brief.means.budget)
    return Bill(rows, tuple(lines), materials, worked, labour, fees, contingency, total, brief.means.budget, over, price_note())


def packages_for(what: Item, quantities: Sequence[float]) -> int:
    """Whole packages of an item for the quantities of its lines, by the item's rule (whole sheets a surface, or one sum)."""
    if what.by_surface:
        return q.sheets(quantities, what.package, what.waste)
    return q.packages(sum(quantities), what.package, what.waste)


def _rows(what: Item, lines: Sequence[Line]) -> list[Row]:
    """The rows of one item: goods that have no pieces in whole packages, lumber in whole pieces, a row for each stock length."""
    loose = [each for each in lines if not each.pieces]
    found = [_row(what, loose, packages_for(what, [each.quantity for each in loose]), what.package, what.package_label)] if loose else []
    for count, length in cuts_of(lines, what.waste):
        mine = [each for each in lines if each.pieces and round(each.piece_length, 4) == length]
        found.append(_row(what, mine, count, length, f"piece of {length * 1000.0:.0f} mm", ((count, length),)))
    return found


def _row(what: Item, lines: Sequence[Line], count: int, package: float, label: str, cuts: tuple[tuple[int, float], ...] = ()) -> Row:
    price = what.unit_price * package
    return Row(
        item=what.id,
        label=what.label,
        group=what.group,
        used=sum(each.quantity for each in lines),
        waste=what.waste,
        bought=count * package,
        unit=what.unit,
        packages=count,
        package_label=label,
        unit_price=price,
        total=count * price,
        where="; ".join(dict.fromkeys(_PLACE.sub("", each.where) for each in lines)),
        cuts=cuts,
    )


def cuts_of(lines: Sequence[Line], waste: float) -> tuple[tuple[int, float], ...]:
    """Pieces of one lumber item to buy by stock length [m], longest first, the waste share on the count of each length."""
    counts: dict[float, int] = {}
    for each in lines:
        if each.pieces:
            length = round(each.piece_length, 4)
            counts[length] = counts.get(length, 0) + each.pieces
    return tuple((q.whole(counts[length] * (1.0 + waste)), length) for length in sorted(counts, reverse=True))
