"""Print how long the exact search takes against HiGHS, how both grow with the catalogue, and on how many random briefs they agree.

python tests/bench/choose.py [number of random briefs, 200 when none is given]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

sys.path.insert(0, str(Path(__file__).parent.parent))
from choose_oracle import cheapest_cost
from conftest import make_brief

from calc.brief import Listener
from calc.problem import problem
from calc.search import Group, cheapest, group, totals
from calc.solve import best_meeting, hard_limits

BOUNDARIES, BANDS = 6, 60
TARGETS = ("quiet_for_sleep", "quiet_by_day", "tolerable_by_day")
PLACES = ("bedroom_above", "living_above", "rest_of_basement", "garden_neighbour")


def timed(work: Callable[[], object]) -> tuple[float, object]:
    start = time.perf_counter()
    found = work()
    return time.perf_counter() - start, found


def random_groups(rng: np.random.Generator, options: int) -> list[Group]:
    """Options as a builder meets them: what lets less through costs more, each its own way over the bands."""
    groups = []
    for _ in range(BOUNDARIES):
        quality = np.sort(rng.uniform(0.0, 1.0, options))
        tilt = rng.normal(0.0, 3.0, (options, BANDS))
        rows = 10.0 ** ((-30.0 * quality[:, None] + tilt) / 10.0)
        groups.append(Group(np.round(200.0 + 3000.0 * quality**1.5 * rng.uniform(0.7, 1.3, options), 2), rows, np.arange(options)))
    return groups


def highs(groups: list[Group], cap: float) -> float | None:
    count = sum(g.cost.size for g in groups)
    one = np.zeros((len(groups), count))
    start = 0
    for number, g in enumerate(groups):
        one[number, start : start + g.cost.size] = 1.0
        start += g.cost.size
    rows = np.vstack([g.rows for g in groups]).T
    limits = [LinearConstraint(one, 1.0, 1.0), LinearConstraint(rows, -np.inf, cap)]
    found = milp(
        np.concatenate([g.cost for g in groups]),
        constraints=limits,
        integrality=np.ones(count),
        bounds=Bounds(0.0, 1.0),
        options={"mip_rel_gap": 0.0},
    )
    return float(found.fun) if found.success else None


def growth() -> None:
    print(f"{BOUNDARIES} boundaries, {BANDS} rows; median of 5 random catalogues")
    print(f"{'options each':>13}{'search':>10}{'HiGHS':>10}{'ratio':>8}{'agree':>8}")
    for options in (10, 20, 30, 60):
        ours, theirs, agree = [], [], 0
        for seed in range(5):
            groups = random_groups(np.random.default_rng(seed), options)
            base, caps = np.zeros(BANDS), np.full(BANDS, 0.1)

            def search(full: list[Group] = groups, base: np.ndarray = base, caps: np.ndarray = caps) -> float | None:
                pruned = [group(list(g.cost), g.rows) for g in full]
                got = cheapest(pruned, base, caps, np.inf)
                return totals(pruned, base, got)[0] if got is not None else None

            mine, found = timed(search)
            other, wanted = timed(lambda full=groups: highs(full, 0.1))
            ours.append(mine)
            theirs.append(other)
            agree += (found is None and wanted is None) or (found is not None and wanted is not None and abs(found - wanted) < 0.01)
        mine, other = float(np.median(ours)), float(np.median(theirs))
        print(f"{options:13}{mine * 1e3:8.0f} ms{other * 1e3:8.0f} ms{other / mine:8.1f}{agree:6} of 5")


def briefs(count: int) -> None:
    rng = np.random.default_rng(1)
    agree, ours, theirs = 0, 0.0, 0.0
    for _ in range(count):
        chosen = rng.choice(len(PLACES), rng.integers(1, 4), replace=False)
        listeners = tuple(Listener(PLACES[i], PLACES[i], str(rng.choice(TARGETS)), rng.uniform(22, 35), 10.0, "closed") for i in chosen)
        brief = make_brief(
            use__source=str(rng.choice(["drum_kit", "piano", "mixing", "voice_acoustic"])),
            use__level=float(rng.uniform(70.0, 102.0)),
            listeners=listeners,
            shell__height=float(rng.uniform(2.0, 2.7)),
            shell__length=float(rng.uniform(3.0, 8.0)),
            means__budget=float(rng.choice([8_000.0, 20_000.0, 60_000.0])),
        )
        p = problem(brief)
        hard = hard_limits(p)
        mine, found = timed(lambda p=p, hard=hard: best_meeting(p, hard))
        other, cost = timed(lambda p=p, hard=hard: cheapest_cost(p, hard))
        ours, theirs = ours + mine, theirs + other
        agree += (found is None and cost is None) or (found is not None and cost is not None and abs(found.cost - cost) < 0.011)
    print(f"\nwhole catalogues, {count} random briefs: the same optimum on {agree}; search {ours / count * 1e3:.0f} ms, ", end="")
    print(f"HiGHS {theirs / count * 1e3:.0f} ms, {theirs / ours:.1f} times as long")


if __name__ == "__main__":
    growth()
    briefs(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
