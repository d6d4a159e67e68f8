# SPDX-License-Identifier: Apache-2.0
"""Readings that are more regular than chance makes them: facts that are worth a look, and no more than that.

A steady process, a coarse gauge or a sticking one make the same patterns as a copied number. No function here
knows who took a reading.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import comb, sqrt

from numpy.typing import ArrayLike
from scipy import special

from tallywright.computation import require
from tallywright.computation.errors import NotEstimable
from tallywright.computation.rate_limit import exact_lower, exact_upper

__all__ = [
    "Crowd",
    "EndDigits",
    "FewNear",
    "SameRun",
    "crowd",
    "end_digits",
    "few_near",
    "run_chance",
    "same_run",
]

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
FEWEST_BEFORE = 30  # pairs or readings of earlier batches below which nothing is called usual
MOST_TRIALS = 100_000
FEWEST_DIGITS = 50  # five expected of each of ten digits
FEWEST_STEPS = 5.0  # below this spread the digits of a process are not even in themselves


@dataclass(frozen=True, slots=True)
class SameRun:
    """The longest run of items that are as the one before.

    first   number of the item the run begins with, 1-based
    length  items in it; 1 where no item is as the one before
    share   how often an item is as the one before, at its upper end
    chance  of a run at least as long
    """

    first: int
    length: int
    share: float
    chance: float


@dataclass(frozen=True, slots=True)
class Crowd:
    """The most times that lie within one window.

    first   number of the first of them, 1-based
    count   how many
    chance  of so many or more in any window, at most
    """

    first: int
    count: int
    chance: float


@dataclass(frozen=True, slots=True)
class EndDigits:
    """Last digits against ten equally likely ones.

    counts  readings that end with 0, 1, ... 9
    most    the digit that most of them end with
    """

    counts: tuple[int, ...]
    most: int
    chi2: float
    chance: float


@dataclass(frozen=True, slots=True)
class FewNear:
    """Readings near a limit or beyond it: the usual share at its lower end, and the chance of so few."""

    share: float
    chance: float


def run_chance(length: int, trials: int, share: float) -> float:
    """Chance of a run of at least so many successes in a row.

    length      successes in a row, at least 1
    trials      trials in all, 0 to 100,000
    share       chance of a success in one trial, 0 to 1
    returns     chance, 0 to 1
    valid       independent trials
    formula     f(n) = f(n-1) + (1 - p) p^r (1 - f(n-r-1)), f(r) = p^r, f(n) = 0 before
    source      de Moivre, The Doctrine of Chances, 2nd ed. 1738, problem 88; Feller, An Introduction to
                Probability Theory and Its Applications I, 3rd ed. 1968, XIII.7 (both from memory)
    checked     tests/published/test_reading_patterns_published.py
    """
    length = require.whole("length", length, 1)
    trials = require.whole("trials", trials, 0, MOST_TRIALS)
    share = require.share("share", share)
    if trials < length:
        return 0.0
    whole_run = share**length
    found = [0.0] * length + [whole_run]
    for trial in range(length + 1, trials + 1):
        found.append(found[-1] + (1.0 - share) * whole_run * (1.0 - found[trial - length - 1]))
    return min(1.0, found[trials])


def same_run(is_same: Sequence[bool], same_before: int, pairs_before: int, confidence: float = 0.95) -> SameRun:
    """The longest run of items as the one before, and the chance of one so long by the usual share of such pairs.

    is_same       of each item but the first, whether it is as the one before  (item - 1,)
    same_before   pairs of neighbours in earlier batches that were the same
    pairs_before  pairs of neighbours in earlier batches, at least 30
    confidence    of the upper end of the usual share, 0 to 1
    returns       SameRun
    valid         whether a pair is the same does not hang on the pair before; the usual share holds what a steady
                  process and a coarse gauge repeat as a rule, and is taken at its upper end, so that a short
                  history calls little improbable
    formula       run_chance(length - 1, pairs, exact_upper(same_before, pairs_before))
    source        as run_chance; upper end: Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked       tests/published/test_reading_patterns_published.py
    """
    pairs = require.array("is_same", is_same, at_least=0.0, whole_numbers=True)
    require.holds("is_same", "a list of yes and no", is_same, bool(pairs.max() <= 1.0))
    same_before, pairs_before = _before("same_before", same_before, "pairs_before", pairs_before)
    share = exact_upper(same_before, pairs_before, confidence)
    first, length, start = 1, 1, 1
    for place, same in enumerate(pairs, start=2):
        start = start if same else place
        if place - start + 1 > length:
            first, length = start, place - start + 1
    chance = 1.0 if length == 1 else run_chance(length - 1, pairs.size, share)
    return SameRun(first, length, share, chance)


def crowd(times: ArrayLike, window: float, start: float, end: float) -> Crowd:
    """The most times within one window, and at most the chance of so many, had they fallen anywhere.

    times       rising, each from start to end  (time,)    [any unit of time, the same for all]
    window      width of a window, above 0
    start       from when on they can have fallen
    end         until when; further from start than the window is wide
    returns     Crowd; the first of the fullest windows
    valid       times that fall anywhere alike. Times by a plan lie further apart, so that the chance is smaller yet
    formula     at most C(n, m) (m w^(m-1) - (m-1) w^m) with w = window / (end - start): Boole's bound over all m
                of n, of the distribution of the range of m uniform times
    source      David and Nagaraja, Order Statistics, 3rd ed. 2003 (range of a uniform sample, from memory)
    checked     tests/published/test_reading_patterns_published.py
    """
    placed = require.array("times", times)
    window = require.number("window", window, above=0.0)
    start = require.number("start", start)
    end = require.number("end", end)
    require.holds("end", "further from start than the window is wide", end, end - start > window)
    rising = bool((placed[1:] >= placed[:-1]).all())
    inside = rising and start <= placed[0] and placed[-1] <= end
    require.holds("times", "rising, from start to end", times, inside)
    best, first, left = 0, 1, 0
    for right, time in enumerate(placed):
        while time - placed[left] > window:
            left += 1
        if right - left + 1 > best:
            best, first = right - left + 1, left + 1
    width = window / (end - start)
    together = best * width ** (best - 1) - (best - 1) * width**best
    return Crowd(first, best, min(1.0, comb(placed.size, best) * together))


def end_digits(readings: Sequence[str]) -> EndDigits:
    """Last digits of readings against ten equally likely ones.

    readings    numbers as the gauge showed them, one gauge; a reading with fewer decimals than the finest of them
                was read to a coarser step, and ends with 0  (reading,)
    returns     EndDigits
    valid       at least 50 readings, and a standard deviation of at least 5 steps of the last digit: then the last
                digit of a normal process is even to 1.5 % of itself (2 exp(-2 pi^2 s^2 / 100), s in steps).
                Fewer or narrower: NotEstimable
    formula     Pearson's sum over the ten digits, chi-square with 9 degrees of freedom
    source      NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.15 (chi-square test, at least five expected);
                last digits of records: Mosimann, Wiseman and Edelman, Accountability in Research 4 (1995) 31-55
                (from memory)
    checked     tests/published/test_reading_patterns_published.py
    """
    sound = all(_NUMBER.fullmatch(str(reading)) for reading in readings)
    require.holds("readings", "a list of numbers as text, such as 13.20", readings, sound and len(readings) > 0)
    if len(readings) < FEWEST_DIGITS:
        raise NotEstimable(f"readings are {len(readings)}, too few for their last digits")
    numbers = [Decimal(reading) for reading in readings]
    finest = min(int(number.as_tuple().exponent) for number in numbers)
    steps = [int(number.scaleb(-finest)) for number in numbers]
    mean = sum(steps) / len(steps)
    spread = sqrt(sum((step - mean) ** 2 for step in steps) / (len(steps) - 1))
    if spread < FEWEST_STEPS:
        raise NotEstimable("readings spread over too few steps of the last digit to compare its ten values")
    found = Counter(abs(step) % 10 for step in steps)
    counts = tuple(found[digit] for digit in range(10))
    expected = len(steps) / 10
    chi2 = sum((count - expected) ** 2 for count in counts) / expected
    return EndDigits(counts, counts.index(max(counts)), chi2, float(special.chdtrc(9, chi2)))


def few_near(near: int, readings: int, near_before: int, before: int, confidence: float = 0.95) -> FewNear:
    """Chance of so few readings near a limit or beyond it, by the usual share of such readings.

    near         readings near a limit or beyond it
    readings     readings in all, at least 1
    near_before  of the readings of earlier batches those near a limit or beyond it
    before       readings of earlier batches, at least 30
    confidence   of the lower end of the usual share, 0 to 1
    returns      FewNear
    valid        independent readings; the usual share is taken at its lower end, so that a short history calls
                 little improbable
    formula      P(Binomial(readings, exact_lower(near_before, before)) <= near)
    source       exact binomial tail; lower end: Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked      tests/published/test_reading_patterns_published.py
    """
    readings = require.whole("readings", readings, 1)
    near = require.whole("near", near, 0, readings)
    near_before, before = _before("near_before", near_before, "before", before)
    share = exact_lower(near_before, before, confidence)
    return FewNear(share, 1.0 if near == readings else float(special.bdtr(near, readings, share)))


def _before(name: str, some: object, of_name: str, of: object) -> tuple[int, int]:
    of = require.whole(of_name, of, 0)
    some = require.whole(name, some, 0, of)
    if of < FEWEST_BEFORE:
        raise NotEstimable(f"earlier batches have {of} to compare with, too few to call anything usual")
    return some, of
