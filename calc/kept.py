"""Results kept for a while, so that a changed answer has only that worked out again which depends on it.

A result is kept under what it is worked out from. ``as_heard`` and ``as_priced`` blank what of a brief cannot matter to levels and to
prices; that they blank nothing which does is tested: a result from what is kept must equal one worked out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from threading import Lock
from typing import Any, Generic, TypeVar

from calc.brief import Brief, Labour, Limits, Means
from calc.prices import NO_PRICES
from calc.site import Site

Result = TypeVar("Result")
_NO_MEANS = Means(budget=0.0, contingency=0.0, labour=Labour.OWN, hourly_rate=0.0, hours_per_week=0.0, helpers=0, currency="")
_NO_LIMITS = Limits(lowest_ceiling=0.0, joists_may_be_touched=True)
_ALL: list[Kept[Any]] = []


class Kept(Generic[Result]):
    """At most ``size`` results by their key; the one that was asked for longest ago goes first. Threads may share it."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._results: dict[Hashable, Result] = {}
        self._lock = Lock()
        _ALL.append(self)

    def get(self, key: Hashable, work: Callable[[], Result]) -> Result:
        """The result under a key, worked out when there is none."""
        with self._lock:
            if key in self._results:
                found = self._results[key] = self._results.pop(key)
                return found
        found = work()
        with self._lock:
            self._results[key] = found
            while len(self._results) > self._size:
                del self._results[next(iter(self._results))]
        return found

    def forget(self) -> None:
        with self._lock:
            self._results.clear()


def forget() -> None:
    """Forget every result, to work things out anew."""
    for each in _ALL:
        each.forget()


def as_heard(brief: Brief) -> Brief:
    """The brief with what can matter to the energy on a way to a listener; who listens is named beside it."""
    return replace(
        brief,
        name="",
        units="",
        code="",
        habitable="",
        listeners=(),
        means=_NO_MEANS,
        limits=_NO_LIMITS,
        assumptions=(),
        site=Site(clip_rating=brief.site.clip_rating),  # the grid that a lid hangs from
        prices=NO_PRICES,
    )


def as_priced(brief: Brief) -> Brief:
    """The brief with what can matter to goods and what they cost: not who listens, how loud it is, what money there is."""
    means, site = brief.means, brief.site
    return replace(
        brief,
        name="",
        units="",
        habitable="",
        listeners=(),
        use=replace(brief.use, level=0.0, level_measured=False, level_careful=False),
        means=replace(means, budget=0.0, contingency=0.0, hours_per_week=0.0),
        limits=_NO_LIMITS,
        assumptions=(),
        site=Site(
            board_length=site.board_length, stair_headroom=site.stair_headroom, stair_width=site.stair_width, clip_rating=site.clip_rating
        ),
    )
