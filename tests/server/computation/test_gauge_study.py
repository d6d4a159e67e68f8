# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.gauge_study."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tallywright.computation import gauge_study
from tallywright.computation.errors import NotEstimable

SHAPES = st.tuples(st.integers(2, 8), st.integers(2, 4), st.integers(2, 4))


def _study_of(shape: tuple[int, int, int], seed: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    random = np.random.default_rng(seed)
    parts = random.normal(size=(shape[0], 1, 1)) * 3
    people = random.normal(size=(1, shape[1], 1)) * 0.5
    both = random.normal(size=(shape[0], shape[1], 1)) * 0.4
    noise: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = random.normal(size=shape)
    return 20 + parts + people + both + noise


@given(SHAPES, st.integers(0, 2**32 - 1))
@settings(max_examples=50)
def test_the_parts_of_the_variance_add_up(shape: tuple[int, int, int], seed: int) -> None:
    data = _study_of(shape, seed)
    for found in (gauge_study.average_range_study(data), gauge_study.anova_study(data)):
        assert found.gauge**2 == pytest.approx(found.repeatability**2 + found.reproducibility**2)
        assert found.total**2 == pytest.approx(found.gauge**2 + found.part**2)
        assert 0.0 < found.percent_of_total <= 100.0 + 1e-9
        assert (found.interaction or 0.0) <= found.reproducibility + 1e-12


@given(SHAPES, st.integers(0, 2**32 - 1), st.floats(0.01, 100), st.floats(-50, 50))
@settings(max_examples=50)
def test_another_unit_scales_the_study_and_another_zero_leaves_it(
    shape: tuple[int, int, int], seed: int, scale: float, shift: float
) -> None:
    data = _study_of(shape, seed)
    for method in (gauge_study.average_range_study, gauge_study.anova_study):
        plain, other = method(data, 12.0), method(shift + scale * data, 12.0 * scale)
        assert other.gauge == pytest.approx(scale * plain.gauge, rel=1e-6)
        assert other.percent_of_tolerance == pytest.approx(plain.percent_of_tolerance, rel=1e-6)


def test_repeatability_is_the_pooled_spread_of_the_cells() -> None:
    data = _study_of((6, 3, 3), 5)
    found = gauge_study.anova_study(data)
    assert found.repeatability**2 == pytest.approx(data.var(axis=2, ddof=1).mean(), rel=1e-12)


def test_the_study_finds_the_spreads_it_was_made_with() -> None:
    found = gauge_study.anova_study(_study_of((400, 25, 3), 9))
    parts = (found.part, found.repeatability, found.interaction, found.reproducibility)
    assert parts == pytest.approx((3.0, 1.0, 0.4, np.hypot(0.5, 0.4)), rel=0.2)


def test_the_interaction_is_tested_as_scipy_would_for_one_part_more() -> None:
    # With two persons the differences of the cell means are a one-way layout, whose F is that of the
    # interaction.
    data = _study_of((7, 2, 4), 3)
    halves = (data[:, 0, :] - data[:, 1, :]) / np.sqrt(2)
    wanted = stats.f_oneway(*halves).statistic
    found = gauge_study.anova_study(data)
    rest_of_halves = halves.var(axis=1, ddof=1).mean()
    assert found.interaction is not None
    assert found.interaction**2 == pytest.approx(
        max(0.0, (wanted * rest_of_halves - found.repeatability**2) / 4), rel=1e-9
    )


def test_a_gauge_that_reads_the_same_always_is_not_judged() -> None:
    with pytest.raises(NotEstimable, match="data"):
        gauge_study.anova_study(np.broadcast_to(np.arange(5.0)[:, None, None], (5, 3, 2)))


def test_without_a_tolerance_there_is_no_share_of_it() -> None:
    assert gauge_study.anova_study(_study_of((5, 3, 2), 1)).percent_of_tolerance is None
