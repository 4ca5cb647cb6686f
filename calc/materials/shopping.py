"""The shopping list: what to buy where, and what must be on site at which stage."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from calc.catalogue import load
from calc.materials import quantities as q
from calc.materials.cost import Bill, Row, sheet_label
from calc.materials.items import Item, item
from calc.materials.line import Line

BESIDE = "Sound in the room, not in the sum"


@dataclass(frozen=True)
class Purchase:
    """Packages of one row of the bill that must be on site when a stage begins; over all stages they add up to the row.

    ``unit_price`` is that of one package; ``low`` and ``high`` bound ``total`` [currency]. ``own_price``: from the person's price book.
    """

    shop: str
    stage: str
    item: str
    label: str
    packages: int
    package_label: str
    unit_price: float
    total: float
    low: float
    high: float
    own_price: bool
    where: str


@cache
def stages() -> tuple[str, ...]:
    """The stages in their order."""
    return tuple(dict.fromkeys(row["stage"] for row in load("tasks")["task"]))


@cache
def shops() -> tuple[str, ...]:
    """The shops in the order of a round."""
    return tuple(row["name"] for row in load("shops")["shop"])


def shop_of(what: Item) -> str:
    """Where an item is bought. Raises KeyError for an item whose group no shop carries. Source: data/shops.toml."""
    rows = load("shops")["shop"]
    for row in rows:
        if what.id in row.get("items", ()):
            return str(row["name"])
    for row in rows:
        if what.group in row["groups"]:
            return str(row["name"])
    raise KeyError(what.group)


def shopping(bill: Bill) -> tuple[Purchase, ...]:
    """The bill by shop, then by stage. What a stage needs is rounded up to whole packages; the next stage takes what is left of them."""
    stage_of = {row["id"]: str(row["stage"]) for row in load("tasks")["task"]}
    found = [each for row in bill.rows for each in _purchases(row, [x for x in bill.lines if x.item == row.item], stage_of)]
    return tuple(sorted(found, key=lambda each: (shops().index(each.shop), stages().index(each.stage))))


def beside(bill: Bill) -> tuple[Purchase, ...]:
    """A bill that is no part of the total, as one stage of its own behind all others."""
    return tuple(replace(each, stage=BESIDE) for each in shopping(bill))


def _purchases(row: Row, lines: Sequence[Line], stage_of: Mapping[str, str]) -> list[Purchase]:
    drawn = [(stage_of[line.task], line.where, weight) for line, weight in _drawn(row, lines) if weight > 0.0]
    whole = sum(weight for _, _, weight in drawn)
    found: list[Purchase] = []
    share, had = 0.0, 0
    for stage in stages():
        share += sum(weight for when, _, weight in drawn if when == stage) / whole
        packages = min(row.packages, q.whole(row.packages * share)) - had
        had += packages
        if packages:
            part = packages / row.packages
            where = "; ".join(dict.fromkeys(place for when, place, _ in drawn if when == stage)) or row.where
            found.append(
                Purchase(
                    shop_of(item(row.item)), stage, row.item, row.label, packages, row.package_label, row.unit_price, row.total * part,
                    row.low * part, row.high * part, row.own_price, where,
                )
            )  # fmt: skip
    return found


def _drawn(row: Row, lines: Sequence[Line]) -> list[tuple[Line, float]]:
    """What each line draws on the packages of a row: its quantity; of boards that were laid out, the new sheets of the row's size.

    Boards that were not laid out are cut from the smallest size, as in the bill.
    """
    sizes = {sheet_label(size): size for line in lines for size, _ in line.sheets}
    size = sizes.get(row.package_label)
    if size is None:
        return [(line, line.quantity) for line in lines]
    loose = 1.0 / (size[0] * size[1]) if size == min(sizes.values()) else 0.0
    return [(line, float(dict(line.sheets).get(size, 0)) if line.sheets else line.quantity * loose) for line in lines]
