# SPDX-License-Identifier: Apache-2.0
"""Published values for the run rules of tallywright.computation.control_chart; the tablet reads the same table."""

from __future__ import annotations

from tallywright.computation import control_chart
from tests.published.conftest import Table


def test_the_rules_fire_at_the_published_points(table: Table) -> None:
    rows = table("run_signals.csv")
    assert len(rows) == 13
    for row in rows:
        fires = {
            int(rule): [int(point) for point in points.split()]
            for rule, points in (one.split(":") for one in row["fires"].split(";") if one)
        }
        found = control_chart.run_signals([float(score) for score in row["scores"].split()], 0.0, 1.0)
        assert {rule: points for rule, points in found.items() if points} == fires, row["what"]
        assert list(found) == [1, 2, 3, 4, 5, 6, 7, 8]
