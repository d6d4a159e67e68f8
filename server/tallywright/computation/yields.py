# SPDX-License-Identifier: Apache-2.0
"""How much comes through right the first time. May import the standard library and the room's own checks only."""

from __future__ import annotations

import math
from collections.abc import Sequence

from tallywright.computation import require

__all__ = ["defects_per_million", "first_pass_yield", "rolled_yield"]


def first_pass_yield(entered: int, good_first_time: int) -> float:
    """Share of the pieces that enter a step and leave it good without rework.

    entered          pieces that entered, at least 1                              [pieces]
    good_first_time  pieces good without rework, 0 <= good_first_time <= entered; a piece reworked twice
                     counts once against it  [pieces]
    returns          yield, 0..1                                                  [1]
    valid            every piece that entered is accounted for
    formula          good_first_time / entered
    source           definition; worked example of four steps in an encyclopedia article
    checked          tests/published/test_yields_published.py
    """
    entered = require.whole("entered", entered, 1)
    return require.whole("good_first_time", good_first_time, 0, entered) / entered


def rolled_yield(yields: Sequence[float]) -> float:
    """Share of the pieces that would pass all steps right the first time.

    yields      first-pass yield of each step, each 0..1, at least one  (step,)   [1]
    returns     yield of the road, 0..1                                           [1]
    valid       steps fail independently of one another
    formula     product of the yields
    source      as first_pass_yield
    checked     tests/published/test_yields_published.py
    """
    require.holds("yields", "at least one yield", yields, len(yields) > 0)
    return math.prod(require.share("yields", one) for one in yields)


def defects_per_million(defects: int, units: int, opportunities: int) -> float:
    """Defects per million opportunities; no screen shows it, because opportunities can be chosen at will.

    defects        defects counted, at least 0                                    [defects]
    units          units looked at, at least 1                                    [units]
    opportunities  opportunities for a defect in each unit, at least 1            [1]
    returns        defects per million opportunities                              [1e-6]
    valid          the opportunities are fixed before the count
    formula        1 000 000 x defects / (units x opportunities)
    source         definition; a public teaching page prints 7500 for 9 defects, 150 units, 8 opportunities
    checked        tests/published/test_yields_published.py
    """
    defects = require.whole("defects", defects, 0)
    units = require.whole("units", units, 1)
    return 1e6 * defects / (units * require.whole("opportunities", opportunities, 1))
