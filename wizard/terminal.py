"""What the terminal is sent: nothing that commands it, no signs that it measures in its own way, ASCII where it knows no more.

Filters over everything that is drawn, so that no screen, figure or name needs a care of its own. Every line keeps its columns.
"""

from __future__ import annotations

import os
import re
import sys
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

BARE_TERMINALS = ("linux", "dumb", "vt100", "vt102", "vt220", "ansi")  # the console's own font lacks most signs; the others have no more
COMMANDS = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2028\u2029\u2060-\u206f\ufeff]")
JOINED = re.compile("(?:\u200d[\u2600-\u27bf\U0001f000-\U0001faff])|[\ufe00-\ufe0f\U0001f3fb-\U0001f3ff]")
BARE_LOCALES = ("C", "POSIX")
SIGNS = str.maketrans(
    {
        **dict.fromkeys("─━═╌╍┄┈▔–—−‐‑", "-"),
        **dict.fromkeys("│┃║┆┊▊▎▌▐▏▕", "|"),
        **dict.fromkeys("┌┐└┘├┤┬┴┼╭╮╰╯╞╡╪┏┓┗┛┣┫┳┻╋┡┩╇╔╗╚╝╠╣╦╩╬", "+"),
        **dict.fromkeys("█■▉▋▍", "#"),
        **dict.fromkeys("░▒▓", "="),
        **dict.fromkeys("▂▃▄▅▆▇▀", " "),  # the ends of a scroll bar
        **dict.fromkeys("●○°◦", "o"),
        **dict.fromkeys("“”„", '"'),
        **dict.fromkeys("‘’", "'"),
        **dict(zip("▁×·•…→←↑↓±≤≥²³µΩßØø\N{NO-BREAK SPACE}🔎", "_x.*~><^v~<>23uOsOo >", strict=True)),
    }
)


def only_ascii(environ: Mapping[str, str] = os.environ, encoding: str | None = None) -> bool:
    """Whether this terminal or locale knows no other signs.

    Python turns the locale C into C.UTF-8 for itself as it starts; what the person asked for is then still in LANG. A locale that is
    not set at all says nothing.
    """
    if environ.get("TERM", "") in BARE_TERMINALS:
        return True
    encoding = encoding or getattr(sys.__stdout__, "encoding", None) or "utf-8"
    if not encoding.casefold().replace("-", "").startswith("utf"):
        return True
    named = [environ.get(name, "") for name in ("LC_ALL", "LC_CTYPE", "LANG")]
    asked = next((name for name in named if name), "")
    return asked in BARE_LOCALES or (asked == "C.UTF-8" and named[2] in BARE_LOCALES)


@lru_cache(maxsize=4096)
def in_ascii(text: str) -> str:
    """Text in ASCII, in as many columns: the nearest sign, a letter without its accents, or a question mark."""
    if text.isascii():
        return text
    shown = unicodedata.normalize("NFKD", text.replace(" …", "..").translate(SIGNS))
    plain = "".join(sign if sign.isascii() else "?" * cell_len(sign) for sign in shown)
    return set_cell_size(plain, cell_len(text))


class Harmless(LineFilter):
    """Draws no control characters and turns no direction of writing; of signs joined into one picture draws the first."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [
            each if each.text.isascii() and each.text.isprintable() else Segment(drawn(each.text), each.style, each.control)
            for each in segments
        ]


@lru_cache(maxsize=4096)
def drawn(text: str) -> str:
    """Text as every terminal measures it, in as many columns as it was given."""
    plain = COMMANDS.sub("", JOINED.sub("", text))
    return text if plain == text else set_cell_size(plain, cell_len(text))


class Ascii(LineFilter):
    """Draws in ASCII."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(in_ascii(text), style, control) for text, style, control in segments]
