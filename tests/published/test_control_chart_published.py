# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.control_chart. Each table names its source in its first lines."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from tallywright.computation import control_chart

Table = Callable[[str], list[dict[str, str]]]


def _columns(rows: list[dict[str, str]], *names: str) -> list[NDArray[np.float64]]:
    return [np.array([float(row[name]) for row in rows]) for name in names]


def _rings(table: Table, name: str = "piston_rings.csv") -> NDArray[np.float64]:
    (values,) = _columns(table(name), "diameter_mm")
    return values.reshape(-1, 5)


def test_fractions_of_juice_cans_have_the_printed_centre(table: Table) -> None:
    # Printed centre .2313 (seen); limits .4102 and .0524 (print from memory); a statistics reference
    # library agrees.
    chart = control_chart.p_chart(*_columns(table("juice_cans.csv"), "defective", "size"))
    found = (chart.centre, chart.lower[0], chart.upper[0])
    assert found == pytest.approx((0.2313333333, 0.05242754807, 0.4102391186), rel=1e-6)
    assert chart.outside == [15, 23]


def test_fractions_without_the_two_samples_outside_are_recomputed(table: Table) -> None:
    # Printed .2150, .3893, .0407 (Montgomery, 6th ed., example 7.1; print from memory).
    rows = [row for row in table("juice_cans.csv") if row["sample"] not in ("15", "23")]
    chart = control_chart.p_chart(*_columns(rows, "defective", "size"))
    found = (chart.centre, chart.lower[0], chart.upper[0])
    assert found == pytest.approx((0.215, 0.04070283995, 0.38929716), rel=1e-6)


def test_numbers_of_juice_cans_are_the_same_chart_times_fifty(table: Table) -> None:
    defective, _ = _columns(table("juice_cans.csv"), "defective", "size")
    chart = control_chart.np_chart(defective, 50)
    found = (chart.centre, chart.lower[0], chart.upper[0])
    assert found == pytest.approx((11.56666667, 2.621377404, 20.51195593), rel=1e-6)


def test_a_negative_lower_limit_of_fractions_is_zero(table: Table) -> None:
    chart = control_chart.p_chart(*_columns(table("juice_cans_adjusted.csv"), "defective", "size"))
    assert (chart.centre, chart.upper[0]) == pytest.approx((0.1108333333, 0.2440207014), rel=1e-6)
    assert chart.lower.tolist() == [0.0] * len(chart.lower)


def test_fractions_of_batches_of_many_sizes_have_their_own_limits(table: Table) -> None:
    # Limits by own computation; no print seen.
    chart = control_chart.p_chart(*_columns(table("motors.csv"), "defective", "inspected"))
    assert chart.centre == pytest.approx(0.09940145361, rel=1e-6)
    lower = [
        0.01911759513, 0.03593149057, 0.03393718523, 0.03593149057, 0.03593149057, 0.04263219286, 0.05394966902,
        0.05209373632, 0.04263219286, 0.04263219286, 0.0542382547, 0.0475784458, 0.04842115249, 0.03593149057,
        0.0475784458, 0.03340852845, 0.0, 0.00478601902, 0.02067665341, 0.0475784458,
    ]  # fmt: skip
    upper = [
        0.1796853121, 0.1628714167, 0.164865722, 0.1628714167, 0.1628714167, 0.1561707144, 0.1448532382,
        0.1467091709, 0.1561707144, 0.1561707144, 0.1445646525, 0.1512244614, 0.1503817547, 0.1628714167,
        0.1512244614, 0.1653943788, 0.2204339242, 0.1940168882, 0.1781262538, 0.1512244614,
    ]  # fmt: skip
    assert chart.lower.tolist() == pytest.approx(lower, rel=1e-6)
    assert chart.upper.tolist() == pytest.approx(upper, rel=1e-6)
    assert chart.outside == [14]


