# SPDX-License-Identifier: Apache-2.0
"""Constants of ranges and standard deviations of normal samples, computed rather than typed in.

Public through control_chart. May import numpy, scipy.special and the room's own checks only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import special

from tallywright.computation import require

LARGEST_SUBGROUP = 25


@dataclass(frozen=True, slots=True)
class Constants:
    """Factors of one subgroup size, in the names every table of them uses."""

    d2: float
    d3: float
    c4: float
    A2: float
    A3: float
    B3: float
    B4: float
    D3: float
    D4: float


def shewhart_constants(n: int) -> Constants:
    """Factors that turn a mean range or a mean standard deviation into chart limits.

    n           pieces in a subgroup, 2 to 25                                     [pieces]
    returns     Constants                                                         [1]
    valid       normal values, subgroups of one size
    formula     d2 and d3: mean and standard deviation of the range of n standard normal values, by
                integration; c4 = sqrt(2 / (n - 1)) Gamma(n / 2) / Gamma((n - 1) / 2); A2 = 3 / (d2 sqrt
                n), A3 = 3 / (c4 sqrt n), B3 and B4 = 1 -+ 3 sqrt(1 - c4^2) / c4, D3 and D4 = 1 -+ 3 d3 /
                d2, none below 0
    source      ISO 7870-2, table 2; ASTM MNL 7 (printed tables from memory; eight printed last digits
                differ by one unit from the computed value, D4 of 3 among them)
    checked     tests/published/test_control_chart_published.py
    """
    return _constants(require.whole("n", n, 2, LARGEST_SUBGROUP))


@cache
def _constants(n: int) -> Constants:
    d2, d3 = range_moments(n)
    c4 = math.sqrt(2.0 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2))
    spread_of_sd = 3.0 * math.sqrt(1.0 - c4 * c4) / c4
    return Constants(
        d2=d2,
        d3=d3,
        c4=c4,
        A2=3.0 / (d2 * math.sqrt(n)),
        A3=3.0 / (c4 * math.sqrt(n)),
        B3=max(0.0, 1.0 - spread_of_sd),
        B4=1.0 + spread_of_sd,
        D3=max(0.0, 1.0 - 3.0 * d3 / d2),
        D4=1.0 + 3.0 * d3 / d2,
    )


@cache
def range_moments(n: int) -> tuple[float, float]:
    """Mean and standard deviation of the range of n standard normal values."""
    # Equal steps, because the integrands vanish smoothly at both ends, where the trapezoid rule is exact to
    # rounding.
    x, step = np.linspace(-9.0, 9.0, 1801, retstep=True)
    below = special.ndtr(x)
    mean = float((1.0 - below**n - special.ndtr(-x) ** n).sum() * step)
    # The second moment is the integral of 2 r P(range > r); nodes of Gauss, because it does not vanish
    # smoothly at 0.
    nodes, weights = np.polynomial.legendre.leggauss(120)
    r, weight = 8.0 * (nodes + 1.0), 8.0 * weights
    density = np.exp(-x * x / 2.0) / math.sqrt(2.0 * math.pi)
    within = n * step * (density * (special.ndtr(x + r[:, None]) - below) ** (n - 1)).sum(axis=1)
    second = float((weight * 2.0 * r * (1.0 - within)).sum())
    return mean, math.sqrt(second - mean * mean)
