# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.gauge_study."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from tallywright.computation import chart_constants, gauge_study

Table = Callable[[str], list[dict[str, str]]]
Block = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def _block(table: Table, name: str, person: str) -> Block:
    rows = table(name)
    people = sorted({row[person] for row in rows})
    block = np.full((10, 3, 3), np.nan)
    for row in rows:
        block[int(row["part"]) - 1, people.index(row[person]), int(row["trial"]) - 1] = float(row["value"])
    return block


def test_averages_and_ranges_of_ten_parts_are_the_published_ones(table: Table) -> None:
    # Printed EV .20188, AV .22963, GRR .30575, PV 1.10456, TV 1.14610, 26.68 %, 5 groups (data and print from
    # memory; the print rounds on its way, so unrounded values agree within 2e-4).
    found = gauge_study.average_range_study(_block(table, "parts_10x3x3.csv", "appraiser"))
    assert (found.repeatability, found.reproducibility, found.gauge, found.part, found.total) == pytest.approx(
        (0.2018566667, 0.2296670291, 0.3057663457, 1.104595556, 1.146134547), rel=2e-4
    )
    assert found.percent_of_total == pytest.approx(26.67804984, rel=2e-4)
    assert (found.distinct_categories, found.interaction) == (5, None)


def test_analysis_of_variance_keeps_the_interaction(table: Table) -> None:
    # Mean squares printed 9.81799, 1.58363, .01994, .0459 (from memory). The interaction is below luck
    # here, so its
    # part is 0, but it is not pooled unless the caller says so.
    found = gauge_study.anova_study(_block(table, "parts_10x3x3.csv", "appraiser"))
    squares = (found.repeatability, found.reproducibility, found.gauge, found.part, found.total)
    assert [value**2 for value in squares] == pytest.approx(
        [0.04598222222, 0.05212292181, 0.09810514403, 1.08867214, 1.186777284], rel=1e-8
    )
    assert (found.interaction, found.distinct_categories) == (0.0, 4)
    assert found.percent_of_total == pytest.approx(28.75155098, rel=1e-8)


def test_analysis_of_variance_pooled_is_the_printed_table(table: Table) -> None:
    # Printed EV .199933, AV .226838, GRR .302373, PV 1.042327, TV 1.085, 27.9 %, 4 groups (from memory).
    found = gauge_study.anova_study(_block(table, "parts_10x3x3.csv", "appraiser"), pool_interaction=True)
    assert (found.repeatability, found.reproducibility, found.gauge, found.part, found.total) == pytest.approx(
        (0.1999331797, 0.2268375215, 0.3023715223, 1.042327494, 1.085299563), rel=1e-8
    )
    assert found.percent_of_total == pytest.approx(27.86065088, rel=1e-8)
    assert found.distinct_categories == 4


def test_thermal_impedance_pooled_has_the_published_parts_of_variance(table: Table) -> None:
    # Own computation of the reduced model; here the interaction is real, so pooling is for this check only.
    block = _block(table, "thermal_impedance.csv", "operator")
    found = gauge_study.anova_study(block, pool_interaction=True)
    squares = (found.repeatability, found.reproducibility, found.part, found.gauge)
    assert [value**2 for value in squares] == pytest.approx(
        [1.015099715, 0.6206077873, 48.47925504, 1.635707502], rel=1e-8
    )
    kept = gauge_study.anova_study(block)
    assert kept.interaction is not None
    assert kept.interaction > 0.0


# Source: the same manual, K factors (K1 .8862 .5908, K2 .7071 .5231, K3 .4030 .3146, three of them seen on
# a public
# page): 1 / d2 for many ranges, 1 / sqrt(d2^2 + d3^2) for one.
K_FACTORS = [
    (2, False, 0.8862270567),
    (3, False, 0.5908178633),
    (2, True, 0.7071069884),
    (3, True, 0.5231382436),
    (5, True, 0.403023264),
    (10, True, 0.3145598724),
]


@pytest.mark.parametrize(("n", "single", "factor"), K_FACTORS)
def test_factors_for_one_range_and_for_many_are_the_printed_ones(n: int, single: bool, factor: float) -> None:
    d2, d3 = chart_constants.range_moments(n)
    assert 1.0 / (math.hypot(d2, d3) if single else d2) == pytest.approx(factor, rel=2e-6)


def test_the_number_of_groups_has_no_square_root(table: Table) -> None:
    # Source: 1.41 PV / GRR = 5.0937 in the same manual; a public page prints a square root around it, which
    # gives 2.
    found = gauge_study.average_range_study(_block(table, "parts_10x3x3.csv", "appraiser"))
    assert 1.41 * found.part / found.gauge == pytest.approx(5.093692473, rel=2e-4)
    assert found.distinct_categories == 5 != int(math.sqrt(5.093692473))


def test_six_deviations_of_the_gauge_are_set_against_the_tolerance(table: Table) -> None:
    # Source: definition, by hand: 0.313217407 of sd_gauge above is 6 x 0.313217407 / 8 = 23.49 % of a
    # tolerance of 8.
    found = gauge_study.anova_study(_block(table, "parts_10x3x3.csv", "appraiser"), tolerance=8.0)
    assert found.percent_of_tolerance == pytest.approx(100 * 6 * 0.313217407 / 8, rel=1e-8)
