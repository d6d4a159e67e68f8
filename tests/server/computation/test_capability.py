# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.capability."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import stats

from tallywright.computation import capability
from tallywright.computation.errors import OutOfRange

CONFIDENCE = st.floats(0.5, 0.99)


@given(st.floats(-5, 5), st.floats(0.1, 3), st.integers(25, 500), CONFIDENCE)
def test_intervals_hold_their_index(mean: float, sd: float, n: int, confidence: float) -> None:
    found = capability.capability(mean, sd, n, -6.0, 6.0, confidence=confidence)
    for index, interval in (
        (found.cpk, found.cpk_interval),
        (found.cp, found.cp_interval),
        (found.cpm, found.cpm_interval),
    ):
        assert index is not None
        assert interval is not None
        assert interval.lower <= index <= interval.upper


@given(st.floats(0.2, 3), st.integers(25, 200), st.integers(2, 5))
def test_intervals_shrink_with_more_pieces(index: float, n: int, times: int) -> None:
    for method in (capability.cp_interval, capability.cpk_interval):
        wide, narrow = method(index, n), method(index, n * times)
        assert narrow.upper - narrow.lower < wide.upper - wide.lower


@given(st.floats(-1, 3), st.integers(2, 200), st.floats(0.5, 0.99))
@settings(max_examples=60)
@example(0.0, 2, 0.5)
@example(0.0, 2, 0.99)
@example(1e-200, 2, 0.6)
def test_the_exact_lower_end_is_where_the_sample_is_at_the_edge(index: float, n: int, confidence: float) -> None:
    lower = capability.one_sided_index_lower(index, n, confidence)
    scale = 3 * np.sqrt(n)
    # By the definition: T <= t exactly when a standard normal value lies below t times the spread, less the
    # centre.
    spread = stats.chi(df=n - 1, scale=1 / np.sqrt(n - 1))
    chances = spread.expect(lambda s: stats.norm.cdf(scale * index * s - scale * lower))
    assert chances == pytest.approx(confidence, abs=1e-6)


@given(st.floats(0.3, 2), st.integers(25, 200))
def test_one_limit_gives_the_exact_interval_and_no_cp(index: float, n: int) -> None:
    found = capability.capability(0.0, 1.0, n, lower=-3 * index)
    assert (found.cp, found.cpm, found.cp_interval, found.cpm_interval) == (None, None, None, None)
    assert found.cpk == pytest.approx(index)
    assert found.cpk_interval.lower == pytest.approx(capability.one_sided_index_lower(found.cpk, n, 0.975))


def test_the_exact_interval_covers_as_often_as_it_says() -> None:
    random = np.random.default_rng(4)
    inside = 0
    for _ in range(300):
        sample = random.normal(size=30)
        found = capability.capability(sample.mean(), sample.std(ddof=1), 30, lower=-4.0)
        inside += found.cpk_interval.lower <= 4 / 3 <= found.cpk_interval.upper
    assert 0.91 < inside / 300 < 0.99


def test_percentiles_of_a_normal_sample_give_nearly_the_usual_indices() -> None:
    values = stats.norm.ppf((np.arange(5000) + 0.5) / 5000)
    found = capability.capability_by_percentiles(values, -4.0, 5.0)
    assert found.cp == pytest.approx(9 / 6, rel=0.02)
    assert found.cpk == pytest.approx(4 / 3, rel=0.02)


def test_a_skewed_characteristic_is_not_called_incapable_by_its_short_side() -> None:
    values = stats.expon.ppf((np.arange(5000) + 0.5) / 5000)
    by_shape = capability.capability_by_percentiles(values, upper=8.0)
    by_normal = capability.capability(values.mean(), values.std(ddof=1), 5000, upper=8.0)
    assert by_shape.cpk < by_normal.cpk
    assert by_shape.cpk_lower is None


@pytest.mark.parametrize("n", [2, 24])
def test_fewer_than_twenty_five_pieces_have_no_capability(n: int) -> None:
    with pytest.raises(OutOfRange, match="n must be"):
        capability.capability(0.0, 1.0, n, -3.0, 3.0)


def test_no_limit_at_all_is_refused() -> None:
    with pytest.raises(OutOfRange, match="lower"):
        capability.capability(0.0, 1.0, 30)


def test_limits_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(OutOfRange, match="upper"):
        capability.capability(0.0, 1.0, 30, 3.0, -3.0)
