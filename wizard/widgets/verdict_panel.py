"""The verdict so far: a line for each thing that decides, and the open question that would change it most.

Wide, it stands beside the question, a few rows to a line, with as much of each as there is room for; narrow, it is a strip below: a row for
each line that is not good or that the last answer moved, and what is left together in one. All states are words; a line that the last
answer moved says by how much, and what it was before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, Self

from textual.content import Content
from textual.geometry import Region
from textual.style import Style

from wizard.theme import NARROW
from wizard.widgets.settled import Text

if TYPE_CHECKING:
    from textual import events

    from wizard.interview.verdict import Verdict, VerdictLine

WORKING, SEARCHING = "working it out", "looking for the question that matters most"
TALL = 32  # rows from which there is room to wrap
FRAMES = {"beside": 4, "strip": 8, "page": 8}  # columns that the border and the paddings around it take: under a question, on a page
ROWS = 5  # lines of their own in a strip
STRIP, LOW_STRIP = 9, 6  # rows of a strip, as stillroom.tcss gives it; the lower one where the question needs the room
STATE_STYLES = {"good": "$text-success", "caution": "$text-warning", "stop": "bold $text-error", "open": "$muted"}
TO_QUESTION = {"@click": "screen.telling"}
LEADING = ("Heard", "Cost", "Finished ceiling", "Ceiling")  # how names begin of lines told together: what is cut at the end matters less
GRAVEST = ("stop", "caution", "open", "good")


class Placed(NamedTuple):
    """A part of the panel's text, and where it stands: from which row on the screen, and from which line of the text."""

    row: int
    line: int
    text: str
    spans: tuple[Any, ...]
    rows: int


class VerdictPanel(Text):
    """Shows what it is told; computes nothing. Draws again only the rows that changed, as it is the largest thing beside the question and
    each answer changes it twice."""

    DEFAULT_CSS = """
    VerdictPanel { height: auto; }
    """
    _changed: tuple[Region, ...] = ()

    def __init__(self, form: Literal["beside", "strip", "page"] = "beside") -> None:
        """``beside`` the question, a strip where that is narrow; always a ``strip``; or on a ``page`` of its own, every line in full."""
        super().__init__(id="verdict")
        self._form = form
        self._title = "Verdict" if form == "strip" else "Verdict so far"
        self._edges = {"title": "", "subtitle": ""}
        self._standing: tuple[int, frozenset[Placed]] = (0, frozenset())  # what was drawn last, and in how many columns
        self._set_edge("title", self._title)
        self._note = ""
        self._verdict: Verdict | None = None
        self._moved: Mapping[str, str] = {}
        self._telling = ""

    def show_note(self, note: str) -> None:
        """A sentence in place of a verdict: how many answers remain, or what keeps it from being computed."""
        self._note, self._verdict, self._moved, self._telling = note, None, {}, ""
        self._set_edge("title", self._title)
        self._redraw()

    def show_verdict(self, verdict: Verdict, moved: Mapping[str, str]) -> None:
        self._note, self._verdict, self._moved, self._telling = "", verdict, moved, ""
        short = f"Verdict: {verdict.state} · ^L: details"  # has to fit beside a question
        self._set_edge("title", short if self._form == "beside" else f"{self._title}: {verdict.state}")
        self._redraw()

    def show_working(self, what: str) -> None:
        """What is being worked out; empty when nothing is."""
        self._set_edge("subtitle", f"{what} …" if what else "")

    def show_telling(self, sentence: str) -> None:
        """The open question that would change this most; empty while it is not known."""
        self._telling = sentence
        if sentence and self._form == "beside":
            self._set_edge("subtitle", "F8: go to that question")
        self._redraw()

    def on_resize(self, event: events.Resize) -> None:
        self._redraw()

    async def on_click(self, event: events.Click) -> None:
        """A click on the panel beside a question opens what its title says; one on the sentence below goes to that question."""
        if self._form == "beside" and self._verdict is not None and "@click" not in event.style.meta:
            await self.run_action("screen.results('quiet')")

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """As Textual's; of a change made while ``_only`` holds, just those regions."""
        return super().refresh(*(regions or self._changed), repaint=repaint, layout=layout, recompose=recompose)

    @contextmanager
    def _only(self, *rows: tuple[int, int]) -> Iterator[None]:
        """What changes meanwhile changes these rows alone: the first and how many, counted from the top border."""
        width, gutter = self.outer_size.width, self.gutter
        self._changed = tuple(Region(-gutter.left, row - gutter.top, width, count) for row, count in rows)
        try:
            yield
        finally:
            self._changed = ()

    def _set_edge(self, edge: Literal["title", "subtitle"], text: str) -> None:
        """What stands in the upper or the lower border."""
        if self._edges[edge] != text:
            self._edges[edge] = text
            with self._only((0 if edge == "title" else self.outer_size.height - 1, 1)):
                setattr(self, f"border_{edge}", text)

    def _show(self, parts: Sequence[Content]) -> None:
        """Put these parts one under the other; lay out and draw only what is not there already."""
        width, before = self.content_size.width, self._standing
        now = frozenset(placed(parts, width))
        self._standing = width, now
        text = Content("\n").join(parts)
        if not width or width != before[0] or not before[1]:
            self.update(text)
            return
        changed = now ^ before[1]
        if changed:
            as_tall = self._shape == "beside" or height_of(now) == height_of(before[1])  # beside a question it is as tall as the page
            with self._only(*((part.row + self.gutter.top, part.rows) for part in changed)):
                self.update(text, layout=not as_tall)

    @property
    def _shape(self) -> str:
        """The form that there is room for."""
        return "strip" if self._form == "beside" and self.app.size.width < NARROW else self._form

    def _redraw(self) -> None:
        if self._verdict is None:
            self._show([Content(self._note)])
            return
        size, lines, form = self.app.size, self._verdict.lines, self._shape
        telling = [Content.styled(self._telling, "$text-accent").stylize(Style.from_meta(TO_QUESTION))] if self._telling else []
        width = max(20, size.width - FRAMES[self._form])
        if form == "beside":
            inner = self.content_size
            self._show(beside(lines, self._moved, telling, max(20, inner.width), inner.height))
        elif form == "page":
            rows = [row(line, self._moved.get(line.name, "")) for line in lines]
            self._show([*(rows if size.height >= TALL else cut(rows, width)), *telling])
        else:
            if size.height < TALL:
                telling = [row for each in telling for row in wrapped(each, width, 2)]
            spare = (STRIP if size.height >= TALL else LOW_STRIP) - sum(rows_of(each.plain, width) for each in telling)
            self._show([*strip(lines, self._moved, width, spare), *telling])


