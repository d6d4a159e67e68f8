# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.control_chart."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special

from tallywright.computation import control_chart
from tallywright.computation.errors import OutOfRange

BATCHES = st.lists(st.tuples(st.integers(1, 500), st.floats(0, 1)), min_size=2, max_size=40).map(
    lambda rows: (np.array([int(n * share) for n, share in rows]), np.array([n for n, _ in rows]))
)
VALUES = st.lists(st.floats(-100, 100).map(lambda value: round(value, 3)), min_size=2, max_size=40)


@given(BATCHES)
def test_the_order_of_batches_moves_no_limit_of_fractions(batches: tuple[np.ndarray, np.ndarray]) -> None:
    defective, inspected = batches
    order = np.random.default_rng(3).permutation(defective.size)
    for method in (control_chart.p_chart, control_chart.u_chart):
        straight, mixed = method(defective, inspected), method(defective[order], inspected[order])
        assert mixed.centre == straight.centre
        assert mixed.upper.tolist() == straight.upper[order].tolist()
        assert [order[point - 1] + 1 for point in mixed.outside] == [
            place + 1 for place in order if place + 1 in straight.outside
        ]


@given(st.lists(st.lists(st.floats(-10, 10), min_size=4, max_size=4), min_size=2, max_size=20))
def test_the_order_of_subgroups_moves_no_limit_of_means(groups: list[list[float]]) -> None:
    for method in (control_chart.mean_chart, control_chart.range_chart, control_chart.sd_chart):
        straight, turned = method(groups), method(groups[::-1])
        assert turned.upper[0] == pytest.approx(straight.upper[0], rel=1e-9, abs=1e-9)


@given(BATCHES)
def test_lower_limits_of_fractions_are_never_negative(batches: tuple[np.ndarray, np.ndarray]) -> None:
    assert control_chart.p_chart(*batches).lower.min() >= 0.0


@given(VALUES)
def test_a_point_is_outside_exactly_when_it_is_beyond_a_line(values: list[float]) -> None:
    chart = control_chart.individuals_chart(values)
    width = chart.upper[0] - chart.lower[0]
    for point, value in enumerate(values, start=1):
        beyond = max(value - chart.upper[0], chart.lower[0] - value)
        if abs(beyond) > 1e-8 * width:
            assert (point in chart.outside) == (beyond > 0)


def test_ranges_of_neighbours_are_named_by_the_later_value() -> None:
    values = [5.0] * 10 + [9.0] + [5.0] * 10
    chart = control_chart.moving_range_chart(values)
    assert len(chart.upper) == len(values) - 1
    assert chart.outside == [11, 12]


@pytest.mark.parametrize("n", [2, 5, 11, 25])
def test_constants_equal_the_integration_of_scipy(n: int) -> None:
    def density(r: float) -> float:
        def inner(x: float) -> float:
            within = special.ndtr(x + r) - special.ndtr(x)
            both = math.exp(-(x * x + (x + r) ** 2) / 2) / (2 * math.pi)
            return float(n * (n - 1) * both * within ** (n - 2))

        return float(integrate.quad(inner, -9, 9)[0])

    r = np.linspace(0.0, 12.0, 121)
    heights = np.array([density(x) for x in r])
    mean = integrate.simpson(heights * r, x=r)
    spread = np.sqrt(integrate.simpson(heights * r * r, x=r) - mean**2)
    found = control_chart.shewhart_constants(n)
    assert (found.d2, found.d3) == pytest.approx((mean, spread), rel=2e-5)


def _fires_slowly(z: list[float]) -> dict[int, list[int]]:
    """The eight rules once more, point by point, as a person reads a chart."""
    found: dict[int, list[int]] = {rule: [] for rule in range(1, 9)}
    for end in range(1, len(z) + 1):

        def last(count: int, end: int = end) -> list[float]:
            return z[end - count : end] if end >= count else []

        def steps(count: int, end: int = end) -> list[float]:
            part = z[end - count : end] if end >= count else []
            return [b - a for a, b in itertools.pairwise(part)]

        checks = {
            1: abs(z[end - 1]) > 3,
            2: bool(last(9)) and (all(v > 0 for v in last(9)) or all(v < 0 for v in last(9))),
            3: bool(steps(6)) and (all(s > 0 for s in steps(6)) or all(s < 0 for s in steps(6))),
            4: bool(steps(14)) and all(a * b < 0 for a, b in itertools.pairwise(steps(14))),
            5: bool(last(3)) and (sum(v > 2 for v in last(3)) >= 2 or sum(v < -2 for v in last(3)) >= 2),
            6: bool(last(5)) and (sum(v > 1 for v in last(5)) >= 4 or sum(v < -1 for v in last(5)) >= 4),
            7: bool(last(15)) and all(abs(v) < 1 for v in last(15)),
            8: bool(last(8)) and all(abs(v) > 1 for v in last(8)),
        }
        for rule, fires in checks.items():
            if fires:
                found[rule].append(end)
    return found


@given(st.lists(st.integers(-35, 35).map(lambda tenth: tenth / 10), min_size=1, max_size=60))
def test_the_rules_over_arrays_equal_the_rules_point_by_point(z: list[float]) -> None:
    assert control_chart.run_signals(z, 0.0, 1.0) == _fires_slowly(z)


def test_the_rules_equal_the_slow_ones_on_long_random_series() -> None:
    random = np.random.default_rng(11)
    for scale in (0.6, 1.0, 1.8):
        z = (np.cumsum(random.normal(size=400) * 0.1) + random.normal(size=400) * scale).round(2)
        assert control_chart.run_signals(z, 0.0, 1.0) == _fires_slowly(z.tolist())


def test_a_point_missing_a_line_by_rounding_alone_is_not_beyond_it() -> None:
    values = [0.1 + 0.2 + 3 * 0.1]
    assert control_chart.run_signals(values, 0.3, 0.1)[1] == []


def test_each_point_may_have_its_own_sigma() -> None:
    found = control_chart.run_signals([5.0, 5.0], 0.0, [1.0, 2.0], rules=(1,))
    assert found == {1: [1]}


@given(st.floats(0.0005, 0.05), st.integers(20, 2000))
def test_exact_limits_agree_with_three_sigma_where_both_hold(rate: float, n: int) -> None:
    if n * rate < 25:
        return
    limits = control_chart.exact_limits(rate, n)
    sigma = np.sqrt(n * rate * (1 - rate))
    assert abs(limits.upper[0] - (n * rate + 3 * sigma)) < 3


def test_a_laney_chart_of_eleven_batches_is_refused() -> None:
    with pytest.raises(OutOfRange, match="batches"):
        control_chart.laney_p_chart([3] * 11, 100)


def test_a_laney_chart_is_settled_from_twenty_five_batches_on() -> None:
    defective = [3, 5] * 13
    assert control_chart.laney_p_chart(defective[:24], 100).provisional
    assert not control_chart.laney_p_chart(defective[:25], 100).provisional


def test_batches_of_two_sizes_have_no_chart_of_numbers() -> None:
    with pytest.raises(OutOfRange, match="inspected"):
        control_chart.np_chart([1, 2], [50, 60])


def test_five_expected_pieces_are_enough_and_fewer_are_provisional() -> None:
    assert not control_chart.p_chart([5, 5], 100).provisional
    assert control_chart.p_chart([5, 4], 100).provisional
    assert control_chart.c_chart([4, 5]).provisional
