"""A list to choose from, with its key in the footer."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList
from textual.widgets.option_list import Option


class PickList(OptionList):
    """An OptionList that never reads its rows as markup."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Choose", key_display="Enter")]

    def __init__(self, *rows: Option, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(*rows, id=id, classes=classes, markup=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """An empty list has nothing to choose."""
        return self.option_count > 0 if action == "select" else True
