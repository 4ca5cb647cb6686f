"""The verdict so far: what decides, each against its limit, in the person's units."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calc.unit_format import format_flow, format_length, format_level, format_money
from wizard.likelihood import in_words

if TYPE_CHECKING:
    from calc.assess import Assessment

GOOD, CAUTION, STOP, OPEN = "good", "caution", "stop", "open"
TITLES_SHOWN = 2
TITLE_LENGTH = 60


@dataclass(frozen=True)
class VerdictLine:
    """``state`` is good, caution, stop or open."""

    name: str
    value: str
    limit: str
    state: str


@dataclass(frozen=True)
class Verdict:
    lines: tuple[VerdictLine, ...]

    @property
    def state(self) -> str:
        """The worst state of any line."""
        order = (STOP, CAUTION, OPEN, GOOD)
        return min((line.state for line in self.lines), key=order.index)


def verdict(assessment: Assessment, units: str) -> Verdict:
    """The lines of the verdict panel."""
    currency = assessment.brief.means.currency
    return Verdict(
        (
            _ceiling(assessment, units),
            *_quiet(assessment),
            _air(assessment, units),
            _cost(assessment, currency),
            _findings("Stops", STOP, tuple(finding.title for finding in assessment.stops)),
            _findings("Cautions", CAUTION, tuple(finding.title for finding in assessment.cautions)),
        )
    )


def _ceiling(assessment: Assessment, units: str) -> VerdictLine:
    zone = assessment.headroom.binding
    below_code, below_own = not zone.ok_code, not zone.ok_own
    name = "Finished ceiling" if zone.name == assessment.headroom.open_field.name else f"Ceiling, {zone.name}"
    limit = f"at least {format_length(zone.asked, units)}"
    state = STOP if below_code else CAUTION if below_own else GOOD
    return VerdictLine(name, format_length(zone.height, units), limit, state)


def _quiet(assessment: Assessment) -> tuple[VerdictLine, ...]:
    index = assessment.isolation.most_critical
    if index is None:
        return (VerdictLine("Quiet", "nobody to disturb", "", GOOD),)
    result = assessment.isolation.listeners[index]
    value = f"{format_level(result.level_dba)}, {_margin(result.margin, result.worst_band_hz)}"
    limit = f"target {format_level(result.target_dba)}; {in_words(result.likelihood)} to meet it in every band"
    return (VerdictLine(f"Heard: {result.listener.label}", value, limit, GOOD if result.margin >= 0.0 else CAUTION),)


def _margin(margin: float, band_hz: float | None) -> str:
    """``band_hz`` is the band with the least margin, None where the A-weighted total decides: then the two levels shown differ by it."""
    rounded = round(margin)
    where = f" at {band_hz:.0f} Hz" if band_hz else ""
    if rounded == 0:
        return "just at its target" if margin >= 0.0 else "a hair over its target"
    return f"{rounded} dB to spare{where}" if rounded > 0 else f"{-rounded} dB too loud{where}"


def _air(assessment: Assessment, units: str) -> VerdictLine:
    air = assessment.air
    people = assessment.brief.use.people
    limit = f"{people} {'person' if people == 1 else 'people'}, CO2 {air.co2_steady:.0f} of {assessment.brief.air.co2_limit:.0f} ppm"
    enough = air.co2_steady <= assessment.brief.air.co2_limit + 0.5
    return VerdictLine("Fresh air needed", format_flow(air.fresh_air, units), limit, GOOD if enough else CAUTION)


def _cost(assessment: Assessment, currency: str) -> VerdictLine:
    bill = assessment.bill
    return VerdictLine(
        "Cost with reserve",
        format_money(bill.total, currency),
        f"budget {format_money(bill.budget, currency)}",
        CAUTION if bill.over > 0.0 else GOOD,
    )


def _findings(name: str, state: str, titles: tuple[str, ...]) -> VerdictLine:
    if not titles:
        return VerdictLine(name, "none", "", GOOD)
    more = f" and {len(titles) - TITLES_SHOWN} more" if len(titles) > TITLES_SHOWN else ""
    return VerdictLine(name, str(len(titles)), "; ".join(_short(title) for title in titles[:TITLES_SHOWN]) + more, state)


def _short(title: str) -> str:
    """The first clause, cut where it is still long: the whole stands in the plan."""
    first = re.split(r"[:;,]", title, maxsplit=1)[0]
    return first if len(first) <= TITLE_LENGTH else first[: TITLE_LENGTH - 1].rsplit(" ", 1)[0] + "…"
