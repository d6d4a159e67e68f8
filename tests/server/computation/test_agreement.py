# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.agreement, and its agreement with a general-purpose library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats import inter_rater  # type: ignore[import-untyped]  # it has no types

from tallywright.computation import agreement
from tallywright.computation.errors import NotEstimable, OutOfRange

TABLES = st.integers(2, 5).flatmap(
    lambda size: st.lists(st.lists(st.integers(1, 40), min_size=size, max_size=size), min_size=size, max_size=size)
)


@given(TABLES)
def test_two_people_agree_as_a_library_says(table: list[list[int]]) -> None:
    for weights, kind in ((None, None), ("linear", "linear"), ("quadratic", "quadratic")):
        found = agreement.cohen_kappa(table, weights)  # type: ignore[arg-type]  # a text that is one of the literals
        wanted = inter_rater.cohens_kappa(np.array(table), wt=kind)
        assert found.value == pytest.approx(wanted.kappa, rel=1e-9, abs=1e-12)
        assert found.ase == pytest.approx(wanted.std_kappa, rel=1e-6, abs=1e-9)


@given(TABLES)
def test_agreement_does_not_depend_on_who_is_first(table: list[list[int]]) -> None:
    one, other = agreement.cohen_kappa(table), agreement.cohen_kappa(np.transpose(table))
    assert one.value == pytest.approx(other.value, rel=1e-9, abs=1e-12)


@given(st.integers(2, 6), st.integers(2, 5), st.integers(2, 30))
def test_many_people_agree_as_a_library_says(people: int, categories: int, pieces: int) -> None:
    generator = np.random.default_rng(people * 1000 + categories * 100 + pieces)
    counts = generator.multinomial(people, np.full(categories, 1 / categories), size=pieces)
    if np.count_nonzero(counts.sum(axis=0)) < 2:
        return
    found = agreement.fleiss_kappa(counts)
    assert found.value == pytest.approx(inter_rater.fleiss_kappa(counts), rel=1e-9, abs=1e-12)


def test_full_agreement_is_one() -> None:
    assert agreement.cohen_kappa([[7, 0], [0, 9]]).value == pytest.approx(1.0)
    assert agreement.fleiss_kappa([[3, 0], [0, 3], [3, 0]]).value == pytest.approx(1.0)


def test_a_category_that_nobody_used_has_no_agreement() -> None:
    assert agreement.fleiss_kappa([[3, 0, 0], [0, 3, 0]]).by_category[2] is None


def test_one_category_for_all_has_no_agreement_beyond_luck() -> None:
    with pytest.raises(NotEstimable, match="table"):
        agreement.cohen_kappa([[5, 0], [0, 0]])
    with pytest.raises(NotEstimable, match="counts"):
        agreement.fleiss_kappa([[3, 0], [3, 0]])


@given(st.data())
def test_the_rates_of_a_study_are_shares_of_its_calls(data: st.DataObject) -> None:
    reference = [True, False, *data.draw(st.lists(st.booleans(), max_size=20))]
    calls = data.draw(
        st.lists(st.lists(st.booleans(), min_size=3, max_size=3), min_size=len(reference), max_size=len(reference))
    )
    try:
        found = agreement.attribute_study(reference, calls)
    except NotEstimable:
        return
    for rate, interval in (
        (found.effectiveness, found.effectiveness_interval),
        (found.miss_rate, found.miss_interval),
        (found.false_alarm_rate, found.false_alarm_interval),
    ):
        assert 0.0 <= interval.lower <= rate <= interval.upper <= 1.0
    misses = found.miss_rate * 3 * sum(reference)
    assert misses == pytest.approx(round(misses))


def test_a_study_without_a_bad_piece_is_refused() -> None:
    with pytest.raises(OutOfRange, match="reference"):
        agreement.attribute_study([False, False], [[False], [True]])
