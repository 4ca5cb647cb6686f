"""Charts of sound, air and modes."""

from __future__ import annotations

from collections.abc import Sequence

from calc.acoustics.modes import Mode
from calc.bands import BANDS
from wizard.figures.axes import Axis, Plot, draw_axes, left_of, round_axis
from wizard.figures.figure import Figure
from wizard.figures.hatch import diagonal
from wizard.figures.keys import Swatch, heading, key, of_line
from wizard.figures.svg import BLACK, EDGE, GREY, PALE, WHITE, Box, Canvas, Pen, middle
from wizard.figures.text import SMALLEST

WANTED = Pen(0.7)
BACKGROUND = Pen(0.45, "0.5 1.1")
CURVE = Pen(0.6)
LIMIT_LINE = Pen(0.5, "3 1.2")
TALL = 66.0  # mm of a chart's frame
HAIR = 0.5  # dB; a smaller excess rounds to nothing


def frame(canvas: Canvas, top: float, x: Axis, y: Axis, tall: float = TALL, right: float = 5.0) -> Plot:
    """A plot over the width of the page under ``top``."""
    left = left_of([label for _, label in y.ticks]) + EDGE
    return Plot(Box(left, top + 2.0, canvas.width - right, top + 2.0 + tall), x, y)


def under(plot: Plot) -> float:
    """Where the next thing may begin under a plot with its labels and name."""
    return plot.box.bottom + 3.2 + 3.2 * SMALLEST


def _loud(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), "#777")
    diagonal(canvas, box, 1.0, pen=Pen(0.2, "", BLACK))


def _quiet(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.2), WHITE if box.bottom - box.top < 1.0 else "#eee")


