"""The verdict so far: what decides, each against its limit, in the person's units, and what an answer moved."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from calc.unit_format import format_flow, format_length, format_level, format_money, format_pressure
from calc.units import IMPERIAL
from wizard.likelihood import in_words

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.finding import Finding
    from calc.structure import StructureResult

GOOD, CAUTION, STOP, OPEN = "good", "caution", "stop", "open"
TITLES_SHOWN = 2
GRAVITY = 9.80665  # m/s2, standard acceleration of free fall: NIST SP 811, 2008, B.8
TITLE_LENGTH = 60
JOIST_STATES = {"passes the screen": GOOD, "engineer first": CAUTION, "stop": STOP}
# Whose findings a line of its own speaks for, by the beginnings of their rules; all others are hazards.
MOISTURE = ("water", "mould", "vapour", "air-damp", "air-cold-wall", "air-dry", "air-duct-sweat")
ELSEWHERE = ("headroom", "joists", "air-", "out_of_reach", "day_target", *MOISTURE)


@dataclass(frozen=True)
class VerdictLine:
    """``state`` is good, caution, stop or open; ``topic`` is that of the questions which decide it, "" where all do.

    ``amount`` is what the line measures, as rounded as shown; ``form`` writes it; ``words`` are those for more and for less of it, a sign
    where there are none. ``also`` are the amounts of others of its kind, by name: listeners that do not decide.
    """

    name: str
    value: str
    limit: str
    state: str
    amount: float | None = None
    form: Callable[[float], str] | None = field(default=None, compare=False, repr=False)
    words: tuple[str, str] | None = None
    topic: str = ""
    also: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Verdict:
    lines: tuple[VerdictLine, ...]

    @property
    def state(self) -> str:
        """The worst state of any line."""
        return worst(line.state for line in self.lines)


def worst(states: Iterable[str]) -> str:
    """The gravest of some states; good for none."""
    order = (STOP, CAUTION, OPEN, GOOD)
    return min(states, key=order.index, default=GOOD)


def verdict(assessment: Assessment, units: str) -> Verdict:
    """The lines of the verdict panel, always as many and in the same order."""
    damp = [finding for finding in assessment.findings if finding.rule.startswith(MOISTURE)]
    hazards = [finding for finding in assessment.findings if not finding.rule.startswith(ELSEWHERE)]
    return Verdict(
        (
            _ceiling(assessment, units),
            _joists(assessment.structure, units),
            _quiet(assessment),
            _air(assessment, units),
            _moisture(assessment, damp),
            _findings("Hazards", hazards, "hazards"),
            _sound(assessment),
            _cost(assessment, assessment.brief.means.currency),
            _time(assessment),
            _findings("All stops and cautions", assessment.findings),
        )
    )


def changes(before: Verdict | None, after: Verdict) -> dict[str, str]:
    """What an answer moved, by the line's name now: by how much, and what it said before. Nothing before means nothing moved."""
    if before is None:
        return {}
    moved = {
        new.name: _change(old, new)
        for old, new in zip(before.lines, after.lines, strict=False)
        if (old.name, old.value, old.state, old.also) != (new.name, new.value, new.state, new.also)
    }
    return {name: told for name, told in moved.items() if told}


def _change(old: VerdictLine, new: VerdictLine) -> str:
    """By how much in words and numbers, and what it was: its value, its state where that is another now, its name where another decides."""
    if (old.name, old.value, old.state) == (new.name, new.value, new.state):
        return _elsewhere(old, new)
    was = f"was {old.value if old.value != new.value else old.state}"
    if old.value != new.value and old.state not in (new.state, old.value):
        was += f", {old.state}"
    if old.name != new.name:
        return f"{was} ({old.name})"
    if new.form is None or new.amount is None or old.amount is None or not math.isfinite(new.amount - old.amount):
        return was
    by, more = new.form(abs(new.amount - old.amount)), new.amount > old.amount
    if by == new.form(0.0):
        return was
    told = f"{by} {new.words[0 if more else 1]}" if new.words else f"{'+' if more else '-'}{by}"
    return f"{told}, {was}"


