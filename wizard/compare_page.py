"""The page "Compare": the scheme chosen beside another one, as lines of text for any width. No Textual here.

The others are the best with each kind of ceiling, and the rungs of the ladder: the cheapest scheme for each level of quiet.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import zip_longest
from typing import TYPE_CHECKING

from calc.brief import SideKind
from calc.isolation.paths import NAMES
from calc.unit_format import format_money
from wizard.interview.verdict import verdict
from wizard.likelihood import in_few_words
from wizard.lines import Line, Part, cut, hung, text_width
from wizard.present import filters, level

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.isolation.listener import ListenerResult
    from calc.scheme import Scheme

NAME = 20  # columns of what is compared
NOTHING = "There is no other scheme to compare with: nobody listens, and only one kind of ceiling can be built."
KEPT = 32  # comparisons remembered


@dataclass(frozen=True)
class Rival:
    """Another scheme: what it is, and what speaks against it or for it."""

    label: str
    cost: str
    says: str
    scheme: Scheme


def rivals(assessment: Assessment) -> tuple[Rival, ...]:
    """Every other scheme worth a look, each once: by kind of ceiling, then by how quiet it is."""
    choice, currency = assessment.choice, assessment.brief.means.currency
    own = filters(assessment.brief.units, currency)["own"]
    found = [Rival(each.family, format_money(each.cost, currency), str(own(each.text)), each.scheme) for each in choice.alternatives]
    found += [Rival(_rung(rung.harder), format_money(rung.cost, currency), "", rung.scheme) for rung in choice.ladder]
    seen = [assessment.scheme]
    for rival in list(found):
        if rival.scheme in seen:
            found.remove(rival)
        else:
            seen.append(rival.scheme)
    return tuple(found)


def _rung(harder: float) -> str:
    if round(harder) == 0:
        return "cheapest for the targets as asked"
    return f"cheapest with every target {abs(harder):.0f} dB {'lower' if harder > 0 else 'higher'}"


@dataclass(frozen=True)
class ComparePage:
    """A wizard.lines.Page: a row a rival. ``assess`` works out another scheme for the same brief."""

    chosen: Assessment
    assess: Callable[[Scheme], Assessment]
    others: tuple[Rival, ...]
    start: int = 0
    _seen: Callable[[int], Assessment] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_seen", lru_cache(maxsize=KEPT)(lambda index: self.assess(self.others[index].scheme)))

    def rows(self, width: int) -> tuple[str, ...]:
        if not self.others:
            return (NOTHING,)
        cost = max(len(other.cost) for other in self.others)
        room = max(20, width - cost - 2)
        return ("The scheme chosen, and beside it:", *(f"{cut(other.label, room)}  {other.cost:>{cost}}" for other in self.others))

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        other, room = self.others[index], text_width(width)
        pairs = _pairs(self.chosen, self._seen(index))
        differ = [row for row in pairs if row[1] != row[2]]
        same = [(name, "", here) for name, here, there in pairs if here == there]
        return [
            *(Line(Part.HEADING, line) for line in hung("", other.label, room)),
            *(Line(Part.TEXT, line) for line in (hung("", other.says, room) if other.says else [])),
            *_block(("What differs", "chosen", "the other"), differ, room),
            *([Line(Part.TEXT, ""), *_block(("The same in both", "", ""), same, room)] if same else []),
        ]


def _pairs(chosen: Assessment, other: Assessment) -> list[tuple[str, str, str]]:
    """What there is to compare: its name, and how it is in either."""
    return [(name, here, there) for (name, here), (_, there) in zip(_facts(chosen), _facts(other), strict=True)]


def _facts(found: Assessment) -> list[tuple[str, str]]:
    scheme, brief, heights = found.scheme, found.brief, found.headroom
    dim = filters(brief.units, brief.means.currency)["dim"]
    own = filters(brief.units, brief.means.currency)["own"]
    verdicts = {line.name: line for line in verdict(found, brief.units).lines}
    shown = ("Cost with reserve", "Time", "Joists", "All stops and cautions", "Sound in the room")
    return [
        *((result.listener.label, _heard(result)) for result in found.isolation.listeners),
        ("Ceiling, open field", dim(heights.open_field.height)),
        ("Lowest place", f"{dim(heights.lowest.height)}, {heights.lowest.name}"),
        *((name, verdicts[name].value) for name in shown),
        ("Ceiling", str(own(scheme.lid.label))),
        *((_wall(kind), str(own(option.label))) for kind, option in scheme.walls),
        ("Door", str(own(scheme.door.label))),
        ("Air path", str(own(scheme.air_path.label))),
        ("Floor", str(own(scheme.floor.label))),
    ]


def _wall(kind: SideKind) -> str:
    return NAMES[kind][:1].upper() + NAMES[kind][1:]


def _heard(result: ListenerResult) -> str:
    return f"{level(result.level_dba)} dBA, wanted {level(result.target_dba)}; {in_few_words(result.likelihood)} to meet it"


def _block(head: tuple[str, str, str], rows: list[tuple[str, str, str]], room: int) -> list[Line]:
    """Three columns, each wrapped by itself; where the middle one is empty, the last has the room of both."""
    column = (room - NAME - 4) // 2
    out = [Line(Part.HEADING, f"{head[0]:<{NAME}}  {head[1]:<{column}}  {head[2]}".rstrip())]
    for name, here, there in rows:
        cells = [textwrap.wrap(name, NAME), textwrap.wrap(here, column), textwrap.wrap(there, column)]
        if not here:
            cells = [cells[0], textwrap.wrap(there, 2 * column + 2), []]
        for parts in zip_longest(*cells, fillvalue=""):
            out.append(Line(Part.CHART, f"{parts[0]:<{NAME}}  {parts[1]:<{column}}  {parts[2]}".rstrip()))
    return out
