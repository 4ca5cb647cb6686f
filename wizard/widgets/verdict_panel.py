"""The verdict so far: one line for each thing that decides, and the open question that would change it most.

Wide, it stands beside the question, a few rows to a line; narrow, it is a strip below, one row to a line. All states are
words; a line that the last answer moved says what it was before.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual.content import Content
from textual.widgets import Static

if TYPE_CHECKING:
    from textual import events

    from wizard.interview.verdict import Verdict, VerdictLine

NARROW = 100  # columns below which the panel becomes a strip; the breakpoint of the app
STATE_STYLES = {"good": "$text-success", "caution": "$text-warning", "stop": "bold $text-error", "open": "$text-muted"}


def changes(before: Verdict | None, after: Verdict) -> dict[str, str]:
    """What each moved line said before, by the line's name. Nothing before means nothing moved."""
    if before is None:
        return {}
    old = {line.name: line for line in before.lines}
    return {
        line.name: old[line.name].value
        for line in after.lines
        if line.name in old and (old[line.name].value, old[line.name].state) != (line.value, line.state)
    }


class VerdictPanel(Static):
    """Shows what it is told; computes nothing."""

    DEFAULT_CSS = """
    VerdictPanel { height: auto; }
    """

    def __init__(self) -> None:
        super().__init__(markup=False, id="verdict")
        self.border_title = "Verdict so far"
        self._note = ""
        self._verdict: Verdict | None = None
        self._was: Mapping[str, str] = {}
        self._telling = ""

    def show_note(self, note: str) -> None:
        """A sentence in place of a verdict: how many answers remain, or what keeps it from being computed."""
        self._note, self._verdict, self._was, self._telling = note, None, {}, ""
        self._redraw()

    def show_verdict(self, verdict: Verdict, was: Mapping[str, str]) -> None:
        self._note, self._verdict, self._was = "", verdict, was
        self._redraw()

    def show_working(self, working: bool) -> None:
        self.border_subtitle = "working it out …" if working else ""

    def show_telling(self, sentence: str) -> None:
        """The open question that would change this most; empty while it is not known."""
        self._telling = sentence
        self._redraw()

    def on_resize(self, event: events.Resize) -> None:
        self._redraw()

    def _redraw(self) -> None:
        if self._verdict is None:
            self.update(Content(self._note))
            return
        narrow = self.app.size.width < NARROW
        parts = rows(self._verdict, self._was) if narrow else blocks(self._verdict, self._was)
        if self._telling:
            parts.append(Content.assemble(("F8 ", "bold $text-accent"), self._telling))
        self.update(Content("\n" if narrow else "\n\n").join(parts))


def rows(verdict: Verdict, was: Mapping[str, str]) -> list[Content]:
    """One row a line, in columns."""
    names = max(cell_len(line.name) for line in verdict.lines)
    values = max(cell_len(line.value) for line in verdict.lines)
    return [
        Content.assemble(
            _padded(line.name, names + 2),
            (_padded(line.value, values + 2), "bold"),
            _state(line),
            (f"  was {was[line.name]}" if line.name in was else "", "italic $text-accent"),
            (f"  {line.limit}" if line.limit else "", "$text-muted"),
        )
        for line in verdict.lines
    ]


def blocks(verdict: Verdict, was: Mapping[str, str]) -> list[Content]:
    """Two or three rows a line."""
    return [
        Content.assemble(
            (line.name, "$text-muted"),
            "  ",
            _state(line),
            "\n",
            (line.value, "bold"),
            (f"  was {was[line.name]}" if line.name in was else "", "italic $text-accent"),
            (f"\n{line.limit}" if line.limit else "", "$text-muted"),
        )
        for line in verdict.lines
    ]


def _state(line: VerdictLine) -> tuple[str, str]:
    return line.state, STATE_STYLES[line.state]


def _padded(text: str, width: int) -> str:
    return text + " " * max(1, width - cell_len(text))
