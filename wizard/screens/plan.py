"""The verdict, the plan to read, and the folder to write it to."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Input, MarkdownViewer, Static

from wizard.screens.ask import AskOne
from wizard.widgets.top import Top
from wizard.widgets.verdict_panel import VerdictPanel

if TYPE_CHECKING:
    from wizard.backroom import Backroom, Plan
    from wizard.session import Session


def folder_for(name: str) -> Path:
    """A folder under the current one, named after the project; a name never leads anywhere else."""
    slug = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:40]
    return Path.cwd() / f"{slug or 'room'}-plan"


class PlanPage(Screen[None]):
    """Reads the plan before it is written; Enter in the folder field writes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Write the plan", key_display="Enter"),
        Binding("escape,f3", "leave", "Back to the answers", key_display="Esc"),
        Binding("tab", "app.focus_next", "Folder or plan", key_display="Tab"),
    ]

    @dataclass
    class Ready(Message):
        plan: Plan

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

    def compose(self) -> ComposeResult:
        yield Top(self._session.answers.name, "the plan")
        with Vertical(id="page"):
            yield VerdictPanel()
            yield Input(str(folder_for(self._session.answers.name)), id="folder", select_on_focus=False, max_length=1000)
            yield Static("Folder for the plan. Enter writes it.", markup=False, id="notes", classes="hint")
            yield MarkdownViewer("", id="preview", show_table_of_contents=False, open_links=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        self.query_one("#folder", Input).border_title = "Folder"
        panel = self.query_one(VerdictPanel)
        panel.show_note("Working out the plan …")
        panel.show_working(True)
        self.make_plan()

    @work(thread=True, exclusive=True, group="plan")
    def make_plan(self) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Ready(self._backroom.plan(self._session.answers)))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    @on(Ready)
    async def show_plan(self, event: Ready) -> None:
        panel = self.query_one(VerdictPanel)
        panel.show_working(False)
        panel.show_verdict(event.plan.verdict, {})
        await self.query_one("#preview", MarkdownViewer).document.update(event.plan.text)

    @on(Failed)
    def show_failure(self, event: Failed) -> None:
        self.query_one(VerdictPanel).show_working(False)
        self._say(event.sentence, wrong=True)

    @on(Input.Submitted, "#folder")
    def write(self, event: Input.Submitted) -> None:
        if not event.value.strip():
            self._say("Please name a folder to write the plan to.", wrong=True)
            return
        folder = Path(event.value.strip()).expanduser()
        if folder.exists() and not folder.is_dir():
            self._say(f"{folder} is a file, not a folder; please name another.", wrong=True)
        elif folder.is_dir() and any(folder.iterdir()):
            self.app.push_screen(
                AskOne(
                    "This folder is not empty",
                    f"{folder}\nA plan.md in it would be replaced. Other files stay.",
                    {"no": "Do not write; choose another folder", "yes": "Write the plan there"},
                ),
                partial(self._export_if, folder),
            )
        else:
            self.export(folder)

    def _export_if(self, folder: Path, answer: str | None) -> None:
        if answer == "yes":
            self.export(folder)

    @work(thread=True, exclusive=True, group="export")
    def export(self, folder: Path) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Written(self._backroom.export(self._session.answers, folder)))
        except OSError as error:
            self.post_message(self.Failed(f"The plan could not be written there: {error.strerror or error}."))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    @on(Written)
    def show_where(self, event: Written) -> None:
        self._say(f"Written: {event.path}", wrong=False)
        self.query_one("#preview").focus()

    def action_leave(self) -> None:
        self.dismiss(None)

    def action_submit(self) -> None:
        self.write(Input.Submitted(self.query_one("#folder", Input), self.query_one("#folder", Input).value))

    def _say(self, sentence: str, *, wrong: bool) -> None:
        self.query_one("#notes", Static).update(Content.styled(sentence, "bold $text-error" if wrong else "bold $text-success"))
