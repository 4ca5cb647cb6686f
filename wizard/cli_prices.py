"""The command `stillroom prices`: show the prices in force, start a price book, put a price in it."""

from __future__ import annotations

import argparse
import datetime
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wizard.pricebook import PriceLine


def prices(arguments: argparse.Namespace, folder: Path | None, today: datetime.date) -> list[str] | list[dict[str, Any]]:
    """What the command says: lines, or objects for --json. Raises PriceBookError, and ValueError with a sentence for a wrong --set."""
    from wizard.pricebook import create, listing, read_book, set_price  # heavy, and no other command wants it at its start

    if arguments.create:
        return [f"Fill in your prices here: {create(arguments.create, folder)}"]
    if arguments.set:
        name, low, high = _parsed(arguments.set)
        book = set_price(name, low, high, arguments.currency or read_book(folder).currency or "USD", today, folder)
        return [_line(each) for each in listing(book) if each.item == name]
    rows = listing(read_book(folder))
    return [_as_object(each) for each in rows] if arguments.json else [_line(each) for each in rows]


def _parsed(text: str) -> tuple[str, float, float]:
    found = re.fullmatch(r"\s*([a-z0-9_]+)\s*=\s*([0-9.]+?)(?:\.\.([0-9.]+))?\s*", text)
    try:
        if found is None:
            raise ValueError
        low = float(found[2])
        return found[1], low, float(found[3]) if found[3] else low
    except ValueError:
        raise ValueError(f"--set {text!r} must be ITEM=PRICE or ITEM=LOW..HIGH, such as gypsum_x_159=17.5..21.") from None


def _line(each: PriceLine) -> str:
    low, high = each.price.low, each.price.high
    amount = f"{low:.2f}" if low == high else f"{low:.2f} to {high:.2f}"
    return f"{each.item:32} {amount:>18}  {'yours' if each.own else 'invented':8}  {each.label}; {each.package_label}"


def _as_object(each: PriceLine) -> dict[str, Any]:
    return {
        "item": each.item,
        "label": each.label,
        "group": each.group,
        "package": each.package_label,
        "low": each.price.low,
        "high": each.price.high,
        "own": each.own,
    }
