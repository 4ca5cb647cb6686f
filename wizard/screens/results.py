"""The pages of results: how quiet it gets, the air, the sound in the room, and the scheme chosen beside another.

Each page is a list to choose from, where there is something to choose, and all about the chosen row. Everything is worked out in workers.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
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

from wizard.lines import with_words
from wizard.widgets.key_line import KeyLine
from wizard.widgets.top import Top

if TYPE_CHECKING:
    from wizard.backroom import Backroom
    from wizard.interview.answers import Answers
    from wizard.lines import Line, Page

WORKING = "Working it out …"
PATIENCE = 0.3  # s before the lines of another row give way to that
PAGES = {"quiet": "How quiet", "air": "Air", "room": "Room", "compare": "Compare"}
LOOKS = {"heading": "bold $text-accent", "text": "", "aside": "$muted"}
CHART_LOOKS = {"█": "$text-error", "░": "$text-success", "━": "bold $text-accent", "·": "$muted"}
TURNS: tuple[BindingType, ...] = (
    Binding("right,tab", "screen.turn_page(1)", "Next page", key_display="→"),
    Binding("left,shift+tab", "screen.turn_page(-1)", "Page before", show=False),
)


class Rows(OptionList):
    """What can be chosen; the page below follows the highlight."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "cursor_down", "Next row", key_display="↑↓"),
        Binding("pagedown,space", "screen.read(1)", "Read on", key_display="PgDn"),
        Binding("pageup", "screen.read(-1)", "Read back", show=False),
        *TURNS,
    ]

    def __init__(self) -> None:
        super().__init__(id="rows", markup=False)


