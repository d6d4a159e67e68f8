# SPDX-License-Identifier: Apache-2.0
"""Tables of counts: the chi-square sum, its chance under fixed margins, and the exact test.

What pareto stands on. May import numpy, scipy.special and the own checks of the room only: a
push reaches this module.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

import numpy as np
from scipy import special

from tallywright.computation.errors import NotEstimable, OutOfRange
from tallywright.computation.require import Floats

# Fixed, so that the same counts always give the same answer on every screen and paper.
SEED = 20260101
DRAWS = 20_000
_MOST_STEPS = 1_000_000


def filled(table: Floats) -> Floats:
    """The table without empty rows and columns; at least two of each must remain."""
    table = table[table.sum(axis=1) > 0][:, table.sum(axis=0) > 0]
    if min(table.shape) < 2:
        raise NotEstimable(
            "table holds marks in fewer than two rows or two columns, so there is nothing to compare"
        )
    return table


def chi_square(table: Floats) -> tuple[float, Floats]:
    """Pearson's sum and the expected counts of a table without empty rows or columns."""
    expected = np.outer(table.sum(axis=1), table.sum(axis=0)) / table.sum()
    return float(((table - expected) ** 2 / expected).sum()), expected


def simulated_p(table: Floats) -> float:
    """Share of two-row tables with the same margins whose chi-square sum is at least that of the table."""
    observed, expected = chi_square(table)
    columns = table.sum(axis=0).astype(np.int64)
    random = np.random.default_rng(SEED)
    first = random.multivariate_hypergeometric(columns, int(table[0].sum()), size=DRAWS, method="marginals")
    both = (first - expected[0]) ** 2 * (1.0 / expected[0] + 1.0 / expected[1])
    # The table itself is one of the equally likely ones, so it counts above and below the line.
    return float((1 + np.count_nonzero(both.sum(axis=1) >= observed * (1 - 1e-9))) / (DRAWS + 1))


def exact_p(table: Floats) -> float:
    """Chance, under fixed margins, of a table no likelier than this one; no empty rows or columns."""
    if table.shape == (2, 2):
        return _exact_two_by_two(table)
    # The side with fewer lines is the state that is carried from column to column, the longest columns first.
    table = table if table.shape[0] <= table.shape[1] else table.T
    table = table[:, np.argsort(-table.sum(axis=0), kind="stable")]
    rows = tuple(int(total) for total in table.sum(axis=1))
    # State: what is left of each row. Score: minus the sum of log factorials so far, with its number of
    # tables.
    states: dict[tuple[int, ...], dict[float, float]] = {rows: {0.0: 1.0}}
    steps = 0
    for total in table.sum(axis=0)[:-1]:
        following: dict[tuple[int, ...], dict[float, float]] = defaultdict(lambda: defaultdict(float))
        for left, scores in states.items():
            for column, score in _columns(left, int(total)):
                steps += len(scores) + 10
                if steps > _MOST_STEPS:
                    raise OutOfRange(
                        "table must be small enough for an exact count, not one with millions of steps"
                    )
                target = following[tuple(a - b for a, b in zip(left, column, strict=True))]
                for before, count in scores.items():
                    target[round(before + score, 9)] += count
        states = following
    # The last column is what is left of each row.
    found: dict[float, float] = defaultdict(float)
    for left, scores in states.items():
        last = -float(special.gammaln(np.array(left) + 1.0).sum())
        for before, count in scores.items():
            found[before + last] += count
    scores_, counts = np.array(list(found)), np.array(list(found.values()))
    margins = special.gammaln(table.sum(axis=0) + 1.0).sum() + special.gammaln(table.sum(axis=1) + 1.0).sum()
    constant = float(margins - special.gammaln(table.sum() + 1.0))
    observed = -float(special.gammaln(table + 1.0).sum())
    return min(1.0, float((counts * np.exp(scores_ + constant))[scores_ <= observed + 1e-7].sum()))


def _exact_two_by_two(table: Floats) -> float:
    first, total, column = table[0].sum(), table.sum(), table[:, 0].sum()
    cell = np.arange(max(0.0, first + column - total), min(first, column) + 1)
    log_chances = -sum(
        special.gammaln(part + 1.0) for part in (cell, first - cell, column - cell, total - first - column + cell)
    )
    chances = np.exp(log_chances - special.logsumexp(log_chances))
    own = chances[int(table[0, 0] - cell[0])]
    return min(1.0, float(chances[chances <= own * (1 + 1e-7)].sum()))


def _columns(left: tuple[int, ...], total: int) -> Iterator[tuple[tuple[int, ...], float]]:
    """Every way to share a column total over the rows, each with minus its sum of log factorials."""
    if len(left) == 1:
        if total <= left[0]:
            yield (total,), -math.lgamma(total + 1)
        return
    room = sum(left[1:])
    for cell in range(max(0, total - room), min(left[0], total) + 1):
        own = math.lgamma(cell + 1)
        for rest, score in _columns(left[1:], total - cell):
            yield (cell, *rest), score - own
