"""How quiet it gets at each listener, ready to show: the terminal and the plan both read this. No Textual here.

Numbers are formatted as in the plan; labels are as they were typed, for whoever shows them to make harmless.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile
from typing import TYPE_CHECKING

import numpy as np

from calc.bands import BANDS, energy_sum
from calc.isolation.criteria import background_spectrum
from calc.isolation.path import where
from calc.next_steps import ENOUGH
from calc.unit_format import format_money
from wizard.chart import Levels, band_chart, band_numbers
from wizard.likelihood import in_few_words, in_words
from wizard.present import filters, level, signed

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.brief import Brief
    from calc.isolation.listener import ListenerResult, PathLevel
    from calc.next_steps import NextStep

FAINT = 0.01  # paths that bring a smaller share are summed in one row
ALIKE = 3.0  # dB; two ways nearer than this must both be mended
BY_THE_STAIR = ("above", "hall", "outdoors")  # listeners whom sound reaches up the stair
INSIDE = "inside"  # where the listener is who hears the house, not the music


@dataclass(frozen=True)
class Way:
    """One way in: its level and its share of the A-weighted energy that arrives, as words."""

    name: str
    level: str
    share: str


@dataclass(frozen=True)
class Heard:
    """One listener: a row of the table, the chart's spectra (21,) [dB], the ways that the sound takes.

    ``together``: what the chart cannot show, or nothing; ``weakest``: which way is the weakest."""

    label: str
    inside: bool
    predicted: str
    range: str
    wanted: str
    needed: str  # the level at which this sound would just keep what is wanted, where a band stands out; else empty
    margin: str
    where: str
    likelihood: str
    few_words: str
    levels: Levels
    target: Levels
    background: Levels
    ways: tuple[Way, ...]
    together: str
    weakest: str
    surer: tuple[str, ...]

    @property
    def numbers(self) -> list[str]:
        """The levels of all bands in rows, as the plan prints them under the drawing; see wizard.chart."""
        return band_numbers(self.levels, self.target, self.background)

    def chart(self, width: int, height: int, unicode: bool = True, numbers: bool = False) -> list[str]:
        """The band chart as lines of text; see wizard.chart."""
        return band_chart(self.levels, self.target, self.background, width, height, unicode, numbers)


@dataclass(frozen=True)
class Step:
    """A change of the construction: what it costs, and where it is heard. ``buys`` is empty where it is heard nowhere."""

    change: str
    money: str
    buys: tuple[str, ...]


@dataclass(frozen=True)
class Quiet:
    """All listeners, the steps that buy more, those that buy nothing, and what would make the numbers surer."""

    listeners: tuple[Heard, ...]
    critical: int | None
    steps: tuple[Step, ...]
    wasted: tuple[Step, ...]
    room_to_spare: bool  # so much at every listener that no step is looked for
    surer: tuple[str, ...]
    measured: bool  # the level in the room was read from a meter
    asked: str  # the likelihood that the person wants everywhere; empty where the predicted level decides
    sure_enough: bool  # it is reached everywhere
    stair: str = ""  # "door", "open", or nothing where nobody listens whom sound reaches up the stair

    @property
    def inside(self) -> bool:
        """Whether the room itself listens to the house."""
        return any(heard.inside for heard in self.listeners)


def quiet(assessment: Assessment) -> Quiet:
    """What an assessment says about sound at the listeners."""
    brief, results = assessment.brief, assessment.isolation.listeners
    labels = [result.listener.label for result in results]
    own = filters(brief.units, brief.means.currency)["own"]

    def shown(steps: Sequence[NextStep]) -> tuple[Step, ...]:
        return tuple(Step(str(own(step.change)), _money(step.cost, brief.means.currency), _buys(step, labels)) for step in steps)

    return Quiet(
        listeners=tuple(_heard(result) for result in results),
        critical=assessment.isolation.most_critical,
        steps=shown(assessment.next_steps),
        wasted=shown(assessment.wasted),
        room_to_spare=all(result.margin >= ENOUGH for result in results),
        surer=_surer(results),
        measured=brief.use.level_measured,
        asked=in_words(brief.limits.likelihood) if brief.limits.likelihood else "",
        sure_enough=all(result.likelihood >= brief.limits.likelihood for result in results),
        stair=_stair(brief, results),
    )


def _stair(brief: Brief, results: Sequence[ListenerResult]) -> str:
    if not any(where(result.listener) in BY_THE_STAIR for result in results):
        return ""
    return "door" if brief.house.stair_door == "yes" else "open"


def _heard(result: ListenerResult) -> Heard:
    return Heard(
        label=result.listener.label,
        inside=where(result.listener) == INSIDE,
        predicted=level(result.level_dba),
        range=_range(result.low_dba, result.high_dba),
        wanted=level(result.target_dba),
        needed=level(result.needed_dba) if result.needed_dba < result.target_dba - 0.5 else "",
        margin=signed(result.margin),
        where=f"{result.worst_band_hz:.0f} Hz" if result.worst_band_hz else "total",
        likelihood=in_words(result.likelihood),
        few_words=in_few_words(result.likelihood),
        levels=[float(x) for x in result.levels],
        target=[float(x) for x in result.target_levels],
        background=[float(x) for x in background_spectrum(result.listener.background)],
        ways=_ways(result),
        together=_together(result),
        weakest=_weakest(result),
        surer=result.raisers,
    )


def _range(low: float, high: float) -> str:
    """ "41 to 49"; where nobody would hear even the high end, that alone."""
    ends = level(low), level(high)
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _shares(result: ListenerResult) -> list[float]:
    """The share of each path in the A-weighted energy."""
    levels = np.array([path.level_dba for path in result.paths])
    return [float(share) for share in 10.0 ** ((levels - energy_sum(levels, axis=0)) / 10.0)]


def _ways(result: ListenerResult) -> tuple[Way, ...]:
    """The paths loudest first; the faint ones together."""
    rows = list(zip(result.paths, _shares(result), strict=True))
    told = [Way(path.name, level(path.level_dba), _percent(share)) for path, share in rows if share >= FAINT]
    faint = [(path.level_dba, share) for path, share in rows if share < FAINT]
    if len(faint) == 1:
        told.append(Way(rows[-1][0].name, level(faint[0][0]), "under 1 %"))
    elif faint:
        together = float(energy_sum(np.array([each for each, _ in faint]), axis=0))
        told.append(Way(f"{len(faint)} other ways together", level(together), _percent(sum(share for _, share in faint))))
    return tuple(told)


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %" if share >= FAINT else "under 1 %"


def _together(result: ListenerResult) -> str:
    """Said where every bar is quiet enough and their sum is not."""
    if result.worst_band_hz is not None or round(result.margin) >= 0:
        return ""
    return f"No band alone decides here: together they are {-result.margin:.0f} dB too loud, by the A-weighted total."


def _weakest(result: ListenerResult) -> str:
    """Which way is the weakest, by how much, and what is left once it is mended."""
    first, *rest = result.paths
    if round(result.level_dba) < 0:
        return "No way brings sound that anybody would hear."
    if not rest:
        return f"All of it comes by one way: {first.name}."
    by = first.level_dba - rest[0].level_dba
    left = level(float(energy_sum(np.array([path.level_dba for path in rest]), axis=0)))
    if by < ALIKE:
        lead = f"The two weakest ways let through about the same: {first.name}; {rest[0].name}. Mend both, or little is gained"
    else:
        lead = f"The weakest way by {by:.0f} dB: {first.name}"
    return f"{lead}. If nothing came by the {'first' if by < ALIKE else 'weakest'} way, {left} dBA would be left.{_at_worst(result, first)}"


def _at_worst(result: ListenerResult, first: PathLevel) -> str:
    """Where one band decides and another way is the loudest in it: that way."""
    if result.worst_band_hz is None:
        return ""
    band = int(np.argmin(np.abs(BANDS - result.worst_band_hz)))
    loudest = max(result.paths, key=lambda path: float(path.levels[band]))
    return (
        "" if loudest is first else f" At {result.worst_band_hz:.0f} Hz, where the margin is least, most comes by another: {loudest.name}."
    )


def _money(cost: float, currency: str) -> str:
    if abs(cost) < 0.5:
        return "no more money"
    return f"{format_money(abs(cost), currency)} {'more' if cost > 0 else 'less'}"


def _buys(step: NextStep, labels: Sequence[str]) -> tuple[str, ...]:
    """Where a step is heard, and how likely the target is met after it."""
    rows = zip(labels, step.gains, step.likelihoods, strict=True)
    return tuple(f"{signed(gain)} dB at {label} (then {in_few_words(odds)})" for label, gain, odds in rows if odds is not None)


def _surer(results: Sequence[ListenerResult]) -> tuple[str, ...]:
    """What would help, each once: "do this: that much is gained", with the listeners where it is not the same gain at all of them."""
    gains: dict[str, list[tuple[str, str]]] = {}
    for result in results:
        for sentence in result.raisers:
            what, _, gain = sentence.removesuffix(".").rpartition(": ")
            gains.setdefault(what, []).append((gain, result.listener.label))
    return tuple(f"{what}: {_told_once(told, len(results))}." if what else f"{told[0][0]}." for what, told in gains.items())


def _told_once(told: Sequence[tuple[str, str]], listeners: int) -> str:
    """Gains with the labels of their listeners; no labels where all gain the same, and words that all begin with only once."""
    at: dict[str, list[str]] = {}
    for gain, label in told:
        at.setdefault(gain, []).append(label)
    first, *others = at
    columns = zip(*(gain.split() for gain in at), strict=False)
    same = sum(1 for _ in takewhile(lambda words: len(set(words)) == 1, columns)) if others else 0
    lead = " ".join(first.split()[:same])
    gains = [" ".join(gain.split()[same:]) + ("" if len(labels) == listeners else f" ({', '.join(labels)})") for gain, labels in at.items()]
    return f"{lead} {'; '.join(gains)}".strip()
