# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.pareto."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.computation import pareto
from tallywright.computation.errors import NotEstimable, OutOfRange

COUNTS = st.dictionaries(
    st.text(max_size=6), st.one_of(st.integers(0, 10**6), st.floats(0, 1e12)), max_size=30
)


@given(COUNTS.filter(lambda counts: any(counts.values())))
def test_the_last_cumulative_share_is_exactly_one(counts: dict[str, float]) -> None:
    assert pareto.pareto(counts)[-1].cumulative == 1.0


@given(COUNTS.filter(lambda counts: any(counts.values())))
def test_bars_fall_and_ties_stand_in_the_order_of_names(counts: dict[str, float]) -> None:
    bars = pareto.pareto(counts)
    keys = [(-bar.count, bar.name) for bar in bars]
    assert keys == sorted(keys)
    assert {bar.name: bar.count for bar in bars} == counts


@given(COUNTS.filter(lambda counts: any(counts.values())))
def test_running_shares_never_fall(counts: dict[str, float]) -> None:
    running = [bar.cumulative for bar in pareto.pareto(counts)]
    assert running == sorted(running)


def test_the_order_of_the_mapping_does_not_matter() -> None:
    assert pareto.pareto({"a": 1, "b": 2, "c": 2}) == pareto.pareto({"c": 2, "b": 2, "a": 1})


def test_no_kinds_give_no_bars() -> None:
    assert pareto.pareto({}) == []


def test_kinds_without_a_single_mark_have_no_shares() -> None:
    with pytest.raises(NotEstimable, match="counts"):
        pareto.pareto({"burr": 0})


def test_a_negative_count_is_refused() -> None:
    with pytest.raises(OutOfRange, match="counts"):
        pareto.pareto({"burr": -1})
