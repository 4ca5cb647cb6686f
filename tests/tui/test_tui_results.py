"""The pages of results beside "How quiet": air, room sound, another scheme; invented ones, and those of a real assessment."""

from __future__ import annotations

import threading
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
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

from calc.finding import Severity
from calc.unit_format import format_length, format_nominal
from calc.ventilation.silencer import smallest
from wizard.air_design_page import design_lines
from wizard.air_page import AirPage
from wizard.app import StillroomApp
from wizard.backroom import Backroom
from wizard.interview.answers import Answers
from wizard.lines import Line, Page, Part, with_words
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
    assert f"all inside the room passes it after {air.co2_sealed_minutes:.0f} minutes" in text
    assert f"At the most {air.co2_peak:,.0f} ppm" in text
    assert all(f"{watts:.0f} W" in text for watts in air.heat_parts.values())
    assert f"{air.basis} (decides)" in text


def shown(page: Page, width: int = 90) -> str:
    """A page as one line of words."""
    return " ".join(" ".join(line.text for line in page.lines(0, width, 20, True)).split())


def test_the_air_page_tells_the_design_of_the_ducts_and_the_other_ways_with_their_cost() -> None:
    found = assessed()
    design, systems, text = found.air_design, found.air_systems, shown(AirPage(found))
    assert f"Fan and air come to NC {design.noise.nc:.0f}: quiet enough." in text
    assert f"Wanted is NC {design.noise.target:.0f}, {found.air.noise_reason}." in text
    assert format_nominal(design.supply.grille.width, "imperial") in text
    for system in systems.systems:
        assert f"{system.label}: " in text
        assert f"{system.cost:,.0f} USD" in text
        assert all(check.sentence in text for check in (*system.fails, *system.asks))
    assert all(finding.title in text for finding in found.air_findings if finding.severity is not Severity.NOTE)


def test_a_box_that_is_missing_or_too_weak_a_fan_is_told() -> None:
    """The design of the shared room, with what another room would lack."""
    found = assessed()
    box = smallest(np.full(7, 15.0), 0.2)
    needs = replace(found.air_design.needs, mouth=np.full(21, 4.4), listener="neighbour [b]next door")
    weak = replace(found.air_design.supply, available=0.0)
    other = SimpleNamespace(
        air=found.air,
        air_systems=found.air_systems,
        bill=found.bill,
        brief=found.brief,
        scheme=found.scheme,
        air_design=replace(found.air_design, silencer=box, needs=needs, supply=weak, wider=None),
    )
    text = " ".join(" ".join(line.text for line in design_lines(other, 90)).split())  # type: ignore[arg-type]
    assert "heard first by: neighbour [b]next door. It lacks up to 4 dB" in text
    assert f"{box.count} × {box.kind}, {format_length(box.outside[0], 'imperial', step_mm=1.0)} ×" in text
    assert "The fan lacks pressure, and no size sold would do" in text


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


class Slow(QuickBackroom):
    """Waits for ``go`` before it lays out another row than the first."""

    def __init__(self) -> None:
        super().__init__()
        self.go = threading.Event()

    def page(self, kind: str, answers: Answers) -> Page:
        go = self.go

        class Waiting(Invented):
            def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
                assert index == 0 or go.wait(10)
                return super().lines(index, width, height, unicode)

        return Waiting(kind, ("boards on isolation clips", "an independent ceiling"))


async def test_a_row_that_takes_a_while_says_so_in_place_of_the_one_before(tmp_path: Path) -> None:
    store, id = saved(tmp_path, FIRST_ANSWERS, "people")
    slow = Slow()
    app = StillroomApp(store, id, slow)
    async with app.run_test(size=NARROW) as pilot:
        await press(pilot, "ctrl+l", "left")
        await settle(pilot)
        assert screen_text(app).count("boards on isolation clips") == 2
        await press(pilot, "down")
        for _ in range(100):
            if "Working it out …" in screen_text(app):
                break
            await pilot.pause(0.05)
        assert screen_text(app).count("boards on isolation clips") == 1
        assert "Working it out …" in screen_text(app)
        slow.go.set()
        await settle(pilot)
        assert screen_text(app).count("an independent ceiling") == 2
        assert "Working it out …" not in screen_text(app)


def test_the_trade_terms_of_a_page_are_explained_under_it() -> None:
    page = [Line(Part.TEXT, "The weakest way by 8 dB: lid."), Line(Part.CHART, "leaf")]
    told = [line.text for line in with_words(page, 80)]
    assert told[: len(page)] == [line.text for line in page]
    assert "lid: the ceiling of the new room" in told
    assert not any(line.startswith("leaf:") for line in told)
    assert with_words([Line(Part.TEXT, "Nothing.")], 80) == [Line(Part.TEXT, "Nothing.")]