def _elsewhere(old: VerdictLine, new: VerdictLine) -> str:
    """What moved most among those that do not decide."""
    before = dict(old.also)
    moves = ((name, amount - before.get(name, amount)) for name, amount in new.also)
    name, by = max(moves, key=lambda move: abs(move[1]), default=("", 0.0))
    if not by or new.form is None or new.words is None:
        return ""
    return f"{name}: {new.form(abs(by))} {new.words[0 if by > 0.0 else 1]}"


def _ceiling(assessment: Assessment, units: str) -> VerdictLine:
    zone = assessment.headroom.binding
    below_code, below_own = not zone.ok_code, not zone.ok_own
    name = "Finished ceiling" if zone.name == assessment.headroom.open_field.name else f"Ceiling, {zone.name}"
    limit = f"at least {format_length(zone.asked, units)}"
    state = STOP if below_code else CAUTION if below_own else GOOD
    form = partial(format_length, system=units)
    return VerdictLine(name, form(zone.height), limit, state, zone.height, form, ("higher", "lower"), "shell")


def _joists(load: StructureResult, units: str) -> VerdictLine:
    added = f"the ceiling adds {_weight(load.added_load, units)} to them"
    if load.allowed_dead_load is None:
        limit = f"{added}; no table says what this kind carries"
    else:
        spare = load.allowed_dead_load - load.existing_dead_load
        limit = f"{added}, they carry {_weight(spare, units)}" if spare > 0.0 else f"{added}; they may be full without it"
    form, words = partial(_weight, units=units), ("more added", "less added")
    return VerdictLine("Joists", load.verdict, limit, JOIST_STATES[load.verdict], load.added_load, form, words, "shell")


def _weight(pascals: float, units: str) -> str:
    """A load as people know it: pounds on a square foot, or kilograms on a square metre; the plan has the engineer's unit."""
    return format_pressure(pascals, units) if units == IMPERIAL else f"{pascals / GRAVITY:.0f} kg/m²"


def _quiet(assessment: Assessment) -> VerdictLine:
    index = assessment.isolation.most_critical
    if index is None:
        return VerdictLine("Quiet", "nobody to disturb", "", GOOD, topic="listeners")
    result = assessment.isolation.listeners[index]
    hopeless = any(finding.rule == "out_of_reach" for finding in assessment.stops)
    value = f"{format_level(result.level_dba)}, {'far off: ' if hopeless else ''}{_margin(result.margin, result.worst_band_hz)}"
    limit = f"target {format_level(result.target_dba)}; {in_words(result.likelihood)} to meet it in every band"
    name, state = f"Heard: {result.listener.label}", STOP if hopeless else GOOD if result.margin >= 0.0 else CAUTION
    form, words = partial(format_level, unit="dB"), ("louder", "quieter")
    others = [other for other in assessment.isolation.listeners if other is not result]
    also = tuple((other.listener.label, float(round(other.level_dba))) for other in others)
    failing = sum(other.margin < 0.0 for other in others)
    if failing:
        limit += f"; {failing} more place{'s' if failing > 1 else ''} too loud"
    return VerdictLine(name, value, limit, state, float(round(result.level_dba)), form, words, "listeners", also)


def _margin(margin: float, band_hz: float | None) -> str:
    """``band_hz`` is the band with the least margin, None where the A-weighted total decides: then the two levels shown differ by it."""
    rounded = round(margin)
    where = f" at {band_hz:.0f} Hz" if band_hz else ""
    if rounded == 0:
        return "just at its target" if margin >= 0.0 else "a hair over its target"
    if rounded > 0:
        return f"{rounded} dB to spare{where}"
    return f"{-rounded} dB too loud{where}"


def _air(assessment: Assessment, units: str) -> VerdictLine:
    air = assessment.air
    people = assessment.brief.use.people
    held = f"{people} {'person' if people == 1 else 'people'}, CO2 {air.co2_steady:.0f} of {assessment.brief.air.co2_limit:.0f} ppm"
    off = f"; with the air off stale after {air.co2_sealed_minutes:.0f} min" if math.isfinite(air.co2_sealed_minutes) else ""
    enough = air.co2_steady <= assessment.brief.air.co2_limit + 0.5
    state = GOOD if enough else CAUTION
    form = partial(format_flow, system=units)
    return VerdictLine("Fresh air needed", form(air.fresh_air), held + off, state, air.fresh_air, form, topic="air")


