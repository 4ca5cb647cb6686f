"""The plan to read: Markdown laid out once, in a worker, into lines that scroll.

Textual's own Markdown widget makes a widget of every paragraph and table cell; for a whole plan that took nine seconds, this half of one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from io import StringIO

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

WIDEST = 100  # columns; longer lines of prose tire the eye
HERE, THERE = Style(reverse=True, bold=True), Style(underline=True, bold=True)  # the words looked for: on show, and elsewhere
STYLES = {
    "markdown.h1": "bold",
    "markdown.h2": "bold underline",
    "markdown.h3": "bold",
    "markdown.item.bullet": "bold",
    "markdown.item.number": "bold",
    "markdown.code": "bold",
    "markdown.table.header": "bold",
    "markdown.table.border": "dim",
}


LOWEST = 3  # the level of headings down to which sections are listed
SECTION = "section"  # the key under which the style of a heading's letters carries its level


@dataclass(frozen=True)
class Section:
    """A heading of the plan: the row it begins in, its level from 1, its words."""

    row: int
    level: int
    title: str


def sections(lines: Sequence[Strip]) -> list[Section]:
    """The headings among the lines down to the third level, one that runs over several lines in one."""
    found: list[Section] = []
    last = -2
    for row, line in enumerate(lines):
        level = next((segment.style.meta[SECTION] for segment in line if segment.style and segment.style.meta.get(SECTION)), 0)
        level = level if level <= LOWEST else 0
        if level and row == last + 1 and found[-1].level == level:
            found[-1] = Section(found[-1].row, level, f"{found[-1].title} {line.text.strip()}")
        elif level:
            found.append(Section(row, level, line.text.strip()))
        last = row if level else last
    return found


def lay_out(text: str, width: int) -> list[Strip]:
    """The lines of a plan at a width. Slow enough for a worker, and its imports too."""
    from rich.console import Console
    from rich.theme import Theme

    from wizard.widgets.plan_markdown import PlanMarkdown

    console = Console(width=width, file=StringIO(), theme=Theme(STYLES), force_terminal=True)
    return [Strip(line) for line in console.render_lines(PlanMarkdown(text, hyperlinks=False), pad=False)]


def found(lines: Sequence[str], words: str) -> list[tuple[int, int]]:
    """Row and column of each place where words begin, in any case; words may run on into the next line."""
    wanted = " ".join(words.casefold().split())
    if not wanted:
        return []
    out = []
    for row, line in enumerate(lines):
        text = line.casefold()
        here = text.rstrip()
        after = lines[row + 1].casefold().strip() if row + 1 < len(lines) else ""
        column = f"{here} {after}".find(wanted)
        if 0 <= column < len(here):
            out.append((row, column))
    return out


def marked(line: Strip, column: int, length: int, look: Style) -> Strip:
    """A line with the letters from ``column`` on in another look; wide signs take two columns."""
    first = cell_len(line.text[:column])
    last = first + cell_len(line.text[column : column + length])
    before, rest = line.crop(0, first), line.crop(first, last)
    return Strip.join([before, Strip(Segment.apply_style(rest, post_style=look)), line.crop(last, line.cell_length)])


class PlanPreview(ScrollView, can_focus=True):
    """Shows lines that were laid out before."""

    def __init__(self) -> None:
        super().__init__(id="preview")
        self._lines: list[Strip] = []
        self._sections: list[Section] = []
        self._words = ""
        self._found: list[tuple[int, int]] = []  # row and column of each place where the words begin
        self._at = -1  # which of them is on show

    @property
    def text_width(self) -> int:
        """The width to lay out for; a column is left for the scroll bar."""
        return max(20, min(WIDEST, self.size.width - 1))

    def show(self, lines: list[Strip]) -> None:
        """Lines for another width are shown from the same place of the text on."""
        top, at = self._place(), self._at
        self._lines, self._sections = lines, sections(lines)
        self.virtual_size = Size(self.text_width, len(lines))
        if self.mark(self._words) > at:
            self._at = at
        self.scroll_to(y=self._row(*top), animate=False)

    def _place(self) -> tuple[int, float]:
        """The section at the top of what is seen, and the share of it that is above."""
        ends = self._ends()
        at = min(max(0, bisect_right(ends, self.scroll_offset.y) - 1), len(ends) - 2)
        return at, (self.scroll_offset.y - ends[at]) / max(1, ends[at + 1] - ends[at])

    def _row(self, at: int, share: float) -> int:
        ends = self._ends()
        at = min(at, len(ends) - 2)
        return round(ends[at] + share * (ends[at + 1] - ends[at]))

    def _ends(self) -> list[int]:
        """The row where each section begins, the lines before the first among them, and the end."""
        return [0, *(section.row for section in self._sections if section.row), len(self._lines)]

    @property
    def sections(self) -> list[Section]:
        return self._sections

    def go(self, section: int) -> None:
        """Scroll to a section."""
        self.scroll_to(y=self._sections[section].row, animate=False)

    @property
    def here(self) -> int:
        """The section at the top of what is seen."""
        return max(0, bisect_right([section.row for section in self._sections], self.scroll_offset.y) - 1)

    def mark(self, words: str) -> int:
        """Mark every line in which these words begin, and return how many there are; none for no words."""
        self._words = words
        self._found = found([line.text for line in self._lines], words)
        self._at = -1
        self.refresh()
        return len(self._found)

    @property
    def found_count(self) -> int:
        return len(self._found)

    def turn(self, step: int) -> int:
        """Scroll to the next marked line, around the end; its number, from 1, or 0 where nothing is marked.

        The first is the one at or below the top of what is seen."""
        if not self._found:
            return 0
        rows = [row for row, _ in self._found]
        if self._at < 0:
            self._at = next((n for n, row in enumerate(rows) if row >= self.scroll_offset.y), 0)
        else:
            self._at = (self._at + step) % len(rows)
        self.scroll_to(y=max(0, rows[self._at] - 2), animate=False)
        self.refresh()
        return self._at + 1

    def render_line(self, y: int) -> Strip:
        row = y + self.scroll_offset.y
        style = self.rich_style
        line = self._lines[row] if row < len(self._lines) else Strip.blank(0)
        for place, (at, column) in enumerate(self._found):
            if at == row:
                line = marked(line, column, len(self._words), HERE if place == self._at else THERE)
        return line.apply_style(style).extend_cell_length(self.size.width, style).crop(0, self.size.width)
