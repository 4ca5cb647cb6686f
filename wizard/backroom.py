"""The slow work behind the interface: verdict, plan, export. Called in worker threads only; imports what is heavy
inside the functions, so that the first page does not wait for it."""

from __future__ import annotations

import datetime
import gc
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from importlib import import_module
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calc.assess import Assessment
    from calc.brief import Brief
    from calc.scheme import Scheme
    from wizard.interview.answers import Answers
    from wizard.interview.leverage import Leverage
    from wizard.interview.verdict import Verdict
    from wizard.lines import Page

SLOW_MODULES = (
    "calc.assess",
    "wizard.interview.verdict",
    "wizard.interview.leverage",
    "wizard.preview",
    "wizard.quiet_page",
    "wizard.air_page",
    "wizard.room_page",
    "wizard.compare_page",
)
REMEMBERED = 64  # assessments kept, so that the verdict, the plan and the search for the telling question share them


class StaleError(Exception):
    """The answers have changed since this work was begun; its result is not wanted."""


@dataclass(frozen=True)
class Plan:
    """A verdict and the text of the plan that goes with it."""

    verdict: Verdict
    text: str


def _assess(brief: Brief) -> Assessment:
    from calc.assess import assess

    return assess(brief)


def _assess_quickly(brief: Brief) -> Assessment:
    from calc.assess import assess

    return assess(brief, explain=False)


def _assess_scheme(brief: Brief, scheme: Scheme) -> Assessment:
    from calc.assess import assess

    return assess(brief, scheme, explain=False)


class Backroom:
    """``patience`` is how long [s] the search for the telling question waits, so that it does not run between quick answers."""

    patience = 1.0

    def __init__(
        self,
        assess: Callable[[Brief], Assessment] = _assess,
        today: Callable[[], datetime.date] = datetime.date.today,
        quickly: Callable[[Brief], Assessment] = _assess_quickly,
        folder: Path | None = None,
    ) -> None:
        """``quickly`` assesses without saying why: enough for a verdict and for the search for the telling question. ``folder`` holds the
        person's price book; where that cannot be read the shipped prices stand, and the plan says that they are invented."""
        self._folder = folder
        self._assess = lru_cache(maxsize=REMEMBERED)(assess)
        self._quickly = lru_cache(maxsize=REMEMBERED)(quickly)
        self._today = today
        self._turns: dict[Brief, Lock] = {}

    def warm(self) -> None:
        """Load what the first verdict and the first plan will need."""
        from calc.units import registry

        registry()
        for module in SLOW_MODULES:
            import_module(module)
        gc.collect()
        gc.freeze()  # what was loaded stays: walking through it again and again would cost a verdict a tenth of its time

    def _brief(self, answers: Answers) -> Brief:
        from wizard.interview.to_brief import to_brief
        from wizard.pricebook import PriceBookError, priced

        brief = to_brief(answers)
        try:
            return priced(brief, self._folder)
        except PriceBookError:
            return brief

    def assessment(self, answers: Answers) -> Assessment:
        """Raises Problems when the answers make no brief."""
        brief = self._brief(answers)
        with self._turns.setdefault(brief, Lock()):  # who wants the same meanwhile waits for it, instead of working it out beside
            return self._assess(brief)

    def verdict(self, answers: Answers) -> Verdict:
        """From the quick assessment: a verdict gives no reasons."""
        from wizard.interview.verdict import verdict

        return verdict(self._quickly(self._brief(answers)), answers.units)

    def page(self, kind: str, answers: Answers) -> Page:
        """One of the pages of results: quiet | air | room | compare. Raises Problems when the answers make no brief."""
        from wizard.air_page import AirPage
        from wizard.compare_page import ComparePage, rivals
        from wizard.quiet import quiet
        from wizard.quiet_page import QuietPage
        from wizard.room_page import RoomPage

        found = self.assessment(answers)
        match kind:
            case "quiet":
                return QuietPage(quiet(found))
            case "air":
                return AirPage(found)
            case "room":
                return RoomPage(found)
            case _:
                return ComparePage(found, partial(_assess_scheme, found.brief), rivals(found))

    def telling(self, answers: Answers, wanted: Callable[[], bool]) -> Leverage | None:
        """The open question that would change the verdict most; stops with StaleError between two assessments once it is not wanted."""
        from wizard.interview.leverage import most_telling

        def assess(brief: Brief) -> Assessment:
            if not wanted():
                raise StaleError
            return self._quickly(brief)

        return most_telling(answers, assess)

    def plan(self, answers: Answers) -> Plan:
        from wizard.interview.verdict import verdict
        from wizard.preview import preview_text

        assessment = self.assessment(answers)
        return Plan(verdict(assessment, answers.units), preview_text(assessment, answers, self._today()))

    def export(self, answers: Answers, folder: Path) -> Path:
        """Write the plan folder; raises OSError when it cannot be written."""
        from wizard.export import export

        return export(self.assessment(answers), folder, answers, self._today())
