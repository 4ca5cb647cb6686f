"""The three ways to answer: a line of text, one of several, several of several.

Each calls ``take`` with the text as it would stand in the answers file, at once and not by a message, so that keys typed
ahead, on a slow line, reach the next question and not the one before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from wizard.interview.answers import DONT_KNOW
from wizard.interview.question import Choice, Question
from wizard.widgets.field import Field

NONE = "none"  # the choice that goes with no other
Take = Callable[[str], None]


async def in_typed_order(control: Widget, event: events.Key) -> bool:
    """Handle a key when it comes, not later; False where it is the control's own, or nobody's.

    Textual gives letters to the widget, and runs the bindings of Enter or F2 only once the key has travelled up to the application: of
    keys that arrive in one burst, letters typed after Enter would come before it. Here the binding runs when its key comes; keys that
    were on their way when the focus moved follow it.
    """
    focused = control.app.focused
    if focused is not None and focused is not control:
        event.stop()
        event.prevent_default()
        focused.post_message(events.Key(event.key, event.character))
        return True
    if not (event.is_printable and isinstance(control, Input)) and await control.app._check_bindings(event.key):
        event.stop()
        event.prevent_default()
        return True
    return False


class TypedAnswer(Field):
    """A line of free text; our parser reads it, and nothing that was typed is ever thrown away."""

    def __init__(self, take: Take) -> None:
        super().__init__(id="typed", max_length=200)
        self._take = take

    async def on_key(self, event: events.Key) -> None:
        await in_typed_order(self, event)

    def ask(self, text: str, placeholder: str) -> None:
        self.placeholder = placeholder
        self.value = text
        self.action_select_all()

    async def action_submit(self) -> None:
        if self.screen.focused is self:
            self._take(self.value)


class OneOf(OptionList):
    """One choice; Enter or a click takes the highlighted one. Where none is highlighted, or a letter is typed, it is told how to choose."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "OK", key_display="Enter")]

    def __init__(self, take: Take, tell: Callable[[str], None]) -> None:
        """``tell`` is called with how to choose, and with nothing once the highlight moves."""
        super().__init__(id="one-of", markup=False)
        self._take = take
        self._tell = tell
        self._how = ""
        self._told = False

    async def on_key(self, event: events.Key) -> None:
        if not await in_typed_order(self, event) and event.is_printable:
            self._tell_how()

    def ask(self, question: Question, chosen: str, marks: Mapping[str, str]) -> None:
        """``marks`` says in words which choice is the default, or was the answer; ``chosen`` is highlighted.

        Where none is chosen, none is highlighted: a hasty Enter, or one after a text meant for another question, claims nothing.
        """
        choices = question.choices if question.unknown is None else (*question.choices, Choice(DONT_KNOW.text, "I don't know"))
        self._how = "Choose with the arrow keys" + ("; F2 says that you don't know." if question.unknown else ".")
        self._told = False
        self.set_options(Option(_prompt(choice, marks), id=choice.id) for choice in choices)
        ids = [choice.id for choice in choices]
        self.highlighted = ids.index(chosen) if chosen in ids else None
        if self.highlighted is None:
            self.scroll_home(animate=False)

    def watch_highlighted(self, highlighted: int | None) -> None:
        super().watch_highlighted(highlighted)
        if self._told and highlighted is not None:
            self._told = False
            self._tell("")

    def action_select(self) -> None:
        if self.screen.focused is not self:
            return
        option = self.highlighted_option
        if option is None or option.id is None:
            self._tell_how()
        else:
            self._take(option.id)

    def _tell_how(self) -> None:
        self._told = True
        self._tell(self._how)


class SeveralOf(OptionList):
    """Several choices; Space or a click ticks, Enter takes all that are ticked.

    Not Textual's SelectionList: that tells ticked from unticked by colour alone.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "OK", key_display="Enter"),
        Binding("space", "select", "Tick", show=False),
    ]

    def __init__(self, take: Take, ticked: Callable[[], None]) -> None:
        """``ticked`` is called with each change: what was said about the boxes before holds no more."""
        super().__init__(id="several-of", markup=False)
        self._take = take
        self._tell = ticked
        self._question: Question | None = None
        self._marks: Mapping[str, str] = {}
        self._ticked: set[str] = set()

    async def on_key(self, event: events.Key) -> None:
        await in_typed_order(self, event)

    def ask(self, question: Question, chosen: Iterable[str], marks: Mapping[str, str]) -> None:
        self._question, self._ticked, self._marks = question, set(chosen), marks
        self.set_options(Option(self._row(choice), id=choice.id) for choice in question.choices)
        self.highlighted = 0

    def action_select(self) -> None:
        option = self.highlighted_option
        if option is None or option.id is None or self._question is None:
            return
        self._ticked ^= {option.id}
        self._ticked &= {NONE} if option.id == NONE else self._ticked - {NONE}
        for choice in self._question.choices:
            self.replace_option_prompt(choice.id, self._row(choice))
        self._tell()

    def action_take(self) -> None:
        if self.screen.focused is self and self._question is not None:
            self._take(", ".join(choice.id for choice in self._question.choices if choice.id in self._ticked))

    def _row(self, choice: Choice) -> Content:
        return Content.assemble("[x] " if choice.id in self._ticked else "[ ] ", _prompt(choice, self._marks))


def _prompt(choice: Choice, marks: Mapping[str, str]) -> Content:
    mark = marks.get(choice.id, "")
    return Content.assemble(
        choice.label, (f"  ({mark})" if mark else "", "italic"), (f"  {choice.note}" if choice.note else "", "$text-muted")
    )
