"""All answers on one page, with every assumption marked in words. Enter changes one and comes straight back."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from calc.origin import Origin
from wizard.interview import engine
from wizard.screens.jump import Jump
from wizard.screens.steps import UNDO_REDO, redo, undo
from wizard.session import topic_label
from wizard.widgets.key_line import KeyLine
from wizard.widgets.pick_list import PickList
from wizard.widgets.top import Top

if TYPE_CHECKING:
    from wizard.interview.answers import Answers
    from wizard.interview.engine import Row
    from wizard.interview.verdict import Verdict
    from wizard.session import Session

MARKS = {
    Origin.MEASURED: "",
    Origin.ESTIMATED: "estimated",
    Origin.DEFAULT: "default",
    Origin.UNKNOWN: "don't know",
}


class Review(Screen[str | None]):
    """Dismisses with the id of the question to change, OPEN, PLAN, RESULTS, or None to go back to the questions."""

    OPEN: ClassVar[str] = ">open"
    PLAN: ClassVar[str] = ">plan"
    RESULTS: ClassVar[str] = ">results"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("o", "open", "Ask open", key_display="o", tooltip="What was not asked yet, one after the other; Esc comes back here"),
        Binding("n", "next_assumed", "Next assumption", key_display="n"),
        Binding("f4", "jump", "Map", key_display="F4", show=False, tooltip="Map of the topics, and any question by its words"),
        Binding("f6", "plan", "Plan", key_display="F6"),
        Binding("ctrl+l", "results", "Results", key_display="^L", show=False, tooltip="How quiet, air, room, compare"),
        Binding("escape,f3", "leave", "Back", key_display="Esc", tooltip="Back to the questions"),
        *UNDO_REDO,
    ]

    def __init__(self, session: Session, highlight: str | None, verdict: Verdict | None) -> None:
        """``verdict`` as last worked out."""
        super().__init__()
        self._session = session
        self._verdict = verdict
        self._highlight = highlight
        self._open: list[str] = []  # not asked yet
        self.left_at: str | None = None  # the row on which the page was left for the plan or the results

    def compose(self) -> ComposeResult:
        yield Top(self._session.answers.name, "all answers")
        with Vertical(id="page"):
            yield Static("", markup=False, classes="heading", id="count")
            yield Static("", markup=False, classes="hint")
            yield PickList(classes="fill")
            yield Static("", markup=False, classes="error")
        yield KeyLine()

    def on_mount(self) -> None:
        self._fill(self._highlight)

    def _tell(self, said: str) -> None:
        hint = self.query_one(".hint", Static)
        hint.update(said)
        hint.display = bool(said)

    def _fill(self, highlight: str | None) -> None:
        self._tell("")
        answers = self._session.answers
        rows = engine.summary(answers)
        self._assumed = [row.question.id for row in rows if row.origin in (Origin.DEFAULT, Origin.UNKNOWN)]
        self._open = [row.question.id for row in rows if row.question.id not in answers]
        self.query_one("#count", Static).update(count(len(rows), len(self._assumed), len(self._open)))
        self.refresh_bindings()
        self.query_one(".error", Static).update("\n".join(f"Check: {problem.sentence}" for problem in engine.problems(answers)))
        listed = self.query_one(OptionList)
        listed.set_options(options(rows, answers))
        ids = [option.id for option in listed.options]
        listed.highlighted = ids.index(highlight) if highlight in ids else 1
        listed.focus()

    def action_undo(self) -> None:
        said = undo(self, self._session)
        self._fill(self._session.at)
        self._tell(said)

    def action_redo(self) -> None:
        said = redo(self, self._session)
        self._fill(self._session.at)
        self._tell(said)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_next_assumed(self) -> None:
        """Highlight the next row that rests on an assumption, around the end to the first."""
        listed = self.query_one(OptionList)
        ids = [option.id for option in listed.options]
        here = listed.highlighted or 0
        places = [ids.index(id) for id in self._assumed]
        if places:
            listed.highlighted = next((place for place in places if place > here), places[0])

    def action_open(self) -> None:
        self.dismiss(self.OPEN)

    def action_jump(self) -> None:
        self.app.push_screen(Jump(self._session, self._verdict), self._jumped)

    def _jumped(self, id: str | None) -> None:
        self.dismiss(id) if id is not None else self._fill(self._highlighted())

    def _highlighted(self) -> str | None:
        option = self.query_one(OptionList).highlighted_option
        return option.id if option is not None else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        return bool(self._open) if action == "open" else True

    def action_plan(self) -> None:
        self.left_at = self._highlighted()
        self.dismiss(self.PLAN)

    def action_results(self) -> None:
        self.left_at = self._highlighted()
        self.dismiss(self.RESULTS)

    def action_leave(self) -> None:
        self.dismiss(None)


def count(answers: int, assumed: int, open: int) -> str:
    """How sure the plan is, and what to do next."""
    sure = f"{answers} answers, {assumed or 'none'} of them assumed"
    return f"{sure}, {open} not asked yet: o asks these" if open else f"{sure}. All is asked: F6 is the plan"


def mark_of(row: Row, answered: bool) -> str:
    """Where the value comes from, in words; nothing behind a measured one."""
    if row.origin is Origin.DEFAULT and not answered:
        return "needed" if row.question.default is None else "default, not asked yet"
    return MARKS[row.origin]


def options(rows: tuple[Row, ...], answers: Answers) -> list[Option]:
    """A heading for each topic and two rows for each answer."""
    out: list[Option] = []
    topic = ""
    for row in rows:
        if row.question.topic != topic:
            topic = row.question.topic
            out.append(Option(Content.styled(topic_label(topic), "bold $text-accent"), disabled=True))
        mark = mark_of(row, row.question.id in answers)
        note = row.note if row.origin is Origin.UNKNOWN else ""
        out.append(
            Option(
                Content.assemble(
                    f"  {row.question.title}: ",
                    (row.shown, "bold"),
                    (f"  ({mark})" if mark else "", "italic"),
                    (f"\n      {note}" if note else "", "$text-muted"),
                ),
                id=row.question.id,
            )
        )
    return out