class Detail(VerticalScroll):
    """All about the chosen row; holds the focus where there is nothing to choose."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "scroll_down", "Scroll", key_display="↑↓"),
        Binding("pagedown,space", "screen.read(1)", "Read on", key_display="PgDn"),
        Binding("pageup", "screen.read(-1)", "Read back", show=False),
        *TURNS,
    ]

    @dataclass
    class Sized(Message):
        """There is another room for the lines."""

    def __init__(self) -> None:
        super().__init__(Static("", markup=False), id="detail")

    def on_resize(self) -> None:
        self.post_message(self.Sized())


class Results(Screen[None]):
    """Computes in workers, shows, and decides nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f3,ctrl+l", "leave", "Back", key_display="Esc")]

    @dataclass
    class Ready(Message):
        kind: str
        page: Page

    @dataclass
    class Laid(Message):
        """The lines of one row of a page, as ``wanted`` when the work was begun."""

        wanted: tuple[str, int, int, int]
        lines: list[Line]

    @dataclass
    class Failed(Message):
        sentence: str

    def __init__(self, answers: Answers, backroom: Backroom, kind: str = "quiet") -> None:
        super().__init__()
        self._answers = answers
        self._backroom = backroom
        self._kind = kind
        self._page: Page | None = None
        self._wanted = ("", 0, 0, 0)
        self._shown = ("", 0, 0, 0)  # what the lines on show are about
        self._row = ("", 0)  # the page and the row that the lines are about
        self._empty = False  # the page has nothing to tell but its heading

    def compose(self) -> ComposeResult:
        yield Top(self._answers.name, "")
        with Vertical(id="page"):
            yield Static("", markup=False, id="head")
            yield Rows()
            yield Detail()
        yield KeyLine()

    def on_mount(self) -> None:
        self._open(self._kind)

    def action_turn_page(self, step: int) -> None:
        kinds = list(PAGES)
        self._open(kinds[(kinds.index(self._kind) + step) % len(kinds)])

    def action_open_page(self, kind: str) -> None:
        self._open(kind)

    def _open(self, kind: str) -> None:
        self._kind, self._page, self._empty = kind, None, True
        self._wanted = self._shown = ("", 0, 0, 0)
        self.query_one(Top).show_pages(PAGES, kind, self._answers.name)
        self._say(WORKING)
        self.query_one("#detail Static", Static).update("")
        rows, detail = self.query_one(Rows), self.query_one(Detail)
        rows.clear_options()
        rows.display, detail.can_focus = False, True
        detail.focus()
        self.work_out(kind)

    def _say(self, text: str, look: str = "") -> None:
        head = self.query_one("#head", Static)
        head.display = bool(text)
        head.update(Content.styled(text, look))

    @work(thread=True, exclusive=True, group="page", exit_on_error=False)
    def work_out(self, kind: str) -> None:
        from wizard.interview.engine import Problems

        try:
            self.post_message(self.Ready(kind, self._backroom.page(kind, self._answers)))
        except Problems as problems:
            self.post_message(self.Failed(str(problems)))

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.state is WorkerState.ERROR:
            fault = f"by a fault of this program ({event.worker.error!r})"
            self.post_message(self.Failed(f"This could not be worked out, {fault}. Your answers are safe."))

    @on(Failed)
    def show_failure(self, event: Failed) -> None:
        self._say(event.sentence, "bold $text-error")

    @on(Ready)
    def show_page(self, event: Ready) -> None:
        if event.kind == self._kind:
            self._page = event.page
            self._fill()

    def on_resize(self) -> None:
        """Lay everything out again for the new width, once the widgets have it."""
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        if self._page is None:
            return
        listed, detail = self.query_one(Rows), self.query_one(Detail)
        here = listed.highlighted
        table = self._page.rows(self.query_one("#page").content_size.width - 1)  # a column for the scroll bar
        head, rows = (table[0], table[1:]) if table else ("", ())
        self._say(head, "bold" if rows else "")
        listed.display, detail.can_focus = bool(rows), not rows
        if rows:
            listed.set_options(Option(Content(row)) for row in rows)
            listed.highlighted = self._page.start if here is None else here
            listed.focus()
        self._empty = bool(table) and not rows
        self.call_after_refresh(self._lay)

    @on(OptionList.OptionHighlighted)
    def show_row(self) -> None:
        row = (self._kind, self.query_one(Rows).highlighted or 0)
        self._lay()
        if row != self._row:  # not where a new width alone filled the rows again
            self._row = row
            self.query_one(Detail).scroll_home(animate=False)

    @on(Detail.Sized)
    def _lay(self) -> None:
        """Begin on what is to be said about the highlighted row, for the room there is."""
        if self._page is None or self._empty:
            return
        size = self.query_one(Detail).outer_size
        wanted = (self._kind, self.query_one(Rows).highlighted or 0, size.width - 2, size.height)  # one column is the scroll bar's
        if wanted != self._wanted:
            self._wanted = wanted
            self.set_timer(PATIENCE, partial(self._tell_working, wanted))
            self.lay_out(self._page, wanted)

    def _tell_working(self, wanted: tuple[str, int, int, int]) -> None:
        """Another scheme takes a while to work out: until then, say so in place of the lines of the row before."""
        if self._wanted == wanted != self._shown:
            self.query_one("#detail Static", Static).update(WORKING)

    @work(thread=True, exclusive=True, group="lines", exit_on_error=False)
    def lay_out(self, page: Page, wanted: tuple[str, int, int, int]) -> None:
        _, row, width, height = wanted
        self.post_message(self.Laid(wanted, with_words(page.lines(row, width, height, unicode=True), width)))

    @on(Laid)
    def show_lines(self, event: Laid) -> None:
        if event.wanted == self._wanted:
            self._shown = event.wanted
            self.query_one("#detail Static", Static).update(Content("\n").join(painted(line) for line in event.lines))

    def action_read(self, pages: int) -> None:
        pane = self.query_one(Detail)
        pane.scroll_relative(y=pages * max(1, pane.size.height - 2), animate=False)

    def action_leave(self) -> None:
        self.dismiss(None)


def painted(line: Line) -> Content:
    """A line with its look; the signs of a chart say by themselves what their colours repeat."""
    if line.part.value in LOOKS:
        return Content.styled(line.text, LOOKS[line.part.value])
    return Content.assemble(*(("".join(run), CHART_LOOKS.get(sign, "")) for sign, run in groupby(line.text)))
