"""Plots in plain text: CO2 over a session, where the room's modes lie, how long it rings, and bars. No Textual, no colour.

What a sign means is told in words beside it. With ``unicode`` off only ASCII is used. No line is wider than ``width``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, isfinite

WIDEST = 76  # columns that a plot takes, however wide the terminal
LEAST_WIDTH, LEAST_HEIGHT = 60, 8
MARGIN = 11  # columns left of a plot: a label and the axis
Curve = tuple[Sequence[float], Sequence[float]]


@dataclass(frozen=True)
class Signs:
    """What plots are drawn with."""

    curve: str
    off: str
    limit: str
    bar: str
    one: str
    bare: str
    wanted: str
    treated: str
    track: str
    axis: str
    tick: str
    corner: str
    floor: str
    mark: str
    slack: str


UNICODE = Signs("●", "×", "─", "█", "│", "■", "┃", "●", "·", "│", "┤", "└", "─", "┬", "░")
ASCII = Signs("o", "x", "-", "#", "|", "#", "|", "o", ".", "|", "+", "+", "-", "+", "=")


def signs(unicode: bool) -> Signs:
    return UNICODE if unicode else ASCII


def co2_plot(curve: Curve, off: Curve, limit: float, width: int, height: int, unicode: bool = True) -> list[str]:
    """CO2 [ppm] over a session [h]: with the fresh air planned, and with the air off up to where it leaves the plot; the limit [ppm].

    ``width`` columns and ``height`` lines, the legend and the axis among them. Raises ValueError where there is no room or no time.
    """
    width, rows, sign = min(width, WIDEST), height - 4, signs(unicode)
    if width < LEAST_WIDTH or height < LEAST_HEIGHT or curve[0][-1] <= 0.0:
        raise ValueError(f"a plot needs {LEAST_WIDTH} columns, {LEAST_HEIGHT} lines and a session, not {width}, {height}, {curve[0][-1]} h")
    low = 100.0 * floor(min(*curve[1], *off[1]) / 100.0)
    step = _step((max(*curve[1], limit) * 1.25 - low) / max(1, rows - 1))
    columns = width - MARGIN
    grid = [[" "] * columns for _ in range(rows)]
    _across(grid, limit, low, step, sign.limit)
    for each, mark in ((off, sign.off), (curve, sign.curve)):
        _draw(grid, [_at(each, column / (columns - 1) * curve[0][-1]) for column in range(columns)], low, step, mark)
    labels = [f"{low + row * step:,.0f}" for row in range(rows)]
    plot = [f"{labels[row]:>{MARGIN - 2}} {sign.tick}{''.join(grid[row])}".rstrip() for row in reversed(range(rows))]
    legend = f"{'ppm CO2':>{MARGIN - 2}}  {sign.curve * 2} air as planned   {sign.off * 2} air off   {sign.limit * 2} your limit"
    return [legend, *plot, *_minutes(curve[0][-1] * 60.0, columns, sign)]


def _step(least: float) -> float:
    """The next round number."""
    return next(step for step in (50.0, 100.0, 200.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0, 1e4, 1e5, 1e9) if step >= least)


def _at(curve: Curve, time: float) -> float:
    """The value at a time, straight between its points; its ends beyond them."""
    times, values = curve
    after = next((i for i, each in enumerate(times) if each >= time - 1e-9), len(times) - 1)
    if after == 0 or times[after] == times[after - 1]:
        return values[after]
    share = (min(time, times[after]) - times[after - 1]) / (times[after] - times[after - 1])
    return values[after - 1] + share * (values[after] - values[after - 1])


def _draw(grid: list[list[str]], values: Sequence[float], low: float, step: float, mark: str) -> None:
    """A line through a value a column; what lies above the grid is not drawn."""
    before: int | None = None
    for column, value in enumerate(values):
        row = round((value - low) / step)
        reach = range(row, row + 1) if before is None else range(min(row, before + 1), max(row, before - 1) + 1)
        for each in reach:
            if 0 <= each < len(grid):
                grid[each][column] = mark
        before = row


def _across(grid: list[list[str]], value: float, low: float, step: float, mark: str) -> None:
    row = round((value - low) / step)
    if 0 <= row < len(grid):
        grid[row] = [mark] * len(grid[row])


def _minutes(last: float, columns: int, sign: Signs) -> list[str]:
    """The axis of time, a number at each round quarter of an hour that has room."""
    apart = next(step for step in (5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0, 1e9) if last / step <= 8.0)
    places = {round(n * apart / last * (columns - 1)): f"{n * apart:.0f}" for n in range(int(last / apart + 1e-9) + 1)}
    base = " " * (MARGIN - 1) + sign.corner + "".join(sign.mark if column in places else sign.floor for column in range(columns))
    return [base, _labels("minutes", places, columns)]


def _labels(name: str, places: dict[int, str], columns: int) -> str:
    """Numbers below their ticks, each where it has room."""
    line = f"{name:>{MARGIN - 2}}"
    for column, text in places.items():
        at = min(MARGIN + column - len(text) // 2, MARGIN + columns - len(text))
        if len(line) < at:
            line = line.ljust(at) + text
    return line


KINDS = ("axial", "tangential", "oblique")
LOWEST, HIGHEST = 20.0, 200.0  # Hz


def modes_plot(modes: Sequence[tuple[float, str]], gap: tuple[float, float], width: int, unicode: bool = True) -> list[str]:
    """Where modes (frequency [Hz], kind) lie between 20 and 200 Hz: a row a kind, a number where several share a column.

    ``gap``: the widest step without a mode, from and to [Hz]. Raises ValueError where there is no room.
    """
    width, sign = min(width, WIDEST), signs(unicode)
    if width < LEAST_WIDTH:
        raise ValueError(f"a plot needs {LEAST_WIDTH} columns, not {width}")
    columns = width - MARGIN

    def place(hz: float) -> int:
        return min(columns - 1, int((hz - LOWEST) / (HIGHEST - LOWEST) * columns))

    lines = []
    for kind in KINDS:
        counts = Counter(place(hz) for hz, each in modes if each == kind and LOWEST <= hz <= HIGHEST)
        cells = "".join(" " if not counts[at] else sign.one if counts[at] == 1 else f"{min(counts[at], 9)}" for at in range(columns))
        lines.append(f"{kind:>{MARGIN - 1}} {cells}".rstrip())
    places = {place(float(hz)): f"{hz}" for hz in range(20, 201, 20)}
    base = " " * (MARGIN - 1) + sign.corner + "".join(sign.mark if column in places else sign.floor for column in range(columns))
    first, last = (place(min(max(hz, LOWEST), HIGHEST)) for hz in gap)
    empty = f"{'gap':>{MARGIN - 1}} {' ' * (first + 1)}{sign.track * (last - first - 1)}".rstrip()
    return [*lines, *([empty] if gap[1] > gap[0] and last - first > 1 else []), base, _labels("Hz", places, columns)]


def bars(parts: Sequence[tuple[str, float, str]], width: int, unicode: bool = True) -> list[str]:
    """A bar a part: its name, its size, and its size in words. Names are cut where they would leave the bars no room."""
    if not parts:
        return []
    name = min(max(len(part[0]) for part in parts), 30)
    words = max(len(part[2]) for part in parts)
    room = max(6, min(width, WIDEST) - name - words - 4)
    most = max((part[1] for part in parts if isfinite(part[1])), default=0.0)
    return [
        f"  {label[:name]:<{name}} {text:>{words}} {signs(unicode).bar * _length(size, most, room)}".rstrip() for label, size, text in parts
    ]


def _length(size: float, most: float, room: int) -> int:
    """Something that is there is never drawn as nothing."""
    return 0 if most <= 0.0 or size <= 0.0 else max(1, round(min(size / most, 1.0) * room))


def ringing_plot(
    bands: Sequence[float],
    bare: Sequence[float],
    wanted: Sequence[float],
    treated: Sequence[float],
    off: Sequence[float],
    width: int,
    unicode: bool = True,
) -> list[str]:
    """Reverberation times [s] a row an octave [Hz]: bare, wanted, treated; the octaves in ``off`` are said to miss what is wanted."""
    width, sign = min(width, WIDEST), signs(unicode)
    if width < LEAST_WIDTH:
        raise ValueError(f"a plot needs {LEAST_WIDTH} columns, not {width}")
    numbers = f"{'bare':>7}{'wanted':>8}{'treated':>9}"
    room = width - 8 - len(numbers) - 6
    longest = max(*bare, *wanted, *treated)
    lines = [f"{'Hz':>6}  {f'0 to {longest:.1f} s':<{room}}{numbers}"]
    for row in zip(bands, bare, wanted, treated, strict=True):
        cells = [sign.track] * room
        for time, mark in ((row[1], sign.bare), (row[2], sign.wanted), (row[3], sign.treated)):
            cells[min(room - 1, round(time / longest * (room - 1)))] = mark
        said = "  off" if row[0] in off else ""
        lines.append(f"{row[0]:>6.0f}  {''.join(cells)}{row[1]:>7.2f}{row[2]:>8.2f}{row[3]:>9.2f}{said}")
    return [*lines, f"{'':>8}{sign.bare} bare   {sign.wanted} wanted   {sign.treated} treated"]


def weeks_plot(rows: Sequence[tuple[str, float, float, float, bool]], weeks: float, width: int, unicode: bool = True) -> list[str]:
    """A bar a task: its name, start, end of work and end of waiting [weeks], and whether a day lost in it is lost at the end."""
    width, sign = min(width, WIDEST), signs(unicode)
    name = min(width // 2, max((len(row[0]) for row in rows), default=0))
    room = width - name - 2
    scale = (room - 1) / max(weeks, 1e-9)
    lines = [f"{'':<{name}}  0{f'{weeks:.0f} weeks':>{room - 1}}"]
    for label, start, finish, ready, critical in rows:
        first, last, waited = (int(each * scale) for each in (start, finish, ready))
        work = (sign.bar if critical else sign.slack) * (last - first + 1)
        lines.append(f"{label[:name]:<{name}}  {' ' * first}{work}{sign.track * (waited - last)}"[:width].rstrip())
    return [*lines, f"{sign.bar} a day lost here is lost at the end", f"{sign.slack} can wait   {sign.track} waiting"]
