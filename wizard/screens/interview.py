"""The interview: the question, its control, and the verdict so far. Routes; the session decides, the backroom computes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.command import Provider
from textual.containers import Container
from textual.reactive import Reactive
from textual.screen import Screen

from calc.origin import Origin
from wizard.interview import engine
from wizard.interview.engine import Problem
from wizard.interview.verdict import changes
from wizard.palette import QuestionCommands
from wizard.screens.first_verdict import FirstVerdict
from wizard.screens.help import Help
from wizard.screens.jump import Jump
from wizard.screens.plan import PlanPage
from wizard.screens.results import Results
from wizard.screens.review import Review
from wizard.screens.steps import UNDO_REDO, complain, redo, undo
from wizard.session import Contradiction, answers_left, first_count, progress
from wizard.store import StoreError
from wizard.widgets.judge import Judge
from wizard.widgets.key_line import KeyLine
from wizard.widgets.question_pane import QuestionPane, help_sections
from wizard.widgets.top import Top
from wizard.widgets.verdict_panel import SEARCHING, WORKING, VerdictPanel

if TYPE_CHECKING:
    from wizard.backroom import Backroom
    from wizard.interview.answers import Answers
    from wizard.interview.leverage import Leverage
    from wizard.interview.verdict import Verdict
    from wizard.session import Session


class Interview(Screen[None]):
    """One question at a time. Every accepted answer is saved and starts a new verdict; typing never waits for it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "Help", key_display="F1"),
        Binding("f2", "dont_know", "Don't know", key_display="F2"),
        Binding("f3", "back", "Back", key_display="F3"),
        Binding("f4", "jump", "Map", key_display="F4", tooltip="Map of the topics, and any question by its words"),
        Binding("f5", "review", "Review", key_display="F5", tooltip="Review all answers on one page"),
        Binding("f6", "plan", "Plan", key_display="F6", tooltip="Read the plan, and write it to a folder"),
        *UNDO_REDO,
        Binding("ctrl+n", "skip", "Skip", key_display="^N", show=False, tooltip="Skip: leave it open"),
        Binding("ctrl+l", "results('quiet')", "Results", key_display="^L", show=False, tooltip="How quiet, air, room, compare"),
        Binding("escape", "leave", "List", key_display="Esc", show=False, tooltip="List of interviews"),
        Binding("f8", "telling", "Most telling", key_display="F8", show=False, tooltip="The open question that would change most"),
        Binding("f9", "switch_units", "Units", key_display="F9", show=False, tooltip="Feet or metres"),
        Binding("f7", "estimate", "Estimated", key_display="F7", show=False, tooltip="Measured or estimated"),
        Binding("pagedown", "scroll_about(1)", "Scroll", show=False),
        Binding("pageup", "scroll_about(-1)", "Scroll", show=False),
    ]
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {QuestionCommands}
    focused = Reactive(None, repaint=False)  # Textual would draw the whole screen again; what has and what had the focus draw themselves

    def __init__(self, session: Session, backroom: Backroom) -> None:
        super().__init__()
        self._session = session
        self._backroom = backroom
        self._verdict: Verdict | None = None
        self._judged: Answers | None = None  # the answers that the verdict is, or will be, about
        self._leverage: Leverage | None = None
        self._first_page: FirstVerdict | None = None
        self._contradiction: str | None = None  # the text that was refused once for clashing with another answer

    def compose(self) -> ComposeResult:
        yield Top(self._session.answers.name, "")
        with Container(id="body"):
            yield QuestionPane(self.take)
            yield VerdictPanel()
        yield Judge(self._backroom)
        yield KeyLine()

    def on_mount(self) -> None:
        if self._session.notice:
            self.notify(self._session.notice, title="Please note", severity="warning", timeout=30, markup=False)
        self.show_place()
        self.judge()

    def on_unmount(self) -> None:
        self._session.close()

    # ---- answering -------------------------------------------------------------------------------------------------

    def take(self, text: str) -> None:
        """An answer from a control; refused beside the field, or saved and followed by the next question."""
        pane = self.query_one(QuestionPane)
        if not text.strip() and pane.put_back():
            return
        was_ready, asked = engine.verdict_ready(self._session.answers), self._session.at
        origin = Origin.ESTIMATED if pane.estimated else Origin.MEASURED
        try:
            self._session.accept(text, origin, knowingly=text == self._contradiction)
        except Problem as problem:
            self._refuse(text, problem)
            return
        except StoreError as error:
            complain(self, error)
        self.judge()
        self.show_place(asked, taken=True)
        if not was_ready and engine.verdict_ready(self._session.answers) and self._session.at is not None:
            self._show_first_verdict()

    def _refuse(self, text: str, problem: Problem) -> None:
        sentence = problem.sentence
        if isinstance(problem, Contradiction):
            self._contradiction = text
            sentence += " Change it, or press Enter again to keep it and then change the other answer."
        self.query_one(QuestionPane).refuse(sentence)

    def show_place(self, asked: str | None = None, *, taken: bool = False) -> None:
        """The page for where the session stands: a question, or all answers once there is no further one.

        What stands in the field is put aside, unless it has just been taken.
        """
        if taken:
            self.query_one(QuestionPane).taken()
        else:
            self._put_aside()
        question = self._session.question
        self._contradiction = None
        if question is None:
            self.show_review(asked)
            return
        way_back = "Esc: all answers · " if self._session.from_page else ""
        self.query_one(Top).tell(self._session.answers.name, f"{way_back}{progress(self._session.answers, question)}")
        self.query_one(QuestionPane).ask(question, self._session.answers, self._session.drafts.get(question.id, ""))

    def _put_aside(self) -> None:
        unfinished = self.query_one(QuestionPane).unfinished
        if unfinished is not None:
            self._session.put_aside(*unfinished)

    def action_dont_know(self) -> None:
        self.take("?")

    def action_estimate(self) -> None:
        self.query_one(QuestionPane).toggle_estimate()

    def action_switch_units(self) -> None:
        with self._told():
            self._session.switch_units()
        self.judge()
        self.show_place()

    def action_undo(self) -> None:
        said = undo(self, self._session)
        self._show_again(said)

    def action_redo(self) -> None:
        said = redo(self, self._session)
        self._show_again(said)

    def on_screen_resume(self) -> None:
        """Back from a page that may have undone an answer."""
        if self._judged is not None and self._judged is not self._session.answers:
            self._show_again()

    def _show_again(self, said: str = "") -> None:
        self.judge()
        if self._session.question is not None:
            self.show_place()
            self.query_one(QuestionPane).say(said, "bold $text-accent")

    def action_scroll_about(self, pages: int) -> None:
        self.query_one(QuestionPane).scroll_about(pages)

    def on_input_changed(self) -> None:
        self.query_one(Judge).hold()

    def on_option_list_option_highlighted(self) -> None:
        self.query_one(Judge).hold()

    # ---- moving ----------------------------------------------------------------------------------------------------

    def action_back(self) -> None:
        asked = self._session.at
        if self._session.back():
            self.show_place(asked)
        else:
            self.notify("This is the first question.", markup=False)

    def action_skip(self) -> None:
        """Go on without an answer; what was typed and not taken stands there again when the person comes back."""
        asked = self._session.at
        self._session.skip()
        self.show_place(asked)

    def action_jump(self) -> None:
        self.app.push_screen(Jump(self._session, self._verdict), self.go_to)

    def action_telling(self) -> None:
        """A detour: once it is answered, the questions go on where they were."""
        if self._leverage is not None:
            self._session.go(self._leverage.question.id, detour=True)
            self.show_place()
        else:
            self.notify("No open question is known yet to matter most.", markup=False)

    @property
    def answers(self) -> Answers:
        return self._session.answers

    def go_to(self, id: str | None) -> None:
        if id is not None:
            self._session.go(id)
            self.show_place()

    def action_help(self) -> None:
        question = self._session.question
        if question is not None:
            self.app.push_screen(Help(question.text, help_sections(question, self._session.answers)))

    def action_review(self) -> None:
        self.show_review(self._session.at)

    def show_review(self, highlight: str | None) -> None:
        page = Review(self._session, highlight, self._verdict)
        self.app.push_screen(page, lambda wish: self._reviewed(wish, page.left_at))

    def _reviewed(self, wish: str | None, row: str | None) -> None:
        """``row`` is the id of the question on which the page was left: the plan and the results lead back to it."""
        if wish == Review.PLAN:
            self._open_plan(lambda: self.show_review(row))
        elif wish == Review.RESULTS:
            self._open_results("quiet", lambda: self.show_review(row))
        elif wish == Review.OPEN:
            self._session.ask_open()
            self.show_place()
        elif wish is not None:
            self._session.go(wish, changing=True)
            self.show_place()
        elif self._session.question is None:
            self._session.back()
            self.show_place()
        elif self._session.from_page:
            self._session.leave_page()
            self.show_place()

    def action_plan(self) -> None:
        self._open_plan(self._show_end)

    def _open_plan(self, then: Callable[[], None]) -> None:
        if self._enough("The plan needs {} more of the first answers.", then):
            self.app.push_screen(PlanPage(self._session, self._backroom), lambda _: self._page_left(then))

    def action_results(self, kind: str) -> None:
        self._open_results(kind, self._show_end)

    def _open_results(self, kind: str, then: Callable[[], None]) -> None:
        if self._enough("This can be told after {} more of the first answers.", then):
            self.app.push_screen(Results(self._session.answers, self._backroom, kind), lambda _: self._page_left(then))

    def _enough(self, sentence: str, then: Callable[[], None]) -> bool:
        """Whether there are answers enough for a page, which then comes before the verdict; else the sentence says how many are left."""
        left = answers_left(self._session.answers)
        if left:
            self.notify(sentence.format(left), markup=False)
            then()
        else:
            self.query_one(Judge).stop()
        return not left

    def _page_left(self, then: Callable[[], None]) -> None:
        self.judge()
        then()

    def _show_end(self) -> None:
        if self._session.question is None:
            self.show_review(None)

    def action_leave(self) -> None:
        """Back to the page of all answers where that asked the question, else to the list of interviews."""
        if self._session.from_page:
            self._put_aside()
            self.show_review(self._session.at)
            return
        self.save_place()
        self.dismiss(None)

    def save_place(self) -> None:
        self._put_aside()
        with self._told():
            self._session.save()

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Show a StoreError instead of raising it: what could not be saved stays on the screen."""
        try:
            yield
        except StoreError as error:
            complain(self, error)

    # ---- the verdict -----------------------------------------------------------------------------------------------

    def judge(self) -> None:
        """Start on the verdict for the answers as they stand; work on earlier ones is dropped."""
        answers, panel = self._session.answers, self.query_one(VerdictPanel)
        self._leverage, self._judged = None, answers
        self.query_one(Judge).stop()
        left = answers_left(answers)
        if left:
            verb = "is" if left == 1 else "are"
            panel.show_note(f"{left} of the first {first_count()} answers {verb} still to come before a first verdict.")
            return
        if self._verdict is None:
            panel.show_note("The first verdict is being worked out; go on answering meanwhile.")
        panel.show_working(WORKING)
        self.query_one(Judge).start(answers)

    @on(Judge.Judged)
    def show_verdict(self, event: Judge.Judged) -> None:
        if event.answers is not self._session.answers:
            return
        for panel in self._panels():
            panel.show_working(SEARCHING)
            panel.show_verdict(event.verdict, changes(self._verdict, event.verdict))
        self._verdict = event.verdict
        self.query_one(Judge).look_for_telling(event.answers)

    @on(Judge.NotJudged)
    def show_no_verdict(self, event: Judge.NotJudged) -> None:
        if event.answers is self._session.answers:
            self._explain(event.sentence)

    @on(Judge.Told)
    def show_telling(self, event: Judge.Told) -> None:
        if event.answers is not self._session.answers:
            return
        self._leverage = event.leverage
        for panel in self._panels():
            panel.show_working("")
            panel.show_telling(event.leverage.sentence if event.leverage is not None else "")

    def _explain(self, sentence: str) -> None:
        for panel in self._panels():
            panel.show_working("")
            panel.show_note(sentence)

    def _panels(self) -> list[VerdictPanel]:
        page = self._first_page
        return [self.query_one(VerdictPanel), *([page.panel] if page is not None and page.is_attached else [])]

    def _show_first_verdict(self) -> None:
        self._first_page = FirstVerdict(self._session.answers.name)
        self.app.push_screen(self._first_page, self._first_verdict_read)

    def _first_verdict_read(self, wish: str | None) -> None:
        self._first_page = None
        if wish == FirstVerdict.REVIEW:
            self.action_review()
        elif wish == FirstVerdict.PLAN:
            self.action_plan()
        elif wish == FirstVerdict.QUIET:
            self.action_results("quiet")
