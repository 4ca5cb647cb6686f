"""Every screen at two sizes: nothing cut off, and as plain text for the reader of a change (goldens/)."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_kit import FIRST_ANSWERS, NARROW, WIDE, check_golden_soon, clipped, enter, make_app, press, screen_text, settle

from wizard.interview import engine
from wizard.interview.question import Question
from wizard.screens.interview import Interview

SIZES = {"80x24": NARROW, "120x40": WIDE}
EVERYTHING = {
    **FIRST_ANSWERS,
    "listeners": "bedroom_above, living_above, rest_of_basement, attached_neighbour, garden_neighbour",
    "side_2": "party",
    "corners_measured": "yes",
    "obstructions": "beam, duct, pipe, slope",
    "appliance": "natural draft",
    "panel": "in the area",
    "escape": "window",
    "well": "yes",
    "labour": "hired",
}


def room_asked(question: Question) -> int:
    """About how many rows a question takes beside its explanation."""
    return len(question.text) // 76 + (min(len(question.choices), 7) if question.choices else 3 + (question.low is not None))


@pytest.mark.parametrize("size", [NARROW, WIDE], ids=SIZES.keys())
async def test_every_question_shows_itself_and_its_control_whole(tmp_path: Path, size: tuple[int, int]) -> None:
    app = make_app(tmp_path, EVERYTHING, "shell_length")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        page = app.screen
        assert isinstance(page, Interview)
        asked = engine.applicable(page.answers)
        hungry = sorted(asked, key=lambda question: -room_asked(question))[:20]
        for question in [*hungry, *asked[::6]] if size == NARROW else asked[::8]:
            page.go_to(question.id)
            await settle(pilot)
            assert clipped(app) == [], question.id
            for part in ("#question", "#control", "#notes", "#verdict", "#keys"):
                if page.query_one(part).display:
                    place = page.find_widget(page.query_one(part))
                    assert place.visible_region == place.region, (question.id, part)
            assert page.query_one("#about").region.height >= 1, question.id
    assert len(asked) > 75


@pytest.mark.parametrize("size", ["80x24", "120x40"])
async def test_goldens(tmp_path: Path, size: str) -> None:
    app = make_app(tmp_path / "empty")
    async with app.run_test(size=SIZES[size]) as pilot:
        await check_golden_soon(pilot, f"empty-{size}")
    app = make_app(tmp_path / "begun", {"shell_length": "20'"}, "shell_width")
    async with app.run_test(size=SIZES[size]) as pilot:
        await enter(pilot, "14 elephants")
        await check_golden_soon(pilot, f"error-{size}")
        assert clipped(app) == []
        await press(pilot, "escape")
        await check_golden_soon(pilot, f"list-{size}")
    app = make_app(tmp_path / "full", FIRST_ANSWERS, "people")
    async with app.run_test(size=SIZES[size]) as pilot:
        await settle(pilot)
        await enter(pilot, "5")
        await settle(pilot)
        await check_golden_soon(pilot, f"typed-{size}")
        await press(pilot, "f4")
        await check_golden_soon(pilot, f"jump-{size}")
        assert clipped(app) == []
        await press(pilot, "escape", "f1")
        await check_golden_soon(pilot, f"help-{size}")
        await press(pilot, "escape", "f5")
        await check_golden_soon(pilot, f"answers-{size}")
        assert clipped(app) == []


@pytest.mark.parametrize("size", ["80x24", "120x40"])
async def test_goldens_of_verdict_choice_and_plan(tmp_path: Path, size: str) -> None:
    app = make_app(tmp_path, {key: text for key, text in FIRST_ANSWERS.items() if key != "budget"}, "budget")
    async with app.run_test(size=SIZES[size]) as pilot:
        await enter(pilot, "25k")
        await settle(pilot)
        await check_golden_soon(pilot, f"first-verdict-{size}")
        assert clipped(app) == []
        await press(pilot, "enter")
        await settle(pilot)
        await check_golden_soon(pilot, f"choice-{size}")
        await press(pilot, "ctrl+l")
        await settle(pilot)
        await check_golden_soon(pilot, f"how-quiet-{size}")
        assert clipped(app) == []
        await press(pilot, "escape", "f6")
        await settle(pilot)
        await check_golden_soon(pilot, f"plan-{size}")
        assert clipped(app) == []


async def test_any_size_from_80_by_24_to_200_by_60_shows_every_control_whole(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        for keys in ((), ("f5",), ("escape", "f6"), ("ctrl+l",)):
            await press(pilot, *keys)
            for size in ((99, 31), (200, 60), (200, 24), NARROW):
                await pilot.resize_terminal(*size)
                await settle(pilot)
                assert clipped(app) == [], (keys, size)


async def test_a_resize_moves_the_verdict_and_loses_no_keystroke(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await press(pilot, "1", "2")
        await pilot.resize_terminal(*WIDE)
        await settle(pilot)
        assert app.screen.query_one("#verdict").region.x > 60
        for size in ((20, 6), (200, 60), NARROW):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert app.screen.query_one("#verdict").region.x == 0
        assert app.screen.query_one("#typed").value == "12"  # type: ignore[attr-defined]


async def test_no_colour_loses_no_meaning(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(tmp_path, FIRST_ANSWERS, "listeners")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        text = screen_text(app)
        assert app.no_color
        assert all(word in text for word in ("good ", "caution ", "stop ", "[x] bedroom above", "[ ] attached neighbour"))


async def test_a_key_in_the_line_at_the_bottom_is_pressed_by_a_click(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        column = screen_text(app).splitlines()[-1].index("F5")
        await pilot.click(offset=(column, 23))
        await settle(pilot)
        assert "all answers" in screen_text(app)
