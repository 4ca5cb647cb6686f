"""A line of text to type: what is pasted is taken without control characters, and what has no room is told, not dropped in silence."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widgets import Input


class Field(Input):
    """Enter stands below among the keys, so that a click is enough."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "submit", "OK", key_display="Enter")]

    def on_paste(self, event: events.Paste) -> None:
        """Take the first line that says something, as much of it as the field holds."""
        from wizard.plain_words import harmless  # which knows every question; the list of interviews does not wait for it

        event.stop()
        event.prevent_default()
        lines = [line for line in (harmless(each).strip() for each in event.text.splitlines()) if line]
        if not lines:
            return
        start, end = sorted(self.selection)
        room = self.max_length - len(self.value) + (end - start) if self.max_length else len(lines[0])
        self.replace(lines[0][:room], start, end)
        if len(lines) > 1:
            self.app.notify(f"Of the {len(lines)} lines pasted only the first is taken.", severity="warning", markup=False)
        if len(lines[0]) > room:
            told = f"What was pasted is longer than an answer can be, and was cut after {room} letters."
            self.app.notify(told, severity="warning", markup=False)
