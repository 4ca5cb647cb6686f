"""What is drawn piece by piece, as an answer changes this and that, is what would be drawn anew."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual._compositor import ChopsUpdate, Compositor, LayoutUpdate
from textual.strip import Strip
from tui_kit import DRAW, FIRST_ANSWERS, NARROW, WIDE, make_app, press, settle

from wizard.screens.interview import Interview
from wizard.widgets.controls import TypedAnswer

Cell = tuple[str, str]
ANSWERS = {
    "people": "345",
    "shell_height": ("7-2", "7-6"),
    "joist_kind": ("sawn", "truss"),
    "hours": ("day", "night"),
    "budget": ("9k", "30k"),
}


class Terminal:
    """Keeps what was drawn, sign by sign; none here is two columns wide."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], Cell] = {}

    def draw(self, compositor: Compositor, *given: Any, **more: Any) -> Any:
        update = DRAW(compositor, *given, **more)
        if isinstance(update, ChopsUpdate):
            for y, left, right in update.spans:
                for x, strip in update.chops[y].items():
                    drawn = enumerate(cells(strip), x) if strip is not None else ()
                    self.cells.update({(at, y): cell for at, cell in drawn if left <= at < right})
        elif isinstance(update, LayoutUpdate):
            self.cells = whole([Strip.join(row) for row in update.strips])
        return update


def cells(strip: Strip) -> Iterator[Cell]:
    for segment in strip:
        yield from ((sign, str(segment.style)) for sign in segment.text)


def whole(strips: list[Strip]) -> dict[tuple[int, int], Cell]:
    return {(x, y): cell for y, strip in enumerate(strips) for x, cell in enumerate(cells(strip))}


def rows(seen: dict[tuple[int, int], Cell]) -> list[str]:
    return ["".join(seen[x, row][0] for x, row in sorted(at for at in seen if at[1] == y)) for y in sorted({y for _, y in seen})]


@pytest.mark.parametrize("size", [NARROW, (100, 26), WIDE], ids=str)
async def test_what_is_drawn_piece_by_piece_is_what_would_be_drawn_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int]
) -> None:
    terminal, choose = Terminal(), random.Random(str(size))
    monkeypatch.setattr(Compositor, "render_update", lambda *given, **more: terminal.draw(*given, **more))
    monkeypatch.setattr(TypedAnswer, "cursor_blink", False)
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, Interview)
        for _ in range(12):
            question = choose.choice(list(ANSWERS))
            screen.go_to(question)
            await settle(pilot)
            screen.take(choose.choice(ANSWERS[question]))
            if choose.random() < 0.3:
                await settle(pilot)
                await press(pilot, choose.choice(("ctrl+z", "7", "f7", "f2")))
            await settle(pilot)
            drawn = dict(terminal.cells)
            for widget in screen.walk_children(with_self=True):
                widget.refresh(layout=True)
            await settle(pilot)
            anew = whole(screen._compositor.render_strips())
            assert rows(drawn) == rows(anew)
            assert drawn == anew
