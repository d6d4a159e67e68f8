# SPDX-License-Identifier: Apache-2.0
"""The load that pieces can be said to bear, from the few that were pulled to pieces.

May import numpy, scipy and the room's own modules only.
"""

from __future__ import annotations

import math

from numpy.typing import ArrayLike
from scipy import special, stats

from tallywright.computation import require
from tallywright.computation.rate_limit import pieces_to_show

__all__ = [
    "confidence_of_mean_minus",
    "distribution_free_size",
    "mean_minus_sd",
    "minimum_by_factor",
    "tolerance_factor",
]


def tolerance_factor(n: int, proportion: float, confidence: float) -> float:
    """Standard deviations to go below the mean so that a share of the pieces is stronger.

    n           pieces of one batch or load, or batch means, at least 2; 3 pieces from each of 10 batches
                are not 30 when batches differ  [pieces]
    proportion  share of the pieces that is to be stronger, between 0 and 1       [1]
    confidence  between 0 and 1                                                   [1]
    returns     factor k                                                          [1]
    valid       normal, independent values
    formula     quantile of noncentral t (n - 1, z sqrt n) at confidence / sqrt n, exact
    source      ISO 16269-6; Natrella, NBS Handbook 91 (1963), whose closed form is an approximation
                (1.8752 for the exact 1.8740)
    checked     tests/published/test_strength_published.py
    """
    n = require.whole("n", n, 2, 1_000_000)
    z = float(special.ndtri(require.between_0_and_1("proportion", proportion)))
    confidence = require.between_0_and_1("confidence", confidence)
    return float(stats.nct.ppf(confidence, n - 1, z * math.sqrt(n))) / math.sqrt(n)


def minimum_by_factor(values: ArrayLike, proportion: float, confidence: float) -> float:
    """The load that a share of the pieces bears, with this confidence.

    values      breaking loads of one batch or load, at least 2  (piece,)         [unit of the values]
    proportion  share of the pieces that is to be stronger, between 0 and 1       [1]
    confidence  between 0 and 1                                                   [1]
    returns     mean - k s                                                        [unit of the values]
    valid       as tolerance_factor
    formula     k = tolerance_factor(n, proportion, confidence), s with n - 1
    source      as tolerance_factor
    checked     tests/published/test_strength_published.py
    """
    data = require.array("values", values, min_size=2)
    k = tolerance_factor(data.size, proportion, confidence)
    return float(data.mean() - k * data.std(ddof=1))


def mean_minus_sd(values: ArrayLike, k: float = 3.0) -> float:
    """The plain rating of load-bearing parts: mean less a fixed number of standard deviations.

    values      breaking loads, at least 2  (piece,)                              [unit of the values]
    k           standard deviations, at least 0                                   [1]
    returns     mean - k s                                                        [unit of the values]
    valid       says little for few pieces: confidence_of_mean_minus says how little
    formula     mean - k s, s with n - 1
    source      common practice of the trade (from memory)
    checked     tests/published/test_strength_published.py
    """
    data = require.array("values", values, min_size=2)
    return float(data.mean() - require.number("k", k, at_least=0.0) * data.std(ddof=1))


def confidence_of_mean_minus(n: int, k: float, proportion: float) -> float:
    """How surely a share of the pieces is stronger than mean - k s.

    n           pieces of one batch or load, at least 2                           [pieces]
    k           standard deviations, at least 0                                   [1]
    proportion  share of the pieces that is to be stronger, between 0 and 1       [1]
    returns     confidence, 0..1                                                  [1]
    valid       as tolerance_factor
    formula     noncentral t (n - 1, z sqrt n) at k sqrt n
    source      as tolerance_factor
    checked     tests/published/test_strength_published.py
    """
    n = require.whole("n", n, 2, 1_000_000)
    k = require.number("k", k, at_least=0.0)
    z = float(special.ndtri(require.between_0_and_1("proportion", proportion)))
    return float(stats.nct.cdf(k * math.sqrt(n), n - 1, z * math.sqrt(n)))


def distribution_free_size(proportion: float, confidence: float) -> int:
    """Pieces to pull so that the weakest of them is a lower limit, whatever the shape of the loads.

    proportion  share of the pieces that is to be stronger, between 0 and 1       [1]
    confidence  between 0 and 1                                                   [1]
    returns     smallest n with 1 - proportion^n >= confidence                    [pieces]
    valid       independent pieces of one population
    formula     ln(1 - confidence) / ln(proportion), rounded up
    source      Wilks (1941); NIST/SEMATECH e-Handbook 7.2.6.4; 59, 299 and 29 in print (from memory)
    checked     tests/published/test_strength_published.py
    """
    weaker = 1.0 - require.between_0_and_1("proportion", proportion)
    return pieces_to_show(weaker, require.between_0_and_1("confidence", confidence))
