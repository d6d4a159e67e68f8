# SPDX-License-Identifier: Apache-2.0
"""Does a characteristic fit its limits, and how surely. One stream, never several cavities at once.

May import numpy, scipy and the room's own modules only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import optimize, special, stats

from tallywright.computation import require
from tallywright.computation.rate_limit import Interval

__all__ = [
    "Capability",
    "PercentileCapability",
    "capability",
    "capability_by_percentiles",
    "cp_interval",
    "cpk_interval",
    "cpm_interval",
    "one_sided_index_lower",
]

FEWEST_PIECES = 25
# Beyond, the noncentral distribution cannot be reckoned for every index; no sample is that large.
MOST_PIECES = 100_000
# The outer percentiles, 0.135 % and 99.865 %, lie inside the data from this number of pieces on.
OUTER_TAIL = 0.00135
FEWEST_FOR_PERCENTILES = 740


@dataclass(frozen=True, slots=True)
class Capability:
    """Indices of one characteristic; None where a limit that the index needs is not given."""

    cp: float | None
    cpk_lower: float | None
    cpk_upper: float | None
    cpk: float
    cpm: float | None
    cp_interval: Interval | None
    cpk_interval: Interval
    cpm_interval: Interval | None


@dataclass(frozen=True, slots=True)
class PercentileCapability:
    """Indices from the percentiles of the values themselves, and the percentiles 0.135, 50 and 99.865."""

    cp: float | None
    cpk_lower: float | None
    cpk_upper: float | None
    cpk: float
    low: float
    median: float
    high: float


def capability(
    mean: float,
    sd: float,
    n: int,
    lower: float | None = None,
    upper: float | None = None,
    target: float | None = None,
    confidence: float = 0.95,
) -> Capability:
    """Indices of a characteristic against its limits, with their intervals.

    mean        mean of the values                                                [unit of the gauge]
    sd          standard deviation, above 0; within or overall is the caller's choice, named in the report
                [unit of the gauge]
    n           pieces behind the standard deviation, at least 25                 [pieces]
    lower       lower limit, or None; a physical bound (0 for a run-out) is no limit and is left out
                [unit of the gauge]
    upper       upper limit, or None, above lower; one of the two is needed       [unit of the gauge]
    target      value aimed at for cpm, None: the middle of the limits            [unit of the gauge]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Capability; one limit: cp, cpm and their intervals are None, the interval of cpk is exact
                [1]
    valid       normal, independent values of one stream in control; loads: tolerance_factor instead
    formula     cp = (U - L) / 6s, cpk = min(U - mean, mean - L) / 3s, cpm = (U - L) / 6 sqrt(s^2 + (mean
                - T)^2); intervals: cp_interval, cpk_interval, cpm_interval; one limit: noncentral t
    source      ISO 22514-2; Bissell (1990); Boyles (1991); noncentral t, as one-sided tolerance factors
    checked     tests/published/test_capability_published.py
    """
    mean = require.number("mean", mean)
    sd = require.number("sd", sd, above=0.0)
    n = require.whole("n", n, FEWEST_PIECES, MOST_PIECES)
    confidence = require.between_0_and_1("confidence", confidence)
    lower, upper = _limits(lower, upper)
    below = None if lower is None else (mean - lower) / (3.0 * sd)
    above = None if upper is None else (upper - mean) / (3.0 * sd)
    cpk = min(index for index in (below, above) if index is not None)
    if lower is None or upper is None:
        return Capability(None, below, above, cpk, None, None, _exact_interval(cpk, n, confidence), None)
    cp = (upper - lower) / (6.0 * sd)
    aim = (lower + upper) / 2.0 if target is None else require.number("target", target)
    cpm = (upper - lower) / (6.0 * math.hypot(sd, mean - aim))
    return Capability(
        cp,
        below,
        above,
        cpk,
        cpm,
        cp_interval(cp, n, confidence),
        cpk_interval(cpk, n, confidence),
        cpm_interval(cpm, (mean - aim) / sd, n, confidence),
    )


def capability_by_percentiles(
    values: ArrayLike, lower: float | None = None, upper: float | None = None
) -> PercentileCapability:
    """Indices of a bounded or skewed characteristic, from the percentiles of its values.

    values      measured values of one stream, at least 740  (piece,)             [unit of the gauge]
    lower       lower limit, or None; a physical bound is no limit                [unit of the gauge]
    upper       upper limit, or None, above lower; one of the two is needed       [unit of the gauge]
    returns     PercentileCapability [1], percentiles  [unit of the gauge]
    valid       any continuous shape; 740 pieces are the fewest whose outer percentiles are not a guess
                beyond the data
    formula     cp = (U - L) / (X99.865 - X0.135); upper: (U - X50) / (X99.865 - X50); lower likewise;
                percentile of rank p at place p (n + 1)
    source      ISO 22514-2, percentile method (from memory)
    checked     tests/published/test_capability_published.py
    """
    data = require.array("values", values, min_size=FEWEST_FOR_PERCENTILES)
    lower, upper = _limits(lower, upper)
    ranks = [OUTER_TAIL, 0.5, 1.0 - OUTER_TAIL]
    low, median, high = (float(x) for x in np.quantile(data, ranks, method="weibull"))
    require.holds("values", "values that differ on both sides of their median", values, low < median < high)
    below = None if lower is None else (median - lower) / (median - low)
    above = None if upper is None else (upper - median) / (high - median)
    cpk = min(index for index in (below, above) if index is not None)
    cp = None if lower is None or upper is None else (upper - lower) / (high - low)
    return PercentileCapability(cp, below, above, cpk, low, median, high)


def one_sided_index_lower(index: float, n: int, confidence: float) -> float:
    """Exact lower limit of an index against one limit, as of a breaking load.

    index       (mean - lower) / 3s or (upper - mean) / 3s of the sample          [1]
    n           pieces of the sample, at least 2                                  [pieces]
    confidence  one-sided level, between 0 and 1                                  [1]
    returns     lower limit of the index of the process                           [1]
    valid       normal, independent values of one batch or load
    formula     the index C at which noncentral t (n - 1, 3 C sqrt n) stays below 3 index sqrt n with this
                confidence
    source      noncentral t, the mathematics of one-sided tolerance factors: Natrella, NBS Handbook 91
                (1963)
    checked     tests/published/test_capability_published.py
    """
    index = require.number("index", index, at_least=-100.0, at_most=100.0)
    n = require.whole("n", n, 2, MOST_PIECES)
    return _noncentral(index, n, require.between_0_and_1("confidence", confidence))


def cp_interval(cp: float, n: int, confidence: float = 0.95) -> Interval:
    """Exact interval of cp.

    cp          index of the sample, above 0                                      [1]
    n           pieces, at least 2                                                [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval                                                          [1]
    valid       normal, independent values
    formula     cp sqrt(chi2(tail; n - 1) / (n - 1)), both tails
    source      chi-square interval of a standard deviation, any textbook
    checked     tests/published/test_capability_published.py
    """
    cp = require.number("cp", cp, above=0.0)
    n = require.whole("n", n, 2)
    return _by_chi_square(cp, n - 1.0, require.between_0_and_1("confidence", confidence))


def cpk_interval(cpk: float, n: int, confidence: float = 0.95) -> Interval:
    """Approximate interval of cpk against two limits.

    cpk         index of the sample                                               [1]
    n           pieces, at least 2; below 25 the approximation is poor            [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval                                                          [1]
    valid       normal, independent values
    formula     cpk -+ z sqrt(1 / 9n + cpk^2 / 2(n - 1))
    source      Bissell, Applied Statistics 39 (1990) 331-340 (formula from memory); ISO 22514-2 the same
    checked     tests/published/test_capability_published.py
    """
    cpk = require.number("cpk", cpk)
    n = require.whole("n", n, 2)
    z = float(-special.ndtri((1.0 - require.between_0_and_1("confidence", confidence)) / 2.0))
    half = z * math.sqrt(1.0 / (9.0 * n) + cpk * cpk / (2.0 * (n - 1.0)))
    return Interval(cpk - half, cpk + half)


def cpm_interval(cpm: float, offset: float, n: int, confidence: float = 0.95) -> Interval:
    """Approximate interval of cpm.

    cpm         index of the sample, above 0                                      [1]
    offset      (mean - target) / sd of the sample                                [1]
    n           pieces, at least 2                                                [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval                                                          [1]
    valid       normal, independent values
    formula     cpm sqrt(chi2(tail; f) / f), f = n (1 + A)^2 / (1 + 2A), A = offset^2; the square matters:
                without it a nominal 95 % covers 99.1 %
    source      Boyles, Journal of Quality Technology 23 (1991) 17-26 (formula from memory)
    checked     tests/published/test_capability_published.py
    """
    cpm = require.number("cpm", cpm, above=0.0)
    away = require.number("offset", offset) ** 2
    n = require.whole("n", n, 2)
    freedom = n * (1.0 + away) ** 2 / (1.0 + 2.0 * away)
    return _by_chi_square(cpm, freedom, require.between_0_and_1("confidence", confidence))


def _limits(lower: float | None, upper: float | None) -> tuple[float | None, float | None]:
    require.holds("lower", "given when upper is not", lower, lower is not None or upper is not None)
    low = None if lower is None else require.number("lower", lower)
    high = None if upper is None else require.number("upper", upper)
    if low is not None and high is not None:
        require.holds("upper", f"above lower {low:g}", high, high > low)
    return low, high


def _by_chi_square(index: float, freedom: float, confidence: float) -> Interval:
    tail = (1.0 - confidence) / 2.0
    low, high = stats.chi2.ppf(tail, freedom), stats.chi2.isf(tail, freedom)
    return Interval(index * math.sqrt(low / freedom), index * math.sqrt(high / freedom))


def _exact_interval(index: float, n: int, confidence: float) -> Interval:
    tail = (1.0 - confidence) / 2.0
    return Interval(_noncentral(index, n, 1.0 - tail), _noncentral(index, n, tail))


def _noncentral(index: float, n: int, share_below: float) -> float:
    """The index of the process at which this share of samples shows a smaller index than the one seen."""
    scale = 3.0 * math.sqrt(n)
    seen = scale * index

    def excess(noncentrality: float) -> float:
        return _noncentral_chance(seen, n - 1, noncentrality) - share_below

    # The distribution moves down as its noncentrality grows, so the root lies between two ends that step
    # outwards.
    step = 1.0 + abs(seen)
    low, high = seen - step, seen + step
    while excess(low) < 0.0:
        low -= step
    while excess(high) > 0.0:
        high += step
    return float(optimize.brentq(excess, low, high, xtol=1e-12, rtol=1e-13)) / scale


def _noncentral_chance(t: float, freedom: int, noncentrality: float) -> float:
    """P(T <= t) for noncentral t."""
    if t < 0.0:
        return 1.0 - _noncentral_chance(-t, freedom, -noncentrality)
    # The series of the library gives no number next to 0 and in far tails, where the normal curve is exact
    # enough.
    if t < 1e-8:
        return float(special.ndtr(t - noncentrality))
    if noncentrality <= -7.0:
        return 1.0
    chance = float(special.nctdtr(freedom, noncentrality, t))
    if math.isfinite(chance):
        return chance
    scale = math.sqrt(1.0 + t * t / (2.0 * freedom))
    # Never below the chance at 0, which is exact.
    return float(special.ndtr(max(-noncentrality, (t * (1.0 - 0.25 / freedom) - noncentrality) / scale)))
