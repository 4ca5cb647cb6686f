"""Text can be read in every one of our themes.

Contrast ratio and the limit of 4.5 for text: W3C, Web Content Accessibility Guidelines 2.1, 2018, success criterion 1.4.3.
"""

from __future__ import annotations

from pathlib import Path

from rich.color import Color
from tui_kit import FIRST_ANSWERS, NARROW, WIDE, enter, flush, make_app, press, settle

from wizard.app import StillroomApp
from wizard.theme import THEMES

LEAST = 4.5
DRAWN = set(" ─│╭╮╰╯▊▎▔▁▂▃▄▅▆▇█")  # frames and scroll bars


def luminance(colour: Color) -> float:
    """WCAG 2.1, definition of relative luminance."""
    parts = [part / 255 for part in colour.get_truecolor()]
    red, green, blue = (part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def faint(app: StillroomApp) -> list[tuple[str, float]]:
    """Every text on the screen whose contrast is too low."""
    found = []
    for strip in app.screen._compositor.render_strips():
        for text, style, _ in strip:
            if style and style.color and style.bgcolor and set(text) - DRAWN:
                dark, light = sorted((luminance(style.color), luminance(style.bgcolor)))
                ratio = (light + 0.05) / (dark + 0.05)
                if ratio < LEAST:
                    found.append((text.strip(), round(ratio, 1)))
    return found


async def test_every_text_has_contrast_in_every_theme(tmp_path: Path) -> None:
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=NARROW) as pilot:
        await settle(pilot)
        await enter(pilot, "5")
        await enter(pilot, "elephants")
        for keys in (
            (),
            ("f4",),
            ("escape", "f1"),
            ("escape", "f5"),
            ("n",),
            ("enter",),
            ("f3", "f3"),
            ("f6",),
            ("ctrl+l",),
            ("right",),
            ("right",),
        ):
            await press(pilot, *keys)
            await settle(pilot)
            for theme in THEMES:
                app.theme = theme
                await flush(pilot)
                assert faint(app) == [], (keys, theme)


async def test_what_a_line_is_held_against_is_fainter_than_what_it_says(tmp_path: Path) -> None:
    """So that the eye finds the verdict; with high contrast it is nearly as bright."""
    app = make_app(tmp_path, FIRST_ANSWERS, "people")
    async with app.run_test(size=WIDE) as pilot:
        await settle(pilot)
        for theme in THEMES:
            app.theme = theme
            await flush(pilot)
            seen = {}
            for strip in app.screen._compositor.render_strips():
                for text, style, _ in strip:
                    if style and style.color and style.bgcolor:
                        dark, light = sorted((luminance(style.color), luminance(style.bgcolor)))
                        seen[text.strip()] = (light + 0.05) / (dark + 0.05)
            value, limit = (next(ratio for text, ratio in seen.items() if text.startswith(words)) for words in ("34 dBA", "target 30"))
            assert limit < value, theme
