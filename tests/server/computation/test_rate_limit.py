# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.rate_limit, and its agreement with general-purpose libraries."""

from __future__ import annotations

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats import proportion  # type: ignore[import-untyped]  # it has no types

from tallywright.computation import rate_limit
from tallywright.computation.errors import OutOfRange

CONFIDENCE = st.floats(0.5, 0.999)


@st.composite
def looks(draw: st.DrawFn, most: int = 5000) -> tuple[int, int]:
    inspected = draw(st.integers(1, most))
    return draw(st.integers(0, inspected)), inspected


@given(looks(), CONFIDENCE)
def test_exact_and_score_intervals_hold_the_rate_itself(look: tuple[int, int], confidence: float) -> None:
    rate = look[0] / look[1]
    for interval in (
        rate_limit.exact_interval(*look, confidence),
        rate_limit.wilson_interval(*look, confidence),
    ):
        assert 0.0 <= interval.lower <= rate + 1e-15
        assert rate - 1e-15 <= interval.upper <= 1.0


@given(looks(500), st.integers(2, 9), CONFIDENCE)
def test_intervals_shrink_with_more_pieces_at_the_same_rate(
    look: tuple[int, int], times: int, confidence: float
) -> None:
    small, large = look, (look[0] * times, look[1] * times)
    for method in (rate_limit.exact_interval, rate_limit.wilson_interval):
        narrow, wide = method(*large, confidence), method(*small, confidence)
        assert narrow.upper - narrow.lower < wide.upper - wide.lower


@given(st.integers(0, 5000), CONFIDENCE)
def test_a_poisson_interval_holds_its_count(count: int, confidence: float) -> None:
    interval = rate_limit.poisson_interval(count, confidence)
    assert interval.lower <= count <= interval.upper


def test_exact_intervals_cover_at_least_as_often_as_they_say() -> None:
    rates = np.linspace(0.0, 1.0, 201)
    for n in range(1, 61):
        found = np.arange(n + 1)
        ends = [rate_limit.exact_interval(int(x), n) for x in found]
        lower = np.array([one.lower for one in ends])[:, None]
        upper = np.array([one.upper for one in ends])[:, None]
        inside = (lower <= rates) & (rates <= upper)
        coverage = (stats.binom.pmf(found[:, None], n, rates) * inside).sum(axis=0)
        assert coverage.min() >= 0.95 - 1e-12, n


@given(looks(), CONFIDENCE)
def test_intervals_equal_the_statistics_of_scipy(look: tuple[int, int], confidence: float) -> None:
    test = stats.binomtest(*look)
    for method, name in ((rate_limit.exact_interval, "exact"), (rate_limit.wilson_interval, "wilson")):
        wanted = test.proportion_ci(confidence, method=name)
        found = method(*look, confidence)
        assert (found.lower, found.upper) == pytest.approx((wanted.low, wanted.high), rel=1e-8, abs=1e-12)


@given(looks(), st.floats(0.001, 0.999))
def test_the_exact_test_equals_that_of_scipy(look: tuple[int, int], limit: float) -> None:
    wanted = stats.binomtest(*look, limit, alternative="greater").pvalue
    assert rate_limit.p_value_above(*look, limit) == pytest.approx(wanted, rel=1e-8, abs=1e-300)


@given(looks(), CONFIDENCE)
def test_a_limit_at_the_lower_end_is_just_exceeded(look: tuple[int, int], confidence: float) -> None:
    lower = rate_limit.exact_lower(*look, confidence)
    if look[0]:
        assert rate_limit.p_value_above(*look, lower) == pytest.approx(1 - confidence, rel=1e-6)


@given(st.floats(1e-5, 0.9), st.floats(0.01, 0.999))
def test_one_piece_fewer_does_not_show_the_rate(limit: float, confidence: float) -> None:
    n = rate_limit.pieces_to_show(limit, confidence)
    assert (1 - limit) ** n <= (1 - confidence) * (1 + 1e-8)
    assert n == 1 or (1 - limit) ** (n - 1) > (1 - confidence) * (1 - 1e-8)


