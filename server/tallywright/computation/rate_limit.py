# SPDX-License-Identifier: Apache-2.0
"""Is the defect rate above the limit: intervals, exact tests, the verdict on a batch while it is looked at.

May import numpy, scipy.special and the room's own checks only: a push reaches this module.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

import numpy as np
from scipy import special

from tallywright.computation import require

__all__ = [
    "Interval",
    "LimitVerdict",
    "chance_over",
    "exact_interval",
    "exact_lower",
    "exact_upper",
    "limit_verdict",
    "p_value_above",
    "pieces_to_show",
    "poisson_interval",
    "sequential_verdict",
    "true_rate",
    "wilson_interval",
    "z_above",
]

WATCH_CHANCE = 0.8
WATCH_TRAYS = 2
LARGEST_BATCH = 1_000_000

Word = Literal["within", "watch", "broken", "over", "met"]


@dataclass(frozen=True, slots=True)
class Interval:
    """Two ends of a confidence interval, in the unit of the quantity."""

    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class LimitVerdict:
    """One batch against its limit.

    state        within, watch, broken (while looked < due); met, over (once looked = due, a plain count)
    allowed      defective pieces the limit allows in the whole batch
    chance_over  predictive probability that the finished batch ends above its limit
    rate         defective / looked; None before the first piece
    upper        exact one-sided 95 % upper limit of the rate of the process, not of this batch
    lower        exact one-sided 95 % lower limit of the rate of the process, not of this batch
    """

    state: Word
    allowed: int
    chance_over: float
    rate: float | None
    upper: float
    lower: float


def exact_interval(defective: int, inspected: int, confidence: float = 0.95) -> Interval:
    """Exact two-sided interval of a defect rate.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval of the rate, 0..1; 0 at none and 1 at all defective      [1]
    valid       independent pieces of one process, one definition version, errors of looking left out
    formula     quantiles of Beta(x, n - x + 1) and Beta(x + 1, n - x) at the two tails of (1 -
                confidence) / 2
    source      Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    tail = (1.0 - require.between_0_and_1("confidence", confidence)) / 2.0
    return Interval(_lower(defective, inspected, tail), _upper(defective, inspected, tail))


def exact_upper(defective: int, inspected: int, confidence: float = 0.95) -> float:
    """Exact one-sided upper limit of a defect rate.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    confidence  one-sided level, between 0 and 1                                  [1]
    returns     rate, 0..1                                                        [1]
    valid       as exact_interval
    formula     quantile of Beta(x + 1, n - x) at confidence
    source      Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    return _upper(defective, inspected, 1.0 - require.between_0_and_1("confidence", confidence))


def exact_lower(defective: int, inspected: int, confidence: float = 0.95) -> float:
    """Exact one-sided lower limit of a defect rate.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    confidence  one-sided level, between 0 and 1                                  [1]
    returns     rate, 0..1                                                        [1]
    valid       as exact_interval
    formula     quantile of Beta(x, n - x + 1) at 1 - confidence
    source      Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    return _lower(defective, inspected, 1.0 - require.between_0_and_1("confidence", confidence))


