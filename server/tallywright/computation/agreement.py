# SPDX-License-Identifier: Apache-2.0
"""Can the people who look be believed: do they agree with one another, and with known pieces.

May import numpy, scipy.special and the room's own modules only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from tallywright.computation import require
from tallywright.computation.errors import NotEstimable
from tallywright.computation.rate_limit import Interval, exact_interval
from tallywright.computation.require import Floats

__all__ = ["AttributeStudy", "Kappa", "attribute_study", "cohen_kappa", "fleiss_kappa"]


@dataclass(frozen=True, slots=True)
class Kappa:
    """Agreement beyond luck: 1 always, 0 as by luck; its standard error; for several raters that of each category.

    A category that nobody used has no agreement: None.
    """

    value: float
    ase: float
    by_category: tuple[float | None, ...] = ()


@dataclass(frozen=True, slots=True)
class AttributeStudy:
    """One person against known pieces.

    kappa             agreement of the calls with the reference, beyond luck
    effectiveness     share of the pieces called right in every trial
    miss_rate         share of the calls on bad pieces that accept
    false_alarm_rate  share of the calls on good pieces that reject
    """

    kappa: float
    effectiveness: float
    miss_rate: float
    false_alarm_rate: float
    effectiveness_interval: Interval
    miss_interval: Interval
    false_alarm_interval: Interval


def cohen_kappa(table: ArrayLike, weights: Literal["linear", "quadratic"] | None = None) -> Kappa:
    """Agreement of two people who each put every piece into one category.

    table       pieces by the category of the first and of the second person, whole, at least two
                categories (category, category)  [pieces]
    weights     None: only the same category agrees; 'linear' or 'quadratic': near categories agree in
                part (ordered categories only)
    returns     Kappa with its standard error for confidence, not for testing 0   [1]
    valid       pieces judged apart by both; low when nearly all pieces are of one kind, whatever the skill
    formula     (po - pe) / (1 - pe); standard error of Fleiss, Cohen and Everitt
    source      Cohen, Educational and Psychological Measurement 20 (1960) 37-46; Fleiss, Cohen and
                Everitt, Psychological Bulletin 72 (1969) 323-327 (from memory)
    checked     tests/published/test_agreement_published.py
    """
    data = require.array("table", table, 2, at_least=0.0, whole_numbers=True)
    square = data.shape[0] == data.shape[1] and data.shape[0] >= 2 and data.sum() > 0
    require.holds("table", "a square table of at least two categories with some pieces", data.shape, square)
    if weights is not None:
        require.one_of("weights", weights, ("linear", "quadratic"))
    total = data.sum()
    shares = data / total
    rows, columns = shares.sum(axis=1), shares.sum(axis=0)
    weight = _agreement_weights(data.shape[0], weights)
    observed, expected = float((weight * shares).sum()), float((weight * np.outer(rows, columns)).sum())
    if math.isclose(expected, 1.0):
        raise NotEstimable("table puts all pieces into one category, so agreement beyond luck does not exist")
    value = (observed - expected) / (1.0 - expected)
    marginal = (weight @ columns)[:, None] + (rows @ weight)[None, :]
    spread = float((shares * (weight - marginal * (1.0 - value)) ** 2).sum())
    spread -= (value - expected * (1.0 - value)) ** 2
    return Kappa(value, math.sqrt(max(0.0, spread) / total) / (1.0 - expected))


def fleiss_kappa(counts: ArrayLike) -> Kappa:
    """Agreement of several people on many pieces.

    counts      how many people put each piece into each category, whole; the same number of people, at
                least two, for every piece (piece, category)  [people]
    returns     Kappa with the standard error of 1979 under no agreement, and the agreement of each
                category  [1]
    valid       people judge apart from one another
    formula     1 - sum of x (n - x) over pieces and categories / (N n (n - 1) sum of p q)
    source      Fleiss, Psychological Bulletin 76 (1971) 378-382; standard error corrected by Fleiss, Nee
                and Landis, Psychological Bulletin 86 (1979) 974-977 (that of 1971 is too large)
    checked     tests/published/test_agreement_published.py
    """
    data = require.array("counts", counts, 2, at_least=0.0, whole_numbers=True)
    people = data.sum(axis=1)
    even = data.shape[1] >= 2 and people[0] >= 2 and bool((people == people[0]).all())
    require.holds("counts", "the same number of people, at least two, for every piece", counts, even)
    n, pieces = float(people[0]), data.shape[0]
    share = data.sum(axis=0) / (pieces * n)
    spread = share * (1.0 - share)
    if float(spread.sum()) == 0.0:
        raise NotEstimable("counts puts all pieces into one category, so agreement beyond luck does not exist")
    apart = (data * (n - data)).sum(axis=0)
    pairs = pieces * n * (n - 1.0)
    value = 1.0 - float(apart.sum() / (pairs * spread.sum()))
    by_category = tuple(
        None if own == 0.0 else 1.0 - float(different / (pairs * own))
        for different, own in zip(apart, spread, strict=True)
    )
    inner = float(spread.sum()) ** 2 - float((spread * (1.0 - 2.0 * share)).sum())
    return Kappa(value, math.sqrt(2.0 / pairs * max(0.0, inner)) / float(spread.sum()), by_category)


def attribute_study(reference: ArrayLike, calls: ArrayLike, confidence: float = 0.95) -> AttributeStudy:
    """One person against pieces whose state is known.

    reference   True (or 1) for a bad piece, at least one bad and one good  (piece,)
    calls       True (or 1) for a call 'bad'  (piece, trial)
    confidence  two-sided level of the intervals, between 0 and 1                 [1]
    returns     AttributeStudy                                                    [1]
    valid       the person does not know the pieces again; the intervals of misses and false alarms count
                calls, so they are too narrow when a piece is missed in every trial for the same reason
    formula     kappa of all calls; shares of pieces and calls with exact intervals
    source      a measurement systems analysis reference manual of the car industry, attribute chapter
                (from memory); Clopper and Pearson (1934)
    checked     tests/published/test_agreement_published.py
    """
    known = _flags("reference", reference, 1)
    called = _flags("calls", calls, 2)
    require.holds("calls", "one line for each piece of the reference", called.shape, called.shape[0] == known.size)
    mixed = 0.0 < known.mean() < 1.0
    require.holds("reference", "at least one bad and one good piece", reference, bool(mixed))
    confidence = require.between_0_and_1("confidence", confidence)
    bad, good = called[known == 1.0], called[known == 0.0]
    misses, alarms = int((bad == 0.0).sum()), int((good == 1.0).sum())
    right = int((called == known[:, None]).all(axis=1).sum())
    table = [[bad.size - misses, misses], [alarms, good.size - alarms]]
    return AttributeStudy(
        kappa=cohen_kappa(table).value,
        effectiveness=right / known.size,
        miss_rate=misses / bad.size,
        false_alarm_rate=alarms / good.size,
        effectiveness_interval=exact_interval(right, known.size, confidence),
        miss_interval=exact_interval(misses, bad.size, confidence),
        false_alarm_interval=exact_interval(alarms, good.size, confidence),
    )


def _agreement_weights(categories: int, weights: str | None) -> Floats:
    place = np.arange(categories, dtype=np.float64)
    apart = np.abs(place[:, None] - place[None, :]) / (categories - 1.0)
    if weights is None:
        return np.eye(categories)
    return 1.0 - (apart if weights == "linear" else apart * apart)


def _flags(name: str, values: ArrayLike, ndim: int) -> Floats:
    data = require.array(name, values, ndim)
    require.holds(name, "True and False only", values, bool(np.isin(data, (0.0, 1.0)).all()))
    return data