@given(looks(300), st.integers(0, 300), st.sampled_from([0.0, 0.001, 0.01, 0.04, 0.1, 0.29, 0.5]))
def test_chance_over_equals_the_beta_binomial_of_scipy(look: tuple[int, int], rest: int, limit: float) -> None:
    defective, looked = look
    allowed = math.floor(Decimal(str(limit)) * (looked + rest))
    wanted = stats.betabinom.sf(allowed - defective, rest, defective + 0.5, looked - defective + 0.5)
    assert rate_limit.chance_over(defective, looked, looked + rest, limit) == pytest.approx(wanted, abs=1e-9)


@given(st.integers(1, 400), st.data())
def test_the_state_says_broken_exactly_when_nothing_can_mend_it(due: int, data: st.DataObject) -> None:
    looked = data.draw(st.integers(0, due))
    defective = data.draw(st.integers(0, looked))
    verdict = rate_limit.limit_verdict(defective, looked, due, 0.05)
    assert (verdict.state in ("broken", "over")) == (defective > verdict.allowed)
    assert (verdict.state in ("met", "over")) == (looked == due)
    assert verdict.state != "watch" or verdict.chance_over >= 0.8


def test_a_mark_in_an_open_tray_breaks_the_limit_at_once() -> None:
    assert rate_limit.limit_verdict(1, 50, 681, 0.04, marked=28).state == "broken"


def test_one_closed_tray_is_too_few_to_warn() -> None:
    assert rate_limit.limit_verdict(9, 40, 681, 0.04, trays_closed=1).state == "within"
    assert rate_limit.limit_verdict(9, 40, 681, 0.04, trays_closed=2).state == "watch"


def test_a_limit_of_zero_is_broken_at_its_first_find_and_never_watched() -> None:
    assert rate_limit.limit_verdict(0, 40, 681, 0).state == "within"
    assert rate_limit.limit_verdict(1, 40, 681, 0).state == "broken"


def test_a_batch_without_a_piece_looked_at_has_no_rate() -> None:
    verdict = rate_limit.limit_verdict(0, 0, 681, 0.04, trays_closed=0)
    assert (verdict.state, verdict.rate, verdict.lower, verdict.upper) == ("within", None, 0.0, 1.0)


def test_powers_no_better_than_luck_give_no_true_rate() -> None:
    with pytest.raises(OutOfRange, match="sensitivity"):
        rate_limit.true_rate(0.1, 0.5, 0.5)


def test_the_sequential_test_refuses_a_limit_of_zero() -> None:
    with pytest.raises(OutOfRange, match="limit"):
        rate_limit.sequential_verdict(0, 10, 0.0)


