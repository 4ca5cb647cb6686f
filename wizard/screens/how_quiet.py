"""How quiet it gets: every listener in a row, and the chosen one band by band, way by way."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option
from textual.worker import Worker, WorkerState

from wizard.widgets.key_line import KeyLine
from wizard.widgets.top import Top

if TYPE_CHECKING:
    from wizard.backroom import Backroom
    from wizard.interview.answers import Answers
    from wizard.quiet import Quiet
    from wizard.quiet_page import Line

LOOKS = {"heading": "bold $text-accent", "text": "", "aside": "$text-muted"}
CHART_LOOKS = {"█": "$text-error", "░": "$text-success", "━": "bold $text-accent", "·": "$text-muted"}


class ListenerList(OptionList):
    """One row a listener; the page below follows the highlight."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "cursor_down", "Next listener", key_display="↑↓"),
        Binding("pagedown,space", "screen.turn(1)", "Read on", key_display="PgDn"),
        Binding("pageup", "screen.turn(-1)", "Read back", show=False),
    ]

    def __init__(self) -> None:
        super().__init__(id="listeners", markup=False)


class HowQuiet(Screen[None]):
    """Computes in a worker, shows, and decides nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f3,ctrl+l", "leave", "Back", key_display="Esc")]

    @dataclass
    class Ready(Message):
        quiet: Quiet

    @dataclass
    class Failed(Message):
        sentence: str

    def __init__(self, answers: Answers, backroom: Backroom) -> None:
        super().__init__()
        self._answers = answers
        self._backroom = backroom
        self._quiet: Quiet | None = None

    def compose(self) -> ComposeResult:
        yield Top(self._answers.name, "how quiet")
        with Vertical(id="page"):
            yield Static("Working out how loud it is at each listener …", markup=False, id="head")
            yield ListenerList()
            with VerticalScroll(id="detail", can_focus=False):
                yield Static("", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one(ListenerList).focus()
        self.work_out()

    @work(thread=True, exclusive=True, group="quiet", exit_on_error=False)
    def work_out(self) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Ready(self._backroom.quiet(self._answers)))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state is WorkerState.ERROR:
            fault = f"by a fault of this program ({event.worker.error!r})"
            self.post_message(self.Failed(f"This could not be worked out, {fault}. Your answers are safe."))

    @on(Failed)
    def show_failure(self, event: Failed) -> None:
        self.query_one("#head", Static).update(Content.styled(event.sentence, "bold $text-error"))

    @on(Ready)
    def show_quiet(self, event: Ready) -> None:
        self._quiet = event.quiet
        self._fill()

    def on_resize(self) -> None:
        """Lay everything out again for the new width, once the widgets have it."""
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        from wizard.quiet_page import table  # it imports numpy, which the first page must not wait for

        if self._quiet is None:
            return
        listed = self.query_one(ListenerList)
        here = listed.highlighted
        if not self._quiet.listeners:
            self.query_one("#head", Static).update("Nobody is to be left undisturbed: no listener was named.")
            return
        width = listed.size.width - 1  # a column for the scroll bar
        head, *rows = table(self._quiet, width)
        self.query_one("#head", Static).update(Content.styled(head, "bold"))
        listed.set_options(Option(Content(row)) for row in rows)
        listed.highlighted = self._quiet.critical if here is None else here
        self.call_after_refresh(self._detail)

    @on(OptionList.OptionHighlighted)
    def show_listener(self) -> None:
        self._detail()
        self.query_one("#detail").scroll_home(animate=False)

    def _detail(self) -> None:
        """What is to be said about the highlighted listener, for the room there is."""
        from wizard.quiet_page import details

        index, pane = self.query_one(ListenerList).highlighted, self.query_one("#detail")
        if self._quiet is not None and index is not None:
            size = pane.scrollable_content_region.size
            lines = details(self._quiet, index, size.width - 1, size.height, unicode=not self.app.console.options.ascii_only)
            pane.query_one(Static).update(Content("\n").join(painted(line) for line in lines))

    def action_turn(self, pages: int) -> None:
        pane = self.query_one("#detail")
        pane.scroll_relative(y=pages * max(1, pane.size.height - 2), animate=False)

    def action_leave(self) -> None:
        self.dismiss(None)


def painted(line: Line) -> Content:
    """A line with its look; the signs of a chart say by themselves what their colours repeat."""
    if line.part.value in LOOKS:
        return Content.styled(line.text, LOOKS[line.part.value])
    return Content.assemble(*(("".join(run), CHART_LOOKS.get(sign, "")) for sign, run in groupby(line.text)))