def wilson_interval(defective: int, inspected: int, confidence: float = 0.95) -> Interval:
    """Score interval of a defect rate: close to its level on average, not at every rate.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval of the rate, 0..1                                        [1]
    valid       as exact_interval; where a limit decides, the exact interval is the one to use
    formula     (p + z2/2n -+ z sqrt(p q / n + z2/4n2)) / (1 + z2/n), z2 = z squared
    source      Wilson, Journal of the American Statistical Association 22 (1927) 209-212
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    z = _two_sided_z(confidence)
    rate = defective / inspected
    centre = rate + z * z / (2 * inspected)
    half = z * math.sqrt(rate * (1 - rate) / inspected + z * z / (4 * inspected**2))
    scale = 1 + z * z / inspected
    lower = 0.0 if defective == 0 else (centre - half) / scale
    upper = 1.0 if defective == inspected else (centre + half) / scale
    return Interval(lower, upper)


def poisson_interval(count: int, confidence: float = 0.95) -> Interval:
    """Exact two-sided interval of the mean behind one count.

    count       defects counted, at least 0                                       [defects]
    confidence  two-sided level, between 0 and 1                                  [1]
    returns     Interval of the mean count                                        [defects]
    valid       defects that fall independently, many places for them
    formula     chi-square quantiles: chi2(tail; 2x) / 2 and chi2(1 - tail; 2x + 2) / 2
    source      Garwood, Biometrika 28 (1936) 437-442
    checked     tests/published/test_rate_limit_published.py
    """
    count = require.whole("count", count, 0)
    tail = (1.0 - require.between_0_and_1("confidence", confidence)) / 2.0
    lower = 0.0 if count == 0 else float(special.gammaincinv(count, tail))
    return Interval(lower, float(special.gammainccinv(count + 1, tail)))


def p_value_above(defective: int, inspected: int, limit: float) -> float:
    """Chance of at least so many defective pieces if the rate were just at the limit.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    limit       rate allowed, 0..1                                                [1]
    returns     exact one-sided p value                                           [1]
    valid       one look at the result; looking again after every tray needs sequential_verdict
    formula     P(X >= x), X binomial (n, limit), by the incomplete beta function
    source      binomial test; Clopper and Pearson, Biometrika 26 (1934) 404-413
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    limit = require.share("limit", limit)
    if defective == 0:
        return 1.0
    return float(special.betainc(defective, inspected - defective + 1, limit))


def z_above(defective: int, inspected: int, limit: float) -> float:
    """Normal score of a rate against a limit, kept for published checks; no screen shows it.

    defective   pieces found defective, 0 <= defective <= inspected               [pieces]
    inspected   pieces looked at, at least 1                                      [pieces]
    limit       rate allowed, strictly between 0 and 1                            [1]
    returns     score, above 0 when the rate is above the limit                   [1]
    valid       large counts only; the exact test needs no such condition
    formula     (p - limit) / sqrt(limit (1 - limit) / n)
    source      normal approximation of the binomial test, any textbook (from memory)
    checked     tests/published/test_rate_limit_published.py
    """
    defective, inspected = _pieces(defective, inspected)
    limit = require.between_0_and_1("limit", limit)
    return (defective / inspected - limit) / math.sqrt(limit * (1 - limit) / inspected)


def pieces_to_show(limit: float, confidence: float) -> int:
    """Pieces without a single defective that show a rate below the limit.

    limit       rate to be undercut, strictly between 0 and 1                     [1]
    confidence  between 0 and 1                                                   [1]
    returns     smallest n with (1 - limit)^n <= 1 - confidence                   [pieces]
    valid       independent pieces, a look that misses nothing; one defective piece ends the claim
    formula     n = ln(1 - confidence) / ln(1 - limit), rounded up
    source      success run theorem; the numbers 59, 29, 299 are classic (from memory)
    checked     tests/published/test_rate_limit_published.py
    """
    limit = require.between_0_and_1("limit", limit)
    confidence = require.between_0_and_1("confidence", confidence)
    exact = math.log1p(-confidence) / math.log1p(-limit)
    # A quotient that is a whole number but for rounding (limit 0.1, confidence 0.19 gives 2) is that number.
    nearest = round(exact)
    return max(1, nearest if math.isclose(exact, nearest, rel_tol=1e-9) else math.ceil(exact))


