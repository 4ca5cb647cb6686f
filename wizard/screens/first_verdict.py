"""The first verdict, after the first answers: what it says, and what to do next."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList
from wizard.widgets.top import Top
from wizard.widgets.verdict_panel import WORKING, VerdictPanel


class FirstVerdict(Screen[str | None]):
    """Dismisses with REVIEW, QUIET, PLAN, or None to go on. The interview fills the panel when the verdict is worked out."""

    REVIEW: ClassVar[str] = "review"
    QUIET: ClassVar[str] = "quiet"
    PLAN: ClassVar[str] = "plan"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Go on", key_display="Esc")]

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name_shown = name
        self.panel = VerdictPanel("page")
        self.panel.show_working(WORKING)

    def compose(self) -> ComposeResult:
        yield Top(self._name_shown, "first verdict")
        with Vertical(id="page"):
            yield Static("Your first verdict", classes="heading")
            yield Static(
                "Whatever was not asked yet stands at a careful default.",
                classes="para",
            )
            yield self.panel
            yield PickList(
                Option("Go on and refine: each further answer makes it surer", id="on"),
                Option("See all answers on one page", id=self.REVIEW),
                Option("See how quiet it gets, the air, the sound in the room, and other schemes", id=self.QUIET),
                Option("Read the plan and write it to a folder now", id=self.PLAN),
            )
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(None if event.option_id == "on" else event.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
