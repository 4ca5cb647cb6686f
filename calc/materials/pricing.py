"""What a package costs: the person's own price where there is one, else the invented one of data/prices.toml."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from calc.brief import Brief
from calc.catalogue import load
from calc.materials.items import Item
from calc.prices import Price


def book_counts(brief: Brief) -> bool:
    """Whether the price book is in the money of this brief; where it is not, it is left aside."""
    return bool(brief.prices.prices) and brief.prices.currency in ("", brief.means.currency)


def own_prices(brief: Brief) -> Mapping[str, Price]:
    """The person's own prices by item, where they count."""
    return brief.prices.by_item if book_counts(brief) else {}


@cache
def invented(package: float) -> Price:
    """A price of one package [currency] as data/prices.toml has it."""
    return Price(package, package)


def is_own(brief: Brief, what: Item) -> bool:
    """Whether the price is the person's own."""
    return book_counts(brief) and what.id in brief.prices.by_item


def price_note(brief: Brief, whats: Iterable[Item]) -> str:
    """What must be said wherever a total is shown."""
    found = list(whats)
    invented = str(load("prices")["note"])
    if brief.prices.prices and not book_counts(brief):
        return f"Your price book is in {brief.prices.currency}, not in {brief.means.currency}, and is not used. {invented}"
    own = sum(is_own(brief, each) for each in found)
    if own == 0:
        return invented
    if own == len(found):
        return "All prices are from your own price book."
    return f"{own} of {len(found)} prices are from your own price book; all others are invented: round numbers of no market and no date."
