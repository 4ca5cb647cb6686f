"""The plan to read: Markdown laid out once, in a worker, into lines that scroll.

Textual's own Markdown widget makes a widget of every paragraph and table cell; for a whole plan that took nine seconds, this half of one.
"""

from __future__ import annotations

from io import StringIO

from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

WIDEST = 100  # columns; longer lines of prose tire the eye
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


def lay_out(text: str, width: int) -> list[Strip]:
    """The lines of a plan at a width. Slow enough for a worker, and its imports too."""
    from rich.console import Console
    from rich.theme import Theme

    from wizard.widgets.plan_markdown import PlanMarkdown

    console = Console(width=width, file=StringIO(), theme=Theme(STYLES), force_terminal=True)
    return [Strip(line) for line in console.render_lines(PlanMarkdown(text, hyperlinks=False), pad=False)]


class PlanPreview(ScrollView, can_focus=True):
    """Shows lines that were laid out before."""

    def __init__(self) -> None:
        super().__init__(id="preview")
        self._lines: list[Strip] = []

    @property
    def text_width(self) -> int:
        """The width to lay out for; a column is left for the scroll bar."""
        return max(20, min(WIDEST, self.size.width - 1))

    def show(self, lines: list[Strip]) -> None:
        self._lines = lines
        self.virtual_size = Size(self.text_width, len(lines))
        self.refresh()

    def render_line(self, y: int) -> Strip:
        row = y + self.scroll_offset.y
        style = self.rich_style
        line = self._lines[row] if row < len(self._lines) else Strip.blank(0)
        return line.apply_style(style).extend_cell_length(self.size.width, style).crop(0, self.size.width)