def band_chart(
    name: str,
    label: str,
    levels: Sequence[float],
    target: Sequence[float],
    background: Sequence[float] | None,
    total: tuple[float, float, float, float],
) -> Figure:
    """Levels (21,) [dB] at one listener against what is wanted and the background (21,) [dB] or None.

    ``total`` [dBA]: predicted, low and high end of its range, wanted. Raises ValueError when a spectrum has not 21 bands.
    """
    if any(len(spectrum) != BANDS.size for spectrum in (levels, target, background or levels)):
        raise ValueError(f"a band chart needs {BANDS.size} bands")
    predicted, low, high, wanted = total
    canvas = Canvas()
    top = heading(canvas, f"Sound at: {label}")
    entries = [(_loud, "too loud"), (_quiet, "quiet enough"), (of_line(WANTED), "wanted")]
    entries += [(of_line(BACKGROUND), "background now")] if background is not None else []
    top = key(canvas, top, [*entries, (_whisker_sign, "likely range of the total")]) + 1.0
    every = [*levels, *target, *(background or ()), predicted, high, wanted]
    y = round_axis(min(0.0, 10.0 * (min(target) // 10.0)), max(max(every), 20.0), 8)
    x = Axis(-0.6, BANDS.size + 1.6, (*((float(i), _hz(BANDS[i])) for i in range(0, BANDS.size, 3)), (BANDS.size + 0.7, "total")))
    plot = frame(canvas, top, x, y)
    draw_axes(canvas, plot, "third-octave band, Hz; total in dBA", "level, dB", vertical_grid=False)
    for i, (level, allowed) in enumerate(zip(levels, target, strict=True)):
        _bar(canvas, plot, float(i), level, allowed)
        _step(canvas, plot, float(i), allowed, WANTED)
        if background is not None and background[i] > y.low:
            _step(canvas, plot, float(i), background[i], BACKGROUND)
    at = BANDS.size + 0.7
    _bar(canvas, plot, at, predicted, wanted)
    _step(canvas, plot, at, wanted, WANTED)
    _whisker(canvas, plot, at, max(low, y.low), max(high, y.low))
    canvas.grow(under(plot) - SMALLEST)
    title = f"Sound level at {label}, band by band"
    over = [_hz(BANDS[i]) for i in range(BANDS.size) if levels[i] > target[i] + HAIR]
    verdict = f"Too loud at {', '.join(over)} Hz." if over else "No band is too loud."
    unseen = [_hz(BANDS[i]) for i in range(BANDS.size) if levels[i] <= y.low]
    missing = f" Where no bar stands, the level is below {y.low:g} dB." if unseen else ""
    dots = " Dots: the background now." if background is not None else ""
    caption = f"Bars: predicted level in each third octave. Line: what is wanted there.{dots}{missing} At the right the total."
    words = f"Predicted total {_db(predicted)}, likely between {_db(low)} and {_db(high)}; wanted {_db(wanted)}. {verdict}{missing}"
    return Figure(name, title, canvas.svg(name, title, words), caption, words)


def _db(level: float) -> str:
    return f"{round(level)} dBA" if round(level) >= 0 else "below 0 dBA"


def _hz(hz: float) -> str:
    return f"{hz:g}" if hz < 1000 else f"{hz / 1000:g}k"


def _bar(canvas: Canvas, plot: Plot, at: float, level: float, allowed: float) -> None:
    if level <= plot.y.low:
        return
    box = Box(plot.across(at - 0.36), plot.up(level), plot.across(at + 0.36), plot.box.bottom)
    (_loud if level > allowed + HAIR else _quiet)(canvas, box)


def _step(canvas: Canvas, plot: Plot, at: float, level: float, pen: Pen) -> None:
    canvas.line(plot.at(at - 0.5, level), plot.at(at + 0.5, level), pen)


def _whisker(canvas: Canvas, plot: Plot, at: float, low: float, high: float) -> None:
    x = plot.across(at)
    wide = Pen(1.1, "", WHITE)
    for pen in (wide, Pen(0.4)):
        canvas.line((x, plot.up(low)), (x, plot.up(high)), pen)
        for end in (low, high):
            canvas.line((x - 1.2, plot.up(end)), (x + 1.2, plot.up(end)), pen)


def _whisker_sign(canvas: Canvas, box: Box) -> None:
    x = (box.left + box.right) / 2.0
    canvas.line((x, box.top), (x, box.bottom), Pen(0.4))
    for y in (box.top, box.bottom):
        canvas.line((x - 1.2, y), (x + 1.2, y), Pen(0.4))


Curve = tuple[Sequence[float], Sequence[float]]


def co2_chart(curve: Curve, off: Curve, limit: float, off_minutes: float, outdoor: float) -> Figure:
    """CO2 [ppm] over a session [h]: with the fresh air of the plan, and with the air off, which passes the limit after so many minutes."""
    times, levels = curve
    canvas = Canvas()
    top = heading(canvas, "CO2 in the room over one session")
    entries = [
        (of_line(CURVE), "with the fresh air planned"),
        (of_line(LIMIT_LINE), "your limit"),
        (of_line(BACKGROUND), "with the air off"),
    ]
    top = key(canvas, top, entries) + 1.0
    highest = max(*levels, limit) * 1.1
    minutes = times[-1] * 60.0
    plot = frame(canvas, top, round_axis(0.0, minutes, 8, exact=True), round_axis(min(400.0, outdoor), highest, 7, "{:,.0f}"), 56.0)
    draw_axes(canvas, plot, "minutes from the start", "CO2, ppm")
    canvas.line(plot.at(0.0, limit), plot.at(minutes, limit), LIMIT_LINE)
    canvas.path([plot.at(hour * 60.0, ppm) for hour, ppm in _below(off, plot.y.high)], BACKGROUND)
    canvas.path([plot.at(hour * 60.0, ppm) for hour, ppm in zip(times, levels, strict=True)], CURVE)
    canvas.grow(under(plot) - SMALLEST)
    title = "Carbon dioxide over one session"
    off_words = f" With the air off, people coming and going as answered, it passes the limit after {off_minutes:.0f} minutes."
    shut = off_words if off_minutes < minutes else ""
    words = f"At the most {max(levels):,.0f} ppm, {levels[-1]:,.0f} ppm after {minutes:.0f} minutes; your limit is {limit:,.0f} ppm.{shut}"
    return Figure("co2", title, canvas.svg("co2", title, words), "Carbon dioxide shows how stale the air gets.", words)


def _below(curve: Curve, top: float) -> list[tuple[float, float]]:
    """The points of a curve up to where it first leaves the chart, that point included."""
    found: list[tuple[float, float]] = []
    for hour, ppm in zip(*curve, strict=True):
        if ppm > top:
            last, before = found[-1] if found else (hour, top)
            share = (top - before) / (ppm - before) if ppm > before else 1.0
            return [*found, (last + share * (hour - last), top)]
        found.append((hour, ppm))
    return found


MARKS = {"axial": (3.0, Pen(0.9)), "tangential": (2.0, Pen(0.45, "1.6 0.8")), "oblique": (1.0, Pen(0.3, "0.5 0.7"))}
AXES = ("length", "width", "height")


def modes_chart(modes: Sequence[Mode], schroeder: float, gap: tuple[float, float]) -> Figure:
    """Where the room's modes lie up to the highest given [Hz]; ``gap``: the widest step without a mode, from and to [Hz].

    ``schroeder`` [Hz]: from there on modes overlap.
    """
    canvas = Canvas()
    top = heading(canvas, "Modes of the room: at these frequencies it booms or thins out")
    entries = [
        (of_line(MARKS["axial"][1]), "between two faces (axial)"),
        (of_line(MARKS["tangential"][1]), "round four (tangential)"),
        (of_line(MARKS["oblique"][1]), "all six (oblique)"),
        (_gap_sign, "widest gap"),
        (of_line(LIMIT_LINE), "above it modes overlap"),
    ]
    top = key(canvas, top, entries) + 5.0
    low, high = 20.0, max(200.0, *(mode.frequency for mode in modes)) if modes else 200.0
    marks = (20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200)
    x = Axis(low, high, tuple((hz, f"{hz:g}") for hz in marks if hz <= high + 1e-9), True)
    plot = Plot(Box(EDGE + 6.0, top, canvas.width - 6.0, top + 34.0), x, Axis(0.0, 3.4, ()))
    draw_axes(canvas, plot, "frequency, Hz", "")
    if gap[1] > gap[0]:
        box = Box(plot.across(max(gap[0], low)), plot.box.top, plot.across(gap[1]), plot.box.bottom)
        canvas.rect(box, None, PALE)
    for mode in sorted(modes, key=lambda each: MARKS[each.kind][0]):
        if mode.frequency >= low:
            height, pen = MARKS[mode.kind]
            canvas.line(plot.at(mode.frequency, 0.0), plot.at(mode.frequency, height), pen)
    for mode in modes:
        if mode.kind == "axial" and sum(mode.order) == 1 and mode.frequency >= low:
            x_at = plot.across(mode.frequency)
            canvas.place([((x_at, plot.up(3.0) - 1.0), "middle"), ((x_at, plot.up(3.0) - 4.6), "middle")], AXES[mode.order.index(1)])
    if schroeder <= high:
        canvas.line(plot.at(schroeder, 0.0), plot.at(schroeder, 3.4), LIMIT_LINE)
    canvas.grow(under(plot) - SMALLEST)
    title = "Modes of the room"
    count = {kind: sum(mode.kind == kind for mode in modes) for kind in MARKS}
    first = min((mode.frequency for mode in modes), default=0.0)
    words = (
        f"{len(modes)} modes up to {high:.0f} Hz, the first at {first:.0f} Hz: {count['axial']} axial, {count['tangential']} tangential, "
        f"{count['oblique']} oblique. The widest gap lies between {gap[0]:.0f} and {gap[1]:.0f} Hz. From about {schroeder:.0f} Hz on "
        "modes overlap and no longer stand out."
    )
    return Figure("modes", title, canvas.svg("modes", title, words), "The tall lines matter most; evenly spread is good.", words)


def _gap_sign(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, Pen(0.1, "", GREY), PALE)


def ladder_chart(rungs: Sequence[tuple[float, float, bool, bool]], budget: float, currency: str) -> Figure:
    """Rungs of calc.ladder: cost, least margin [dB], whether it is the first to meet every target, whether it is the quietest in budget."""
    canvas = Canvas()
    top = heading(canvas, "What each sum of money buys")
    entries = [
        (_dot(WHITE), "a scheme"),
        (_dot(BLACK), "cheapest that meets every target"),
        (_ring, "quietest within the budget"),
        (of_line(LIMIT_LINE), "budget"),
    ]
    top = key(canvas, top, entries) + 1.0
    costs, spare = [rung[0] for rung in rungs], [rung[1] for rung in rungs]
    y = round_axis(min(*spare, 0.0) - 1.0, max(*spare, 0.0) + 1.0, 8)
    shown = [*costs, *([budget] if budget <= 1.5 * max(costs) else [])]
    x = round_axis(0.9 * min(shown), 1.04 * max(shown), 7, "{:,.0f}")
    plot = frame(canvas, top, x, y, 60.0, right=8.0)
    draw_axes(canvas, plot, f"cost, {currency}", "dB to spare at the worst listener")
    canvas.line(plot.at(x.low, 0.0), plot.at(x.high, 0.0), Pen(0.5))
    if x.low <= budget <= x.high:
        canvas.line(plot.at(budget, y.low), plot.at(budget, y.high), LIMIT_LINE)
    canvas.path([plot.at(cost, margin) for cost, margin, _, _ in rungs], Pen(0.25, "0.8 0.8"))
    for cost, margin, asked, affordable in rungs:
        at = plot.at(cost, margin)
        if affordable:
            canvas.circle(at, 2.6, Pen(0.4), WHITE)
        canvas.circle(at, 1.5, Pen(0.4), BLACK if asked else WHITE)
    canvas.grow(under(plot) - SMALLEST)
    title = "Cost against quiet"
    rows = "; ".join(f"{cost:,.0f} {currency}: {margin:+.0f} dB" for cost, margin, _, _ in rungs)
    words = f"Cheapest schemes, cost and decibels to spare at the worst listener: {rows}. Budget {budget:,.0f} {currency}."
    return Figure("ladder", title, canvas.svg("ladder", title, words), "Above the line of 0 dB every target is met.", words)


def _dot(fill: str) -> Swatch:
    return lambda canvas, box: canvas.circle(middle(box), 1.5, Pen(0.4), fill)


def _ring(canvas: Canvas, box: Box) -> None:
    at = middle(box)
    canvas.circle(at, 2.6, Pen(0.4))
    canvas.circle(at, 1.5, Pen(0.4), WHITE)
