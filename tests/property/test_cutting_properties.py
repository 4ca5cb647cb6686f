"""Cut plans against brute force."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from calc.materials.cut_search import cheapest_mix
from calc.materials.cutting import cut_plan
from calc.materials.line import RUN_PIECE, run_pieces

STOCKS = (2.4384, 3.048, 3.6576)
KERF = 0.003


def least(lengths: list[float]) -> float:
    """Shortest purchase by trying every way to put pieces together."""
    full = (1 << len(lengths)) - 1
    cost = {0: 0.0}
    for mask in range(1, full + 1):
        low = mask & -mask
        best = float("inf")
        sub = mask
        while sub:
            if sub & low:
                used = sum(length + KERF for n, length in enumerate(lengths) if sub >> n & 1)
                stock = next((each for each in STOCKS if each + KERF >= used - 1e-9), None)
                if stock is not None:
                    best = min(best, stock + cost[mask ^ sub])
            sub = (sub - 1) & mask
        cost[mask] = best
    return cost[full]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(4, 36), min_size=1, max_size=7))
def test_a_cut_plan_is_the_shortest_there_is(tenths: list[int]) -> None:
    lengths = [n / 10.0 for n in tenths]
    plan = cut_plan(tuple((1, length) for length in lengths), STOCKS, KERF)
    best = least(lengths)
    assert plan.bound <= best + 1e-6
    assert plan.total >= best - 1e-6
    if plan.optimal:
        assert abs(plan.total - best) < 1e-6
    else:  # too many patterns to write down: never far off
        assert plan.total <= 1.15 * best
    made = sorted(length for stock in plan.stocks for n, length in stock.pieces for _ in range(n * stock.count))
    assert all(abs(a - b) < 1e-6 for a, b in zip(made, sorted(lengths), strict=True))


PIECES = 3
PATTERNS = st.lists(st.tuples(st.integers(4, 8), st.tuples(*[st.integers(0, 4)] * PIECES)), min_size=1, max_size=12)


@settings(max_examples=100, deadline=None)
@given(PATTERNS, st.tuples(*[st.integers(1, 40)] * PIECES))
def test_a_mix_of_patterns_gives_all_pieces_and_costs_what_a_solver_finds(
    extra: list[tuple[int, tuple[int, ...]]], wanted: tuple[int, ...]
) -> None:
    columns = [*extra, *((8, tuple(int(n == piece) for n in range(PIECES))) for piece in range(PIECES))]
    counts, costs = np.array([each for _, each in columns]).T, np.array([cost for cost, _ in columns])
    solved = milp(costs, integrality=np.ones(len(columns)), bounds=Bounds(0, np.inf), constraints=LinearConstraint(counts, wanted, np.inf))
    found = cheapest_mix(columns, wanted)
    if found is not None:  # None: given up
        assert (counts @ np.array(found) >= wanted).all()
        assert costs @ np.array(found) == round(solved.fun)


@settings(max_examples=50, deadline=None)
@given(st.floats(0.1, 15.0))
def test_the_pieces_of_a_run_add_up_and_none_is_a_stub(length: float) -> None:
    pieces = run_pieces(length)
    assert abs(sum(pieces) - length) < 1e-6
    assert all(piece <= RUN_PIECE + 1e-6 for piece in pieces)
    assert len(pieces) == 1 or min(pieces) > 0.79
