"""The keys that act now, in one row at the bottom; a click on one presses it.

Textual's Footer makes a widget of each key and all of them anew whenever the focus moves; one line of text keeps the step from question to
question quick.
"""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.screen import Screen
from textual.style import Style
from textual.widgets import Static


class KeyLine(Static):
    """Reads the active bindings of its screen."""

    def __init__(self) -> None:
        super().__init__(markup=False, id="keys")

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._list_keys)

    def _list_keys(self, screen: Screen[Any]) -> None:
        active = [key.binding for key in screen.active_bindings.values() if key.binding.show and key.enabled]
        shown = {binding.action: binding for binding in reversed(active)}  # of several keys for one action, the first
        self.update(
            Content(" ").join(
                Content.assemble((self.app.get_key_display(binding), "bold $text-accent"), f" {binding.description}").stylize(
                    Style.from_meta({"@click": f"app.simulate_key({binding.key!r})"})
                )
                for binding in reversed(shown.values())
            )
        )
