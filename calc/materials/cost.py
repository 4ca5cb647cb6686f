"""Money: what the lines cost, linearly for the choice of a scheme, in whole packages for the bill.

Prices are invented unless the person's price book has them (calc/materials/pricing.py).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from calc.brief import Brief, Labour
from calc.materials import quantities as q
from calc.materials.cutting import KERF, CutPlan, cut_plan
from calc.materials.items import Item, item, items
from calc.materials.line import Line
from calc.materials.pricing import invented, own_prices, price_note
from calc.prices import Price

_PLACE = re.compile(
    r"^(under the plates|studs|plates|sole plates), |, (under )?ply \d+$"
)  # a row is bought for a place, whichever part of it
FEES = "fees"  # the group of items that are services, not goods


@dataclass(frozen=True)
class Row:
    """One item to buy, in one size of package.

    ``used`` and ``bought`` in ``unit``. ``waste``: the share [0..1] beyond what is used: assumed for most goods, for boards and lumber what
    layout and cut plan leave over, spares included. ``unit_price`` is that of one package; ``low`` and ``high`` bound the total, equal
    where the price is one number. ``cuts`` are the pieces of lumber to buy (pieces, length m).
    """

    item: str
    label: str
    group: str
    used: float
    waste: float
    bought: float
    unit: str
    packages: int
    package_label: str
    unit_price: float
    total: float
    low: float
    high: float
    own_price: bool
    where: str
    cuts: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Bill:
    """Money in the person's currency.

    ``over`` is what the total exceeds the budget by, 0 within it. ``low`` and ``high``: the total with every price at that end of its
    range. ``lines`` are those the bill was made of; ``plans`` how each lumber item is cut.
    """

    rows: tuple[Row, ...]
    lines: tuple[Line, ...]
    plans: tuple[tuple[str, CutPlan], ...]
    materials: float
    labour_hours: float
    labour: float
    fees: float
    contingency: float
    total: float
    low: float
    high: float
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
    goods, rates, own = 0.0, _rates(), own_prices(brief)
    for each in lines:
        waste, spare, package, middle = rates[each.item]
        needed = sum([count * _stock_share(length) for count, length in each.cuts]) * spare if each.cuts else each.quantity * waste
        goods += needed * (own[each.item].middle if each.item in own else middle) / package
    return goods + (labour_hours(lines) * brief.means.hourly_rate if brief.means.labour is Labour.HIRED else 0.0)


@cache
def _rates() -> dict[str, tuple[float, float, float, float]]:
    """By item: one and its waste, one and its spares, what a package holds, the invented price of one [currency]."""
    return {name: (1.0 + what.waste, 1.0 + what.spare, what.package, invented(what.price).middle) for name, what in items().items()}


@cache
def _stock_share(length: float) -> float:
    """Stock [m] that one piece of a length [m] uses up when stock is cut into pieces like it: as if all were cut into equal ones."""
    fits = [(stock, int((stock + KERF + 1e-6) / (length + KERF))) for stock in q.stock_lengths(length)]
    return min(stock / count for stock, count in fits if count)


def bill(brief: Brief, lines: Sequence[Line], hours: float | None = None) -> Bill:
    """The bill in whole packages, an item a row; boards and lumber a row for each size they are bought in.

    ``hours``: hired labour [h], schedule.labour_hours for the whole job; None counts the lines alone. Own labour costs nothing.
    Contingency is a share of materials, labour and fees. Raises KeyError for an unknown item.
    """
    by_item: dict[str, list[Line]] = {}
    for each in lines:
        by_item.setdefault(each.item, []).append(each)
    own = own_prices(brief)
    bought = {name: _bought(name, tuple(mine), own.get(name)) for name, mine in by_item.items()}
    rows = tuple(row for mine, _ in bought.values() for row in mine)
    fees = sum(row.total for row in rows if row.group == FEES)
    materials = sum(row.total for row in rows) - fees
    worked = labour_hours(lines) if hours is None else hours
    labour = worked * brief.means.hourly_rate if brief.means.labour is Labour.HIRED else 0.0
    share = 1.0 + brief.means.contingency
    total = (materials + labour + fees) * share
    return Bill(
        rows=rows,
        lines=tuple(lines),
        plans=tuple((name, plan) for name, (_, plan) in bought.items() if plan),
        materials=materials,
        labour_hours=worked,
        labour=labour,
        fees=fees,
        contingency=total - materials - labour - fees,
        total=total,
        low=(sum(row.low for row in rows) + labour) * share,
        high=(sum(row.high for row in rows) + labour) * share,
        budget=brief.means.budget,
        over=max(0.0, total - brief.means.budget),
        price_note=price_note(brief, [item(name) for name in by_item]),
    )


def packages_for(what: Item, quantities: Sequence[float]) -> int:
    """Whole packages of an item for the quantities of its lines, by the item's rule (whole sheets a surface, or one sum)."""
    if what.by_surface:
        return q.sheets(quantities, what.package, what.waste)
    return q.packages(sum(quantities), what.package, what.waste)