@given(st.data())
@settings(max_examples=50)
def test_more_defective_pieces_never_turn_the_sequential_verdict_better(data: st.DataObject) -> None:
    inspected = data.draw(st.integers(1, 2000))
    limit = data.draw(st.sampled_from([0.005, 0.01, 0.05]))
    order = {"below": 0, "undecided": 1, "above": 2}
    counts = range(0, inspected + 1, max(1, inspected // 40))
    words = [order[rate_limit.sequential_verdict(x, inspected, limit)] for x in counts]
    assert words == sorted(words)


def _share_called(called: str, rate: float, seed: int) -> float:
    """Share of 2000 processes at this rate whose first verdict is the word, followed for 6000 pieces."""
    random = np.random.default_rng(seed)
    limit, horizon = 0.02, 6000
    # The lowest count called 'above' and the highest called 'below' at every tenth piece, from the function
    # itself.
    steps = np.arange(10, horizon + 1, 10)
    above, below = [], []
    low, high = -1, 1
    for n in steps.tolist():
        while high <= n and rate_limit.sequential_verdict(high, n, limit) != "above":
            high += 1
        while low + 1 <= n and rate_limit.sequential_verdict(low + 1, n, limit) == "below":
            low += 1
        above.append(high)
        below.append(low)
    counts = random.binomial(10, rate, size=(2000, steps.size)).cumsum(axis=1)
    first_above = np.where(counts >= above, steps, horizon + 1).min(axis=1)
    first_below = np.where(counts <= below, steps, horizon + 1).min(axis=1)
    hit = first_above < first_below if called == "above" else first_below < first_above
    return float(hit.mean())


def test_the_sequential_test_keeps_its_risk_of_a_false_alarm() -> None:
    assert _share_called("above", rate=0.02, seed=5) <= 0.05 + 3 * math.sqrt(0.05 * 0.95 / 2000)


def test_the_sequential_test_keeps_its_risk_of_a_miss() -> None:
    assert _share_called("below", rate=0.04, seed=6) <= 0.10 + 3 * math.sqrt(0.1 * 0.9 / 2000)


@given(looks(), CONFIDENCE)
def test_intervals_equal_those_of_a_second_library(look: tuple[int, int], confidence: float) -> None:
    for method, name in ((rate_limit.exact_interval, "beta"), (rate_limit.wilson_interval, "wilson")):
        low, high = proportion.proportion_confint(*look, alpha=1 - confidence, method=name)
        found = method(*look, confidence)
        assert (found.lower, found.upper) == pytest.approx((low, high), rel=1e-8, abs=1e-12)


@given(st.integers(1, 2000), CONFIDENCE)
def test_poisson_limits_are_means_at_which_the_count_is_at_the_edge(count: int, confidence: float) -> None:
    interval, tail = rate_limit.poisson_interval(count, confidence), (1 - confidence) / 2
    assert stats.poisson.cdf(count, interval.upper) == pytest.approx(tail, rel=1e-6)
    assert stats.poisson.sf(count - 1, interval.lower) == pytest.approx(tail, rel=1e-6)


@given(looks().filter(lambda look: look[1] > 1), st.floats(0.01, 0.99))
def test_z_equals_that_of_a_second_library(look: tuple[int, int], limit: float) -> None:
    wanted = proportion.proportions_ztest(*look, value=limit, alternative="larger", prop_var=limit)[0]
    assert rate_limit.z_above(*look, limit) == pytest.approx(wanted, rel=1e-9, abs=1e-12)


def _batches_at(rate: float) -> list[tuple[bool, bool]]:
    """Whether each of 300 batches ended over its limit, and whether it was watched before that was certain."""
    marks = np.random.default_rng(3).random((300, 681)) < rate
    words: dict[tuple[int, int], str] = {}
    batches = []
    for batch in marks.cumsum(axis=1):
        watched = False
        for trays, looked in enumerate(range(50, 681, 50), start=1):
            moment = (int(batch[looked - 1]), looked)
            if moment not in words:
                words[moment] = rate_limit.limit_verdict(*moment, 681, 0.04, trays_closed=trays).state
            watched = watched or words[moment] == "watch"
            if words[moment] == "broken":
                break
        batches.append((bool(batch[-1] > 27), watched))
    return batches


def test_the_watch_warns_before_the_break_in_most_batches_that_end_over() -> None:
    ended_over = [watched for over, watched in _batches_at(0.05) if over]
    assert len(ended_over) > 200
    assert np.mean(ended_over) > 0.9


def test_the_watch_rarely_warns_in_batches_of_half_the_limit() -> None:
    good = [watched for over, watched in _batches_at(0.02) if not over]
    assert len(good) > 290
    assert np.mean(good) < 0.05


def test_more_rejects_than_bad_pieces_could_give_is_a_rate_of_one() -> None:
    assert rate_limit.true_rate(1.0, 0.9, 0.99) == 1.0


def test_two_risks_that_leave_no_room_between_them_are_refused() -> None:
    with pytest.raises(OutOfRange, match="alpha"):
        rate_limit.sequential_verdict(1, 10, 0.02, alpha=0.6, beta=0.5)
