# SPDX-License-Identifier: Apache-2.0
"""Which kind of defect comes first, is the order more than luck, and has the mix changed.

May import numpy, scipy.special and the room's own modules only: a push reaches this module.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import special

from tallywright.computation import contingency, require
from tallywright.computation.errors import NotEstimable

__all__ = [
    "Band",
    "Bar",
    "Comparison",
    "ShareComparison",
    "UsualBar",
    "against_usual",
    "compare_mix",
    "compare_share",
    "fisher_exact",
    "noise_band",
    "pareto",
    "too_few_to_rank",
]

# Below this expected count the chi-square curve is no longer close to the chance of the table.
FEWEST_EXPECTED = 5.0
RANK_RISK = 0.05
_MOST_KINDS = 1000
_MOST_MARKS = 10**8
_MOST_OF_A_KIND = 10**6


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of a Pareto list: share and cumulative are fractions of the total, 0..1."""

    name: str
    count: float
    share: float
    cumulative: float


@dataclass(frozen=True, slots=True)
class Band:
    """How tall the tallest bar is by luck alone: on average, and at most at the level asked for."""

    expected: float
    upper: float


@dataclass(frozen=True, slots=True)
class UsualBar:
    """One bar against its own usual share: the count expected, the most luck gives, whether it is above."""

    name: str
    expected: float
    upper: float
    above: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two mixes of kinds: Pearson's sum, its degrees of freedom, and the chance of so large a sum."""

    chi2: float
    df: int
    p: float


@dataclass(frozen=True, slots=True)
class ShareComparison:
    """Two shares: the normal score of their difference, and the exact chance of one so large."""

    z: float
    fisher_p: float


def pareto(counts: Mapping[str, float]) -> list[Bar]:
    """Kinds sorted by count, largest first, with shares and running shares.

    counts      how often each kind was found, each at least 0; name -> count     [marks]
    returns     one Bar a kind, ties in the order of their names; an empty mapping gives an empty list;
                the last cumulative is exactly 1.0  [1]
    valid       at least one count above 0 (otherwise NotEstimable); kinds that exclude one another
    formula     share = count / total, cumulative = running sum / total, in exact fractions
    source      Juran, Quality Control Handbook, 3rd ed. (1974), the vital few (from memory)
    checked     tests/published/test_pareto_published.py
    """
    checked = [(name, require.number("counts", count, at_least=0.0), count) for name, count in counts.items()]
    ordered = sorted(checked, key=lambda item: (-item[1], item[0]))
    if not ordered:
        return []
    # Fractions, because running sums of floats may miss 1.0 at the end by one unit in the last place.
    exact = [Fraction(value) for _, value, _ in ordered]
    total = sum(exact)
    if total == 0:
        raise NotEstimable("counts holds no mark, so no kind has a share")
    bars = []
    running = Fraction(0)
    for (name, _, count), part in zip(ordered, exact, strict=True):
        running += part
        bars.append(Bar(name, count, float(part / total), float(running / total)))
    return bars


def noise_band(total: int, kinds: int, confidence: float = 0.95) -> Band:
    """How tall the tallest bar gets by luck when all kinds are equally likely.

    total       marks in the list, 1 to 100 million                               [marks]
    kinds       kinds that could have been marked, 1 to 1000                      [kinds]
    confidence  between 0 and 1                                                   [1]
    returns     Band: mean height of the tallest bar, and the height it stays within at this level   [marks]
    valid       only for a list without a history, and labelled so: kinds are hardly ever equally likely
    formula     20 000 simulated multinomial lists, fixed seed
    source      definition; the maximum of an equal multinomial, Levin, Annals of Statistics 9 (1981)
                1123-1126 (from memory, for the exact check)
    checked     tests/published/test_pareto_published.py
    """
    total = require.whole("total", total, 1, _MOST_MARKS)
    kinds = require.whole("kinds", kinds, 1, _MOST_KINDS)
    confidence = require.between_0_and_1("confidence", confidence)
    random = np.random.default_rng(contingency.SEED)
    tallest = random.multinomial(total, np.full(kinds, 1.0 / kinds), size=contingency.DRAWS).max(axis=1)
    return Band(float(tallest.mean()), float(np.quantile(tallest, confidence, method="inverted_cdf")))


