# SPDX-License-Identifier: Apache-2.0
"""What did both looks miss, and how do we know.

May import numpy, scipy and the room's own modules only.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from scipy import optimize, special

from tallywright.computation import require
from tallywright.computation.errors import NotEstimable
from tallywright.computation.rate_limit import Interval, exact_interval

__all__ = [
    "Recapture",
    "Relook",
    "RelookIntervals",
    "Remaining",
    "Removal",
    "chapman",
    "finding_power",
    "relook",
    "remaining_after",
    "removal_many",
    "removal_two",
    "two_looks",
]

FEWEST_FIRST_FINDS = 20
FEWEST_LATER_FINDS = 3
_MOST_FINDS = 10**6


@dataclass(frozen=True, slots=True)
class Remaining:
    """Pieces with a defect still inside: the expected number, and the most at the level asked for."""

    expected: float
    upper: int


@dataclass(frozen=True, slots=True)
class Removal:
    """Defective pieces that were there before the first look, from how fast the finds fall.

    usable is False where the numbers are too small, or fall too little, to say anything; se and interval are None
    where the method has none.
    """

    total: float
    se: float | None
    finding_power: float
    remaining: float
    interval: Interval | None
    usable: bool


@dataclass(frozen=True, slots=True)
class Recapture:
    """Defective pieces in all, from two people who look at the same pieces, and the standard error."""

    total: float
    se: float


@dataclass(frozen=True, slots=True)
class RelookIntervals:
    """Intervals of the three numbers of a re-look."""

    escapes: Interval
    false_rejects: Interval
    finding_power: Interval


@dataclass(frozen=True, slots=True)
class Relook:
    """What a blind re-look of both piles says of the look before it; no power when no bad piece was seen at all."""

    escapes: float
    false_rejects: float
    finding_power: float | None
    intervals: RelookIntervals


def remaining_after(found: int, power: float | Interval | None, confidence: float = 0.95) -> Remaining:
    """Pieces with a defect still inside after the last look, from the power of that look.

    found       pieces found by the last look with defects that existed at the first look already, at
                least 0  [pieces]
    power       share of such pieces the last look finds, known from seeded pieces, above 0; an Interval:
                its middle is used for expected and its lower end for upper; None: not known, which raises
                NotEstimable  [1]
    confidence  level of upper, between 0 and 1                                   [1]
    returns     Remaining                                                         [pieces]
    valid       seeds as hard to see as the real defects; every such piece found with the same power
    formula     expected = found (1 - power) / power; upper = the largest r with P(Binomial(found + r,
                power) <= found) > 1 - confidence
    source      definition; exact limit of an unseen number by inversion of the binomial test
    checked     tests/published/test_escape_published.py
    """
    found = require.whole("found", found, 0, _MOST_FINDS)
    confidence = require.between_0_and_1("confidence", confidence)
    if power is None:
        raise NotEstimable("power is not known, so the pieces still inside cannot be told from none")
    middle = low = power if not isinstance(power, Interval) else (power.lower + power.upper) / 2.0
    if isinstance(power, Interval):
        require.holds(
            "power", "an interval whose lower end is not above its upper", power, power.lower <= power.upper
        )
        require.number("power", power.upper, at_most=1.0)
        low = power.lower
    middle = require.number("power", middle, above=0.0, at_most=1.0)
    if low == 0.0:
        raise NotEstimable("power may be 0 at its lower end, so the pieces still inside have no upper limit")
    low = require.number("power", low, at_least=1e-4, at_most=1.0)
    expected = found * (1.0 - middle) / middle
    return Remaining(expected, _most_remaining(found, low, 1.0 - confidence))


def removal_two(first: int, second: int) -> Removal:
    """Defective pieces before the first of two looks, if both looks were equally good.

    first       pieces found and taken out by the first look, at least 1          [pieces]
    second      pieces with the same defects found by the second look, at least 0, below first (otherwise
                NotEstimable)  [pieces]
    returns     Removal; interval: 95 %, total -+ 1.96 se                         [pieces]
    valid       a lower bound while the second look is the weaker one: it rewards a lazy second look (with
                powers 0.8 and 0.5, 10 pieces left show as 1.4); print it only as 'at least', never as a
                power of the first look
    formula     first^2 / (first - second), power (first - second) / first; usable: first >= 20, second >=
                3, second < first / 2
    source      Seber and Le Cren, Journal of Animal Ecology 36 (1967) 631-643; Seber (2002), example 7.4
    checked     tests/published/test_escape_published.py
    """
    first = require.whole("first", first, 0, _MOST_FINDS)
    second = require.whole("second", second, 0, _MOST_FINDS)
    if second >= first:
        raise NotEstimable(f"second must be below first ({second} is not below {first}): the finds do not fall")
    fall = first - second
    total = first**2 / fall
    se = first * second * math.sqrt(first + second) / fall**2
    return _removal(total, se, fall / first, [first, second])


def removal_many(finds: Sequence[int], method: Literal["likelihood", "weighted"] = "likelihood") -> Removal:
    """Defective pieces before the first of several equally good looks.

    finds       pieces found and taken out by each look, whole, at least two looks, some found (look,)
                [pieces]
    method      'likelihood' (Zippin; refuses finds that do not fall) or 'weighted' (Carle and Strub,
                alpha = beta = 1; always gives a number, which its prior then drives)
    returns     Removal; interval: 95 %, total -+ 1.96 se; se and interval are None when the last looks
                found none of few  [pieces]
    valid       as removal_two
    formula     likelihood: q / p - k q^k / (1 - q^k) = sum of (i - 1) c_i / T, total T / (1 - q^k);
                weighted: the smallest N at which the weighted likelihood stops to rise
    source      Zippin, Biometrics 12 (1956) 163-189 (from memory); Carle and Strub, Biometrics 34 (1978)
                621-630
    checked     tests/published/test_escape_published.py
    """
    counts = [require.whole("finds", count, 0, _MOST_FINDS) for count in finds]
    require.holds(
        "finds", "the numbers of at least two looks, some found", finds, len(counts) >= 2 and sum(counts) > 0
    )
    if require.one_of("method", method, ("likelihood", "weighted")) == "likelihood":
        return _zippin(counts)
    return _carle_strub(counts)


def chapman(marked: int, caught: int, recaught: int) -> Recapture:
    """Defective pieces in all, from two people who look at the same pieces before any is taken out.

    marked      pieces found by the first person, at least 0                      [pieces]
    caught      pieces found by the second person, at least 0                     [pieces]
    recaught    pieces found by both, 0 <= recaught <= the smaller of the two     [pieces]
    returns     Recapture; with none found by both the error is as large as the number   [pieces]
    valid       the two look apart, every defective piece is as easy to find as any other; hard pieces
                missed by both make it too low
    formula     (M + 1)(n + 1) / (m + 1) - 1
    source      Chapman (1951); Seber (2002), tables 3.7 and 3.8
    checked     tests/published/test_escape_published.py
    """
    marked, caught = require.whole("marked", marked, 0), require.whole("caught", caught, 0)
    recaught = require.whole("recaught", recaught, 0, min(marked, caught))
    both = (marked + 1) * (caught + 1)
    spread = both * (marked - recaught) * (caught - recaught)
    return Recapture(both / (recaught + 1) - 1, math.sqrt(spread / ((recaught + 1) ** 2 * (recaught + 2))))


def relook(
    accepted: int,
    accepted_sampled: int,
    accepted_bad: int,
    rejected: int,
    rejected_sampled: int,
    rejected_good: int,
    power: float = 1.0,
    confidence: float = 0.95,
) -> Relook:
    """Escapes and false rejects of a look, from a blind re-look of samples of both its piles.

    accepted          pieces of the accepted pile, at least 1                     [pieces]
    accepted_sampled  pieces of it looked at again, 1 <= accepted_sampled <= accepted   [pieces]
    accepted_bad      of these now called bad, 0 <= accepted_bad <= accepted_sampled   [pieces]
    rejected          pieces of the rejected pile, at least 1                     [pieces]
    rejected_sampled  pieces of it looked at again, 1 <= rejected_sampled <= rejected   [pieces]
    rejected_good     of these now called good, 0 <= rejected_good <= rejected_sampled   [pieces]
    power             share of bad pieces the re-look calls bad, above 0, at most 1   [1]
    confidence        two-sided level of the intervals, between 0 and 1           [1]
    returns           Relook                                                      [pieces], power [1]
    valid             samples drawn at random, the re-look does not know the pile and calls no good piece
                      bad
    formula           escapes = accepted x share bad / power; bad in the rejected pile likewise; each pile
                      weighs by its own size; the interval of the power joins both piles, each at half the
                      risk
    source            Begg and Greenes, Biometrics 39 (1983) 207-215 (from memory); Clopper and Pearson
                      (1934)
    checked           tests/published/test_escape_published.py
    """
    accepted, rejected = require.whole("accepted", accepted, 1), require.whole("rejected", rejected, 1)
    accepted_sampled = require.whole("accepted_sampled", accepted_sampled, 1, accepted)
    accepted_bad = require.whole("accepted_bad", accepted_bad, 0, accepted_sampled)
    rejected_sampled = require.whole("rejected_sampled", rejected_sampled, 1, rejected)
    rejected_bad = rejected_sampled - require.whole("rejected_good", rejected_good, 0, rejected_sampled)
    power = require.number("power", power, above=0.0, at_most=1.0)
    confidence = require.between_0_and_1("confidence", confidence)
    scale_out, scale_in = accepted / power, rejected / power
    escapes = min(float(accepted), scale_out * accepted_bad / accepted_sampled)
    caught = min(float(rejected), scale_in * rejected_bad / rejected_sampled)
    out = exact_interval(accepted_bad, accepted_sampled, confidence)
    back = exact_interval(rejected_bad, rejected_sampled, confidence)
    both = (1.0 + confidence) / 2.0
    out_wide = exact_interval(accepted_bad, accepted_sampled, both)
    back_wide = exact_interval(rejected_bad, rejected_sampled, both)
    intervals = RelookIntervals(
        Interval(min(accepted, scale_out * out.lower), min(accepted, scale_out * out.upper)),
        Interval(rejected - min(rejected, scale_in * back.upper), rejected - min(rejected, scale_in * back.lower)),
        Interval(
            _share(rejected * back_wide.lower, accepted * out_wide.upper, 0.0),
            _share(rejected * back_wide.upper, accepted * out_wide.lower, 1.0),
        ),
    )
    # The power of the re-look cancels: it finds the same share of what either pile hides.
    seen_in, seen_out = rejected * rejected_bad / rejected_sampled, accepted * accepted_bad / accepted_sampled
    found = seen_in / (seen_in + seen_out) if seen_in + seen_out > 0 else None
    return Relook(escapes, rejected - caught, found, intervals)


def finding_power(found: int, seeded: int, confidence: float = 0.95) -> Interval:
    """Exact interval of the share of seeded pieces that a look finds.

    found       seeded pieces found, 0 <= found <= seeded                         [pieces]
    seeded      pieces with a known defect mixed in, at least 1                   [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval of the power, 0..1                                       [1]
    valid       seeds not known as such, as hard to see as the real defects
    formula     Clopper-Pearson of found of seeded
    source      Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked     tests/published/test_escape_published.py
    """
    seeded = require.whole("seeded", seeded, 1)
    return exact_interval(require.whole("found", found, 0, seeded), seeded, confidence)


def two_looks(power_a: float, power_b: float, correlation: float = 0.0) -> float:
    """Share of the defective pieces that at least one of two looks finds.

    power_a      share found by the first look, 0..1                              [1]
    power_b      share found by the second look, 0..1                             [1]
    correlation  of the two misses, -1..1; 0: the looks miss independently, which real looks never quite
                 do  [1]
    returns      share, 0..1                                                      [1]
    valid        the correlation must be possible with these powers
    formula      1 - (1 - a)(1 - b) - correlation sqrt(a (1 - a) b (1 - b))
    source       correlation of two yes-or-no variables, definition
    checked      tests/published/test_escape_published.py
    """
    a, b = require.share("power_a", power_a), require.share("power_b", power_b)
    correlation = require.number("correlation", correlation, at_least=-1.0, at_most=1.0)
    missed = (1.0 - a) * (1.0 - b) + correlation * math.sqrt(a * (1.0 - a) * b * (1.0 - b))
    possible = max(0.0, 1.0 - a - b) - 1e-12 <= missed <= min(1.0 - a, 1.0 - b) + 1e-12
    require.holds("correlation", f"possible between powers {a:g} and {b:g}", correlation, possible)
    return 1.0 - missed


def _most_remaining(found: int, power: float, risk: float) -> int:
    def chance(rest: int) -> float:
        return 1.0 if rest == 0 else float(special.bdtr(found, found + rest, power))

    high = 1
    # A chance that equals the risk but for rounding is not above it.
    risk *= 1.0 + 1e-12
    while chance(high) > risk:
        high *= 2
    low = high // 2
    # The chance falls with the number still inside: low is possible at this level, high is not.
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if chance(middle) > risk else (low, middle)
    return low


def _removal(total: float, se: float | None, power: float, finds: Sequence[int]) -> Removal:
    interval = None if se is None else Interval(total - 1.959963984540054 * se, total + 1.959963984540054 * se)
    falls = finds[-1] < finds[0] / 2 and sum(finds[1:]) >= FEWEST_LATER_FINDS
    return Removal(total, se, power, total - sum(finds), interval, falls and finds[0] >= FEWEST_FIRST_FINDS)


def _zippin(finds: list[int]) -> Removal:
    looks, found = len(finds), sum(finds)
    later = sum(place * count for place, count in enumerate(finds)) / found
    if later >= (looks - 1) / 2:
        raise NotEstimable("finds do not fall from look to look, so the finding power cannot be told from none")
    if later == 0.0:
        return _removal(float(found), 0.0, 1.0, finds)

    def excess(missed: float) -> float:
        return missed / (1.0 - missed) - looks * missed**looks / (1.0 - missed**looks) - later

    missed = float(optimize.brentq(excess, 1e-12, 1.0 - 1e-9, xtol=1e-15, rtol=1e-14))
    power, total = 1.0 - missed, found / (1.0 - missed**looks)
    left = total * (total - found)
    spread = left * found / (found**2 - left * (looks * power) ** 2 / missed)
    return _removal(total, math.sqrt(spread), power, finds)


def _carle_strub(finds: list[int]) -> Removal:
    looks, found = len(finds), sum(finds)
    early = sum((looks - 1 - place) * count for place, count in enumerate(finds))
    low, total = found - 1, found
    # The weighted likelihood rises to one top and then falls: step outwards to a fall, then halve.
    while _still_rises(total, looks, found, early):
        low, total = total, 2 * total
    while total - low > 1:
        middle = (low + total) // 2
        low, total = (middle, total) if _still_rises(middle, looks, found, early) else (low, middle)
    power = found / (looks * total - early)
    missed = 1.0 - power
    never = missed**looks
    denominator = (1.0 - never) ** 2 - (power * looks) ** 2 * missed ** (looks - 1)
    se = math.sqrt(total * (1.0 - never) * never / denominator) if denominator > 0 and never > 0 else None
    return _removal(float(total), se, power, finds)


def _still_rises(total: int, looks: int, found: int, early: int) -> bool:
    ratio = (total + 1.0) / (total - found + 1.0)
    for rest in range(looks):
        tries = looks * total - early
        ratio *= (tries - found + 1.0 + rest) / (tries + 2.0 + rest)
    return ratio > 1.0


def _share(part: float, rest: float, otherwise: float) -> float:
    return part / (part + rest) if part + rest > 0 else otherwise
