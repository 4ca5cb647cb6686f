"""The verdict, the plan to read, and the folder to write it to."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.strip import Strip
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from wizard.screens.ask import AskOne, AskText
from wizard.screens.results import Results
from wizard.widgets.key_line import KeyLine
from wizard.widgets.plan_preview import PlanPreview, lay_out
from wizard.widgets.top import Top
from wizard.widgets.verdict_panel import WORKING, VerdictPanel

if TYPE_CHECKING:
    from wizard.backroom import Backroom, Plan
    from wizard.session import Session


LONGEST_TITLE = 64  # letters of a section in the list


def folder_for(name: str) -> Path:
    """A folder under the current one, named after the project; a name never leads anywhere else."""
    slug = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:40]
    return Path.cwd() / f"{slug or 'room'}-plan"


def shorten(title: str) -> str:
    """One row of the list of sections."""
    return title if len(title) <= LONGEST_TITLE else f"{title[: LONGEST_TITLE - 1].rstrip()}…"


class PlanPage(Screen[None]):
    """Shows the plan before it is written; w writes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f3", "leave", "Back", key_display="Esc"),
        Binding("w,enter", "write", "Write", key_display="w", tooltip="Write the plan to a folder"),
        Binding("s", "sections", "Sections", key_display="s", tooltip="Go to a section of the plan"),
        Binding("slash", "look", "Look for", key_display="/", tooltip="Look for words in the plan"),
        Binding("n", "turn(1)", "Next", key_display="n", tooltip="The next place with these words"),
        Binding("N", "turn(-1)", "Before", key_display="N", tooltip="The place before with these words"),
        Binding("ctrl+l", "results", "Results", key_display="^L", tooltip="How quiet, air, room, compare"),
    ]

    @dataclass
    class Ready(Message):
        plan: Plan

    @dataclass
    class LaidOut(Message):
        lines: list[Strip]
        width: int

    @dataclass
    class Failed(Message):
        sentence: str

    @dataclass
    class Written(Message):
        path: Path

    def __init__(self, session: Session, backroom: Backroom) -> None:
        super().__init__()
        self._session = session
        self._backroom = backroom
        self._folder = folder_for(session.answers.name)
        self._plan: Plan | None = None
        self._looked_for = ""

    def compose(self) -> ComposeResult:
        yield Top(self._session.answers.name, "the plan")
        with Vertical(id="page"):
            yield VerdictPanel("strip")
            yield Static("", markup=False, id="notes")
            yield PlanPreview()
        yield KeyLine()

    def on_mount(self) -> None:
        panel = self.query_one(VerdictPanel)
        panel.show_note("Working out the plan …")
        panel.show_working(WORKING)
        self.query_one(PlanPreview).focus()
        self.make_plan()

    @work(thread=True, exclusive=True, group="plan", exit_on_error=False)
    def make_plan(self) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Ready(self._backroom.plan(self._session.answers)))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    @on(Ready)
    def show_plan(self, event: Ready) -> None:
        panel = self.query_one(VerdictPanel)
        panel.show_working("")
        panel.show_verdict(event.plan.verdict, {})
        self._plan = event.plan
        self._say("Nothing is written yet. Scroll to read; press w to write it to a folder.", wrong=False)
        self._lay_out_again()

    @work(thread=True, exclusive=True, group="lay out")
    def lay_text(self, text: str, width: int) -> None:
        self.post_message(self.LaidOut(lay_out(text, width), width))

    @on(LaidOut)
    def show_text(self, event: LaidOut) -> None:
        preview = self.query_one(PlanPreview)
        if event.width == preview.text_width:
            preview.show(event.lines)
            self.refresh_bindings()

    def on_resize(self) -> None:
        """Lay the plan out again for the new width, once the preview has it."""
        self.call_after_refresh(self._lay_out_again)

    def _lay_out_again(self) -> None:
        if self._plan is not None:
            self.lay_text(self._plan.text, self.query_one(PlanPreview).text_width)

    @on(Failed)
    def show_failure(self, event: Failed) -> None:
        panel = self.query_one(VerdictPanel)
        panel.show_working("")
        panel.show_note("No plan yet.")
        self._say(event.sentence, wrong=True)

    def action_write(self) -> None:
        if self._plan is not None:
            self.app.push_screen(AskText("Write the plan", "The folder for it:", str(self._folder)), self._check_folder)

    def _check_folder(self, text: str | None) -> None:
        if text is None:
            return
        self._folder = Path(text).expanduser()
        if self._folder.exists() and not self._folder.is_dir():
            self._say(f"{self._folder} is a file, not a folder; press w and name another.", wrong=True)
        elif self._folder.is_dir() and any(self._folder.iterdir()):
            self.app.push_screen(
                AskOne(
                    "This folder is not empty",
                    f"{self._folder}\nA plan in it would be replaced, with its figures, lists and sheets. Other files stay.",
                    {"no": "Do not write; choose another folder", "yes": "Write the plan there"},
                ),
                self._export_if,
            )
        else:
            self._begin_export()

    def _export_if(self, answer: str | None) -> None:
        if answer == "yes":
            self._begin_export()

    def _begin_export(self) -> None:
        self._say(f"Writing to {self._folder} …", wrong=False)
        self.export(self._folder)

    @work(thread=True, exclusive=True, group="export", exit_on_error=False)
    def export(self, folder: Path) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Written(self._backroom.export(self._session.answers, folder)))
        except OSError as error:
            self.post_message(self.Failed(f"The plan could not be written there: {error.strerror or error}."))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state is WorkerState.ERROR:
            fault = f"by a fault of this program ({event.worker.error!r})"
            self.post_message(self.Failed(f"The plan could not be made, {fault}. Your answers are safe."))

    @on(Written)
    def show_where(self, event: Written) -> None:
        beside = "In its folder, too: hand-off sheets for the trades, the shopping list, a calendar, the figures."
        self._say(f"Written: {event.path}\n{beside}", wrong=False)

    def action_results(self) -> None:
        self.app.push_screen(Results(self._session.answers, self._backroom))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that would do nothing are not shown."""
        if not self.is_mounted:
            return True
        preview = self.query_one(PlanPreview)
        return {"turn": bool(preview.found_count), "sections": bool(preview.sections), "write": self._plan is not None}.get(action, True)

    def action_sections(self) -> None:
        preview = self.query_one(PlanPreview)
        titles = {f"{n}": shorten("  " * max(0, each.level - 2) + each.title) for n, each in enumerate(preview.sections)}
        hint = "Enter or a click goes there."
        self.app.push_screen(AskOne("The sections of the plan", hint, titles, start=f"{preview.here}"), self._go_to_section)

    def _go_to_section(self, section: str | None) -> None:
        if section is not None:
            self.query_one(PlanPreview).go(int(section))

    def action_look(self) -> None:
        self.app.push_screen(AskText("Look for", "A few words of the plan:", self._looked_for), self._look)

    def _look(self, words: str | None) -> None:
        if words is None:
            return
        self._looked_for = words
        self.refresh_bindings()
        if self.query_one(PlanPreview).mark(words):
            self.action_turn(1)
        else:
            self._say(f"“{words}” is nowhere in the plan.", wrong=True)

    def action_turn(self, step: int) -> None:
        preview = self.query_one(PlanPreview)
        at = preview.turn(step)
        if at:
            self._say(f"“{self._looked_for}”: {at} of {preview.found_count}. n: the next one, N: the one before.", wrong=False)

    def action_leave(self) -> None:
        self.dismiss(None)

    def _say(self, sentence: str, *, wrong: bool) -> None:
        self.query_one("#notes", Static).update(Content.styled(sentence, "bold $text-error" if wrong else "bold $text-success"))
