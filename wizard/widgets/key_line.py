"""The keys that act now, in one row at the bottom; a click on one presses it.

Textual's Footer makes a widget of each key and all of them anew whenever the focus moves; one line of text keeps the step from question to
question quick. What has no room stands in the list behind "More", which a click opens as well: so everything can be done with the mouse.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.style import Style

from wizard.widgets.settled import Text

LAST = ("command_palette", "quit")  # always at the end, whatever else has room


class KeyLine(Text):
    """Reads the active bindings of its screen."""

    def __init__(self) -> None:
        super().__init__(id="keys")

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._list_keys)

    def on_resize(self) -> None:
        self._list_keys(self.screen)

    def _list_keys(self, screen: Screen[Any]) -> None:
        found: dict[str, Binding] = {}  # of several keys for one action, the first
        for key in screen.active_bindings.values():
            if key.enabled and key.binding.description:
                found.setdefault(key.binding.action, key.binding)
        shown = [binding for action, binding in found.items() if binding.show and action not in LAST]
        spare = [binding for binding in found.values() if not binding.show and binding.key_display]
        last = [found[action] for action in LAST if action in found]
        parts, more, end = self._said(shown), self._said(spare), self._said(last)
        room = (self.content_size.width or self.app.size.width - 1) - width(end)
        while parts and width(parts) > room + 1:
            parts.pop()
        for part in more if len(parts) == len(shown) else ():
            if width([*parts, part]) <= room + 1:
                parts.append(part)
        self.show(Content(" ").join([*parts, *end]), layout=False)

    def _said(self, bindings: Sequence[Binding]) -> list[Content]:
        return [
            Content.assemble((self.app.get_key_display(binding), "bold $text-accent"), f" {binding.description}").stylize(
                Style.from_meta({"@click": f"app.simulate_key({binding.key!r})"})
            )
            for binding in bindings
        ]


def width(parts: Sequence[Content]) -> int:
    """Columns that these take, each with the gap after it."""
    return sum(part.cell_length + 1 for part in parts)