def test_a_wafer_exactly_on_the_limit_is_inside(table: Table) -> None:
    # Printed 16, 28, 4 (from memory). Wafer 3 has 28 defects, which is the upper limit itself.
    chart = control_chart.c_chart(*_columns(table("wafer_defects.csv"), "defects"))
    assert (chart.centre, chart.lower[0], chart.upper[0]) == pytest.approx((16.0, 4.0, 28.0), rel=1e-9)
    assert chart.outside == [24]


def test_defects_of_circuit_boards_have_two_points_outside(table: Table) -> None:
    # Printed 19.85, 33.22, 6.48 (from memory; 33.21 is exact); a statistics reference library agrees.
    chart = control_chart.c_chart(*_columns(table("circuit_boards.csv"), "defects"))
    found = (chart.centre, chart.lower[0], chart.upper[0])
    assert found == pytest.approx((19.84615385, 6.481447167, 33.21086053), rel=1e-6)
    assert chart.outside == [6, 20]


def test_defects_per_computer_have_the_printed_limits(table: Table) -> None:
    # Printed 1.93, 3.79, 0.07 (from memory).
    chart = control_chart.u_chart(*_columns(table("computers.csv"), "defects", "units"))
    found = (chart.centre, chart.lower[0], chart.upper[0])
    assert found == pytest.approx((1.93, 0.06613305196, 3.793866948), rel=1e-6)


def test_defects_of_rolls_of_many_lengths_have_their_own_limits(table: Table) -> None:
    # Printed centre 1.42 (from memory); two statistics reference libraries agree on the limits.
    chart = control_chart.u_chart(*_columns(table("cloth_rolls.csv"), "defects", "units"))
    assert chart.centre == pytest.approx(1.423255814, rel=1e-6)
    wanted = [
        (0.2914739301, 2.555037698), (0.1578852, 2.688626428), (0.4306174366, 2.415894191),
        (0.2914739301, 2.555037698), (0.2620721019, 2.584439526), (0.2914739301, 2.555037698),
        (0.390085034, 2.456426594), (0.318749791, 2.527761837), (0.390085034, 2.456426594),
        (0.4109593228, 2.435552305),
    ]  # fmt: skip
    for found, row in zip(zip(chart.lower, chart.upper, strict=True), wanted, strict=True):
        assert found == pytest.approx(row, rel=1e-6)


def test_a_negative_lower_limit_of_shipments_is_zero(table: Table) -> None:
    # Printed .074 and .1894; fewer than five are expected, so the chart is provisional.
    chart = control_chart.u_chart(*_columns(table("shipments.csv"), "defects", "units"))
    assert (chart.centre, chart.upper[0]) == pytest.approx((0.074, 0.1894123044), rel=1e-6)
    assert (chart.lower[0], chart.provisional) == (0.0, True)


# Laney's prints take 1.128 for d2 of 2; this room takes 2 / sqrt(pi), which is 0.03 % more.
ROUNDED = 1.128 / (2 / math.sqrt(math.pi))


def test_large_batches_are_not_outside_once_their_own_spread_is_allowed(table: Table) -> None:
    # sigma_z 10.64042186 with 1.128, a statistics reference library agrees to 1e-9.
    columns = _columns(table("emergency_attendances.csv"), "seen_within_4h", "attendances")
    chart = control_chart.laney_p_chart(*columns)
    assert chart.centre == pytest.approx(0.9528997113, rel=1e-8)
    assert chart.sigma_z == pytest.approx(10.64042186 * ROUNDED, rel=1e-8)
    half = np.array([0.9656697785, 0.9658244262]) - 0.9528997113
    assert (chart.upper[[0, -1]] - chart.centre).tolist() == pytest.approx((half * ROUNDED).tolist(), rel=1e-6)
    assert (chart.outside, chart.provisional) == ([], True)
    plain = control_chart.p_chart(*columns)
    assert plain.outside == [1, 2, 3, 4, 6, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 19]


