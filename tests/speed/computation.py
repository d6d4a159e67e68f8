# SPDX-License-Identifier: Apache-2.0
"""How fast the charts are over a million points, against a plain pass of numpy over the same array in the same run.

A measurement, not a test: `python tests/speed/computation.py`, with `server/` on the path of Python.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime

import numpy as np

from tallywright.computation import control_chart, identity, pareto, rate_limit

POINTS = 1_000_000
REPEATS = 5


def best_of(work: Callable[[], object]) -> float:
    """Seconds of the fastest of a few calls: the others waited for something else."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Print one line for each measurement."""
    random = np.random.default_rng(1)
    inspected = random.integers(50, 500, size=POINTS)
    defective = random.binomial(inspected, 0.04)
    values = random.normal(size=POINTS)
    plain = best_of(lambda: np.sqrt(np.abs(values - values.mean())).sum())
    print(f"plain numpy pass over {POINTS} points: {plain * 1000:.1f} ms")
    long = {
        "p_chart": lambda: control_chart.p_chart(defective, inspected),
        "run_signals, all eight rules": lambda: control_chart.run_signals(values, 0.0, 1.0),
        "run_signals, rules 1 and 2": lambda: control_chart.run_signals(values, 0.0, 1.0, rules=(1, 2)),
    }
    for name, work in long.items():
        seconds = best_of(work)
        print(f"{name}, {POINTS} points: {seconds * 1000:.0f} ms, {seconds / plain:.1f} plain passes")
    kinds = {f"kind {place}": 1 for place in range(79)}
    usual = dict.fromkeys(kinds, 1 / 79)
    calendar = identity.ShiftCalendar("Europe/Berlin", (("early", "06:00"), ("late", "14:00"), ("night", "22:00")))
    instant = datetime(2026, 3, 29, 1, 30, tzinfo=UTC)
    short: dict[str, Callable[[], object]] = {
        "limit_verdict, one batch": lambda: rate_limit.limit_verdict(27, 600, 681, 0.04),
        "pareto, 79 kinds": lambda: pareto.pareto(kinds),
        "against_usual, 79 kinds": lambda: pareto.against_usual(kinds, usual),
        "shift_of, same day": lambda: identity.shift_of(instant, calendar),
    }
    for name, call in short.items():
        print(f"{name}: {best_of(call) * 1e6:.0f} us")


if __name__ == "__main__":
    main()
