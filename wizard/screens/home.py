"""The list of saved interviews: open, begin, rename, duplicate, delete and undo."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from calc.units import IMPERIAL, METRIC
from wizard.interview.answers import Answers
from wizard.session import place_in_words
from wizard.store import Entry, Store, StoreError
from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList
from wizard.widgets.top import Top

WELCOME = (
    "Stillroom plans a room in your basement where you can play, record or mix without disturbing the house or the neighbours. "
    "Answer what a tape measure can tell: a dozen answers give a first verdict, and the rest make it a plan to build from.\n\n"
    "Nothing is saved yet. Press n to begin; you can stop at any moment, and every answer stays."
)
GREETING = "Enter goes on where you stopped; n begins another."


class Home(Screen[None]):
    """Posts Open for the application to open an interview."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "new", "New"),
        Binding("r", "rename", "Rename"),
        Binding("d", "duplicate", "Duplicate"),
        Binding("x", "delete", "Delete"),
        Binding("u,ctrl+z", "undelete", "Undo delete", key_display="u"),
    ]

    @dataclass
    class Open(Message):
        id: str

    def __init__(self, store: Store) -> None:
        super().__init__()
        self._store = store
        self._entries: dict[str, Entry] = {}
        self._deleted: list[str] = []

    def compose(self) -> ComposeResult:
        yield Top("your interviews", "")
        with Vertical(id="home"):
            yield Static("", markup=False, classes="greeting")
            yield PickList()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        self._fill()

    def _fill(self, highlight: str | None = None) -> None:
        """Read the list again; keep the highlight on the same interview, or the one asked for."""
        listed = self.query_one(PickList)
        highlight = highlight or self._here()
        with self._told():
            self._entries = {entry.id: entry for entry in self._store.list()}
        listed.set_options(Option(row(entry), id=entry.id) for entry in self._entries.values())
        ids = list(self._entries)
        listed.highlighted = (ids.index(highlight) if highlight in ids else 0) if ids else None
        self.query_one(".greeting", Static).update(GREETING if ids else WELCOME)
        self.query_one("#home").set_class(not ids, "-empty")
        listed.focus()
        self.refresh_bindings()

    def _here(self) -> str | None:
        option = self.query_one(PickList).highlighted_option
        return option.id if option is not None else None

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        if event.option_id is not None:
            self.post_message(self.Open(event.option_id))

    def action_new(self) -> None:
        from wizard.screens.ask import AskText  # the list, which comes first, does not wait for it

        hint = "What shall it be called? The house, the room, the idea …"
        self.app.push_screen(AskText("A new interview", hint, Answers().name), self._named)

    def _named(self, name: str | None) -> None:
        if name is not None:
            from wizard.screens.ask import AskOne

            choices = {IMPERIAL: "feet and inches", METRIC: "metres and millimetres"}
            self.app.push_screen(
                AskOne("In what do you measure?", "You may still type either: 2.18 m and 7' 2\" are always understood.", choices),
                partial(self._begin, name),
            )

    def _begin(self, name: str, units: str | None) -> None:
        if units is not None:
            with self._told():
                self.post_message(self.Open(self._store.create(name, Answers(units=units, name=name))))

    def action_rename(self) -> None:
        entry = self._entry()
        if entry is not None:
            from wizard.screens.ask import AskText

            self.app.push_screen(AskText("Rename", "The new name:", entry.name), partial(self._renamed, entry.id))

    def _renamed(self, id: str, name: str | None) -> None:
        if name is not None:
            with self._told():
                self._store.rename(id, name)
            self._fill(id)

    def action_duplicate(self) -> None:
        entry = self._entry()
        if entry is not None:
            copy = None
            with self._told():
                copy = self._store.duplicate(entry.id)
            self._fill(copy)

    def action_delete(self) -> None:
        entry = self._entry()
        if entry is not None:
            with self._told():
                self._store.delete(entry.id)
                self._deleted.append(entry.id)
                self.notify(f"“{entry.name}” is deleted. Press u to bring it back.", markup=False)
            self._fill()

    def action_undelete(self) -> None:
        id = self._deleted[-1]
        with self._told():
            self._store.undelete(id)
            self._deleted.pop()
        self._fill(id)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Where there is no interview, nothing can be done to one; where none was deleted, none comes back."""
        if action == "undelete":
            return bool(self._deleted)
        return bool(self._entries) if action in ("rename", "duplicate", "delete") else True

    def _entry(self) -> Entry | None:
        id = self._here()
        return self._entries.get(id) if id is not None else None

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Show a StoreError instead of raising it."""
        try:
            yield
        except StoreError as error:
            self.notify(str(error), title="That did not work", severity="error", markup=False, timeout=20)


def row(entry: Entry) -> Content:
    """Two rows: the name; the place and when it was last changed, or what is wrong with the file."""
    if entry.notice:
        below = f"  damaged: {entry.notice}"
    else:
        below = f"  {entry.changed[:16].replace('T', ' ')} · {entry.answered} answered · at: {place_in_words(entry.place, entry.answered)}"
    return Content.assemble((entry.name, "bold"), "\n", (below, "italic" if entry.notice else "$text-muted"))