def _moisture(assessment: Assessment, damp: Sequence[Finding]) -> VerdictLine:
    """The humidity of room air where it finds the cold foundation wall, and the gravest thing found about water."""
    humidity, told = assessment.air.wall_surface_humidity, [finding for finding in damp if finding.severity in (STOP, CAUTION)]
    value = "no foundation wall" if humidity is None else "water runs" if humidity >= 1.0 else f"{_percent(humidity)} humid"
    where, shown = ("", None) if humidity is None else ("at the foundation wall in winter", round(humidity, 2))
    limit = "; ".join([*([where] if where else []), *(_short(finding.title) for finding in told[:1])])
    state = worst(finding.severity.value for finding in told)
    return VerdictLine("Moisture", value, limit, state, shown, _percent, topic="hazards")


def _percent(share: float) -> str:
    return f"{share * 100.0:.0f} %"


def _sound(assessment: Assessment) -> VerdictLine:
    """How long the room rings with the treatment proposed, against what the use wants."""
    times = assessment.sound.reverberation
    off = [f"{band:.0f}" for band in times.off_bands]
    limit = f"when treated; wanted {_seconds(times.target_mean)}, bare {times.bare_mean:.1f} s" + (
        f"; off at {', '.join(off)} Hz" if off else ""
    )
    value, state = f"rings {_seconds(times.after_mean)}", CAUTION if off else GOOD
    return VerdictLine("Sound in the room", value, limit, state, round(times.after_mean, 2), _seconds, ("longer", "shorter"), "use")


def _seconds(time: float) -> str:
    return f"{time:.2f} s"


def _cost(assessment: Assessment, currency: str) -> VerdictLine:
    bill = assessment.bill
    return VerdictLine(
        "Cost with reserve",
        format_money(bill.total, currency),
        f"budget {format_money(bill.budget, currency)}",
        CAUTION if bill.over > 0.0 else GOOD,
        bill.total,
        partial(format_money, currency=currency),
        topic="means",
    )


def _time(assessment: Assessment) -> VerdictLine:
    schedule = assessment.schedule
    limit = f"{schedule.hours_total:,.0f} hours of work"
    value, words = _weeks(schedule.weeks), ("longer", "shorter")
    return VerdictLine("Time", value, limit, GOOD, float(round(schedule.weeks)), _weeks, words, "means")


def _weeks(weeks: float) -> str:
    return "1 week" if round(weeks) == 1 else f"{weeks:.0f} weeks"


def _findings(name: str, findings: Sequence[Finding], topic: str = "") -> VerdictLine:
    """How many stops and cautions, and the first of them in words."""
    stops, cautions = ([finding.title for finding in findings if finding.severity == state] for state in (STOP, CAUTION))
    titles = [*stops, *cautions]
    if not titles:
        return VerdictLine(name, "none", "", GOOD, 0.0, _whole, topic=topic)
    counts = [f"{len(found)} {word}{'s' if len(found) > 1 else ''}" for found, word in ((stops, STOP), (cautions, CAUTION)) if found]
    more = f" and {len(titles) - TITLES_SHOWN} more" if len(titles) > TITLES_SHOWN else ""
    limit = "; ".join(_short(title) for title in titles[:TITLES_SHOWN]) + more
    return VerdictLine(name, ", ".join(counts), limit, STOP if stops else CAUTION, float(len(titles)), _whole, topic=topic)


def _whole(count: float) -> str:
    return f"{count:.0f}"


def _short(title: str) -> str:
    """The first part, cut behind a comma or a word where it is still long: the whole stands in the plan."""
    first = re.split(r"[:;]", title, maxsplit=1)[0]
    if len(first) <= TITLE_LENGTH:
        return first
    clause, comma, _ = first[: TITLE_LENGTH + 1].rpartition(",")
    return clause if comma and len(clause) > 0.6 * TITLE_LENGTH else first[: TITLE_LENGTH - 1].rsplit(" ", 1)[0].rstrip(",") + "…"
