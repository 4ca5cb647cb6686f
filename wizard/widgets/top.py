"""The line at the top: whose interview, and where in it."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


class Top(Static):
    """One row; a long name is cut, never wrapped, and never read as markup."""

    def __init__(self, name: str, place: str) -> None:
        super().__init__(markup=False, id="top")
        self.tell(name, place)

    def tell(self, name: str, place: str) -> None:
        self.update(Content.assemble(("Stillroom", "bold $text-accent"), *(f" · {part}" for part in (place, name) if part)))