@lru_cache(maxsize=512)
def rows_of(text: str, width: int) -> int:
    """How many rows a text takes. Kept, as wrapping is slow and most of a verdict stays as it is from one answer to the next."""
    return Content(text).get_height({}, width)


def placed(parts: Iterable[Content], width: int) -> Iterator[Placed]:
    row = line = 0
    for part in parts:
        rows = rows_of(part.plain, width) if width else 1
        yield Placed(row, line, part.plain, tuple(part.spans), rows)
        row, line = row + rows, line + part.plain.count("\n") + 1


def height_of(parts: Iterable[Placed]) -> int:
    return max((part.row + part.rows for part in parts), default=0)


def cut(rows: Iterable[Content], width: int) -> list[Content]:
    return [each.truncate(width, ellipsis=True) for each in rows]


def strip(lines: Sequence[VerdictLine], moved: Mapping[str, str], width: int, height: int = STRIP) -> list[Content]:
    """A row for each line that matters now, the rest together in what is left of ``height``.

    Kept are what moved, then the gravest; in their usual order.
    """
    telling = [line for line in lines if line.state != "good" or line.name in moved]
    ranked = sorted(telling, key=lambda line: (line.name not in moved, GRAVEST.index(line.state)))
    most = min(ROWS, len(ranked))
    least = max(1, sum(line.name in moved for line in telling))

    def rows_taken(most: int) -> int:
        """Each state that others are in takes a row."""
        return most + len({line.state for line in lines if line not in ranked[:most]})

    while most and rows_taken(most) > height:
        most -= 1
    while height < ROWS and most > least and rows_taken(most) == height:
        most -= 1  # where few rows are left, one more for what is told together: quiet and cost stand there
    kept = ranked[:most]
    rows = cut((row(line, moved.get(line.name, "")) for line in lines if line in kept), width)
    others = {state: [line for line in lines if line.state == state and line not in kept] for state in GRAVEST}
    left = sum(map(bool, others.values()))
    for state, rest in others.items():
        if rest:
            left -= 1  # each of the next ones needs a row, too
            told = " · ".join(f"{line.name} {line.value}" for line in sorted(rest, key=_place))
            rows += wrapped(Content.assemble((f"{state:<8} ", STATE_STYLES[state]), told), width, max(1, height - len(rows) - left))
    return rows


def _place(line: VerdictLine) -> int:
    return next((n for n, start in enumerate(LEADING) if line.name.startswith(start)), len(LEADING))


def wrapped(text: Content, width: int, height: int) -> list[Content]:
    """The text in at most ``height`` rows; a sign at the end says where more was cut."""
    rows = text.wrap(width)
    if len(rows) > height:
        rows = [*rows[: height - 1], Content.assemble(rows[height - 1].rstrip().truncate(width - 1), "…")]
    return rows


def row(line: VerdictLine, moved: str) -> Content:
    """One line in one row: the state in a column of its own, then the rest, the most telling first."""
    return Content.assemble(
        (f"{line.state:<8} ", STATE_STYLES[line.state]),
        f"{line.name}  ",
        (line.value, "bold"),
        *_moved(moved),
        (f"  {line.limit}" if line.limit else "", "$muted"),
    )


def beside(lines: Sequence[VerdictLine], moved: Mapping[str, str], telling: Sequence[Content], width: int, height: int) -> list[Content]:
    """All lines in blocks, as roomy as ``height`` allows: first the gaps go, then the limits, those of what is good before others."""
    full, short = ([block(line, moved.get(line.name, ""), limit) for line in lines] for limit in (True, False))
    tall, low = ([rows_of(each.plain, width) for each in blocks] for blocks in (full, short))
    rest = sum(rows_of(each.plain, width) + 1 for each in telling)
    kept, gap = set(range(len(lines))), [Content("")]
    if sum(tall) + len(lines) - 1 + rest > height:
        gap = []
        limits = sorted(kept, key=lambda n: GRAVEST.index(lines[n].state))
        while limits and sum(tall[n] if n in kept else low[n] for n in range(len(lines))) + rest > height:
            kept.remove(limits.pop())
    spaced = [part for n in range(len(lines)) for part in (*(gap if n else ()), full[n] if n in kept else short[n])]
    return [*spaced, *(part for each in telling for part in (Content(""), each))]


def block(line: VerdictLine, moved: str, limit: bool = True) -> Content:
    """One line in two or three rows."""
    return Content.assemble(
        (line.name, "$text-accent"),
        "  ",
        (line.state, STATE_STYLES[line.state]),
        "\n",
        (line.value, "bold"),
        *_moved(moved),
        (f"\n{line.limit}" if limit and line.limit else "", "$muted"),
    )


def _moved(moved: str) -> tuple[tuple[str, str], ...]:
    return ((f"  {moved}", "italic $text-accent"),) if moved else ()