def test_wire_with_less_than_its_own_luck_has_a_narrower_chart(table: Table) -> None:
    # sigma_z 0.4715887118 with 1.128, a statistics reference library agrees; limits of the first, seventh
    # and last.
    columns = _columns(table("wire.csv"), "defects", "metres")
    chart = control_chart.laney_u_chart(*columns)
    assert chart.centre == pytest.approx(2.118918919, rel=1e-8)
    assert chart.sigma_z == pytest.approx(0.4715887118 * ROUNDED, rel=1e-8)
    half = np.array([3.575138368, 3.42140119, 3.360787038]) - 2.118918919
    assert (chart.upper[[0, 6, -1]] - chart.centre).tolist() == pytest.approx((half * ROUNDED).tolist(), rel=1e-7)
    floored = control_chart.laney_u_chart(*columns, at_least_one=True)
    assert floored.upper.tolist() == control_chart.u_chart(*columns).upper.tolist()


def test_constants_equal_the_table(table: Table) -> None:
    for row in table("shewhart_constants.csv"):
        found = control_chart.shewhart_constants(int(row["n"]))
        for name in ("d2", "d3", "c4", "A2", "A3", "B3", "B4", "D3", "D4"):
            assert getattr(found, name) == pytest.approx(float(row[name]), rel=1e-5, abs=1e-6), (row["n"], name)


# Source: Montgomery, appendix VI, and ASTM MNL 7 (printed tables from memory). In these cells the print is
# one unit in
# the last place away from the computed value; in all others it is the rounded value. Columns: n, constant,
# printed.
PRINTED_OTHERWISE = [
    (3, "D4", 2.574), (18, "D4", 1.608), (19, "d3", 0.734), (19, "D3", 0.403), (19, "D4", 1.597), (22, "D3", 0.434),
    (22, "D4", 1.566), (24, "D3", 0.451),
]  # fmt: skip


@pytest.mark.parametrize(("n", "name", "printed"), PRINTED_OTHERWISE)
def test_a_printed_constant_may_be_one_unit_off_in_its_last_place(n: int, name: str, printed: float) -> None:
    found = getattr(control_chart.shewhart_constants(n), name)
    assert round(found, 3) != printed
    assert found == pytest.approx(printed, abs=0.00101)


def test_constants_of_two_and_three_have_their_closed_forms() -> None:
    # Source: closed forms d2(2) = 2 / sqrt(pi), d2(3) = 3 / sqrt(pi), c4(2) = sqrt(2 / pi).
    two, three = control_chart.shewhart_constants(2), control_chart.shewhart_constants(3)
    assert (two.d2, three.d2) == pytest.approx((2 / math.sqrt(math.pi), 3 / math.sqrt(math.pi)), rel=1e-10)
    assert two.c4 == pytest.approx(math.sqrt(2 / math.pi), rel=1e-10)
    assert two.d3 == pytest.approx(math.sqrt(2 - 4 / math.pi), rel=1e-8)


def test_rings_of_the_second_edition_have_its_mean_range(table: Table) -> None:
    # Printed 74.001, 0.023, 74.014, 73.988, 0.048-0.049 (from memory); a statistics reference library to
    # 1e-6.
    trial = _rings(table)[:25]
    means, ranges = control_chart.mean_chart(trial), control_chart.range_chart(trial)
    assert ranges.centre == pytest.approx(0.02276, rel=1e-6)
    assert ranges.centre / control_chart.shewhart_constants(5).d2 == pytest.approx(0.009785337607, rel=1e-6)
    assert (means.centre, means.lower[0], means.upper[0]) == pytest.approx(
        (74.001176, 73.98804759, 74.01430441), rel=1e-8
    )
    assert (ranges.lower[0], ranges.upper[0]) == pytest.approx((0.0, 0.04812600054), rel=1e-6)