def against_usual(
    counts: Mapping[str, int],
    usual_shares: Mapping[str, float],
    spread: float = 1.0,
    confidence: float = 0.95,
) -> list[UsualBar]:
    """Each bar against its own usual share of the list, all bars allowed for at once.

    counts        marks of each kind in this period, at least one in all; name -> count   [marks]
    usual_shares  share of each kind over the last periods, adding up to 1; name -> share; a kind that is
                  missing has the usual share 0  [1]
    spread        variance from batch to batch / variance by luck, 1 <= spread < total (1 with a single
                  mark)  [1]
    confidence    chance that no bar at all stands above when nothing changed, between 0 and 1   [1]
    returns       one UsualBar a kind, in the order of counts, then those only in usual_shares by name
                  [marks]
    valid         the shares come from enough earlier marks to be taken as known; speaks of the mix, not
                  of the total
    formula       20 000 simulated lists (multinomial; Dirichlet-multinomial when spread > 1), fixed seed;
                  the tail chance that only 1 - confidence of the lists undercut with any bar cuts every
                  bar
    source        smallest-p adjustment: Westfall and Young, Resampling-Based Multiple Testing (1993)
                  (from memory)
    checked       tests/published/test_pareto_published.py
    """
    names = [*counts, *sorted(set(usual_shares) - set(counts))]
    require.holds("counts", f"at most {_MOST_KINDS} kinds", len(names), len(names) <= _MOST_KINDS)
    found = {name: require.whole("counts", counts.get(name, 0), 0, _MOST_OF_A_KIND) for name in names}
    total = sum(found.values())
    if total == 0:
        raise NotEstimable("counts holds no mark, so no bar can be compared")
    shares = {name: require.share("usual_shares", usual_shares.get(name, 0.0)) for name in names}
    whole = math.fsum(shares.values())
    require.holds("usual_shares", "shares that add up to 1", whole, math.isclose(whole, 1.0, abs_tol=1e-6))
    spread = require.number("spread", spread, at_least=1.0)
    require.holds("spread", f"1, or below the total of {total} marks", spread, spread == 1.0 or spread < total)
    confidence = require.between_0_and_1("confidence", confidence)
    # By name, so that the order in which a caller holds its kinds does not move the draws.
    ordered = sorted(name for name in names if shares[name] > 0)
    weights = np.array([shares[name] for name in ordered])
    uppers = _uppers(_lists(total, weights / weights.sum(), spread), 1.0 - confidence)
    limits = dict(zip(ordered, uppers, strict=True))
    return [
        UsualBar(name, total * shares[name], limits.get(name, 0.0), found[name] > limits.get(name, 0.0))
        for name in names
    ]


def compare_mix(first: Mapping[str, int], second: Mapping[str, int]) -> Comparison:
    """Whether two periods have the same mix of kinds.

    first       marks of each kind in one period, each at most a million; name -> count   [marks]
    second      the same of another period; a kind that is missing has none       [marks]
    returns     Comparison                                                        [1]
    valid       one kind a mark; at least two kinds found and marks in both periods (otherwise
                NotEstimable); kinds are matched and pooled by name only, never by size
    formula     Pearson's chi-square; p from its curve, or from 20 000 simulated tables with the same
                margins (fixed seed) when an expected count is below 5
    source      Pearson, Philosophical Magazine 50 (1900) 157-175 (from memory)
    checked     tests/published/test_pareto_published.py
    """
    names = sorted({*first, *second})
    rows = [[require.whole("first", first.get(name, 0), 0, _MOST_OF_A_KIND) for name in names]]
    rows.append([require.whole("second", second.get(name, 0), 0, _MOST_OF_A_KIND) for name in names])
    if not names:
        raise NotEstimable("first and second hold no kind, so there is nothing to compare")
    table = contingency.filled(np.array(rows, dtype=np.float64))
    chi2, expected = contingency.chi_square(table)
    df = table.shape[1] - 1
    few = expected.min() < FEWEST_EXPECTED
    return Comparison(chi2, df, contingency.simulated_p(table) if few else float(special.chdtrc(df, chi2)))


