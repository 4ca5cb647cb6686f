"""A terminal or locale that knows only ASCII is sent nothing else, on any screen, and nothing moves out of its column."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len
from tui_kit import FIRST_ANSWERS, NARROW, assessed, first_answers, make_app, press, screen_text, settle

from wizard.preview import preview_text
from wizard.terminal import in_ascii, only_ascii
from wizard.widgets.plan_preview import lay_out

NAMES = ("Café Müller", "家の音楽室", "مرحبا", "👩‍👩‍👧 room", "e\u0301tude", "a\u200bb", "x [b]y", "1 ± 2 °F ≤ 3 …", "naïve… é家…")


@pytest.mark.parametrize(
    ("environ", "encoding", "bare"),
    [
        ({"TERM": "linux", "LANG": "en_US.UTF-8"}, "utf-8", True),
        ({"TERM": "xterm-256color", "LANG": "C"}, "utf-8", True),
        ({"TERM": "xterm-256color", "LANG": "C", "LC_CTYPE": "C.UTF-8"}, "utf-8", True),  # as Python leaves it when started with LANG=C
        ({"TERM": "screen-256color", "LC_ALL": "POSIX", "LANG": "de_DE.UTF-8"}, "utf-8", True),
        ({"TERM": "xterm", "LANG": "en_US"}, "latin-1", True),
        ({"TERM": "xterm-256color", "LANG": "C.UTF-8"}, "utf-8", False),
        ({"TERM": "xterm-256color", "LANG": "C", "LC_CTYPE": "en_US.UTF-8"}, "utf-8", False),
        ({"TERM": "tmux-256color"}, "UTF-8", False),
    ],
)
def test_what_terminal_and_locale_say(environ: dict[str, str], encoding: str, bare: bool) -> None:
    assert only_ascii(environ, encoding) is bare


@pytest.mark.parametrize("name", NAMES)
def test_every_sign_keeps_its_columns(name: str) -> None:
    assert in_ascii(name).isascii()
    assert cell_len(in_ascii(name)) == cell_len(name)


def test_letters_keep_what_can_be_kept() -> None:
    assert in_ascii("Café “Müller” × 2 …") == 'Cafe "Muller" x 2..'
    assert in_ascii("│ ●● ┤ ███ │") == "| oo + ### |"


def test_the_figures_of_the_plan_can_be_read_in_ascii() -> None:
    """Curve, limit and legend are told apart by other signs, not by the same one twice."""
    import datetime

    lines = lay_out(preview_text(assessed(), first_answers(), datetime.date(2026, 2, 3)), 80)
    text = "\n".join(in_ascii(line.text) for line in lines)
    assert text.isascii()
    assert "oo air as planned   xx air off   -- your limit" in text
    assert "?" not in text.replace("?", "", sum(line.text.count("?") for line in lines))


async def test_no_screen_sends_anything_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    app = make_app(tmp_path, FIRST_ANSWERS, "people", name=" ".join(NAMES))
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        for keys in ((), ("f1",), ("escape", "f4"), ("escape", "f5"), ("escape", "f6"), ("escape", "ctrl+l"), ("right",), ("right",)):
            await press(pilot, *keys)
            await settle(pilot)
            text = screen_text(app)
            assert text.isascii(), keys
            assert all(len(line) <= NARROW[0] for line in text.splitlines())
        await press(pilot, "escape", "ctrl+p")
        await pilot.pause(0.3)
        assert screen_text(app).isascii()
