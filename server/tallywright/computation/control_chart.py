# SPDX-License-Identifier: Apache-2.0
"""Is the process the same as before: charts of fractions, counts and measured values. Points in order of making.

May import numpy, scipy and the room's own modules only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats

from tallywright.computation import require
from tallywright.computation.chart_constants import (
    LARGEST_SUBGROUP,
    Constants,
    range_moments,
    shewhart_constants,
)
from tallywright.computation.require import Floats
from tallywright.computation.run_rules import run_signals

__all__ = [
    "Chart",
    "Constants",
    "CountLimits",
    "between_chart",
    "c_chart",
    "exact_limits",
    "individuals_chart",
    "laney_p_chart",
    "laney_u_chart",
    "mean_chart",
    "moving_range_chart",
    "np_chart",
    "p_chart",
    "range_chart",
    "run_signals",
    "sd_chart",
    "shewhart_constants",
    "u_chart",
]

FEWEST_EXPECTED = 5.0
FEWEST_BATCHES = 12
SETTLED_BATCHES = 25


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """One chart.

    centre       centre line, in the unit of the points
    lower        lower limit of each point  (point,); 0 where a count or fraction would have a negative one
    upper        upper limit of each point  (point,)
    outside      numbers of the points outside, 1-based; a point on a line is inside
    sigma_z      Laney charts only: spread between batches / spread by luck
    provisional  True when the limits are not yet to be relied on: a Laney chart of fewer than 25 batches,
                 a chart of fractions or counts with fewer than 5 expected in some point (exact_limits is
                 the answer there)
    """

    centre: float
    lower: Floats
    upper: Floats
    outside: list[int]
    sigma_z: float | None = None
    provisional: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class CountLimits:
    """The smallest and the largest count that is not a signal, one of each a point  (point,)."""

    lower: Floats
    upper: Floats


def p_chart(defective: ArrayLike, inspected: ArrayLike) -> Chart:
    """Chart of fractions defective.

    defective   defective pieces of each batch, whole  (point,)                   [pieces]
    inspected   pieces looked at, whole, at least 1; one number or one a point    [pieces]
    returns     Chart of the fraction                                             [1]
    valid       independent pieces, one rate; marked provisional when fewer than 5 are expected in some
                batch
    formula     centre p = sum of defective / sum of inspected, limits p -+ 3 sqrt(p q / n)
    source      Shewhart (1931) as in Montgomery, Introduction to Statistical Quality Control, chapter on
                attributes
    checked     tests/published/test_control_chart_published.py
    """
    found, n = _counts_of("defective", defective, "inspected", inspected, whole_units=True)
    require.holds("defective", "at most the pieces inspected", defective, bool((found <= n).all()))
    centre = float(found.sum() / n.sum())
    return _chart(found / n, centre, np.sqrt(centre * (1.0 - centre) / n), n, floor=0.0)


def np_chart(defective: ArrayLike, inspected: ArrayLike) -> Chart:
    """Chart of numbers defective, all batches of one size.

    defective   defective pieces of each batch, whole  (point,)                   [pieces]
    inspected   pieces looked at, whole, at least 1; one number, or the same for every point   [pieces]
    returns     Chart of the number                                               [pieces]
    valid       as p_chart
    formula     n times the p chart
    source      as p_chart
    checked     tests/published/test_control_chart_published.py
    """
    found, n = _counts_of("defective", defective, "inspected", inspected, whole_units=True)
    require.holds("inspected", "the same for every batch", inspected, bool((n == n[0]).all()))
    require.holds("defective", "at most the pieces inspected", defective, bool((found <= n).all()))
    centre = float(found.mean())
    return _chart(found, centre, np.sqrt(centre * (1.0 - centre / n)), np.ones_like(n), floor=0.0)


def c_chart(counts: ArrayLike) -> Chart:
    """Chart of defects counted on equal areas.

    counts      defects of each point, whole  (point,)                            [defects]
    returns     Chart of the count                                                [defects]
    valid       defects fall independently, equal opportunity at every point
    formula     centre c = mean, limits c -+ 3 sqrt c
    source      as p_chart
    checked     tests/published/test_control_chart_published.py
    """
    found = require.array("counts", counts, at_least=0.0, whole_numbers=True)
    centre = float(found.mean())
    return _chart(found, centre, np.full(found.shape, np.sqrt(centre)), np.ones_like(found), floor=0.0)


def u_chart(counts: ArrayLike, units: ArrayLike) -> Chart:
    """Chart of defects per unit.

    counts      defects of each point, whole  (point,)                            [defects]
    units       units looked at (pieces, metres), above 0; one number or one a point   [units]
    returns     Chart of the defects per unit                                     [defects per unit]
    valid       as c_chart
    formula     centre u = sum of counts / sum of units, limits u -+ 3 sqrt(u / units)
    source      as p_chart
    checked     tests/published/test_control_chart_published.py
    """
    found, size = _counts_of("counts", counts, "units", units, whole_units=False)
    centre = float(found.sum() / size.sum())
    return _chart(found / size, centre, np.sqrt(centre / size), size, floor=0.0)


def laney_p_chart(defective: ArrayLike, inspected: ArrayLike, *, at_least_one: bool = False) -> Chart:
    """Chart of fractions whose rate itself moves from batch to batch, as in large batches it always does.

    defective     defective pieces of each batch, whole, at least 12 batches  (point,)   [pieces]
    inspected     pieces looked at, whole, at least 1; one number or one a point   [pieces]
    at_least_one  True: never narrower than the p chart, max(1, sigma_z); screens ask for it
    returns       Chart of the fraction, with sigma_z                             [1]
    valid         at least 12 batches, provisional below 25; some but not all pieces defective
    formula       limits p -+ 3 sigma_z sqrt(p q / n); sigma_z = mean moving range of the standard scores
                  / d2(2)
    source        Laney, Quality Engineering 14 (2002) 531-537; d2(2) = 2 / sqrt(pi) unrounded, where
                  prints use 1.128
    checked       tests/published/test_control_chart_published.py
    """
    found, n = _counts_of("defective", defective, "inspected", inspected, whole_units=True)
    require.holds("defective", "at most the pieces inspected", defective, bool((found <= n).all()))
    centre = float(found.sum() / n.sum())
    require.holds("defective", "some but not all of the pieces", defective, 0.0 < centre < 1.0)
    sigma = np.sqrt(centre * (1.0 - centre) / n)
    return _laney("defective", found / n, centre, sigma, at_least_one)


def laney_u_chart(counts: ArrayLike, units: ArrayLike, *, at_least_one: bool = False) -> Chart:
    """Chart of defects per unit whose rate itself moves from batch to batch.

    counts        defects of each point, whole, at least 12 points, some above 0  (point,)   [defects]
    units         units looked at, above 0; one number or one a point             [units]
    at_least_one  True: never narrower than the u chart, max(1, sigma_z); screens ask for it
    returns       Chart of the defects per unit, with sigma_z                     [defects per unit]
    valid         at least 12 points, provisional below 25
    formula       limits u -+ 3 sigma_z sqrt(u / units); sigma_z as laney_p_chart
    source        as laney_p_chart
    checked       tests/published/test_control_chart_published.py
    """
    found, size = _counts_of("counts", counts, "units", units, whole_units=False)
    centre = float(found.sum() / size.sum())
    require.holds("counts", "a list with some above 0", counts, centre > 0.0)
    return _laney("counts", found / size, centre, np.sqrt(centre / size), at_least_one)


def individuals_chart(values: ArrayLike) -> Chart:
    """Chart of single measured values.

    values      one a point, at least 2, in order of making, one stream  (point,)   [unit of the gauge]
    returns     Chart of the values                                               [unit of the gauge]
    valid       roughly normal, independent values; depends on the order, through the moving range
    formula     mean -+ 3 (mean moving range) / d2(2), unrounded
    source      ISO 7870-2; Montgomery, chapter on individuals
    checked     tests/published/test_control_chart_published.py
    """
    data = require.array("values", values, min_size=2)
    sigma = float(np.abs(np.diff(data)).mean() / range_moments(2)[0])
    return _chart(data, float(data.mean()), np.full(data.shape, sigma), None)


def moving_range_chart(values: ArrayLike) -> Chart:
    """Chart of the differences of neighbours.

    values      one a point, at least 2, in order of making, one stream  (point,)   [unit of the gauge]
    returns     Chart of the ranges, one fewer than values; outside names the later value of each pair
                [as values]
    valid       as individuals_chart
    formula     centre = mean moving range, upper D4(2) times it, lower 0
    source      as individuals_chart
    checked     tests/published/test_control_chart_published.py
    """
    data = require.array("values", values, min_size=2)
    ranges = np.abs(np.diff(data))
    centre = float(ranges.mean())
    factors = shewhart_constants(2)
    chart = _between(ranges, centre, factors.D3 * centre, factors.D4 * centre)
    return Chart(chart.centre, chart.lower, chart.upper, [point + 1 for point in chart.outside])


def mean_chart(groups: ArrayLike, spread: Literal["range", "sd"] = "range") -> Chart:
    """Chart of subgroup means.

    groups      at least 2 subgroups of 2 to 25 pieces  (subgroup, piece)         [unit of the gauge]
    spread      'range' or 'sd': what the width is taken from
    returns     Chart of the means                                                [unit of the gauge]
    valid       pieces of a subgroup made together; one stream
    formula     grand mean -+ A2 (mean range), or -+ A3 (mean standard deviation)
    source      ISO 7870-2; Montgomery, chapter on variables
    checked     tests/published/test_control_chart_published.py
    """
    data, factors = _groups(groups)
    if require.one_of("spread", spread, ("range", "sd")) == "range":
        half = factors.A2 * float(np.ptp(data, axis=1).mean())
    else:
        half = factors.A3 * float(data.std(axis=1, ddof=1).mean())
    centre = float(data.mean())
    return _between(data.mean(axis=1), centre, centre - half, centre + half)


def range_chart(groups: ArrayLike) -> Chart:
    """Chart of subgroup ranges.

    groups      at least 2 subgroups of 2 to 25 pieces  (subgroup, piece)         [unit of the gauge]
    returns     Chart of the ranges                                               [unit of the gauge]
    valid       as mean_chart; above ten pieces a range wastes what the pieces say, sd_chart does not
    formula     centre = mean range, limits D3 and D4 times it
    source      as mean_chart
    checked     tests/published/test_control_chart_published.py
    """
    data, factors = _groups(groups)
    ranges = np.ptp(data, axis=1)
    centre = float(ranges.mean())
    return _between(ranges, centre, factors.D3 * centre, factors.D4 * centre)


def sd_chart(groups: ArrayLike) -> Chart:
    """Chart of subgroup standard deviations.

    groups      at least 2 subgroups of 2 to 25 pieces  (subgroup, piece)         [unit of the gauge]
    returns     Chart of the standard deviations                                  [unit of the gauge]
    valid       as mean_chart
    formula     centre = mean standard deviation (unweighted), limits B3 and B4 times it
    source      as mean_chart
    checked     tests/published/test_control_chart_published.py
    """
    data, factors = _groups(groups)
    deviations = data.std(axis=1, ddof=1)
    centre = float(deviations.mean())
    return _between(deviations, centre, factors.B3 * centre, factors.B4 * centre)


def exact_limits(p_or_mean: ArrayLike, n: ArrayLike | None = None, alpha: float = 0.0027) -> CountLimits:
    """Counts outside of which a point is a signal, for rates too small for 3 sigma.

    p_or_mean   rate, 0..1, when n is given; mean count, at least 0, when not; one number or one a point
                [1]
    n           pieces of each point, whole, at least 1; None: defects counted (Poisson)   [pieces]
    alpha       risk of a false signal, half on each side, between 0 and 1        [1]
    returns     CountLimits: the smallest and the largest count that is no signal   [pieces or defects]
    valid       the rate is known from earlier batches; a lower limit of 0 never signals
    formula     quantiles of the binomial or Poisson distribution at alpha / 2 and 1 - alpha / 2
    source      exact probability limits, definition; 0.0027 is the two-sided risk of 3 sigma
    checked     tests/published/test_control_chart_published.py
    """
    rate = require.array("p_or_mean", p_or_mean, at_least=0.0, number_too=True)
    half = require.between_0_and_1("alpha", alpha) / 2.0
    if n is None:
        return CountLimits(stats.poisson.ppf(half, rate).clip(0.0), stats.poisson.isf(half, rate))
    size = require.array("n", n, above=0.0, whole_numbers=True, number_too=True)
    require.holds("p_or_mean", "at most 1 when n is given", p_or_mean, bool((rate <= 1.0).all()))
    fits = rate.size == size.size or 1 in (rate.size, size.size)
    require.holds("n", "one number, or as many as p_or_mean", n, fits)
    return CountLimits(stats.binom.ppf(half, size, rate).clip(0.0), stats.binom.isf(half, size, rate))


def between_chart(gaps: ArrayLike, alpha: float = 0.0027) -> Chart:
    """Chart of pieces made between two finds, for defects too rare to be counted by batch.

    gaps        pieces from one find to the next, the find included, whole, at least 1, at least 2 gaps
                (point,)  [pieces]
    alpha       risk of a false signal, half on each side, between 0 and 1        [1]
    returns     Chart of the gaps: below the lower limit finds come too close     [pieces]
    valid       independent pieces, one rate; a lower limit of 1 can never signal
    formula     rate = 1 / mean gap; quantiles of the geometric distribution at alpha / 2 and 1 - alpha / 2
    source      Goh, Quality Assurance 13 (1987) 18-22 for high yields (from memory); limits by definition
    checked     tests/published/test_control_chart_published.py
    """
    data = require.array("gaps", gaps, at_least=1.0, whole_numbers=True, min_size=2)
    half = require.between_0_and_1("alpha", alpha) / 2.0
    centre = float(data.mean())
    rate = 1.0 / centre
    return _between(data, centre, float(stats.geom.ppf(half, rate)), float(stats.geom.isf(half, rate)))


def _counts_of(
    name: str, counts: ArrayLike, unit_name: str, units: ArrayLike, *, whole_units: bool
) -> tuple[Floats, Floats]:
    found = require.array(name, counts, at_least=0.0, whole_numbers=True)
    size = require.array(unit_name, units, above=0.0, whole_numbers=whole_units, number_too=True)
    require.holds(unit_name, f"one number, or one for each of {name}", units, size.size in (1, found.size))
    return found, np.broadcast_to(size, found.shape)


def _chart(points: Floats, centre: float, sigma: Floats, size: Floats | None, floor: float | None = None) -> Chart:
    """Three-sigma limits; size, where given, says how much each point holds, for the count expected in it."""
    lower, upper = centre - 3.0 * sigma, centre + 3.0 * sigma
    if floor is not None:
        lower = np.maximum(lower, floor)
    few = size is not None and bool((centre * size).min() < FEWEST_EXPECTED)
    return Chart(centre, lower, upper, _outside(points, lower, upper), provisional=few)


def _between(points: Floats, centre: float, low: float, high: float) -> Chart:
    lower, upper = np.full(points.shape, low), np.full(points.shape, high)
    return Chart(centre, lower, upper, _outside(points, lower, upper))


def _laney(name: str, points: Floats, centre: float, sigma: Floats, at_least_one: bool) -> Chart:
    require.holds(name, f"at least {FEWEST_BATCHES} batches", points.size, points.size >= FEWEST_BATCHES)
    scores = (points - centre) / sigma
    sigma_z = float(np.abs(np.diff(scores)).mean() / range_moments(2)[0])
    width = max(1.0, sigma_z) if at_least_one else sigma_z
    lower, upper = np.maximum(centre - 3.0 * width * sigma, 0.0), centre + 3.0 * width * sigma
    unsettled = points.size < SETTLED_BATCHES
    return Chart(centre, lower, upper, _outside(points, lower, upper), sigma_z, unsettled)


def _outside(points: Floats, lower: Floats, upper: Floats) -> list[int]:
    # A point on a line is inside, also when rounding puts it a hair beyond.
    hair = 1e-9 * (upper - lower)
    return (np.flatnonzero((points > upper + hair) | (points < lower - hair)) + 1).tolist()


def _groups(groups: ArrayLike) -> tuple[Floats, Constants]:
    data = require.array("groups", groups, 2)
    shape = data.shape
    sound = shape[0] >= 2 and 2 <= shape[1] <= LARGEST_SUBGROUP
    require.holds("groups", f"at least 2 subgroups of 2 to {LARGEST_SUBGROUP} pieces", shape, sound)
    return data, shewhart_constants(shape[1])
