"""One question: its text, the control, the notes beside the field, then why it is asked and how to find the answer.

The explanation stands last and scrolls: so the control keeps its place and is never cut, however small the terminal.
"""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.style import Style
from textual.widget import Widget
from textual.widgets import Input

from calc.origin import Origin
from calc.unit_tables import example as example_of
from wizard.interview import engine
from wizard.interview.answers import DONT_KNOW, Answer, Answers
from wizard.interview.bounds import span, unusual
from wizard.interview.engine import Problem
from wizard.interview.question import Kind, Question, worded
from wizard.widgets.controls import NONE, OneOf, SeveralOf, Take, TypedAnswer
from wizard.widgets.settled import Box, ScrollBox, Text


class QuestionPane(Vertical):
    """Shows a question and hands the text of the answer to ``take``; decides nothing."""

    def __init__(self, take: Take) -> None:
        super().__init__(id="question-pane")
        self._take = take
        self._question: Question | None = None
        self._answers = Answers()
        self._refused: str | None = None  # the text that the error on show is about
        self._draft = ""  # typed here earlier and not taken; it stands in the field again
        self.estimated = False

    def compose(self) -> ComposeResult:
        yield Text(id="question")
        with Box(id="control"):
            yield TypedAnswer(self._take)
            yield OneOf(self._take, lambda how: self.say(how, "bold $text-warning"))
            yield SeveralOf(self._take, lambda: self.say(""))
        yield Text(id="notes")
        with ScrollBox(id="about", can_focus=False):
            yield Text()

    def ask(self, question: Question, answers: Answers, draft: str = "") -> None:
        """``draft``: what was typed here earlier and not taken; it is put back into the field."""
        self._question, self._answers, self._draft = question, answers, draft
        answer = answers.get(question.id)
        self.estimated = answer is not None and answer.origin is Origin.ESTIMATED
        told = worded(question, answers.units)
        self.query_one("#question", Text).show(Content(told.text))
        about = self.query_one("#about", ScrollBox)
        about.scroll_home(animate=False)
        about.query_one(Text).show(
            Content.assemble(("Why: ", "bold"), told.why, *((("\nHow: ", "bold"), told.how) if told.how else ()))
        )
        control = self._control(question)
        for other in self.query_one("#control").children:
            other.display = other is control
        self.say("")
        control.focus()
        self.screen.set_focus(control)

    def refuse(self, sentence: str) -> None:
        """What was typed stays, selected: new typing replaces it, the arrows go into it."""
        self.say(f"Not accepted. {sentence}")
        self.query_one(TypedAnswer).action_select_all()

    def put_back(self) -> bool:
        """Whether the field of an answered question was emptied: the answer stands there again, and it is said how to take it back."""
        typed = self.query_one(TypedAnswer)
        answer = typed_text(self._answers.get(self._question.id)) if self._question is not None and typed.display else ""
        if self._question is None or not answer or typed.value.strip() or engine.state(self._question, self._answers) != "answered":
            return False
        with self.prevent(Input.Changed):
            typed.value = answer
        typed.action_select_all()
        unknown = ", F2 says that you don't know" if self._question.unknown else ""
        self.say(f"An empty field keeps your answer, {answer}: Enter goes on{unknown}.", "bold $text-warning")
        return True

    def say(self, error: str, style: str = "bold $text-error") -> None:
        """The notes under the field: the error if there is one, how the text reads, the range and the default."""
        if self._question is None:
            return
        self._refused = self.query_one(TypedAnswer).value if error else None
        parts = [Content.styled(error, style)] if error else []
        reading = self._reading() if not error else ""
        if reading:
            parts.append(Content.styled(reading, "$text-success"))
        parts.extend(note.stylize_before("$muted") for note in self._hints(self._question))
        notes = self.query_one("#notes", Text)
        notes.show(Content("\n").join(parts))
        notes.display = bool(parts)

    @property
    def unfinished(self) -> tuple[str, str] | None:
        """The question on show and what stands in its field, where that is another text than its answer."""
        typed = self.query_one(TypedAnswer)
        if self._question is None or not typed.display:
            return None
        text = typed.value.strip()
        return self._question.id, "" if text == typed_text(self._answers.get(self._question.id)) else text

    def taken(self) -> None:
        """What stands in the field is an answer now, and nothing unfinished, though no other question may follow."""
        self._question = None

    def toggle_estimate(self) -> None:
        if self._question is not None and self._question.kind in (Kind.QUANTITY, Kind.COUNT, Kind.YEAR, Kind.DATE):
            self.estimated = not self.estimated
            self.say("")

    def scroll_about(self, pages: int) -> None:
        about = self.query_one("#about", ScrollBox)
        about.scroll_page_down(animate=False) if pages > 0 else about.scroll_page_up(animate=False)

    def on_input_changed(self, event: Input.Changed) -> None:
        if event.input.value != self._refused:  # messages of the last letters may come after Enter was refused
            self.say("")

    def _control(self, question: Question) -> Widget:
        """The control for the kind of answer, filled with the answer given before."""
        answer, default = self._answers.get(question.id), engine.default_text(question, self._answers)
        told = worded(question, self._answers.units)
        if question.kind is Kind.CHOICE:
            one_of = self.query_one(OneOf)
            picked = self._picked(question, answer)
            one_of.ask(told, highlight(answer, picked, default), marks(picked, default))
            return one_of
        if question.kind is Kind.MULTI:
            several = self.query_one(SeveralOf)
            picked = self._picked(question, answer)
            several.ask(told, picked or split(default), marks((), default))
            return several
        typed = self.query_one(TypedAnswer)
        with self.prevent(Input.Changed):
            given = typed_text(answer)
            hint = empty_takes(default) if default else f"for example {example(question, self._answers.units)}"
            typed.ask(self._draft or given, f"empty keeps your answer: {given}" if given else hint)
        return typed

    def _picked(self, question: Question, answer: Answer | None) -> tuple[str, ...]:
        """The choice ids that were answered; none where the person didn't know."""
        if answer is None or answer.origin is Origin.UNKNOWN:
            return ()
        try:
            value = engine.read(question, answer.text, self._answers).value
        except Problem:
            return ()
        return value if isinstance(value, tuple) else (str(value),)

    def _reading(self) -> str:
        """How the text in the field reads, while it can be read; errors wait for Enter."""
        typed = self.query_one(TypedAnswer)
        if self._question is None or not typed.display or not typed.value.strip():
            return ""
        try:
            read = engine.read(self._question, typed.value, self._answers)
        except Problem:
            return ""
        doubt = unusual(self._question, read.value, self._answers.units)
        return f"= {read.echo}{f' ({doubt})' if doubt else ''}"

    def _hints(self, question: Question) -> list[Content]:
        answer = self._answers.get(question.id)
        unknown = worded(question, self._answers.units).unknown
        assumed = unknown.cost if unknown else ""
        before = f"You answered “I don't know”. {assumed} " if answer and answer.origin is Origin.UNKNOWN else ""
        if question.kind is Kind.CHOICE:
            return [Content(before)] if before else []
        if question.kind is Kind.MULTI:
            return [Content(f"{before}Space or a click ticks, Enter goes on.")]
        estimate = Content("Estimated; F7 undoes it." if self.estimated else "Estimated? Press F7.")
        if self._draft and self._draft == self.query_one(TypedAnswer).value:
            before += "Typed earlier, not taken yet: Enter takes it. "
        link = estimate.stylize(Style.from_meta({"@click": "screen.estimate"}))
        return [Content.assemble(f"{before}{span(question, self._answers.units)} ", link)]


