"""The price book: what it takes, what it refuses and how it says so, and what it does to a bill."""

from __future__ import annotations

import datetime
import os
import stat
from dataclasses import replace
from pathlib import Path

import pytest
from build_parts import scheme
from conftest import make_brief

from calc.geometry import inner_room
from calc.materials.cost import bill, unit_cost
from calc.materials.items import item, items
from calc.materials.takeoff import lines
from calc.prices import Price, PriceBook
from wizard.pricebook import PriceBookError, book_path, create, listing, parse, read_book, set_price, template
from wizard.store import StoreError, locks

DAY = datetime.date(2026, 11, 25)


def test_a_number_a_range_and_a_dated_range_are_read() -> None:
    book = parse(
        'currency = "usd"\ndate = 2026-11-25\n[price]\ngypsum_x_159 = 17.5\nlumber_89 = [1.6, 2.1]\n'
        "door_solid = { from = 210, to = 260, date = 2026-10-02 }\n"
    )
    assert book.currency == "USD"
    assert book.by_item["gypsum_x_159"] == Price(17.5, 17.5, "2026-11-25")
    assert book.by_item["lumber_89"] == Price(1.6, 2.1, "2026-11-25")
    assert book.by_item["lumber_89"].middle == pytest.approx(1.85)
    assert book.by_item["door_solid"] == Price(210.0, 260.0, "2026-10-02")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[price]\nunobtainium = 3", "unobtainium"),
        ("[price]\nsealant = -1", "price.sealant"),
        ("[price]\nsealant = [12, 9]", "lower price first"),
        ("[price]\nsealant = true", "must be a number"),
        ('[price]\nsealant = "9"', "must be a number"),
        ("[price]\nsealant = [1, 2, 3]", "from, to"),
        ("[price]\nsealant = { to = 3 }", "from must be there"),
        ("[price]\nsealant = nan", "price.sealant"),
        ("[prices]\nsealant = 9", "prices"),
        ("price = 3", "table"),
        ("currency = 3", "currency"),
        ("date = 3", "date"),
        ("[price", "TOML"),
    ],
)
def test_what_is_wrong_is_named(text: str, says: str) -> None:
    with pytest.raises(PriceBookError, match=says):
        parse(text)


def test_a_new_book_lists_every_item_and_changes_nothing_yet(tmp_path: Path) -> None:
    path = create("eur", tmp_path)
    assert read_book(tmp_path) == PriceBook("EUR")
    assert all(f"# {each} = " in path.read_text(encoding="utf-8") for each in items())
    with pytest.raises(PriceBookError, match="already"):
        create("eur", tmp_path)
    # Each commented line is a valid line once its # is gone.
    text = "\n".join(
        line[2:] if line.startswith("# ") and " = " in line and "[" not in line[:3] else line for line in template("EUR").splitlines()[6:]
    )
    assert len(parse("[price]\n" + text.replace("[price]", "")).prices) == len(items())


def test_prices_are_written_one_by_one_and_comments_stay(tmp_path: Path) -> None:
    create("USD", tmp_path)
    set_price("sealant", 11.0, 11.0, "USD", DAY, tmp_path)
    book = set_price("damping_compound", 20.0, 26.0, "USD", DAY, tmp_path)
    assert dict(book.prices) == {"sealant": Price(11.0, 11.0, "2026-11-25"), "damping_compound": Price(20.0, 26.0, "2026-11-25")}
    assert "# lumber" in book_path(tmp_path).read_text(encoding="utf-8")
    with pytest.raises(PriceBookError, match="in USD"):
        set_price("sealant", 9.0, 9.0, "EUR", DAY, tmp_path)
    with pytest.raises(PriceBookError, match="no item"):
        set_price("gold", 9.0, 9.0, "USD", DAY, tmp_path)
    own = [each for each in listing(book) if each.own]
    assert {each.item for each in own} == {"sealant", "damping_compound"}
    assert len(listing(book)) == len(items())


