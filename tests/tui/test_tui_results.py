"""The pages of results beside "How quiet": air, room sound, another scheme; invented ones, and those of a real assessment."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_kit import (
    FIRST_ANSWERS,
    NARROW,
    WIDE,
    Invented,
    QuickBackroom,
    assessed,
    check_golden_soon,
    clipped,
    first_answers,
    make_app,
    press,
    saved,
    screen_text,
    settle,
)

from wizard.app import StillroomApp
from wizard.backroom import Backroom
from wizard.interview.answers import Answers
from wizard.lines import Line, Page
from wizard.screens.interview import Interview
from wizard.screens.results import PAGES


@pytest.mark.parametrize("size", [NARROW, WIDE], ids=["80x24", "120x40"])
async def test_the_arrows_turn_the_pages_around(tmp_path: Path, size: tuple[int, int]) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=size) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        for kind, told in (("air", "CO2 over one session"), ("room", "Room modes"), ("compare", "boards on isolation clips")):
            await press(pilot, "right")
            await settle(pilot)
            assert told in screen_text(app)
            assert f"[{PAGES[kind]}]" in screen_text(app).splitlines()[0]
            assert clipped(app) == []
            await check_golden_soon(pilot, f"{kind}-{size[0]}x{size[1]}")
        await press(pilot, "down")
        await settle(pilot)
        assert screen_text(app).count("an independent ceiling") == 2
        await press(pilot, "right")
        await settle(pilot)
        assert "[How quiet]" in screen_text(app)
        await press(pilot, "left", "left")
        await settle(pilot)
        assert "[Room]" in screen_text(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, Interview)


async def test_a_page_is_opened_by_a_click_on_its_name(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        await pilot.click(offset=(screen_text(app).splitlines()[0].index("Room"), 0))
        await settle(pilot)
        assert "[Room]" in screen_text(app)


async def test_no_colour_and_any_size_lose_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l", "right")
        await settle(pilot)
        assert all(words in screen_text(app) for words in ("●● air as planned", "×× air off", "── your limit"))
        for size in ((20, 6), (200, 60), NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert "minutes  0" in screen_text(app)


class Broken(QuickBackroom):
    """Fails while it lays a page out."""

    def page(self, kind: str, answers: Answers) -> Page:
        class Failing(Invented):
            def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
                raise ZeroDivisionError("x")

        return Failing(kind)


async def test_a_fault_while_a_page_is_laid_out_is_told(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "people")
    app = StillroomApp(store, id, Broken())
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l")
        await settle(pilot)
        assert "by a fault of this program" in screen_text(app)


def backroom() -> Backroom:
    return Backroom(lambda brief: assessed())


@pytest.mark.parametrize("kind", PAGES)
@pytest.mark.parametrize("width", [66, 76, 120])
def test_the_real_pages_keep_to_the_width(kind: str, width: int) -> None:
    page = backroom().page(kind, first_answers())
    assert all(len(row) <= width for row in page.rows(width))
    for index in {page.start, max(0, len(page.rows(width)) - 2)}:
        assert all(len(line.text) <= width for line in page.lines(index, width, 18, True)), kind
        if kind != "compare":
            assert "█" not in "".join(line.text for line in page.lines(index, width, 18, False))


def test_the_air_page_tells_what_was_computed() -> None:
    air = assessed().air
    text = "\n".join(line.text for line in backroom().page("air", first_answers()).lines(0, 90, 20, True))
    assert f"passes it after {air.co2_sealed_minutes:.0f} minutes" in text
    assert f"At the most {air.co2_peak:,.0f} ppm" in text
    assert all(f"{watts:.0f} W" in text for watts in air.heat_parts.values())
    assert f"{air.basis} (decides)" in text


def test_the_room_page_tells_what_was_computed() -> None:
    sound = assessed().sound
    text = " ".join(" ".join(line.text for line in backroom().page("room", first_answers()).lines(0, 90, 20, True)).split())
    assert f"The lowest is at {sound.modes[0].frequency:.0f} Hz" in text
    assert all(f"{item.pieces} × {item.label}" in text for item in sound.treatments)
    assert f"{sound.reverberation.target_mean:.2f} s are wanted" in text


def test_another_scheme_stands_beside_the_one_chosen() -> None:
    """The door of the first rival is its own, and what both share is told once."""
    page = backroom().page("compare", first_answers())
    chosen, rival = assessed().choice, page.others[0]  # type: ignore[attr-defined]
    assert rival.scheme != chosen.scheme
    lines = [line.text for line in page.lines(0, 90, 20, True)]
    differ, same = (lines.index(next(line for line in lines if line.startswith(head))) for head in ("What differs", "The same in both"))
    assert differ < same
    names = [line[:20].strip() for line in lines[differ + 1 : same] if not line.startswith(" ")]
    assert "Cost with reserve" in names
    assert ("Door" in names) == (rival.scheme.door != chosen.scheme.door)
    assert ("Floor" in names) == (rival.scheme.floor != chosen.scheme.floor)
