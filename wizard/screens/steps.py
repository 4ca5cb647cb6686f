"""Undo and redo, the same on every page that shows answers: said in words, and a page that knows what to show again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.binding import Binding, BindingType
from textual.screen import Screen

from wizard.store import StoreError

if TYPE_CHECKING:
    from wizard.session import Session

UNDO_REDO: tuple[BindingType, ...] = (
    Binding("ctrl+z", "undo", "Undo", key_display="^Z", show=False, tooltip="Undo the last answer"),
    Binding("ctrl+y", "redo", "Redo", key_display="^Y", show=False, tooltip="Redo what was undone"),
)


def complain(screen: Screen[Any], error: StoreError) -> None:
    """What could not be saved stays on the screen."""
    told = f"{error} Your answers are kept here until you quit."
    screen.app.notify(told, title="Not saved", severity="error", timeout=30, markup=False)


def undo(screen: Screen[Any], session: Session) -> str:
    """Take the last change back; what to say of it. The page says it where it covers nothing; "" where it could not be saved."""
    try:
        said = session.undo()
    except StoreError as error:
        complain(screen, error)
        return ""
    return f"Undone: {said}. Ctrl+Y does it again." if said else "There is nothing to undo."


def redo(screen: Screen[Any], session: Session) -> str:
    """Do again what was taken back last; what to say of it."""
    try:
        said = session.redo()
    except StoreError as error:
        complain(screen, error)
        return ""
    return f"Done again: {said}." if said else "There is nothing to do again."
