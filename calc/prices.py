"""The person's own prices, which replace the invented ones of data/prices.toml line by line."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True)
class Price:
    """Price of one package [currency], from ``low`` to ``high``; ``date`` it was asked, as written, or ""."""

    low: float
    high: float
    date: str = ""

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2.0


@dataclass(frozen=True)
class PriceBook:
    """``prices`` by item of data/items.toml, in one ``currency``."""

    currency: str = ""
    prices: tuple[tuple[str, Price], ...] = ()

    @cached_property
    def by_item(self) -> dict[str, Price]:
        return dict(self.prices)


NO_PRICES = PriceBook()
