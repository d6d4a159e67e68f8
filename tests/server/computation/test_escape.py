# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.escape."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tallywright.computation import escape
from tallywright.computation.errors import NotEstimable, OutOfRange
from tallywright.computation.rate_limit import Interval

POWER = st.floats(0.05, 1.0)


@given(st.integers(0, 200), POWER, st.floats(0.5, 0.99))
def test_the_bound_is_the_last_number_that_the_finds_allow(found: int, power: float, confidence: float) -> None:
    upper = escape.remaining_after(found, power, confidence).upper
    if upper:
        assert stats.binom.cdf(found, found + upper, power) > 1 - confidence - 1e-9
    assert stats.binom.cdf(found, found + upper + 1, power) <= 1 - confidence + 1e-9


@given(st.integers(0, 200), POWER, POWER)
def test_a_better_look_leaves_fewer_inside(found: int, a: float, b: float) -> None:
    weak, good = escape.remaining_after(found, min(a, b)), escape.remaining_after(found, max(a, b))
    assert good.expected <= weak.expected
    assert good.upper <= weak.upper


def test_the_bound_holds_as_often_as_it_says() -> None:
    random = np.random.default_rng(2)
    inside = random.integers(0, 30, size=4000)
    found = random.binomial(inside, 0.7)
    bounds = {count: escape.remaining_after(int(count), 0.7).upper for count in np.unique(found)}
    held = [left <= bounds[count] for left, count in zip(inside - found, found, strict=True)]
    assert np.mean(held) >= 0.95 - 3 * np.sqrt(0.95 * 0.05 / 4000)


def test_a_look_whose_power_nobody_knows_has_no_figure() -> None:
    with pytest.raises(NotEstimable, match="power"):
        escape.remaining_after(4, None)
    with pytest.raises(NotEstimable, match="power"):
        escape.remaining_after(4, Interval(0.0, 0.6))


@given(st.integers(1, 500), st.integers(0, 500))
def test_what_two_looks_leave_is_never_negative(first: int, second: int) -> None:
    if second >= first:
        with pytest.raises(NotEstimable):
            escape.removal_two(first, second)
        return
    found = escape.removal_two(first, second)
    assert found.remaining >= -1e-9
    assert found.total * found.finding_power == pytest.approx(first)


@given(st.lists(st.integers(0, 300), min_size=2, max_size=6).filter(lambda finds: sum(finds) > 0))
@settings(max_examples=200)
def test_the_likelihood_of_several_looks_is_at_its_top(finds: list[int]) -> None:
    looks, total_found = len(finds), sum(finds)
    early = sum((looks - 1 - place) * count for place, count in enumerate(finds))
    if early <= total_found * (looks - 1) / 2:
        with pytest.raises(NotEstimable):
            escape.removal_many(finds)
        return
    found = escape.removal_many(finds)
    assert found.total >= total_found - 1e-9

    def log_likelihood(power: float) -> float:
        shares = power * (1 - power) ** np.arange(looks)
        return float((np.array(finds) * np.log(shares / shares.sum())).sum())

    p = found.finding_power
    if 0.02 < p < 0.98:
        assert log_likelihood(p) >= max(log_likelihood(p * 0.99), log_likelihood(p * 1.009)) - 1e-9


@given(st.lists(st.integers(0, 60), min_size=2, max_size=5).filter(lambda finds: sum(finds) > 0))
def test_the_weighted_estimate_always_exists(finds: list[int]) -> None:
    found = escape.removal_many(finds, "weighted")
    assert found.total >= sum(finds)
    assert 0.0 < found.finding_power <= 1.0


@given(st.integers(0, 300), st.integers(0, 300), st.data())
def test_two_people_never_find_more_than_there_is(marked: int, caught: int, data: st.DataObject) -> None:
    recaught = data.draw(st.integers(0, min(marked, caught)))
    found = escape.chapman(marked, caught, recaught)
    assert found.total >= marked + caught - recaught - 1e-9


@given(st.floats(0, 1), st.floats(0, 1), st.floats(-1, 1))
def test_two_looks_find_at_least_what_the_better_one_finds(a: float, b: float, correlation: float) -> None:
    try:
        share = escape.two_looks(a, b, correlation)
    except OutOfRange:
        return
    assert max(a, b) - 1e-9 <= share <= min(1.0, a + b) + 1e-9


@given(st.data())
def test_a_relook_stays_inside_its_piles(data: st.DataObject) -> None:
    piles = [data.draw(st.integers(1, 5000)) for _ in range(2)]
    samples = [data.draw(st.integers(1, pile)) for pile in piles]
    marks = [data.draw(st.integers(0, sample)) for sample in samples]
    power = data.draw(st.floats(0.1, 1.0))
    found = escape.relook(piles[0], samples[0], marks[0], piles[1], samples[1], marks[1], power)
    assert 0.0 <= found.escapes <= piles[0]
    assert 0.0 <= found.false_rejects <= piles[1]
    if found.finding_power is not None:
        ends = found.intervals.finding_power
        assert ends.lower - 1e-9 <= found.finding_power <= ends.upper + 1e-9
    assert found.intervals.escapes.lower <= found.escapes + 1e-9
    assert found.escapes <= found.intervals.escapes.upper + 1e-9


def test_a_relook_that_sees_no_bad_piece_names_no_power() -> None:
    found = escape.relook(1000, 100, 0, 10, 10, 10)
    assert (found.finding_power, found.escapes, found.false_rejects) == (None, 0.0, 10.0)
    assert (found.intervals.finding_power.lower, found.intervals.finding_power.upper) == (0.0, 1.0)


@pytest.mark.parametrize("power", [Interval(0.9, 0.5), Interval(0.5, 1.2), Interval(-0.2, 0.9), 0.0, 1.1])
def test_a_power_that_cannot_be_is_refused(power: float | Interval) -> None:
    with pytest.raises(OutOfRange, match="power"):
        escape.remaining_after(4, power)
