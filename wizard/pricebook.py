"""The person's price book: a TOML file in their folder that replaces invented prices line by line.

currency = "USD"
date = 2026-11-25                # when these prices were asked
[price]
gypsum_x_159 = 17.5              # of one package
lumber_89 = [1.6, 2.1]           # from, to
door_solid = { from = 210, to = 260, date = 2026-10-02 }
"""

from __future__ import annotations

import datetime
import math
import os
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from calc.brief import Brief
from calc.materials.items import Item, items
from calc.prices import NO_PRICES, Price, PriceBook
from wizard.store import StoreError, default_folder

FILE = "prices.toml"
MOST = 1e7  # currency; dearer is a slip of the keyboard


class PriceBookError(StoreError):
    """One sentence for the person."""


@dataclass(frozen=True)
class PriceLine:
    """One line for a list: the price in force, per package; ``own`` from the book, else invented."""

    item: str
    label: str
    group: str
    package_label: str
    price: Price
    own: bool


def book_path(folder: Path | None = None) -> Path:
    """Where the price book lies: the user's data folder, or the one that STILLROOM_DATA names."""
    return (folder or default_folder()) / FILE


def read_book(folder: Path | None = None) -> PriceBook:
    """The price book, empty where there is none. Raises PriceBookError for a file that cannot be read, naming line or key."""
    path = book_path(folder)
    try:
        return parse(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return NO_PRICES
    except (OSError, UnicodeDecodeError) as error:
        raise PriceBookError(f"The price book {path} cannot be read: {error}.") from error
    except PriceBookError as error:
        raise PriceBookError(f"{path}: {error}") from error


def priced(brief: Brief, folder: Path | None = None) -> Brief:
    """The brief with the person's price book in it. Raises PriceBookError as read_book."""
    return replace(brief, prices=read_book(folder))


def parse(text: str) -> PriceBook:
    """A price book from its text. Raises PriceBookError for anything but the form above."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PriceBookError(f"not valid TOML: {error}.") from error
    for key in data:
        if key not in ("currency", "date", "price"):
            raise PriceBookError(f'"{key}" is not known here; allowed are currency, date and the table [price].')
    currency = data.get("currency", "")
    if not isinstance(currency, str):
        raise PriceBookError('currency must be text, as in currency = "USD".')
    table = data.get("price", {})
    if not isinstance(table, dict):
        raise PriceBookError("price must be a table: [price], then one line an item.")
    day = _date("date", data.get("date", ""))
    return PriceBook(currency.strip().upper(), tuple((name, _price(name, entry, day)) for name, entry in table.items()))


def _price(name: str, entry: Any, day: str) -> Price:
    if name not in items():
        raise PriceBookError(f'"{name}" is no item; `stillroom prices` lists them all.')
    if isinstance(entry, dict):
        if not set(entry) <= {"from", "to", "date"} or "from" not in entry:
            raise PriceBookError(f"price.{name}: allowed are from, to and date, and from must be there.")
        ends, day = [entry["from"], entry.get("to", entry["from"])], _date(f"price.{name}.date", entry.get("date", day))
    else:
        ends = entry if isinstance(entry, list) else [entry, entry]
    if len(ends) != 2 or not all(isinstance(end, int | float) and not isinstance(end, bool) for end in ends):
        raise PriceBookError(f"price.{name} must be a number, or [from, to].")
    low, high = (float(end) for end in ends)
    if not (math.isfinite(low) and math.isfinite(high) and 0.0 <= low <= high <= MOST):
        raise PriceBookError(f"price.{name} must be 0 or more and under {MOST:,.0f}, the lower price first.")
    return Price(low, high, day)


def _date(key: str, value: Any) -> str:
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, str):
        return value.strip()
    raise PriceBookError(f"{key} must be a date, as in 2026-11-25.")


def set_price(name: str, low: float, high: float, currency: str, day: datetime.date, folder: Path | None = None) -> PriceBook:
    """Write one price into the book, made where there is none; comments and all other lines stay. Returns the book as it is then.

    Raises PriceBookError for an unknown item, a price that makes no sense, another currency than the book's, or a folder that cannot be
    written.
    """
    _price(name, [low, high], "")
    read = read_book(folder)
    if read.currency and read.prices and read.currency != currency.upper():
        raise PriceBookError(f"The price book is in {read.currency}; a price in {currency.upper()} does not belong in it.")
    document = _document(folder, currency)
    entry = tomlkit.inline_table()
    entry.update({"from": low, "to": high, "date": day} if high > low else {"from": low, "date": day})
    document["price"][name] = entry
    document["currency"] = currency.upper()
    _write(book_path(folder), tomlkit.dumps(document))
    return read_book(folder)


def create(currency: str, folder: Path | None = None) -> Path:
    """A price book with every item as a comment, the invented price beside it, ready to be filled in. Raises PriceBookError where one is
    there already or the folder cannot be written."""
    path = book_path(folder)
    if path.exists():
        raise PriceBookError(f"There is a price book already: {path}.")
    _write(path, template(currency))
    return path


def template(currency: str) -> str:
    """The text of a new price book: valid, with no price in force yet."""
    lines = [
        "# Your own prices, of one package each. Take the # off a line and put your price in place of the invented one.",
        "# A number, or a range as [from, to]; { from = 10, to = 12, date = 2026-11-25 } gives one line a date of its own.",
        f'currency = "{currency.upper()}"',
        "# date = 2026-11-25",
        "",
        "[price]",
    ]
    group = ""
    for each in items().values():
        if each.group != group:
            group = each.group
            lines += ["", f"# {group}"]
        lines.append(f"# {each.id} = {each.price:g}  # {each.label}: {each.package_label}")
    return "\n".join(lines) + "\n"


def listing(book: PriceBook) -> tuple[PriceLine, ...]:
    """Every item with the price in force."""
    return tuple(_line(each, book) for each in items().values())


def _line(what: Item, book: PriceBook) -> PriceLine:
    own = book.by_item.get(what.id)
    return PriceLine(what.id, what.label, what.group, what.package_label, own or Price(what.price, what.price), own is not None)


def _document(folder: Path | None, currency: str) -> tomlkit.TOMLDocument:
    path = book_path(folder)
    try:
        document = tomlkit.parse(path.read_text(encoding="utf-8") if path.exists() else template(currency))
    except (OSError, TOMLKitError) as error:
        raise PriceBookError(f"The price book {path} cannot be read: {error}.") from error
    if "price" not in document:
        document["price"] = tomlkit.table()
    return document


def _write(path: Path, text: str) -> None:
    """Beside, flushed, renamed: a crash leaves the old book or the new one."""
    beside = path.with_suffix(".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        raise PriceBookError(f"The price book {path} cannot be written: {error}.") from error