@lru_cache(maxsize=1024)  # schemes that differ in one part buy most items for the same lines
def _bought(name: str, lines: tuple[Line, ...], own: Price | None) -> tuple[tuple[Row, ...], CutPlan | None]:
    """The rows of one item at the person's ``own`` price, if there is one, and how it is cut, if it is lumber.

    By area or count in whole packages; laid-out boards a row a size of sheet; lumber a row a stock length.
    """
    what, cut = item(name), [each for each in lines if each.cuts]
    loose = [each for each in lines if not each.cuts and not each.sheets]
    found: list[Row] = []
    if any(each.sheets for each in lines):
        found = _sheet_rows(what, own, lines)
    elif what.made:
        found = [_row(what, own, [each], each.quantity, 1, each.quantity, f"piece of {each.quantity:.2f} {what.unit}") for each in loose]
    elif loose:
        used = sum(each.quantity for each in loose)
        count = packages_for(what, [each.quantity for each in loose])
        found = [_row(what, own, loose, used, count, what.package, what.package_label, (), what.waste)]
    plan = _plan(cut) if cut else None
    return (*found, *(_lumber_rows(what, own, cut, plan) if plan else ())), plan


def _plan(lines: Sequence[Line]) -> CutPlan:
    pieces = tuple(cut for each in lines for cut in each.cuts)
    return cut_plan(pieces, q.stock_lengths(max(length for _, length in pieces)))


def _sheet_rows(what: Item, own: Price | None, lines: Sequence[Line]) -> list[Row]:
    """Boards: sheets of the layout, those of what was not laid out, and the spare ones, in the most usual size."""
    counts = Counter[tuple[float, float]]()
    for each in lines:
        counts.update(dict(each.sheets))
    usual = min(counts, key=lambda size: size[0])
    counts[usual] += q.sheets([each.quantity for each in lines if not each.sheets], what.package, what.waste)
    counts[usual] += q.whole(sum(counts.values()) * what.spare)
    area, used = sum(n * size[0] * size[1] for size, n in counts.items()), sum(each.quantity for each in lines)
    found = []
    for size in sorted(counts):
        mine = [each for each in lines if dict(each.sheets).get(size) or (size == usual and not each.sheets)]
        package = size[0] * size[1]
        found.append(_row(what, own, mine, used * counts[size] * package / area, counts[size], package, sheet_label(size)))
    return found


def sheet_label(size: tuple[float, float]) -> str:
    """How a sheet of length and width [m] is named, in a row of the bill and on the list."""
    long, wide = size
    return f"sheet of {wide:.2f} x {long:.2f} m ({wide / 0.3048:.0f} x {long / 0.3048:.0f} ft)"


def _lumber_rows(what: Item, own: Price | None, lines: Sequence[Line], plan: CutPlan) -> list[Row]:
    """Lumber by its cut plan; spare pieces in the length that most are bought in."""
    counts = {length: count for count, length in plan.bought}
    most = max(counts, key=lambda length: counts[length])
    extra = q.whole(plan.total * what.spare / most)
    found = []
    for length in counts:
        count = counts[length] + (extra if length == most else 0)
        used = sum(stock.count * n * piece for stock in plan.stocks if stock.length == length for n, piece in stock.pieces)
        label = f"piece of {length * 1000.0:.0f} mm"
        found.append(_row(what, own, lines, used, count, length, label, ((count, round(length, 4)),)))
    return found


def _row(
    what: Item,
    own: Price | None,
    lines: Sequence[Line],
    used: float,
    count: int,
    package: float,
    label: str,
    cuts: tuple[tuple[int, float], ...] = (),
    waste: float | None = None,
) -> Row:
    asked = own or invented(what.price)
    one, bought = package / what.package, count * package
    return Row(
        item=what.id,
        label=what.label,
        group=what.group,
        used=used,
        waste=(bought / used - 1.0 if used > 0.0 else 0.0) if waste is None else waste,
        bought=bought,
        unit=what.unit,
        packages=count,
        package_label=label,
        unit_price=asked.middle * one,
        total=count * asked.middle * one,
        low=count * asked.low * one,
        high=count * asked.high * one,
        own_price=own is not None,
        where="; ".join(dict.fromkeys(_PLACE.sub("", each.where) for each in lines)),
        cuts=cuts,
    )


def cuts_of(lines: Sequence[Line], waste: float = 0.0) -> tuple[tuple[int, float], ...]:
    """Finished pieces of one lumber item by length [m], longest first, a waste share on the count of each."""
    counts = Counter[float]()
    longest: dict[float, float] = {}
    for each in lines:
        for count, length in each.cuts:
            key = round(length, 4)
            counts[key] += count
            longest[key] = max(length, longest.get(key, 0.0))
    return tuple((q.whole(counts[key] * (1.0 + waste)), longest[key]) for key in sorted(counts, reverse=True))
