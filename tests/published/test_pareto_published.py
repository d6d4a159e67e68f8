# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.pareto."""

from __future__ import annotations

import pytest

from tallywright.computation import pareto

# Source: an example of 300 ordering errors in five categories; cumulative percentages confirmed by a
# statistics reference library and by hand (94 / 300 = 31.3333 %).
ORDER_ERRORS = {
    "price code": 80,
    "schedule date": 27,
    "supplier code": 66,
    "contact num.": 94,
    "part num.": 33,
}
ORDER_ERRORS_SORTED = [
    ("contact num.", 94, 31.3333, 31.3333),
    ("price code", 80, 26.6667, 58.0),
    ("supplier code", 66, 22.0, 80.0),
    ("part num.", 33, 11.0, 91.0),
    ("schedule date", 27, 9.0, 100.0),
]


def test_pareto_of_order_errors_has_the_printed_shares() -> None:
    bars = pareto.pareto(ORDER_ERRORS)
    found = [(bar.name, bar.count, 100 * bar.share, 100 * bar.cumulative) for bar in bars]
    for row, wanted in zip(found, ORDER_ERRORS_SORTED, strict=True):
        assert row[:2] == wanted[:2]
        assert row[2:] == pytest.approx(wanted[2:], abs=1e-4)
