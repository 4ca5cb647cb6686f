"""An independent solver for the choice: a mixed-integer programme given to HiGHS through scipy.optimize.milp."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from calc.problem import Options, Problem
from calc.scheme import LidOption, WallOption
from calc.solve import HAIR, TIE, Hard

Array = NDArray[np.float64]


def parts(p: Problem) -> list[Options]:
    """Parts in the order of a pick."""
    return [p.lids, p.floors, *(options for _, options in p.walls), p.doors, p.airs]


def cheapest_cost(p: Problem, hard: Hard, harder: float = 0.0) -> float | None:
    """Least cost [currency, no contingency] of a scheme that meets every row made ``harder`` dB harder, or None where there is none."""
    each = parts(p)
    sizes = [len(options.items) for options in each]
    starts = np.concatenate([[0], np.cumsum(sizes)])
    count = int(starts[-1])
    cost = np.concatenate([options.cost for options in each])
    cost[: sizes[0]] += TIE * np.array([lid.height_taken if isinstance(lid, LidOption) else 0.0 for lid in p.lids.items])
    limits: list[LinearConstraint] = []

    def row(values: Array, low: float, high: float) -> None:
        limits.append(LinearConstraint(values[None, :], low, high))

    for number in range(len(each)):
        one = np.zeros(count)
        one[starts[number] : starts[number + 1]] = 1.0
        row(one, 1.0, 1.0)
    if p.base.size:
        rows = np.vstack([options.rows for options in each]).T
        limits.append(LinearConstraint(rows, -np.inf, 10.0 ** (-harder / 10.0) - p.base))
    row(np.concatenate([options.cost for options in each]), -np.inf, hard.money - p.common)
    for lid, floor in np.argwhere(p.short > hard.short + HAIR):
        pair = np.zeros(count)
        pair[lid], pair[starts[1] + floor] = 1.0, 1.0
        row(pair, -np.inf, 1.0)
    own = np.array([isinstance(lid, LidOption) and lid.support == "independent joists" for lid in p.lids.items], dtype=float)
    for number, (_, options) in enumerate(p.walls):
        bears = np.zeros(count)
        bears[: sizes[0]] = own
        carries = [isinstance(wall, WallOption) and wall.carries_lid for wall in options.items]
        bears[starts[2 + number] : starts[3 + number]] = -np.array(carries, dtype=float)
        row(bears, -np.inf, 0.0)
    upper = np.ones(count)
    upper[: sizes[0]] = hard.lids
    # energies run over many powers of ten; HiGHS keeps 1e-7, so the tests compare costs, not picks
    found = milp(cost, constraints=limits, integrality=np.ones(count), bounds=Bounds(0.0, upper), options={"mip_rel_gap": 0.0})
    return float(found.fun) + p.common if found.success else None
