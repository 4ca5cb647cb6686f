"""The page "How quiet" as lines of text for any width: a row for each listener, then all about the chosen one. No Textual here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.cells import cell_len

from wizard.chart import LEAST_HEIGHT, LEAST_WIDTH
from wizard.lines import Line, Part, cut, hung, section, text_width

if TYPE_CHECKING:
    from wizard.quiet import Heard, Quiet, Step

COLUMNS = (13, 6, 11, 14)  # columns of level and range, target, margin, likelihood
GAP = "  "
LEAST_NAME = 8
NAME, HEAD = "Listener", ("dBA (range)", "wanted", "margin, dB", "likely to meet")
WIDEST_CHART, TALLEST_CHART = 95, 18
NOBODY = "Nobody is to be left undisturbed: no listener was named."


@dataclass(frozen=True)
class QuietPage:
    """A wizard.lines.Page: a row a listener."""

    quiet: Quiet

    @property
    def start(self) -> int:
        return self.quiet.critical or 0

    def rows(self, width: int) -> tuple[str, ...]:
        return table(self.quiet, width) if self.quiet.listeners else (NOBODY,)

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        return details(self.quiet, index, width, height, unicode)


def table(quiet: Quiet, width: int) -> tuple[str, ...]:
    """A heading and one row a listener, at most ``width`` columns; only names are ever cut."""
    longest = max([cell_len(NAME), *(cell_len(heard.label) for heard in quiet.listeners)])
    room = max(LEAST_NAME, min(longest, width - sum(COLUMNS) - len(GAP) * len(COLUMNS)))
    return (_row(NAME, HEAD, room), *(_row(heard.label, _cells(heard), room) for heard in quiet.listeners))


def _cells(heard: Heard) -> tuple[str, ...]:
    level = f"{heard.predicted} ({heard.range})".replace("below 0", "<0")
    return level, heard.wanted.replace("below 0", "<0"), f"{heard.margin}, {heard.where}", heard.few_words


def _row(name: str, cells: tuple[str, ...], room: int) -> str:
    fields = [f"{cell:<{column}}" for cell, column in zip(cells, COLUMNS, strict=True)]
    return GAP.join([cut(name, room), *fields]).rstrip()


def details(quiet: Quiet, index: int, width: int, height: int, unicode: bool = True) -> list[Line]:
    """All that is said about one listener: the chart, whole where there are ``height`` lines, then what follows from it."""
    heard = quiet.listeners[index]
    tall = max(LEAST_HEIGHT, min(TALLEST_CHART, height - 2))  # the name above it, the excesses below it
    chart = heard.chart(max(LEAST_WIDTH, min(WIDEST_CHART, width)), tall, unicode)
    room = text_width(width)
    return [
        Line(Part.HEADING, cut(heard.label, room).rstrip()),
        *(Line(Part.CHART, line) for line in chart),
        *(Line(Part.TEXT, line) for line in (hung("", kept_at(heard), room) if heard.needed else [])),
        *_ways(heard, room),
        *_steps(quiet, room),
        *section("What would make this surer", [hung("- ", sentence, room) for sentence in heard.surer]),
        *section("How to read this", [hung("", sentence, room) for sentence in _reading(heard, quiet.measured)], Part.ASIDE),
    ]


def kept_at(heard: Heard) -> str:
    """Why the margin is less than the two levels differ by."""
    return f"This sound stands out at {heard.where}: {heard.wanted} dBA wanted are kept in every band once it is at {heard.needed} dBA."


def _ways(heard: Heard, width: int) -> list[Line]:
    rows = [hung(f"{way.level + ' dBA':>11}  {way.share:>9}  ", way.name, width) for way in heard.ways]
    said = [hung("", sentence, width) for sentence in (heard.together, heard.weakest) if sentence]
    return section("By which way it comes", [*said, *rows])


def _steps(quiet: Quiet, width: int) -> list[Line]:
    return section(
        "What one step more would buy",
        [
            *(_step(step, width) for step in quiet.steps),
            *([] if quiet.steps else [hung("", no_step(quiet), width)]),
            *_wasted(quiet, width),
        ],
    )


def _step(step: Step, width: int) -> list[str]:
    buys = ", ".join(step.buys) or "under 1 dB anywhere"
    return [*hung("- ", f"{step.change} ({step.money})", width), *hung("    ", buys, width)]


def no_step(quiet: Quiet) -> str:
    """Why no step is named."""
    return "There is margin enough everywhere." if quiet.room_to_spare else "No change of one part, or of two, buys a decibel more."


def _wasted(quiet: Quiet, width: int) -> list[list[str]]:
    if not quiet.wasted:
        return []
    return [
        hung("", "Dearer, yet under 1 dB better anywhere:", width),
        *(hung("- ", f"{s.change} ({s.money})", width) for s in quiet.wasted),
    ]


def _reading(heard: Heard, measured: bool) -> list[str]:
    source = "read from your meter" if measured else "a stated or usual value; a meter reading would narrow the range"
    return [
        "Every part counts just as it is calculated. Nine outcomes in ten lie in the range; it often reaches further up "
        "than down, because one part that turns out worse is enough to be heard. The likelihood is that of keeping under what is wanted in "
        "every band and in total.",
        "This is the sound of the house in your room. Footfall is predicted less surely than music."
        if heard.inside
        else f"The level of the music is {source}; its spectrum has the shape of recorded samples or of a standard.",
    ]
