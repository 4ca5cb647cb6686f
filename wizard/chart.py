"""Levels by third octave as a chart in plain text: for the terminal, for the plan, for a file that is read anywhere.

A bar is the level. Its filling says whether it keeps under what is wanted, the line across is what is wanted, the dots are the background:
no meaning hangs on a colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from calc.bands import BANDS

Levels = Sequence[float]
LEAST_WIDTH, LEAST_HEIGHT = 66, 10  # below these a band or a row has no place of its own
MARGIN = 11  # columns left of the bands: a label and the axis
NUMBER = 3  # columns of a band from which on a number has room under its bar
LOWEST = -10.0  # dB; the threshold of hearing is nowhere lower
ENOUGH = 0.5  # dB; a smaller excess rounds to nothing, and is called nothing


@dataclass(frozen=True)
class Signs:
    """What the chart is drawn with. ``parts`` are the tops of a bar that is too loud, in even steps up to a full row."""

    loud: str
    quiet: str
    wanted: str
    background: str
    parts: str
    axis: str
    tick: str
    corner: str
    floor: str


UNICODE = Signs("█", "░", "━", "·", "▁▂▃▄▅▆▇█", "│", "┤", "└", "─")
ASCII = Signs("#", ":", "=", ".", "#", "|", "+", "+", "-")


@dataclass(frozen=True)
class Scale:
    """Rows from ``low`` [dB] upward, ``per_twenty`` of them for 20 dB, so that round numbers stand at even distances."""

    low: float
    per_twenty: int
    rows: int

    def height(self, level: float) -> float:
        """How many rows lie under a level; negative below the chart."""
        return (level - self.low) * self.per_twenty / 20.0

    def row(self, level: float) -> int:
        """The row that a level lies in, counted from the bottom."""
        return min(floor(self.height(level)), self.rows - 1)

    def labels(self) -> dict[int, str]:
        """The dB beside the rows: every ten where a row begins there, else every twenty."""
        apart = 10 if self.per_twenty % 2 == 0 else 20
        first, count = ceil(self.low / apart), ceil(self.rows * 20 / self.per_twenty / apart)
        marks = {round(self.height(n * apart)): f"{n * apart}" for n in range(first, first + count + 1)}
        return {row: text for row, text in marks.items() if row < self.rows}


def band_chart(
    levels: Levels,
    target: Levels,
    background: Levels | None,
    width: int,
    height: int,
    unicode: bool = True,
    numbers: bool = False,
) -> list[str]:
    """The lines of a chart of levels (21,) [dB] against target and background (21,) [dB], at most ``width`` columns and ``height`` lines.

    A row of excesses, where there are any, and with ``numbers`` rows of all levels come on top of ``height``. Raises ValueError when a
    spectrum does not have 21 bands or the room is too small (LEAST_WIDTH, LEAST_HEIGHT).
    """
    spectra = [levels, target, *([background] if background is not None else [])]
    if any(len(spectrum) != BANDS.size for spectrum in spectra):
        raise ValueError(f"a band chart needs {BANDS.size} bands")
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        raise ValueError(f"a band chart needs {LEAST_WIDTH} columns and {LEAST_HEIGHT} lines, not {width} and {height}")
    signs = UNICODE if unicode else ASCII
    cell = (width - MARGIN) // BANDS.size
    below = [_floor(cell, signs), _bands(cell), *(_numbers(levels, target, background, numbers, cell) if cell >= NUMBER else [])]
    legend = _legend(background is not None, signs)
    scale = _scale(spectra, height - 4)
    columns = [
        _column(level, wanted, None if background is None else background[i], scale, cell, signs)
        for i, (level, wanted) in enumerate(zip(levels, target, strict=True))
    ]
    labels = scale.labels()
    plot = [
        f"{labels.get(row, ''):>{MARGIN - 2}} {signs.tick if row in labels else signs.axis}" + "".join(column[row] for column in columns)
        for row in reversed(range(scale.rows))
    ]
    return [line.rstrip() for line in (legend, *plot, *below)]


def band_numbers(levels: Levels, target: Levels, background: Levels | None) -> list[str]:
    """The numbers of a chart without its bars: bands (21,), levels, what is wanted and background [dB], and any excess."""
    return [line.rstrip() for line in (_bands(NUMBER), *_numbers(levels, target, background, True, NUMBER))]


def _scale(spectra: Sequence[Levels], rows: int) -> Scale:
    """From 0 dB, or from a lower wanted level; what lies below is not drawn. The second of the spectra is what is wanted."""
    low = max(LOWEST, 10.0 * floor(min(0.0, min(spectra[1])) / 10.0))
    span = max(max(max(spectrum) for spectrum in spectra) - low, 20.0)
    per_twenty = max(1, floor(rows * 20.0 / span))
    return Scale(low, per_twenty, min(rows, floor(span * per_twenty / 20.0) + 1))


def _column(level: float, wanted: float, background: float | None, scale: Scale, cell: int, signs: Signs) -> list[str]:
    """One band from the bottom up: a bar, and a gap at its right through which the lines run on."""
    bar = _bar(max(0.0, scale.height(level)), level > wanted + ENOUGH, scale.rows, signs)
    line = scale.row(wanted)
    dots = None if background is None else scale.row(background)
    out = []
    for row, sign in enumerate(bar):
        here = signs.wanted if row == line else signs.background if row == dots and sign == " " else sign
        gap = signs.background if row == dots else signs.wanted if row == line else " "
        out.append(here * (cell - 1) + gap)
    return out


def _bar(filled: float, loud: bool, rows: int, signs: Signs) -> list[str]:
    """The signs of one bar from the bottom up. Only a solid bar can be drawn to an eighth of a row; a light one to the nearest half."""
    whole, part = int(filled), filled - int(filled)
    sign = signs.loud if loud else signs.quiet
    eighths = int(part * len(signs.parts))
    top = signs.parts[eighths - 1] if loud and eighths else signs.quiet if not loud and part >= 0.5 else " "
    return [sign if row < whole else top if row == whole else " " for row in range(rows)]


def _floor(cell: int, signs: Signs) -> str:
    return " " * (MARGIN - 1) + signs.corner + signs.floor * (cell * BANDS.size - 1)


def band_name(hz: float) -> str:
    return f"{hz:.0f}" if hz < 1000 else f"{hz / 1000:g}k"


def _bands(cell: int) -> str:
    """Every third band, which is every octave, and the last one where it has room."""
    line = f"{'Hz':>{MARGIN - 2}}"
    for i in [*range(0, BANDS.size, 3), BANDS.size - 1]:
        place = MARGIN + i * cell
        if len(line) < place:
            line = line.ljust(place) + band_name(BANDS[i])
    return line


def _cells(name: str, values: Sequence[str], cell: int) -> str:
    """Numbers that stand under their bars."""
    return f"{name:<{MARGIN}}" + "".join(f"{value:>{cell - 1}}".ljust(cell) for value in values)


def _numbers(levels: Levels, target: Levels, background: Levels | None, every: bool, cell: int) -> list[str]:
    """What stands under the bars: all levels where ``every`` is asked for, and always by how much a band is too loud."""
    rows = [("level", levels), ("wanted", target), *([("background", background)] if background is not None else [])]
    over = [level - wanted for level, wanted in zip(levels, target, strict=True)]
    return [
        *(_cells(name, [_whole(value) for value in values], cell) for name, values in rows if every),
        *([_cells("over by", [_whole(value) if value > ENOUGH else "" for value in over], cell)] if max(over) > ENOUGH else []),
    ]


def _whole(value: float) -> str:
    """To 1 dB. Below 0 dB nobody hears anything, and only that is said."""
    return f"{round(value)}" if round(value) >= 0 else "<0"


def _legend(background: bool, signs: Signs) -> str:
    parts = [(signs.loud, "too loud"), (signs.quiet, "quiet enough"), (signs.wanted, "wanted")]
    parts += [(signs.background, "background")] if background else []
    return f"{'dB':>{MARGIN - 2}}  " + "  ".join(f"{sign * 2} {words}" for sign, words in parts)