def sequential_verdict(
    defective: int,
    inspected: int,
    limit: float,
    ratio: float = 2.0,
    alpha: float = 0.05,
    beta: float = 0.10,
) -> Literal["below", "undecided", "above"]:
    """Whether a process, followed piece by piece, runs below its limit or above ratio times its limit.

    defective   pieces found defective so far, 0 <= defective <= inspected        [pieces]
    inspected   pieces looked at so far, at least 1                               [pieces]
    limit       good rate, above 0                                                [1]
    ratio       bad rate / good rate, above 1, ratio x limit below 1              [1]
    alpha       risk of 'above' at the good rate, between 0 and 1                 [1]
    beta        risk of 'below' at the bad rate, alpha + beta below 1             [1]
    returns     'below', 'undecided' or 'above' at the present count; the first verdict that is not
                'undecided' ends the test, and the caller keeps it
    valid       a process followed across batches, in order of making; not a batch that is looked at to
                its last piece
    formula     log likelihood ratio against ln(beta / (1 - alpha)) and ln((1 - beta) / alpha)
    source      Wald, Sequential Analysis (1947), chapter 5 (from memory)
    checked     tests/published/test_rate_limit_published.py, tests/server/computation/test_rate_limit.py
    """
    defective, inspected = _pieces(defective, inspected)
    limit = require.between_0_and_1("limit", limit)
    ratio = require.number("ratio", ratio, above=1.0)
    require.holds("ratio", f"below 1 when multiplied by the limit {limit:g}", ratio, ratio * limit < 1.0)
    alpha = require.between_0_and_1("alpha", alpha)
    beta = require.between_0_and_1("beta", beta)
    require.holds("alpha", f"below 1 together with beta {beta:g}", alpha, alpha + beta < 1.0)
    bad = ratio * limit
    score = defective * math.log(ratio)
    score += (inspected - defective) * (math.log1p(-bad) - math.log1p(-limit))
    if score >= math.log((1 - beta) / alpha):
        return "above"
    if score <= math.log(beta / (1 - alpha)):
        return "below"
    return "undecided"


def chance_over(defective: int, looked: int, due: int, limit: float | Decimal) -> float:
    """Predictive probability that the finished batch ends above its limit.

    defective   pieces found defective so far, 0 <= defective <= looked           [pieces]
    looked      pieces looked at so far, 0 <= looked <= due                       [pieces]
    due         pieces of the batch, 1 to a million                                 [pieces]
    limit       rate allowed in the batch, 0..1; a float is read as its shortest decimal text   [1]
    returns     0..1; exactly 0 or 1 once nothing that comes can change it        [1]
    valid       the pieces not yet looked at are like those looked at (trays in mixed order)
    formula     P(x + Y > floor(limit due)), Y beta-binomial (due - looked; x + 1/2, looked - x + 1/2)
    source      stochastic curtailment: Lan, Simon and Halperin, Communications in Statistics C 1 (1982)
                207-219; prior: Jeffreys (both from memory)
    checked     tests/published/test_rate_limit_published.py
    """
    due = require.whole("due", due, 1, LARGEST_BATCH)
    looked = require.whole("looked", looked, 0, due)
    defective = require.whole("defective", defective, 0, looked)
    needed = _allowed(limit, due) + 1 - defective
    rest = due - looked
    if needed <= 0:
        return 1.0
    if needed > rest:
        return 0.0
    more = np.arange(needed, rest + 1, dtype=np.float64)
    bad, good = defective + 0.5, looked - defective + 0.5
    log_chances = (
        special.gammaln(rest + 1.0)
        - special.gammaln(more + 1.0)
        - special.gammaln(rest - more + 1.0)
        + special.betaln(more + bad, rest - more + good)
        - special.betaln(bad, good)
    )
    return min(1.0, float(np.exp(log_chances).sum()))


