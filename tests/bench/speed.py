"""Print how long the isolation engine takes: one assembly, and all tested assemblies in one call against one at a time.

python tests/bench/speed.py
"""

from __future__ import annotations

import time
from collections.abc import Callable

from calc.isolation.predict import predict, transmission_loss
from calc.isolation.tested import tested_assemblies


def best(work: Callable[[], object], rounds: int = 5) -> float:
    """Shortest of some runs [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    tests = tested_assemblies()
    transmission_loss(tests)
    one = best(lambda: transmission_loss(tests[:1]), 20)
    together = best(lambda: transmission_loss(tests))
    apart = best(lambda: [transmission_loss([a]) for a in tests], 2)
    print(f"one assembly             {one * 1e3:8.1f} ms")
    print(f"one, with its ratings    {best(lambda: predict(tests[0]), 20) * 1e3:8.1f} ms")
    print(f"{len(tests)} in one call          {together * 1e3:8.1f} ms, {together / len(tests) * 1e3:.2f} ms each")
    print(f"{len(tests)} one at a time        {apart * 1e3:8.1f} ms, {apart / together:.1f} times as long")


if __name__ == "__main__":
    main()