def fisher_exact(table: Sequence[Sequence[int]] | ArrayLike) -> float:
    """Exact chance of a table as unlikely as this one, or more, when rows and columns are unrelated.

    table       counts, whole and at least 0  (row, column)                       [marks]
    returns     two-sided p value                                                 [1]
    valid       two rows and two columns with marks (otherwise NotEstimable); small tables: beyond a
                million steps of counting it raises, and compare_mix is the answer
    formula     sum of the chances, under fixed margins, of all tables no likelier than this one
    source      Fisher, The Design of Experiments (1935), chapter 2; larger tables: Freeman and Halton,
                Biometrika 38 (1951) 141-149 (from memory)
    checked     tests/published/test_pareto_published.py
    """
    data = require.array("table", table, 2, at_least=0.0, whole_numbers=True)
    return contingency.exact_p(contingency.filled(data))


def compare_share(x1: int, n1: int, x2: int, n2: int) -> ShareComparison:
    """Whether two shares differ by more than luck.

    x1          pieces with the mark in the first group, 0 <= x1 <= n1            [pieces]
    n1          pieces of the first group, at least 1                             [pieces]
    x2          pieces with the mark in the second group, 0 <= x2 <= n2           [pieces]
    n2          pieces of the second group, at least 1                            [pieces]
    returns     ShareComparison: z (first minus second), and the exact two-sided p that decides   [1]
    valid       independent pieces; some but not all marked (otherwise NotEstimable)
    formula     z = (x1/n1 - x2/n2) / sqrt(p q (1/n1 + 1/n2)), p pooled
    source      pooled normal score, any textbook (from memory); Fisher (1935)
    checked     tests/published/test_pareto_published.py
    """
    n1, n2 = require.whole("n1", n1, 1), require.whole("n2", n2, 1)
    x1, x2 = require.whole("x1", x1, 0, n1), require.whole("x2", x2, 0, n2)
    pooled = (x1 + x2) / (n1 + n2)
    if pooled in (0.0, 1.0):
        raise NotEstimable("x1 and x2 mark no piece or every piece, so the shares cannot differ")
    z = (x1 / n1 - x2 / n2) / math.sqrt(pooled * (1 - pooled) * (1 / n1 + 1 / n2))
    return ShareComparison(z, contingency.exact_p(np.array([[x1, n1 - x1], [x2, n2 - x2]], dtype=np.float64)))


def too_few_to_rank(a: int, b: int) -> bool:
    """Whether two bars are too close, or too small, to say which is the taller.

    a           marks of one kind, at least 0                                     [marks]
    b           marks of the other kind, at least 0                               [marks]
    returns     True when luck alone gives a difference as large in more than 5 % of the cases
    valid       marks fall independently of one another
    formula     twice the upper tail of binomial (a + b, 1/2) at the larger count, above 0.05
    source      conditional test of two Poisson counts: Przyborowski and Wilenski, Biometrika 31 (1940)
                313-323 (from memory)
    checked     tests/published/test_pareto_published.py
    """
    a, b = require.whole("a", a, 0), require.whole("b", b, 0)
    larger = max(a, b)
    return a == b or 2.0 * float(special.betainc(larger, a + b - larger + 1, 0.5)) > RANK_RISK


def _lists(total: int, shares: NDArray[np.float64], spread: float) -> NDArray[np.int64]:
    """Simulated lists (draw, kind) with the usual shares and the given spread."""
    random = np.random.default_rng(contingency.SEED)
    if spread == 1.0:
        return random.multinomial(total, shares, size=contingency.DRAWS)
    # Dirichlet weight at which the variance of each kind is spread times that of the multinomial.
    weight = (total - spread) / (spread - 1.0)
    return random.multinomial(total, random.dirichlet(weight * shares, size=contingency.DRAWS))


def _uppers(lists: NDArray[np.int64], risk: float) -> list[float]:
    """The largest count of each kind whose tail chance is not below the cut that the risk allows."""
    draws, kinds = lists.shape
    ordered = np.sort(lists, axis=0)
    smallest = np.full(draws, draws)
    for kind in range(kinds):
        # How many lists hold at least as many of this kind as each list does.
        at_least = draws - np.searchsorted(ordered[:, kind], lists[:, kind], side="left")
        smallest = np.minimum(smallest, at_least)
    cut = int(np.partition(smallest, int(risk * draws))[int(risk * draws)])
    return [float(count) for count in ordered[draws - cut]]