def test_no_book_is_an_empty_one_and_a_folder_in_its_place_is_named(tmp_path: Path) -> None:
    assert read_book(tmp_path) == PriceBook()
    (tmp_path / "prices.toml").mkdir()
    with pytest.raises(PriceBookError, match="cannot be read"):
        read_book(tmp_path)


def test_a_range_gives_the_total_a_range_and_the_note_says_whose_prices_they_are() -> None:
    plain = make_brief()
    found = lines(plain, inner_room(plain, scheme()), scheme())
    before = bill(plain, found)
    assert before.low == before.total == before.high
    assert "invented" in before.price_note
    ranged = replace(plain, prices=PriceBook(plain.means.currency, (("gypsum_x_159", Price(10.0, 30.0)),)))
    after = bill(ranged, found)
    (row,) = [each for each in after.rows if each.item == "gypsum_x_159"]
    assert row.own_price
    assert row.unit_price == pytest.approx(20.0)
    assert after.high - after.low == pytest.approx(row.packages * 20.0 * 1.15)
    assert after.low < after.total < after.high
    assert after.price_note.startswith("1 of ")
    shift = (20.0 - item("gypsum_x_159").price) / item("gypsum_x_159").package
    area = sum(each.quantity * (1.0 + item("gypsum_x_159").waste) for each in found if each.item == "gypsum_x_159")
    assert unit_cost(ranged, found) - unit_cost(plain, found) == pytest.approx(shift * area)


def test_a_book_in_another_currency_is_left_aside_and_said_so() -> None:
    plain = make_brief()
    foreign = replace(plain, prices=PriceBook("XTS", (("gypsum_x_159", Price(1.0, 1.0)),)))
    found = lines(plain, inner_room(plain, scheme()), scheme())
    assert bill(foreign, found).total == bill(plain, found).total
    assert "XTS" in bill(foreign, found).price_note


@pytest.mark.parametrize(
    "text",
    [
        "price.sealant = 0x" + "f" * 5000,
        "price.sealant = " + "9" * 5000,
        "a = " + "[" * 5000,
        "a." * 50_000 + "a = 1",
        'date = "[x](http://x.y)"',
        'currency = "US\\nD"',
    ],
    ids=lambda text: text[:20],
)
def test_a_hostile_book_is_one_sentence(text: str, tmp_path: Path) -> None:
    book_path(tmp_path).write_text(text)
    with pytest.raises(PriceBookError) as caught:
        read_book(tmp_path)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 300


def test_a_currency_that_is_none_starts_no_book(tmp_path: Path) -> None:
    for word in ('USD"\n[price]', "$", "U S D", "x" * 9):
        with pytest.raises(PriceBookError, match="currency"):
            create(word, tmp_path)
        with pytest.raises(PriceBookError, match="currency"):
            set_price("sealant", 1.0, 1.0, word, DAY, tmp_path)
    assert not book_path(tmp_path).exists()


@pytest.mark.skipif(os.name == "nt", reason="file modes, links and pipes are POSIX")
def test_the_book_is_for_the_user_only_and_written_through_no_link(tmp_path: Path) -> None:
    data, outside = tmp_path / "data", tmp_path / "outside"
    outside.write_text("")
    create("USD", data)
    assert [stat.S_IMODE(path.stat().st_mode) for path in (data, book_path(data))] == [0o700, 0o600]
    book_path(data).unlink()
    book_path(data).symlink_to(outside)
    set_price("sealant", 9.0, 9.0, "USD", DAY, data)
    assert outside.read_text() == ""
    assert read_book(data).by_item["sealant"].low == 9.0
    book_path(data).unlink()
    os.mkfifo(book_path(data))
    with pytest.raises(PriceBookError, match="not a plain file"):
        read_book(data)


def test_a_second_writer_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locks, "WAIT", 0.05)
    with locks.writing(tmp_path), pytest.raises(StoreError, match="Another Stillroom is writing the price book"):
        set_price("sealant", 9.0, 9.0, "USD", DAY, tmp_path)
