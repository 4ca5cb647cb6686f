"""The help page of one question: why it is asked, how to find the answer, what is assumed, and the keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from wizard.widgets.key_line import KeyLine

KEYS = (
    ("Enter", "accept the answer and go on; an empty field takes the default"),
    ("F1", "this page"),
    ("F2", "I don't know: the careful value is assumed, and the plan says so"),
    ("F3", "the question before"),
    ("F4", "the map: topics with their state, and any question by a few words of it"),
    ("F5", "all answers on one page"),
    ("F6", "the verdict and the plan"),
    ("F7", "say that what you typed is an estimate, not a measurement"),
    ("F8", "answer the open question that would change the verdict most, and come back"),
    ("Ctrl+N", "skip: leave it open for now; a default stands in where there is one, and the plan says so"),
    ("Ctrl+Z", "undo the last answer; Ctrl+Y does it again"),
    ("F9", "count in metres instead of feet, or back"),
    ("Ctrl+L", "pages on how quiet it gets, the air, the sound in the room; another scheme beside"),
    ("Space", "tick or untick, where several may be chosen"),
    ("PgUp PgDn", "scroll the explanation"),
    ("Escape", "the list of interviews; everything is saved"),
    ("Ctrl+P", "all commands, as a list to click or to search, and the colours: night, day, high contrast"),
    ("Mouse", "a click on a key below presses it, one on the verdict shows its details"),
    ("Ctrl+Q", "quit; everything is saved"),
)


class Help(ModalScreen[None]):
    """Shows headed paragraphs and then the keys."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f1,enter", "leave", "Back to the question", key_display="Esc")]

    def __init__(self, title: str, sections: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._title = title
        self._sections = sections

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog tall"):
            yield Static(self._title, markup=False, classes="dialog-title")
            with VerticalScroll():
                yield Static(self._text(), markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def _text(self) -> Content:
        parts = [Content.assemble((head, "bold $text-accent"), "\n", text, "\n\n") for head, text in self._sections if text]
        keys = [Content.assemble((f"{key:<10}", "bold"), what, "\n") for key, what in KEYS]
        return Content.assemble(*parts, ("Keys", "bold $text-accent"), "\n", *keys)

    def action_leave(self) -> None:
        self.dismiss(None)
