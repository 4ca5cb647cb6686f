"""Print how long the work takes: the isolation engine alone, a full brief with eight listeners, and one changed answer after another.

python tests/bench/speed.py

CPU time is what counts on a busy machine; wall time stands beside it.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from importlib.resources import files
from typing import Any

from calc.assess import assess
from calc.brief import Brief, Listener, Side, SideKind
from calc.catalogue import load
from calc.isolation.predict import predict, transmission_loss
from calc.isolation.tested import tested_assemblies
from wizard.interview.answers_file import read_strictly
from wizard.interview.to_brief import to_brief

ROUNDS = 3  # changed answers of a kind, each a new one; the quickest counts
LISTENERS = (
    Listener("bedroom_above", "bedroom above", "quiet_for_sleep", 25.0, 0.0, "closed"),
    Listener("living_above", "living room above", "tolerable_by_day", 30.0, 0.0, "closed"),
    Listener("stair_hall", "hall", "quiet_by_day", 30.0, 0.0, "closed"),
    Listener("room_beside", "room beside", "tolerable_by_day", 30.0, 0.0, "closed"),
    Listener("rest_of_basement", "rest of the basement", "tolerable_by_day", 35.0, 0.0, "closed"),
    Listener("attached_neighbour", "attached neighbour", "not_noticed_at_night", 25.0, 0.0, "closed"),
    Listener("garden_neighbour", "neighbour across the garden", "quiet_for_sleep", 25.0, 12.0, "open", 1.8, 3.0),
    Listener("this_room", "the room itself", "nc_20", 22.0, 0.0, "closed"),
)
SIDES = (SideKind.FOUNDATION_BELOW, SideKind.PARTY, SideKind.OPEN, SideKind.FOUNDATION_ABOVE)
Clocks = tuple[float, float]


def best(work: Callable[[], object], rounds: int = 5) -> float:
    """Shortest CPU time of some runs [s]."""
    return min(clocks(work)[0] for _ in range(rounds))


def clocks(work: Callable[[], object]) -> Clocks:
    """CPU and wall time [s] of one run."""
    cpu, wall = time.process_time(), time.perf_counter()
    work()
    return time.process_time() - cpu, time.perf_counter() - wall


def demo() -> Brief:
    """The brief of the demo answers."""
    return to_brief(read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8")))


def full(brief: Brief) -> Brief:
    """The brief with all four kinds of side and eight kinds of listener, more than its budget can please."""
    shell = brief.shell
    sides = tuple(Side(n, shell.length if n % 2 else shell.width, kind) for n, kind in enumerate(SIDES, 1))
    return replace(brief, shell=replace(shell, sides=sides), listeners=LISTENERS)


def kept(brief: Brief) -> Brief:
    """The full brief with a quieter source, more money and softer targets, so that all can be met."""
    soft = tuple(
        replace(each, target="by_law", limit=65.0) if each.kind != "this_room" else replace(each, target="nc_25") for each in LISTENERS
    )
    quiet = replace(brief.house, walking="nobody" if "nobody" in load("house_noise")["walker"] else brief.house.walking, outdoors=35.0)
    return replace(
        full(brief), listeners=soft, house=quiet, use=replace(brief.use, level=85.0), means=replace(brief.means, budget=90_000.0)
    )


def _shell(brief: Brief, **new: Any) -> Brief:
    return replace(brief, shell=replace(brief.shell, **new))


def _longer(brief: Brief, more: float) -> Brief:
    length = brief.shell.length + more
    return _shell(brief, length=length, sides=tuple(replace(s, length=length) if s.number % 2 else s for s in brief.shell.sides))


def _target(brief: Brief, step: int) -> Brief:
    first = replace(brief.listeners[0], target="by_law", limit=30.0 + step)
    return replace(brief, listeners=(first, *brief.listeners[1:]))


CHANGES: dict[str, Callable[[Brief, int], Brief]] = {
    "nothing": lambda brief, step: brief,
    "level": lambda brief, step: replace(brief, use=replace(brief.use, level=brief.use.level + 0.5 * step)),
    "budget": lambda brief, step: replace(brief, means=replace(brief.means, budget=brief.means.budget + 500.0 * step)),
    "length": lambda brief, step: _longer(brief, 0.1 * step),
    "joist depth": lambda brief, step: _shell(brief, joists=replace(brief.shell.joists, depth=brief.shell.joists.depth + 0.005 * step)),
    "a target": _target,
}


def _engine() -> None:
    tests = tested_assemblies()
    transmission_loss(tests)
    one = best(lambda: transmission_loss(tests[:1]), 20)
    together = best(lambda: transmission_loss(tests))
    apart = best(lambda: [transmission_loss([a]) for a in tests], 2)
    print(f"one assembly                    {one * 1e3:8.1f} ms")
    print(f"one, with its ratings           {best(lambda: predict(tests[0]), 20) * 1e3:8.1f} ms")
    print(f"catalogue of {len(tests)} in one call    {together * 1e3:8.1f} ms, {together / len(tests) * 1e3:.2f} ms each")
    print(f"catalogue one at a time         {apart * 1e3:8.1f} ms, {apart / together:.1f} times as long")


def _brief(name: str, brief: Brief) -> None:
    count, draws = len(brief.listeners), load("certainty")["draws"]
    first = assess(brief, explain=False)
    print(f"\n{name}: {count} listeners, {draws} draws, every target {'met' if first.choice.meets_all else 'cannot be met'}")
    for change, make in CHANGES.items():
        times = []
        for step in range(1, ROUNDS + 1):
            changed = make(brief, step)
            assess(brief, explain=False)
            times.append(clocks(lambda changed=changed: assess(changed, explain=False)))  # type: ignore[misc]
        cpu, wall = min(times)
        print(f"  {change:<14} changed      {cpu * 1e3:8.0f} ms CPU, {wall * 1e3:8.0f} ms by the clock")
    for step in (1, 2):
        cpu, wall = clocks(lambda step=step: assess(_longer(brief, 0.33 * step), explain=True))  # type: ignore[misc]
    print(f"  with all reasons             {cpu * 1e3:8.0f} ms CPU, {wall * 1e3:8.0f} ms by the clock")


def main() -> None:
    _engine()
    brief = demo()
    _brief("demo", brief)
    _brief("full brief", full(brief))
    _brief("full brief that can be met", kept(brief))


if __name__ == "__main__":
    main()