def test_rings_of_the_later_edition_have_another_mean_range(table: Table) -> None:
    # Two cells of sample 21 differ; the printed 0.023 and 0.0094 fit this edition.
    rings = _rings(table, "piston_rings_later_edition.csv")
    ranges, deviations = control_chart.range_chart(rings), control_chart.sd_chart(rings)
    assert (ranges.centre, ranges.upper[0]) == pytest.approx((0.02324, 0.04914096013), rel=1e-6)
    assert (deviations.centre, deviations.upper[0]) == pytest.approx((0.009399483886, 0.0196355018), rel=1e-6)
    by_range, by_sd = control_chart.mean_chart(rings), control_chart.mean_chart(rings, "sd")
    assert (by_range.lower[0], by_range.upper[0]) == pytest.approx((73.98777072, 74.01458128), rel=1e-8)
    assert (by_sd.lower[0], by_sd.upper[0]) == pytest.approx((73.98776012, 74.01459188), rel=1e-8)
    assert by_range.centre == pytest.approx(74.001176, rel=1e-9)


def test_rings_by_standard_deviation_have_the_reference_limits(table: Table) -> None:
    trial = _rings(table)[:25]
    deviations, means = control_chart.sd_chart(trial), control_chart.mean_chart(trial, "sd")
    assert (deviations.centre, deviations.upper[0]) == pytest.approx((0.009240036602, 0.01930241677), rel=1e-6)
    assert (means.lower[0], means.upper[0]) == pytest.approx((73.9879877, 74.0143643), rel=1e-8)


def test_later_rings_leave_the_limits_of_the_trial(table: Table) -> None:
    # Samples 37, 38 and 39, as a statistics reference library says.
    rings = _rings(table)
    chart = control_chart.mean_chart(rings[:25])
    sigma = (chart.upper[0] - chart.centre) / 3
    signals = control_chart.run_signals(rings[25:].mean(axis=1), chart.centre, sigma, rules=[1])
    assert [25 + point for point in signals[1]] == [37, 38, 39]


def test_single_costs_have_limits_with_unrounded_constants(table: Table) -> None:
    # Printed 300.5, 279.78, 321.22, 7.79, 25.45 with 1.128 and 3.267; 279.7902761, 321.2097239 and
    # 25.44456442 with
    # unrounded constants, which this room takes.
    (costs,) = _columns(table("mortgage_costs.csv"), "cost")
    single, moving = control_chart.individuals_chart(costs), control_chart.moving_range_chart(costs)
    found = (single.centre, single.lower[0], single.upper[0], moving.centre, moving.upper[0])
    assert found == pytest.approx((300.5, 279.7902761, 321.2097239, 7.789473684, 25.44456442), rel=1e-8)
    assert found == pytest.approx((300.5, 279.7833147, 321.2166853, 7.789473684, 25.44821053), rel=3e-4)


def test_exact_limits_leave_at_most_half_the_risk_on_each_side() -> None:
    # Source: definition of probability limits, held against the distribution functions of scipy.
    limits = control_chart.exact_limits(0.02, [100, 600])
    for n, low, high in zip([100, 600], limits.lower, limits.upper, strict=True):
        assert stats.binom.sf(high, n, 0.02) <= 0.00135 < stats.binom.sf(high - 1, n, 0.02)
        assert stats.binom.cdf(low - 1, n, 0.02) <= 0.00135 < stats.binom.cdf(low, n, 0.02)
    poisson = control_chart.exact_limits([1.5])
    assert stats.poisson.sf(poisson.upper[0], 1.5) <= 0.00135 < stats.poisson.sf(poisson.upper[0] - 1, 1.5)


def test_gaps_between_finds_have_the_limits_of_the_geometric_distribution() -> None:
    # Source: by hand: mean gap 1000, (1 - 1/1000)^u = 0.00135 gives u = 6604.3; 1 - (1 - 1/1000)^l =
    # 0.00135 gives
    # l = 1.35, so a gap of 1 (chance 0.001)
    # is too short and a gap of 2 is not.
    chart = control_chart.between_chart([400, 1600, 1000, 1, 1999])
    assert (chart.centre, chart.lower[0], chart.upper[0]) == (1000.0, 2.0, 6605.0)
    assert chart.outside == [4]
