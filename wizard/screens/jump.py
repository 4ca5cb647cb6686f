"""Go to any question that applies: typed words narrow the list; the state of each is in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from wizard.interview import engine
from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList

if TYPE_CHECKING:
    from wizard.interview.answers import Answers


@dataclass(frozen=True)
class Place:
    """One question to go to: where it is, and what was answered, in words; ``more`` are words to find it by that are not shown."""

    id: str
    topic: str
    text: str
    state: str
    more: str = ""


def places(answers: Answers) -> list[Place]:
    """Every question that applies, with its state; each topic says how much of it is done, and which answer to check."""
    doubtful = {problem.question_id for problem in engine.problems(answers)}
    topics = {found.topic.id: f"{found.topic.label}: {found.done} of {found.total} answered" for found in engine.topics(answers)}
    return [
        Place(
            question.id,
            topics[question.topic],
            question.title,
            engine.state(question, answers) + (", to check" if question.id in doubtful else ""),
            f"{question.text} {' '.join(choice.label for choice in question.choices)}",
        )
        for question in engine.applicable(answers)
    ]


def matching(places: Sequence[Place], words: str) -> list[Place]:
    """The places that hold every typed word, in any order and case; all of them for no words."""
    wanted = words.casefold().split()
    return [
        place for place in places if all(word in f"{place.topic} {place.text} {place.state} {place.more}".casefold() for word in wanted)
    ]


class Jump(ModalScreen[str | None]):
    """Dismisses with the question's id, or None for Escape."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Stay here", key_display="Esc"),
        Binding("down", "move(1)", "Down", show=False),
        Binding("up", "move(-1)", "Up", show=False),
        Binding("pagedown", "move(8)", "Page down", show=False),
        Binding("pageup", "move(-8)", "Page up", show=False),
    ]

    def __init__(self, places: Sequence[Place], here: str | None) -> None:
        super().__init__()
        self._places = places
        self._here = here

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog tall"):
            yield Static("Go to a question", classes="dialog-title")
            yield Input(placeholder="type a few words of it, or of its state: open, default …", max_length=100)
            yield PickList()
            yield Static("", classes="hint")
        yield KeyLine()

    def on_mount(self) -> None:
        self._fill("")

    def on_input_changed(self, event: Input.Changed) -> None:
        self._fill(event.value)

    def _fill(self, words: str) -> None:
        places = matching(self._places, words)
        options: list[Option] = []
        topic = ""
        for place in places:
            if place.topic != topic:
                topic = place.topic
                options.append(Option(Content.styled(topic, "bold $text-accent"), disabled=True))
            options.append(Option(Content.assemble(f"  {place.text}", (f"  [{place.state}]", "$text-muted")), id=place.id))
        listed = self.query_one(OptionList)
        listed.set_options(options)
        ids = [option.id for option in options]
        if places:
            listed.highlighted = ids.index(self._here) if self._here in ids else ids.index(places[0].id)
        self.query_one(".hint", Static).update("" if places else "No question has these words.")

    def action_move(self, step: int) -> None:
        listed = self.query_one(OptionList)
        move = listed.action_cursor_down if step > 0 else listed.action_cursor_up
        for _ in range(abs(step)):
            move()

    def on_input_submitted(self) -> None:
        self.query_one(OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_leave(self) -> None:
        self.dismiss(None)
