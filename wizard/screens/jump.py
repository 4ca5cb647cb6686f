"""The map: every topic with its state in words, the open one with its questions; typed words find any question."""

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
from wizard.interview.question import TOPICS
from wizard.interview.searching import best_first
from wizard.screens.steps import UNDO_REDO, redo, undo
from wizard.session import topic_label
from wizard.widgets.field import Field
from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList

if TYPE_CHECKING:
    from wizard.interview.answers import Answers
    from wizard.interview.question import Question
    from wizard.interview.verdict import Verdict
    from wizard.session import Session

TOPIC = "topic "  # begins the id of a topic's row; no question has a space in its id


@dataclass(frozen=True)
class Place:
    """One question to go to: its topic with its state, and what was answered, in words."""

    question: Question
    topic: str
    state: str


def places(answers: Answers) -> list[Place]:
    """Every question that applies, with its state."""
    doubtful = {problem.question_id for problem in engine.problems(answers)}
    states = topic_states(answers)
    return [
        Place(question, states[question.topic], state(question, answers) + (", to check" if question.id in doubtful else ""))
        for question in engine.applicable(answers)
    ]


def state(question: Question, answers: Answers) -> str:
    """answered | default | unknown | open; missing where no default stands in."""
    found = engine.state(question, answers)
    return "missing" if found == "open" and question.default is None else found


def topic_states(answers: Answers) -> dict[str, str]:
    """By topic: its name, and done, or how many answers are there, still open, missing, to check."""
    doubtful = {problem.question_id for problem in engine.problems(answers)}
    told = {}
    for found in engine.topics(answers):
        asked = [question for question in engine.applicable(answers) if question.topic == found.topic.id]
        states = [state(question, answers) for question in asked]
        counts = [(states.count(word), word) for word in ("missing", "open")]
        counts.append((sum(question.id in doubtful for question in asked), "to check"))
        left = [f"{count} {word}" for count, word in counts if count]
        done = f"{found.done} of {found.total} answered"
        told[found.topic.id] = f"{found.topic.label}: {', '.join([done, *left]) if left else f'done, {done}'}"
    return told


def cautions(topic: str, verdict: Verdict | None) -> str:
    """What the verdict holds against the answers of a topic, the gravest first."""
    lines = [line for line in (verdict.lines if verdict is not None else ()) if line.topic == topic and line.state in ("stop", "caution")]
    return "; ".join(f"{line.state}: {line.name}, {line.value}" for line in sorted(lines, key=lambda line: line.state != "stop"))


def matching(places: Sequence[Place], words: str) -> list[Place]:
    """The places that hold every typed word, the best hit first; a state or a topic finds its questions, too. All of them for no words."""
    by_id = {place.question.id: place for place in places}

    def also(question: Question) -> tuple[str, ...]:
        return (*by_id[question.id].state.split(", "), topic_label(question.topic))

    return [by_id[question.id] for _, question in best_first((place.question for place in places), words, also)]


class Jump(ModalScreen[str | None]):
    """Dismisses with the question's id, or None for Escape."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f4", "leave", "Stay here", key_display="Esc"),
        *UNDO_REDO,
        Binding("down", "move(1)", "Down", show=False),
        Binding("up", "move(-1)", "Up", show=False),
        Binding("pagedown", "move(8)", "Page down", show=False),
        Binding("pageup", "move(-8)", "Page up", show=False),
    ]

    def __init__(self, session: Session, verdict: Verdict | None) -> None:
        """``verdict`` as last worked out."""
        super().__init__()
        self._session = session
        self._verdict = verdict
        question = session.question
        self._open = question.topic if question is not None else TOPICS[0].id

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog tall"):
            yield Static("The map: topics and questions", classes="dialog-title")
            yield Field(placeholder="words of a question, or its state: open, missing, default …", max_length=100)
            yield PickList()
            yield Static("", classes="hint")
        yield KeyLine()

    def on_mount(self) -> None:
        self._fill(self._session.at)

    def on_input_changed(self) -> None:
        self._fill(self._session.at)

    def _fill(self, highlight: str | None) -> None:
        """With words the best hit stands first and is highlighted, so that Enter goes where the eye is; else the map around a question."""
        words = self.query_one(Input).value.strip()
        found = matching(places(self._session.answers), words)
        listed = self.query_one(OptionList)
        options = [found_row(place) for place in found] if words else self._map(found)
        listed.set_options(options)
        ids = [option.id for option in options]
        listed.highlighted = None if not options else ids.index(highlight) if highlight in ids and not words else 0
        listed.scroll_home(animate=False) if words else None
        self.query_one(".hint", Static).update("" if found else "No question has these words.")

    def _map(self, found: Sequence[Place]) -> list[Option]:
        """Every topic, and the questions of the open one."""
        options: list[Option] = []
        for topic in dict.fromkeys(place.question.topic for place in found):
            inside = [place for place in found if place.question.topic == topic]
            options.append(topic_row(inside[0], cautions(topic, self._verdict), unfolded=topic == self._open))
            options += [question_row(place) for place in inside if topic == self._open]
        return options

    def action_move(self, step: int) -> None:
        listed = self.query_one(OptionList)
        move = listed.action_cursor_down if step > 0 else listed.action_cursor_up
        for _ in range(abs(step)):
            move()

    def on_input_submitted(self) -> None:
        self.query_one(OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to a question; unfold a topic, or fold it."""
        if event.option_id is None or not event.option_id.startswith(TOPIC):
            self.dismiss(event.option_id)
            return
        topic = event.option_id.removeprefix(TOPIC)
        self._open = "" if topic == self._open else topic
        self._fill(event.option_id)
        self.query_one(Input).focus()

    def action_undo(self) -> None:
        said = undo(self, self._session)
        self._fill(self._session.at)
        self.query_one(".hint", Static).update(said)

    def action_redo(self) -> None:
        said = redo(self, self._session)
        self._fill(self._session.at)
        self.query_one(".hint", Static).update(said)

    def action_leave(self) -> None:
        self.dismiss(None)


def topic_row(place: Place, caution: str, *, unfolded: bool) -> Option:
    sign = "- " if unfolded else "+ "
    below = (f"\n    {caution}", "italic") if caution else ("", "")
    return Option(Content.assemble((f"{sign}{place.topic}", "bold"), below), id=f"{TOPIC}{place.question.topic}")


def question_row(place: Place) -> Option:
    return Option(Content.assemble(f"    {place.question.title}", (f"  [{place.state}]", "$text-muted")), id=place.question.id)


def found_row(place: Place) -> Option:
    """A question found, with its topic, which the map shows above it."""
    return Option(
        Content.assemble(place.question.title, (f"  [{place.state}] in {topic_label(place.question.topic)}", "$text-muted")),
        id=place.question.id,
    )
