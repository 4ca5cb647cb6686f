"""Results kept for a while, so that a changed answer has only that worked out again which depends on it.

A result is kept under what it is worked out from. ``as_heard`` and ``as_priced`` blank what of a brief cannot matter to levels and to
prices, and ``as_costed`` names what matters to one part; that nothing which does is left out is tested: a result from what is kept must
equal one worked out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from functools import lru_cache, partial, wraps
from threading import Lock
from typing import Any, Generic, ParamSpec, TypeVar

from calc.brief import ITSELF, Air, Brief, House, Joists, Labour, Limits, Listener, Means, Shell
from calc.geometry import Room
from calc.prices import NO_PRICES
from calc.scheme import AirPathOption, DoorOption, FloorOption, LidOption
from calc.site import Site

Result = TypeVar("Result")
Given = ParamSpec("Given")
_NO_MEANS = Means(budget=0.0, contingency=0.0, labour=Labour.OWN, hourly_rate=0.0, hours_per_week=0.0, helpers=0, currency="")
_NO_AIR = Air(system="", winter_design=0.0, room_temperature=0.0, room_humidity=0.0, co2_limit=0.0, bedrooms=0, house_area=0.0)
_NO_PEOPLE: dict[str, Any] = {"hours": "", "people": 0, "activity": "", "session": 0.0, "equipment": 0.0}
_NO_LIMITS = Limits(lowest_ceiling=0.0, joists_may_be_touched=True)
_NO_JOISTS = Joists(kind="", depth=0.0, breadth=0.0, spacing=0.0, span=0.0, species="", grade="", damaged="")
_ALL: list[Kept[Any]] = []
_NOTHING: Any = object()


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
            known: Result = self._results.pop(key, _NOTHING)
            if known is not _NOTHING:
                self._results[key] = known
                return known
        found = work()
        with self._lock:
            self._results[key] = found
            while len(self._results) > self._size:
                del self._results[next(iter(self._results))]
        return found

    def forget(self) -> None:
        with self._lock:
            self._results.clear()


def keep(size: int) -> Callable[[Callable[Given, Result]], Callable[Given, Result]]:
    """A function whose results are kept under what it is given; unlike those of ``lru_cache`` they are forgotten with all others, so that
    a test sees what a blanked brief hides."""

    def keeping(work: Callable[Given, Result]) -> Callable[Given, Result]:
        kept: Kept[Result] = Kept(size)

        @wraps(work)
        def found(*given: Given.args, **named: Given.kwargs) -> Result:
            return kept.get((given, tuple(named.items())), partial(work, *given, **named))

        return found

    return keeping


def forget() -> None:
    """Forget every result, to work things out anew."""
    for each in _ALL:
        each.forget()


@lru_cache(maxsize=64)
def as_heard(brief: Brief, by_air: bool = True) -> Brief:
    """The brief with what can matter to the energy on a way to a listener, who is named beside it; ``by_air``: also on that through the air
    path, which hangs on how much air is needed."""
    return replace(
        brief,
        name="",
        units="",
        code="",
        habitable="",
        shell=_bare(brief.shell, obstructions=(), slab_unevenness=0.0, water="", radon="", year_built=None, panel="", ceiling_texture=""),
        use=brief.use if by_air else replace(brief.use, **_NO_PEOPLE),
        air=brief.air if by_air else _NO_AIR,
        listeners=_itself(brief) if by_air else (),
        means=_NO_MEANS,
        limits=_NO_LIMITS,
        assumptions=(),
        site=Site(clip_rating=brief.site.clip_rating),  # the grid that a lid hangs from
        prices=NO_PRICES,
    )


def as_costed(brief: Brief, room: Room, part: object) -> Hashable:
    """What can matter to the cost of parts of a kind, beside the parts themselves; a part that is none of an option's is what all need."""
    shell, means, hired = brief.shell, brief.means, brief.means.labour is Labour.HIRED
    money = (brief.prices, means.currency if brief.prices.prices else "", means.hourly_rate if hired else 0.0, hired)
    if isinstance(part, LidOption):
        boxes = tuple((each.kind, each.underside, each.width, each.length) for each in shell.obstructions)
        return money, room, shell.length, shell.width, shell.height, shell.joists.spacing, shell.joists.breadth, boxes
    if isinstance(part, tuple):  # a wall, with the kind of its sides
        return money, room, brief.code, shell.sides, shell.height, shell.joists.depth
    if isinstance(part, DoorOption):
        return money, shell.height
    if isinstance(part, FloorOption):
        return money, room
    lean = as_priced(brief, air=isinstance(part, AirPathOption), boxes=False)
    return (room, lean) if part is None else _without_works(lean)


def _without_works(brief: Brief) -> Brief:
    """Without what matters to no air path: its size hangs on people, heat and weather."""
    shell = replace(
        brief.shell, joists=_NO_JOISTS, water="", radon="", year_built=None, appliance="", panel="", escape_sill=0.0, ceiling_texture=""
    )
    return replace(brief, shell=shell, site=Site())


@lru_cache(maxsize=64)
def as_priced(brief: Brief, air: bool = True, boxes: bool = True) -> Brief:
    """The brief with what can matter to goods and what they cost: not who listens, how loud it is, what money there is. ``air``: also to an
    air path; ``boxes``: also to the soffits round beams, ducts and pipes."""
    means, site = brief.means, brief.site
    use = replace(brief.use, level=0.0, level_measured=False, level_careful=False)
    return replace(
        brief,
        name="",
        units="",
        habitable="",
        shell=_bare(brief.shell, subfloor="", floor_above="", obstructions=brief.shell.obstructions if boxes else ()),
        use=use if air else replace(use, **_NO_PEOPLE),
        air=brief.air if air else _NO_AIR,
        listeners=_itself(brief) if air else (),
        means=replace(means, budget=0.0, contingency=0.0, hours_per_week=0.0),
        limits=_NO_LIMITS,
        assumptions=(),
        house=House(),
        site=Site(
            board_length=site.board_length, stair_headroom=site.stair_headroom, stair_width=site.stair_width, clip_rating=site.clip_rating
        ),
    )


def _itself(brief: Brief) -> tuple[Listener, ...]:
    """The target of the room itself, which ducts are sized for, and no more of who listens."""
    return tuple(Listener(each.kind, "", each.target, 0.0, 0.0, "") for each in brief.listeners if each.kind == ITSELF)


def _bare(shell: Shell, **more: Any) -> Shell:
    """Without what only rules and the screen of the joists ask for, and without ``more``."""
    joists = replace(shell.joists, species="", grade="", damaged="")
    return replace(shell, joists=joists, room_above="", appliance_power=0.0, basement_volume_left=0.0, gas_line="", drains="", **more)
