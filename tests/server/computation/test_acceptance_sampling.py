# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.acceptance_sampling."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tallywright.computation import acceptance_sampling
from tallywright.computation.acceptance_sampling import SwitchingState
from tallywright.computation.errors import OutOfRange


@given(st.integers(1, 2000), st.integers(0, 50), st.lists(st.floats(0, 1), min_size=2, max_size=5))
def test_worse_quality_is_accepted_less_often(n: int, accept: int, qualities: list[float]) -> None:
    for model in ("binomial", "poisson"):
        chances = [
            acceptance_sampling.acceptance_probability(n, accept, quality, model) for quality in sorted(qualities)
        ]
        assert all(0.0 <= chance <= 1.0 for chance in chances)
        assert all(b <= a + 1e-12 for a, b in itertools.pairwise(chances))


@given(st.integers(1, 300), st.data())
def test_the_chance_of_a_lot_falls_with_its_defectives(lot: int, data: st.DataObject) -> None:
    n = data.draw(st.integers(1, lot))
    accept = data.draw(st.integers(0, 5))
    counts = sorted(data.draw(st.lists(st.integers(0, lot), min_size=2, max_size=5)))
    chances = [acceptance_sampling.acceptance_probability_lot(n, accept, count, lot) for count in counts]
    assert all(b <= a + 1e-9 for a, b in itertools.pairwise(chances))


@given(st.integers(1, 500), st.integers(0, 10), st.floats(0, 1))
def test_chances_equal_the_distributions_of_scipy(n: int, accept: int, quality: float) -> None:
    found = acceptance_sampling.acceptance_probability(n, accept, quality)
    assert found == pytest.approx(stats.binom.cdf(accept, n, quality), rel=1e-9, abs=1e-14)
    found = acceptance_sampling.acceptance_probability(n, accept, quality, "poisson")
    assert found == pytest.approx(stats.poisson.cdf(accept, n * quality), rel=1e-9, abs=1e-14)


@given(st.floats(0.001, 0.05), st.floats(2.5, 12), st.floats(0.8, 0.99), st.floats(0.01, 0.2))
@settings(max_examples=60)
def test_a_plan_made_to_order_keeps_both_promises(p1: float, ratio: float, pa1: float, pa2: float) -> None:
    p2 = min(0.9, p1 * ratio)
    plan = acceptance_sampling.design_plan(p1, pa1, p2, pa2)
    assert acceptance_sampling.acceptance_probability(plan.n, plan.accept, p1) >= pa1
    assert acceptance_sampling.acceptance_probability(plan.n, plan.accept, p2) <= pa2
    if plan.n > plan.accept + 1:
        assert acceptance_sampling.acceptance_probability(plan.n - 1, plan.accept, p2) > pa2


@given(st.integers(1, 400), st.data())
def test_one_piece_fewer_lets_the_defectives_through_too_often(lot: int, data: st.DataObject) -> None:
    defectives = data.draw(st.integers(1, lot))
    risk = data.draw(st.sampled_from([0.01, 0.05, 0.1, 0.5]))
    n = acceptance_sampling.zero_acceptance_size(lot, defectives, risk)

    def chance(size: int) -> float:
        return math.comb(lot - defectives, size) / math.comb(lot, size)

    assert chance(n) <= risk * (1 + 1e-8)
    assert chance(n - 1) > risk * (1 - 1e-8)


@given(st.lists(st.tuples(st.booleans(), st.booleans()), max_size=60))
def test_the_severity_moves_only_along_the_lines_of_the_standard(lots: list[tuple[bool, bool]]) -> None:
    moves = {
        "normal": {"normal", "tightened", "reduced"},
        "tightened": {"tightened", "normal", "discontinued"},
        "reduced": {"reduced", "normal"},
    }
    state = SwitchingState()
    for accepted, allowed in lots:
        if state.severity == "discontinued":
            break
        following = state.after(accepted, allowed)
        assert following.severity in moves[state.severity]
        assert following.severity == state.severity or following.history == ()
        assert accepted or following.severity != "reduced"
        state = following


def test_nothing_follows_a_discontinued_inspection_by_itself() -> None:
    with pytest.raises(OutOfRange, match="severity"):
        SwitchingState("discontinued").after(True)


def test_a_quality_that_no_lot_can_have_is_refused() -> None:
    with pytest.raises(OutOfRange, match="quality"):
        acceptance_sampling.acceptance_probability(10, 0, 0.013, lot=100)


def test_qualities_too_near_to_tell_apart_are_refused() -> None:
    with pytest.raises(OutOfRange, match="p2"):
        acceptance_sampling.design_plan(0.0100, 0.99, 0.0101, 0.01)


def test_a_state_that_the_standard_does_not_know_is_refused() -> None:
    with pytest.raises(OutOfRange, match="severity"):
        SwitchingState("strict")  # type: ignore[arg-type]  # the wrong type is the test
    with pytest.raises(OutOfRange, match="history"):
        SwitchingState("normal", (1,))  # type: ignore[arg-type]  # the wrong type is the test
    with pytest.raises(OutOfRange, match="accepted"):
        SwitchingState().after(None)  # type: ignore[arg-type]  # the wrong type is the test
