"""Two small questions over the screen below: a line of text, and one of a few."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from wizard.widgets.field import Field
from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList

FEW = 6  # choices that need no room of their own


class AskText(ModalScreen[str | None]):
    """Asks for one line of text. Dismisses with it, or None for Escape; an empty line is refused in words."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Back", key_display="Esc")]

    def __init__(self, title: str, hint: str, value: str = "") -> None:
        super().__init__()
        self._title = title
        self._hint = hint
        self._value = value

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(self._title, markup=False, classes="dialog-title")
            yield Static(self._hint, markup=False, classes="hint")
            yield Field(self._value, max_length=200)
            yield Static("", markup=False, classes="error")
        yield KeyLine()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        if text:
            self.dismiss(text)
        else:
            self.query_one(".error", Static).update("Please type something, or press Escape to go back.")

    def action_leave(self) -> None:
        self.dismiss(None)


class AskOne(ModalScreen[str | None]):
    """Asks for one of a few; dismisses with its id, or None for Escape. The careful choice comes first."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Back", key_display="Esc")]

    def __init__(self, title: str, detail: str, choices: Mapping[str, str], start: str | None = None) -> None:
        """``start`` is the id to stand on."""
        super().__init__()
        self._start = start
        self._title = title
        self._detail = detail
        self._choices = choices

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog tall" if len(self._choices) > FEW else "dialog"):
            yield Static(self._title, markup=False, classes="dialog-title")
            yield Static(self._detail, markup=False, classes="hint")
            yield PickList(*(Option(label, id=id) for id, label in self._choices.items()))
        yield KeyLine()

    def on_mount(self) -> None:
        if self._start is not None:
            self.query_one(PickList).highlighted = list(self._choices).index(self._start)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
