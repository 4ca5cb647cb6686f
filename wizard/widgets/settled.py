"""Widgets that ask for no more work than their change needs.

Textual lays the whole screen out and draws it once more whenever a widget has got another size, as it might now need a scroll bar. A text
that never scrolls needs none, and what scrolls asks again by itself when its bar comes or goes; what has another size is drawn anyway.
"""

from __future__ import annotations

from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.reactive import Reactive
from textual.widgets import Static


class Text(Static):
    """Never reads markup. ``show`` does nothing where that stands there already."""

    virtual_size = Reactive(Size(0, 0), repaint=False)

    def __init__(self, id: str | None = None) -> None:
        super().__init__("", markup=False, id=id)
        self._shown = Content("")

    def show(self, text: Content, *, layout: bool = True) -> None:
        """``layout`` is False where the size stays whatever it says."""
        if not text.is_same(self._shown):
            self._shown = text
            self.update(text, layout=layout)


class Box(Vertical):
    """One below the other."""

    virtual_size = Reactive(Size(0, 0), repaint=False)


class ScrollBox(VerticalScroll):
    """The same, with a scroll bar where it is needed."""

    virtual_size = Reactive(Size(0, 0), repaint=False)
