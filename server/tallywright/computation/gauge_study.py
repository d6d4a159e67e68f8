# SPDX-License-Identifier: Apache-2.0
"""Can the gauge be believed: how much of what differs is the piece, the person, the gauge.

GO / NOT-GO and feeler gauges give no numbers: they go to agreement.attribute_study. May import numpy and the room's
own modules only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tallywright.computation import require
from tallywright.computation.chart_constants import LARGEST_SUBGROUP, range_moments
from tallywright.computation.errors import NotEstimable
from tallywright.computation.require import Floats

__all__ = ["GaugeStudy", "anova_study", "average_range_study"]

SPREAD_OF_GAUGE = 6.0
# The printed factor; the square root of two belongs nowhere else in the number of categories.
CATEGORY_FACTOR = 1.41


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """Parts of the spread, as standard deviations in the unit of the gauge.

    repeatability         same person, same piece, again
    reproducibility       between persons, their interaction with pieces included
    interaction           persons who differ on some pieces only, a part of reproducibility; None where
                          the method cannot see it
    gauge                 repeatability and reproducibility together
    part                  between pieces
    total                 gauge and part together
    percent_of_total      100 gauge / total
    percent_of_tolerance  600 gauge / tolerance; None without a tolerance
    distinct_categories   1.41 part / gauge, cut to a whole number: groups of pieces the gauge can tell
                          apart
    """

    repeatability: float
    reproducibility: float
    interaction: float | None
    gauge: float
    part: float
    total: float
    percent_of_total: float
    percent_of_tolerance: float | None
    distinct_categories: int


def average_range_study(data: ArrayLike, tolerance: float | None = None) -> GaugeStudy:
    """Gauge study by averages and ranges.

    data        2 to 25 of each  (part, appraiser, trial)                         [unit of the gauge]
    tolerance   upper minus lower limit, above 0; None for one-sided characteristics   [unit of the gauge]
    returns     GaugeStudy; interaction is None [unit of the gauge], percent, groups
    valid       pieces drawn over the whole spread, measured blind and in mixed order
    formula     EV = mean range / d2, AV^2 = (range of person means / d2*)^2 - EV^2 / (parts trials), not
                below 0, PV = range of part means / d2*, d2* = sqrt(d2^2 + d3^2)
    source      a measurement systems analysis reference manual of the car industry (method and example
                from memory)
    checked     tests/published/test_gauge_study_published.py
    """
    values = _block(data)
    for count in values.shape:
        require.holds("data", f"at most {LARGEST_SUBGROUP} each way", values.shape, count <= LARGEST_SUBGROUP)
    parts, appraisers, trials = values.shape
    repeat = float(np.ptp(values, axis=2).mean()) / range_moments(trials)[0]
    people = float(np.ptp(values.mean(axis=(0, 2)))) / math.hypot(*range_moments(appraisers))
    reproduce = math.sqrt(max(0.0, people**2 - repeat**2 / (parts * trials)))
    part = float(np.ptp(values.mean(axis=(1, 2)))) / math.hypot(*range_moments(parts))
    return _study(repeat, reproduce, None, part, tolerance)


def anova_study(data: ArrayLike, tolerance: float | None = None, *, pool_interaction: bool = False) -> GaugeStudy:
    """Gauge study by analysis of variance, pieces and persons both drawn at random.

    data              at least 2 of each  (part, appraiser, trial)                [unit of the gauge]
    tolerance         upper minus lower limit, above 0; None for one-sided characteristics
                      [unit of the gauge]
    pool_interaction  True: the interaction is counted as repeatability; only where it is clearly no more
                      than luck
    returns           GaugeStudy; parts of the variance below 0 are 0 [unit of the gauge], percent, groups
    valid             as average_range_study
    formula           expected mean squares of the balanced two-way layout with random effects
    source            Montgomery, Introduction to Statistical Quality Control, chapter on gauge studies;
                      the manual of average_range_study (table from memory)
    checked           tests/published/test_gauge_study_published.py
    """
    values = _block(data)
    parts, appraisers, trials = values.shape
    grand = values.mean()
    by_part, by_person, by_cell = values.mean(axis=(1, 2)), values.mean(axis=(0, 2)), values.mean(axis=2)
    square_part = appraisers * trials * float(((by_part - grand) ** 2).sum()) / (parts - 1)
    square_person = parts * trials * float(((by_person - grand) ** 2).sum()) / (appraisers - 1)
    own = by_cell - by_part[:, None] - by_person[None, :] + grand
    sum_both, free_both = trials * float((own**2).sum()), (parts - 1) * (appraisers - 1)
    sum_rest, free_rest = float(((values - by_cell[:, :, None]) ** 2).sum()), parts * appraisers * (trials - 1)
    if pool_interaction:
        rest = both = (sum_both + sum_rest) / (free_both + free_rest)
    else:
        rest, both = sum_rest / free_rest, sum_both / free_both
    interaction = max(0.0, (both - rest) / trials)
    person = max(0.0, (square_person - both) / (parts * trials))
    part = max(0.0, (square_part - both) / (appraisers * trials))
    return _study(
        math.sqrt(rest), math.sqrt(person + interaction), math.sqrt(interaction), math.sqrt(part), tolerance
    )


def _block(data: ArrayLike) -> Floats:
    values = require.array("data", data, 3)
    require.holds("data", "at least two parts, appraisers and trials", values.shape, min(values.shape) >= 2)
    return values


def _study(
    repeat: float, reproduce: float, interaction: float | None, part: float, tolerance: float | None
) -> GaugeStudy:
    gauge = math.hypot(repeat, reproduce)
    if gauge == 0.0:
        raise NotEstimable("data shows no spread of the gauge at all, so it reads too coarsely to be judged")
    total = math.hypot(gauge, part)
    width = None if tolerance is None else require.number("tolerance", tolerance, above=0.0)
    return GaugeStudy(
        repeatability=repeat,
        reproducibility=reproduce,
        interaction=interaction,
        gauge=gauge,
        part=part,
        total=total,
        percent_of_total=100.0 * gauge / total,
        percent_of_tolerance=None if width is None else 100.0 * SPREAD_OF_GAUGE * gauge / width,
        distinct_categories=math.floor(CATEGORY_FACTOR * part / gauge),
    )
