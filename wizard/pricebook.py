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
import os
import re
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from calc.brief import Brief
from calc.materials.items import Item, items
from calc.prices import NO_PRICES, Price, PriceBook
from wizard.interview.answers_file import DEEP_KEY
from wizard.store import Disk, StoreError, default_folder
from wizard.store.errors import short, told
from wizard.store.files import make, read_bytes
from wizard.store.files import replace as replace_file
from wizard.store.locks import writing

FILE = "prices.toml"
CURRENCY = re.compile(r"[A-Z]{0,8}")
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
    text = _text(path)
    try:
        return parse(text) if text else NO_PRICES
    except PriceBookError as error:
        raise PriceBookError(f"{path}: {error}") from error


def priced(brief: Brief, folder: Path | None = None) -> Brief:
    """The brief with the person's price book in it. Raises PriceBookError as read_book."""
    return replace(brief, prices=read_book(folder))


def parse(text: str) -> PriceBook:
    """A price book from its text. Raises PriceBookError for anything but the form above."""
    if DEEP_KEY.search(text):
        raise PriceBookError("not a price book: a key there has far too many parts.")
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise PriceBookError("not a price book: it is nested too deep.") from None
    except ValueError as error:  # also for a number of thousands of digits
        raise PriceBookError(f"not valid TOML: {error}.") from None
    for key in data:
        if key not in ("currency", "date", "price"):
            raise PriceBookError(f'"{key}" is not known here; allowed are currency, date and the table [price].')
    currency = _currency(data.get("currency", ""))
    table = data.get("price", {})
    if not isinstance(table, dict):
        raise PriceBookError("price must be a table: [price], then one line an item.")
    day = _date("date", data.get("date", ""))
    return PriceBook(currency, tuple((name, _price(name, entry, day)) for name, entry in table.items()))


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
    low, high = ends
    if not 0.0 <= low <= high <= MOST:  # as they stand: a whole number may be too large to become a float; no comparison holds for nan
        raise PriceBookError(f"price.{name} must be 0 or more and under {MOST:,.0f}, the lower price first.")
    return Price(float(low), float(high), day)


def _currency(value: Any) -> str:
    """The code of a currency, or "" where none is given."""
    if not isinstance(value, str) or not CURRENCY.fullmatch(code := value.strip().upper()):
        raise PriceBookError('currency must be the letters of a currency, as in currency = "USD".')
    return code


def _date(key: str, value: Any) -> str:
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, str):
        with suppress(ValueError):
            return value.strip() and datetime.date.fromisoformat(value.strip()).isoformat()
    raise PriceBookError(f"{key} must be a date, as in 2026-11-25.")


def set_price(name: str, low: float, high: float, currency: str, day: datetime.date, folder: Path | None = None) -> PriceBook:
    """Write one price into the book, made where there is none; comments and all other lines stay. Returns the book as it is then.

    Raises PriceBookError for an unknown item, a price that makes no sense, another currency than the book's, or a folder that cannot be
    written.
    """
    _price(name, [low, high], "")
    currency = _currency(currency)
    with _writing(book_path(folder)) as path:
        read = read_book(folder)
        if read.currency and read.prices and read.currency != currency:
            raise PriceBookError(f"The price book is in {read.currency}; a price in {currency} does not belong in it.")
        document = _document(folder, currency)
        entry = tomlkit.inline_table()
        entry.update({"from": low, "to": high, "date": day} if high > low else {"from": low, "date": day})
        document["price"][name] = entry
        document["currency"] = currency
        replace_file(Disk(), path, tomlkit.dumps(document).encode("utf-8"))
    return read_book(folder)


def create(currency: str, folder: Path | None = None) -> Path:
    """A price book with every item as a comment, the invented price beside it, ready to be filled in. Raises PriceBookError where one is
    there already or the folder cannot be written."""
    text = template(_currency(currency))
    with _writing(book_path(folder)) as path:
        if os.path.lexists(path):
            raise PriceBookError(f"There is a price book already: {path}.")
        replace_file(Disk(), path, text.encode("utf-8"))
    return path


def template(currency: str) -> str:
    """The text of a new price book: valid, with no price in force yet."""
    lines = [
        "# Your own prices, of one package each. Take the # off a line and put your price in place of the invented one.",
        "# A number, or a range as [from, to]; { from = 10, to = 12, date = 2026-11-25 } gives one line a date of its own.",
        f'currency = "{currency}"',
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
        document = tomlkit.parse(_text(path) or template(currency))
    except TOMLKitError as error:
        raise PriceBookError(f"The price book {path} cannot be read: {error}.") from error
    if "price" not in document:
        document["price"] = tomlkit.table()
    return document


def _text(path: Path) -> str:
    """What stands in the book; nothing where there is none. Raises PriceBookError."""
    try:
        return read_bytes(path).decode("utf-8-sig")
    except FileNotFoundError:
        return ""
    except (OSError, ValueError) as error:
        raise PriceBookError(f"The price book {path} cannot be read: {short(error)}.") from error


@contextmanager
def _writing(path: Path) -> Iterator[Path]:
    """The book's path, to be written by nobody else meanwhile. Raises StoreError."""
    with told(f"The price book {path} cannot be written"):
        make(Disk(), path.parent)
        with writing(path.parent, "the price book"):
            yield path