def typed_text(answer: Answer | None) -> str:
    """What to put back in the field: what was typed, never what was assumed."""
    return answer.text if answer is not None and answer.origin in (Origin.MEASURED, Origin.ESTIMATED) else ""


def empty_means(question: Question, answers: Answers, default: str | None) -> str:
    """What an empty field does, as the help page says it; nothing where it is refused."""
    given = typed_text(answers.get(question.id))
    if given:
        return f"Your answer stays: {given}."
    return "" if default is None else "It is not known." if default == "?" else f"The default is taken: {default}."


def empty_takes(default: str) -> str:
    """The same, for within the field."""
    return "leave it empty where it is not known" if default == "?" else f"empty takes the default: {default}"


def split(ids: str | None) -> tuple[str, ...]:
    return tuple(part.strip() for part in ids.split(",")) if ids else ()


def highlight(answer: Answer | None, picked: tuple[str, ...], default: str | None) -> str:
    """The choice to stand on: the answer, "I don't know" where that was the answer, else the default, if it is one of the choices."""
    if answer is not None and answer.origin is Origin.UNKNOWN:
        return DONT_KNOW.text
    return picked[0] if picked else default or ""


def marks(picked: Iterable[str], default: str | None) -> dict[str, str]:
    """The words behind a choice: the default, and what was answered before."""
    return dict.fromkeys(split(default), "default") | dict.fromkeys(picked, "your answer")


def example(question: Question, units: str) -> str:
    """An answer as it could be written; of a choice one that claims something, and how the answers file writes it."""
    if question.unit is not None:
        return example_of(question.unit.dimension, units)
    choice = next((choice for choice in question.choices if choice.id not in (NONE, "unknown")), question.choices[0])
    return f'“{choice.label}”; a file of answers says {question.id} = "{choice.id}"'


def help_sections(question: Question, answers: Answers) -> list[tuple[str, str]]:
    """What the help page says about a question."""
    told = worded(question, answers.units)
    default = engine.default_text(question, answers)
    choices = "\n".join(f"{choice.label}{': ' + choice.note if choice.note else ''}" for choice in told.choices)
    written = {Kind.CHOICE: "Choose one.", Kind.MULTI: "Tick all that apply."}.get(question.kind) or span(question, answers.units)
    return [
        ("Why it is asked", told.why),
        ("How to find the answer", told.how),
        ("How to write it", f"{written} For example {example(question, answers.units)}."),
        ("The choices", choices),
        (
            "If you leave it empty",
            "" if choices else empty_means(question, answers, default),
        ),
        ("If you don't know (F2)", told.unknown.cost if told.unknown else "Only you can know this one."),
    ]
