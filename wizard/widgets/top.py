"""The line at the top: whose interview, and where in it."""

from __future__ import annotations

from collections.abc import Mapping

from textual.content import Content
from textual.style import Style

from wizard.widgets.settled import Text


class Top(Text):
    """One row; a long name is cut, never wrapped, and never read as markup."""

    def __init__(self, name: str, place: str) -> None:
        super().__init__(id="top")
        self.tell(name, place)

    def tell(self, name: str, place: str) -> None:
        text = Content.assemble(("Stillroom", "bold $text-accent"), *(f" · {part}" for part in (place, name) if part))
        self.show(text, layout=False)

    def show_pages(self, pages: Mapping[str, str], here: str, name: str) -> None:
        """The pages of one screen, the open one in brackets; a click opens another."""
        tabs = [
            Content.styled(f"[{label}]", "bold $text-accent")
            if page == here
            else Content(label).stylize(Style.from_meta({"@click": f"screen.open_page({page!r})"}))
            for page, label in pages.items()
        ]
        text = Content.assemble(("Stillroom", "bold $text-accent"), " · ", Content("  ").join(tabs), f" · {name}")
        self.show(text, layout=False)
