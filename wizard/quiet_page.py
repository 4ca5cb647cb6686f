"""The page "How quiet" as lines of text for any width: a row for each listener, then all about the chosen one. No Textual here."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from rich.cells import cell_len, set_cell_size

from wizard.chart import LEAST_HEIGHT, LEAST_WIDTH

if TYPE_CHECKING:
    from wizard.quiet import Heard, Quiet, Step

COLUMNS = (13, 6, 11, 14)  # columns of level and range, target, margin, likelihood
GAP = "  "
LEAST_NAME = 8
NAME, HEAD = "Listener", ("dBA (range)", "wanted", "margin, dB", "likely to meet")
WIDEST_CHART, TALLEST_CHART = 95, 18
LEAST_TEXT, WIDEST_TEXT = 40, 96


class Part(Enum):
    """What a line is, for whoever gives it a look."""

    HEADING = "heading"
    CHART = "chart"
    TEXT = "text"
    ASIDE = "aside"


@dataclass(frozen=True)
class Line:
    part: Part
    text: str


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


def cut(name: str, room: int) -> str:
    """A name as one line that fills ``room`` columns, wide signs counted as two."""
    line = "".join(sign if sign.isprintable() else " " for sign in " ".join(name.split()))
    return set_cell_size(line if cell_len(line) <= room else set_cell_size(line, room - 1).rstrip() + "…", room)


def details(quiet: Quiet, index: int, width: int, height: int, unicode: bool = True) -> list[Line]:
    """All that is said about one listener: the chart, whole where there are ``height`` lines, then what follows from it."""
    heard = quiet.listeners[index]
    tall = max(LEAST_HEIGHT, min(TALLEST_CHART, height - 2))  # the name above it, the excesses below it
    chart = heard.chart(max(LEAST_WIDTH, min(WIDEST_CHART, width)), tall, unicode)
    room = max(LEAST_TEXT, min(WIDEST_TEXT, width))
    return [
        Line(Part.HEADING, cut(heard.label, room).rstrip()),
        *(Line(Part.CHART, line) for line in chart),
        *_ways(heard, room),
        *_steps(quiet, room),
        *_section("What would make this surer", [_hung("- ", sentence, room) for sentence in heard.surer]),
        *_section("How to read this", [_hung("", sentence, room) for sentence in _reading(heard, quiet.measured)], Part.ASIDE),
    ]


def _section(heading: str, blocks: list[list[str]], part: Part = Part.TEXT) -> list[Line]:
    """A heading with its lines; nothing at all where there are none."""
    lines = [Line(part, line) for block in blocks for line in block]
    return [Line(Part.TEXT, ""), Line(Part.HEADING, heading), *lines] if lines else []


def _hung(lead: str, text: str, width: int) -> list[str]:
    """Text behind a lead, further lines set in as far."""
    return textwrap.wrap(text, width, initial_indent=lead, subsequent_indent=" " * len(lead)) or [lead.rstrip()]


def _ways(heard: Heard, width: int) -> list[Line]:
    rows = [_hung(f"{way.level + ' dBA':>11}  {way.share:>9}  ", way.name, width) for way in heard.ways]
    said = [_hung("", sentence, width) for sentence in (heard.together, heard.weakest) if sentence]
    return _section("By which way it comes", [*said, *rows])


def _steps(quiet: Quiet, width: int) -> list[Line]:
    return _section(
        "What one step more would buy",
        [
            *(_step(step, width) for step in quiet.steps),
            *([] if quiet.steps else [_hung("", no_step(quiet), width)]),
            *_wasted(quiet, width),
        ],
    )


def _step(step: Step, width: int) -> list[str]:
    buys = ", ".join(step.buys) or "under 1 dB anywhere"
    return [*_hung("- ", f"{step.change} ({step.money})", width), *_hung("    ", buys, width)]


def no_step(quiet: Quiet) -> str:
    """Why no step is named."""
    return "There is margin enough everywhere." if quiet.room_to_spare else "No change of one part, or of two, buys a decibel more."


def _wasted(quiet: Quiet, width: int) -> list[list[str]]:
    if not quiet.wasted:
        return []
    return [
        _hung("", "Dearer, yet under 1 dB better anywhere:", width),
        *(_hung("- ", f"{s.change} ({s.money})", width) for s in quiet.wasted),
    ]


def _reading(heard: Heard, measured: bool) -> list[str]:
    source = "read from your meter" if measured else "a stated or usual value; a meter reading would narrow the range"
    return [
        "The level is computed with every part at its own best value. Nine outcomes in ten lie in the range; it often reaches further up "
        "than down, because one part that turns out worse is enough to be heard. The likelihood is that of keeping under what is wanted in "
        "every band and in total.",
        "This is the sound of the house in your room. Footfall is predicted less surely than music."
        if heard.inside
        else f"The level of the music is {source}; its spectrum has the shape of recorded samples or of a standard.",
    ]
