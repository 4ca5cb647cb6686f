"""Our own colours: slate and copper by night, paper by day, and a plain one of high contrast.

None of them is an ANSI theme: with NO_COLOR an ANSI theme turns black on black. No meaning hangs on a colour alone;
every state is also a word. ``muted`` is for what is second in a piece of text: Textual's own text-muted comes out there as bright as white.
"""

from __future__ import annotations

from textual.theme import Theme

NARROW = 100  # columns below which the verdict stands under the question; the breakpoint of the application

NIGHT = Theme(
    name="stillroom-night",
    primary="#d8a26a",
    secondary="#8fb3a6",
    accent="#e0b586",
    foreground="#e8e2d6",
    background="#171b1c",
    surface="#1e2425",
    panel="#283031",
    success="#93c08a",
    warning="#e3bd63",
    error="#e58a78",
    dark=True,
    variables={
        "muted": "#b0b3ab",
        "block-cursor-background": "#d8a26a",
        "block-cursor-foreground": "#171b1c",
        "block-cursor-text-style": "bold",
        "block-cursor-blurred-background": "#3a4243",
        "block-cursor-blurred-foreground": "#e8e2d6",
        "footer-key-foreground": "#e0b586",
        "footer-background": "#283031",
        "input-selection-background": "#8fb3a6 35%",
        "border": "#8fb3a6",
        "border-blurred": "#4a5556",
    },
)

DAY = Theme(
    name="stillroom-day",
    primary="#8a4b16",
    secondary="#2f5d50",
    accent="#8a4b16",
    foreground="#24211c",
    background="#f6f1e6",
    surface="#efe8d9",
    panel="#e4dbc8",
    success="#2d6a2a",
    warning="#7a5200",
    error="#9c2b18",
    dark=False,
    variables={
        "muted": "#5a5548",
        "block-cursor-background": "#8a4b16",
        "block-cursor-foreground": "#ffffff",
        "block-cursor-text-style": "bold",
        "footer-key-foreground": "#8a4b16",
        "footer-background": "#e4dbc8",
        "border": "#2f5d50",
        "border-blurred": "#a39a86",
    },
)

CONTRAST = Theme(
    name="stillroom-contrast",
    primary="#ffff00",
    secondary="#00ffff",
    accent="#ffff00",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#101010",
    success="#00ff00",
    warning="#ffff00",
    error="#ff8080",
    dark=True,
    variables={
        "muted": "#d8d8d8",
        "block-cursor-background": "#ffff00",
        "block-cursor-foreground": "#000000",
        "block-cursor-text-style": "bold",
        "footer-key-foreground": "#ffff00",
        "border": "#ffffff",
        "border-blurred": "#aaaaaa",
    },
)

THEMES = {NIGHT.name: (NIGHT, "night"), DAY.name: (DAY, "day"), CONTRAST.name: (CONTRAST, "high contrast")}
