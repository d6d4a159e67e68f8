# SPDX-License-Identifier: Apache-2.0
"""Which kind of defect comes first, and is the order more than luck.

May import numpy, scipy.special and the room's own checks only: a push reaches this module.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from tallywright.computation import require
from tallywright.computation.errors import NotEstimable

__all__ = ["Bar", "pareto"]


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of a Pareto list: share and cumulative are fractions of the total, 0..1."""

    name: str
    count: float
    share: float
    cumulative: float


def pareto(counts: Mapping[str, float]) -> list[Bar]:
    """Kinds sorted by count, largest first, with shares and running shares.

    counts      how often each kind was found, each at least 0; name -> count    [marks]
    returns     one Bar a kind, ties in the order of their names; an empty
                mapping gives an empty list; the last cumulative is exactly 1.0  [1]
    valid       at least one count above 0 (otherwise NotEstimable); kinds that exclude one another
    formula     share = count / total, cumulative = running sum / total, in exact fractions
    source      Juran, Quality Control Handbook, 3rd ed. (1974), the vital few (from memory)
    checked     tests/published/test_pareto_published.py
    """
    ordered = sorted(
        counts.items(), key=lambda item: (-require.number("counts", item[1], at_least=0.0), item[0])
    )
    if not ordered:
        return []
    # Fractions, because running sums of floats may miss 1.0 at the end by one unit in the last place.
    exact = [Fraction(count) for _, count in ordered]
    total = sum(exact)
    if total == 0:
        raise NotEstimable("counts holds no mark, so no kind has a share")
    bars = []
    running = Fraction(0)
    for (name, count), part in zip(ordered, exact, strict=True):
        running += part
        bars.append(Bar(name, count, float(part / total), float(running / total)))
    return bars