def limit_verdict(
    defective: int,
    looked: int,
    due: int,
    limit: float | Decimal,
    *,
    marked: int | None = None,
    trays_closed: int = WATCH_TRAYS,
) -> LimitVerdict:
    """One batch against its limit while it is looked at, and once it is.

    defective     pieces of closed trays whose worst confirmed mark is of the class, 0 <= defective <=
                  looked  [pieces]
    looked        pieces of closed trays, 0 <= looked <= due                      [pieces]
    due           pieces of the batch, 1 to a million                               [pieces]
    limit         rate allowed in the batch, 0..1; a float is read as its shortest decimal text   [1]
    marked        the same count with open trays too, defective <= marked <= due; None: as defective
                  [pieces]
    trays_closed  trays closed so far, at least 0; the caller that does not count trays leaves it out
                  [trays]
    returns       LimitVerdict: broken when more than allowed are marked, whatever the rest brings; watch
                  when at least two trays are closed and chance_over >= 0.8 (never for a limit of 0, which
                  is broken at its first find); met or over once looked = due
    valid         as chance_over; open queries make a second call with a higher count
    formula       allowed = floor(limit due) in exact decimals
    source        chance_over; exact_upper and exact_lower at 95 %
    checked       tests/published/test_rate_limit_published.py
    """
    chance = chance_over(defective, looked, due, limit)
    allowed = _allowed(limit, due)
    counted = defective if marked is None else require.whole("marked", marked, defective, due)
    trays_closed = require.whole("trays_closed", trays_closed, 0)
    state: Word
    if looked == due:
        state = "over" if counted > allowed else "met"
    elif counted > allowed:
        state = "broken"
    elif trays_closed >= WATCH_TRAYS and chance >= WATCH_CHANCE and limit > 0:
        state = "watch"
    else:
        state = "within"
    if looked == 0:
        return LimitVerdict(state, allowed, chance, None, 1.0, 0.0)
    upper, lower = _upper(defective, looked, 0.05), _lower(defective, looked, 0.05)
    return LimitVerdict(state, allowed, chance, defective / looked, upper, lower)


def true_rate(observed: float, sensitivity: float, specificity: float) -> float:
    """Rate of truly defective pieces behind an observed reject rate.

    observed     rejected / looked at, 0..1                                       [1]
    sensitivity  share of bad pieces that are rejected, 0..1                      [1]
    specificity  share of good pieces that are accepted, 0..1, above 1 together with sensitivity   [1]
    returns      rate, cut to 0..1; 0 says that the rejects do not exceed the false ones           [1]
    valid        powers known from the same people and pieces; show it only with its range over their
                 uncertainty
    formula      (observed + specificity - 1) / (sensitivity + specificity - 1)
    source       Rogan and Gladen, American Journal of Epidemiology 107 (1978) 71-76 (formula from memory)
    checked      tests/published/test_rate_limit_published.py
    """
    observed = require.share("observed", observed)
    sensitivity = require.share("sensitivity", sensitivity)
    specificity = require.share("specificity", specificity)
    power = sensitivity + specificity - 1.0
    beyond_luck = f"above 1 together with specificity {specificity:g}"
    require.holds("sensitivity", beyond_luck, sensitivity, power > 0.0)
    return min(1.0, max(0.0, (observed + specificity - 1.0) / power))


def _pieces(defective: int, inspected: int) -> tuple[int, int]:
    inspected = require.whole("inspected", inspected, 1)
    return require.whole("defective", defective, 0, inspected), inspected


def _two_sided_z(confidence: float) -> float:
    return float(-special.ndtri((1.0 - require.between_0_and_1("confidence", confidence)) / 2.0))


def _upper(defective: int, inspected: int, tail: float) -> float:
    # The complement is inverted, because 1 - tail would lose the digits of a small tail.
    if defective == inspected:
        return 1.0
    return float(special.betainccinv(defective + 1, inspected - defective, tail))


def _lower(defective: int, inspected: int, tail: float) -> float:
    if defective == 0:
        return 0.0
    return float(special.betaincinv(defective, inspected - defective + 1, tail))


def _allowed(limit: float | Decimal, due: int) -> int:
    """floor(limit x due) as printed: 0.29 of 100 is 29, which binary floats make 28."""
    require.share("limit", limit)
    exact = limit if isinstance(limit, Decimal) else Decimal(str(float(limit)))
    return math.floor(exact * due)
