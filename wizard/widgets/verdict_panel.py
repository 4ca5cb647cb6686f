"""The verdict so far: one line for each thing that decides, and the open question that would change it most.

Wide, it stands beside the question, a few rows to a line; narrow, it is a strip below, one row to a line. All states are
words; a line that the last answer moved says what it was before.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from textual.content import Content
from textual.widgets import Static

if TYPE_CHECKING:
    from textual import events

    from wizard.interview.verdict import Verdict, VerdictLine

WORKING, SEARCHING = "working it out", "looking for the question that matters most"
NARROW = 100  # columns below which the panel becomes a strip; the breakpoint of the app
FRAMES = {"beside": 4, "strip": 8}  # columns that the border and the paddings around it take: under a question, on a page
STATE_STYLES = {"good": "$text-success", "caution": "$text-warning", "stop": "bold $text-error", "open": "$text-muted"}


def changes(before: Verdict | None, after: Verdict) -> dict[str, str]:
    """What each moved line said before, by its name now. Nothing before means nothing moved."""
    if before is None:
        return {}
    return {
        new.name: old.value if old.name == new.name else f"{old.value} ({old.name})"
        for old, new in zip(before.lines, after.lines, strict=False)
        if (old.name, old.value) != (new.name, new.value)
    }


class VerdictPanel(Static):
    """Shows what it is told; computes nothing."""

    DEFAULT_CSS = """
    VerdictPanel { height: auto; }
    """

    def __init__(self, form: Literal["beside", "strip", "page"] = "beside") -> None:
        """``beside`` the question, and a strip where that is narrow; always a ``strip``; or on a ``page`` of its own, no line cut."""
        super().__init__(markup=False, id="verdict")
        self._form = form
        self.border_title = "Verdict" if form == "strip" else "Verdict so far"
        self._note = ""
        self._verdict: Verdict | None = None
        self._was: Mapping[str, str] = {}
        self._telling = ""

    def show_note(self, note: str) -> None:
        """A sentence in place of a verdict: how many answers remain, or what keeps it from being computed."""
        self._note, self._verdict, self._was, self._telling = note, None, {}, ""
        self._redraw()

    def show_verdict(self, verdict: Verdict, was: Mapping[str, str]) -> None:
        self._note, self._verdict, self._was, self._telling = "", verdict, was, ""
        if self._form == "beside":
            self.border_title = "Verdict so far · ^L: how quiet"
        self._redraw()

    def show_working(self, what: str) -> None:
        """What is being worked out; empty when nothing is."""
        self.border_subtitle = f"{what} …" if what else ""

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
        width = self.app.size.width
        form = "strip" if self._form == "beside" and width < NARROW else self._form
        parts = [(block if form == "beside" else row)(line, self._was.get(line.name, "")) for line in self._verdict.lines]
        if form == "strip":
            parts = [part.truncate(max(20, width - FRAMES[self._form]), ellipsis=True) for part in parts]
        if self._telling:
            parts.append(Content.assemble((self._telling, "$text-accent"), "" if form == "page" else " (F8 goes there)"))
        self.update(Content("\n\n" if form == "beside" else "\n").join(parts))


def row(line: VerdictLine, was: str) -> Content:
    """One line in one row: the state in a column of its own, then the rest, the most telling first."""
    return Content.assemble(
        (f"{line.state:<8} ", STATE_STYLES[line.state]),
        f"{line.name}  ",
        (line.value, "bold"),
        *_was(was),
        (f"  {line.limit}" if line.limit else "", "$text-muted"),
    )


def block(line: VerdictLine, was: str) -> Content:
    """One line in two or three rows."""
    return Content.assemble(
        line.name,
        "  ",
        (line.state, STATE_STYLES[line.state]),
        "\n",
        (line.value, "bold"),
        *_was(was),
        (f"\n{line.limit}" if line.limit else "", "$text-muted"),
    )


def _was(was: str) -> tuple[tuple[str, str], ...]:
    return ((f"  was {was}", "italic $text-accent"),) if was else ()
