"""What the terminal can show: ASCII in place of all other signs where it knows no more.

One filter over everything that is drawn, so that no screen, figure or name needs a second way of writing. Every sign keeps its columns.
"""

from __future__ import annotations

import os
import sys
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

BARE_TERMINALS = ("linux", "dumb", "vt100", "vt102", "vt220", "ansi")  # the console's own font lacks most signs; the others have no more
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
        **dict(zip("▁×·•…→←↑↓±≤≥²³µΩßØø\N{NO-BREAK SPACE}", "_x.*~><^v~<>23uOsOo ", strict=True)),
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


class Ascii(LineFilter):
    """Draws in ASCII."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(in_ascii(text), style, control) for text, style, control in segments]
