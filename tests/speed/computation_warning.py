# SPDX-License-Identifier: Apache-2.0
"""How often, and how early, the watch on a batch warns: a simulation of whole batches, tray by tray.

A measurement, not a test: `python tests/speed/computation_warning.py`, with `server/` on the path of Python.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from tallywright.computation import rate_limit

DUE, LIMIT, BATCHES, SEED = 681, 0.04, 2000, 20260101
TRAYS = (20, 50)
RATES = (0.01, 0.02, 0.03, 0.035, 0.04, 0.045, 0.05, 0.06, 0.08)


@cache
def state_of(defective: int, looked: int, trays: int) -> str:
    """The word at one moment; few moments differ, so each is worked out once."""
    return rate_limit.limit_verdict(defective, looked, DUE, LIMIT, trays_closed=trays).state


def one_batch(random: np.random.Generator, rate: float, spread: float, tray: int) -> tuple[bool, bool, bool, float]:
    """One batch: whether it ended over, was ever watched, was watched before it broke, and the share left then."""
    own = rate if spread == 0.0 else random.beta(rate / spread, (1.0 - rate) / spread)
    marks = random.random(DUE) < own
    over = int(marks.sum()) > int(DUE * LIMIT)
    watched, left = False, 0.0
    for trays, looked in enumerate(range(tray, DUE + tray, tray), start=1):
        looked = min(looked, DUE)
        word = state_of(int(marks[:looked].sum()), looked, trays)
        if word == "watch":
            watched, left = True, 1.0 - looked / DUE
            break
        if word in ("broken", "over", "met"):
            break
    return over, watched, watched and over, left


def main() -> None:
    """Print one line for each rate, tray size and spread of the rate between batches."""
    print(f"batches of {DUE}, limit {LIMIT:g} ({int(DUE * LIMIT)} allowed), {BATCHES} batches a line, seed {SEED}")
    print("tray | rate | ended over | over ones warned first | left to look at then | good ones warned in vain")
    random = np.random.default_rng(SEED)
    for spread in (0.0, 0.005):
        print(f"rate the same in every batch: {spread == 0.0}")
        for tray in TRAYS:
            for rate in RATES:
                rows = np.array([one_batch(random, rate, spread, tray) for _ in range(BATCHES)])
                over, watched, in_time, left = rows.T
                bad, good = over == 1, over == 0
                warned = f"{in_time[bad].mean():.2f}" if bad.any() else "-"
                share = f"{left[bad & (watched == 1)].mean():.2f}" if (bad & (watched == 1)).any() else "-"
                vain = f"{watched[good].mean():.3f}" if good.any() else "-"
                print(f"{tray} | {rate:g} | {over.mean():.3f} | {warned} | {share} | {vain}")


if __name__ == "__main__":
    main()
