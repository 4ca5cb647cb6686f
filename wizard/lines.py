"""Pages as lines of text for any width: what a line is, headed sections, hanging text. No Textual here."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from rich.cells import cell_len, set_cell_size

from wizard.glossary import used

LEAST_TEXT, WIDEST_TEXT = 40, 96


class Part(Enum):
    """What a line is, for whoever gives it a look."""

    HEADING = "heading"
    CHART = "chart"
    TEXT = "text"
    ASIDE = "aside"


@dataclass(frozen=True)
class Line:
    part: Part
    text: str


class Page(Protocol):
    """A list to choose from, and all about the chosen row."""

    @property
    def start(self) -> int:
        """The row to begin with."""

    def rows(self, width: int) -> tuple[str, ...]:
        """A heading and the rows; only the heading, a sentence, where there is nothing to tell; nothing for a page of one piece."""

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        """All about one row, its chart whole where there are ``height`` lines. May be slow the first time."""


def text_width(width: int) -> int:
    """Longer lines of prose tire the eye."""
    return max(LEAST_TEXT, min(WIDEST_TEXT, width))


def hung(lead: str, text: str, width: int) -> list[str]:
    """Text behind a lead, further lines set in as far."""
    return textwrap.wrap(text, width, initial_indent=lead, subsequent_indent=" " * cell_len(lead)) or [lead.rstrip()]


def section(heading: str, blocks: Sequence[list[str]], part: Part = Part.TEXT, first: bool = False) -> list[Line]:
    """A heading with its lines; nothing at all where there are none. The ``first`` one of a page has no gap above it."""
    lines = [Line(part, line) for block in blocks for line in block]
    gap = [] if first else [Line(Part.TEXT, "")]
    return [*gap, Line(Part.HEADING, heading), *lines] if lines else []


def with_words(lines: Sequence[Line], width: int) -> list[Line]:
    """The page, and under it the trade terms that its prose uses, each explained."""
    text = " ".join(line.text for line in lines if line.part is not Part.CHART)
    return [*lines, *section("What the words mean", [hung("", f"{term.name}: {term.meaning}", text_width(width)) for term in used(text)])]


def cut(name: str, room: int) -> str:
    """A name as one line that fills ``room`` columns, wide signs counted as two."""
    line = "".join(sign if sign.isprintable() else " " for sign in " ".join(name.split()))
    return set_cell_size(line if cell_len(line) <= room else set_cell_size(line, room - 1).rstrip() + "…", room)
