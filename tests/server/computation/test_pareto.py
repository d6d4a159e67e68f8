# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.pareto."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.special import gammaln
from statsmodels.stats import proportion  # type: ignore[import-untyped]  # it has no types

from tallywright.computation import pareto
from tallywright.computation.errors import NotEstimable, OutOfRange

COUNTS = st.dictionaries(st.text(max_size=6), st.one_of(st.integers(0, 10**6), st.floats(0, 1e12)), max_size=30)


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


USUAL = {"dent": 0.35, "burr": 0.25, "scratch": 0.2, "fold": 0.1, "pit": 0.06, "crack": 0.03, "lap": 0.01}
MIX = st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 40), max_size=6)


@pytest.mark.parametrize("total", [15, 60, 400])
def test_an_unchanged_mix_raises_a_bar_in_at_most_one_list_of_twenty(total: int) -> None:
    uppers = {bar.name: bar.upper for bar in pareto.against_usual({"dent": total}, USUAL)}
    names = list(USUAL)
    lists = np.random.default_rng(8).multinomial(total, [USUAL[name] for name in names], size=20_000)
    raised = (lists > np.array([uppers[name] for name in names])).any(axis=1)
    assert 0.01 < raised.mean() <= 0.055


def test_a_bar_at_twice_its_usual_share_stands_out() -> None:
    counts = {"dent": 60, "burr": 50, "scratch": 40, "fold": 40, "pit": 6, "crack": 3, "lap": 1}
    above = {bar.name for bar in pareto.against_usual(counts, USUAL) if bar.above}
    assert above == {"fold"}


def test_more_spread_between_batches_lifts_the_band() -> None:
    calm = pareto.against_usual({"dent": 100}, USUAL)
    rough = pareto.against_usual({"dent": 100}, USUAL, spread=3.0)
    assert all(a.upper <= b.upper for a, b in zip(calm, rough, strict=True))
    assert sum(bar.upper for bar in rough) > sum(bar.upper for bar in calm)


def test_a_kind_never_seen_before_stands_out_at_its_first_mark() -> None:
    bars = {bar.name: bar for bar in pareto.against_usual({"dent": 5, "new": 1}, {"dent": 1.0})}
    assert (bars["new"].expected, bars["new"].upper, bars["new"].above) == (0.0, 0.0, True)


def test_the_band_does_not_depend_on_the_order_of_the_kinds() -> None:
    backwards = dict(reversed(USUAL.items()))
    one = pareto.against_usual({"dent": 30, "burr": 30}, USUAL)
    other = pareto.against_usual({"burr": 30, "dent": 30}, backwards)
    assert sorted(one, key=lambda bar: bar.name) == sorted(other, key=lambda bar: bar.name)


def test_the_noise_band_lies_between_an_even_share_and_the_total() -> None:
    band = pareto.noise_band(47, 12)
    assert 47 / 12 < band.expected < band.upper < 47


@given(st.lists(st.integers(0, 25), min_size=4, max_size=4))
def test_the_exact_test_of_two_by_two_equals_that_of_scipy(cells: list[int]) -> None:
    table = [[cells[0], cells[1]], [cells[2], cells[3]]]
    try:
        found = pareto.fisher_exact(table)
    except NotEstimable:
        assert 0 in np.sum(table, axis=0) or 0 in np.sum(table, axis=1)
        return
    assert found == pytest.approx(stats.fisher_exact(table).pvalue, rel=1e-6)


def _chance_by_enumeration(table: list[list[int]]) -> float:
    """Sum over all fillings of the table with its margins, each built cell by cell."""
    rows, columns = np.sum(table, axis=1), np.sum(table, axis=0)
    chances = []
    own = 0.0
    free = [range(min(row, column) + 1) for row in rows[:-1] for column in columns[:-1]]
    for cells in itertools.product(*free):
        filled = np.zeros((len(rows), len(columns)), dtype=int)
        filled[:-1, :-1] = np.reshape(cells, (len(rows) - 1, len(columns) - 1))
        filled[:-1, -1] = rows[:-1] - filled[:-1, :-1].sum(axis=1)
        filled[-1] = columns - filled[:-1].sum(axis=0)
        if filled.min() < 0:
            continue
        log_chance = gammaln(rows + 1).sum() + gammaln(columns + 1).sum() - gammaln(rows.sum() + 1)
        chances.append(np.exp(log_chance - gammaln(filled + 1).sum()))
        if (filled == table).all():
            own = chances[-1]
    assert sum(chances) == pytest.approx(1.0)
    return float(sum(chance for chance in chances if chance <= own * (1 + 1e-7)))


@pytest.mark.parametrize(
    "table", [[[4, 0, 1], [1, 3, 2]], [[3, 1, 0], [0, 2, 2], [1, 0, 3]], [[2, 0], [1, 3], [0, 2], [3, 1]]]
)
def test_the_exact_test_of_larger_tables_equals_counting_them_all(table: list[list[int]]) -> None:
    assert pareto.fisher_exact(table) == pytest.approx(_chance_by_enumeration(table), rel=1e-7)


def test_a_table_too_large_to_count_is_refused() -> None:
    with pytest.raises(OutOfRange, match="table"):
        pareto.fisher_exact(np.full((6, 8), 20))


@given(MIX, MIX)
def test_the_sum_over_two_mixes_equals_that_of_scipy(first: dict[str, int], second: dict[str, int]) -> None:
    names = [name for name in "abcdef" if first.get(name, 0) + second.get(name, 0)]
    table = np.array([[first.get(name, 0) for name in names], [second.get(name, 0) for name in names]])
    if len(names) < 2 or 0 in table.sum(axis=1):
        with pytest.raises(NotEstimable):
            pareto.compare_mix(first, second)
        return
    found = pareto.compare_mix(first, second)
    wanted = stats.chi2_contingency(table, correction=False)
    assert (found.chi2, found.df) == pytest.approx((wanted.statistic, wanted.dof), rel=1e-9, abs=1e-12)
    if wanted.expected_freq.min() >= 5:
        assert found.p == pytest.approx(wanted.pvalue, rel=1e-9)


def test_small_expected_counts_take_the_simulated_chance_close_to_the_exact_one() -> None:
    first, second = {"a": 4, "b": 0, "c": 1}, {"a": 1, "b": 3, "c": 2}
    # Of a table this small the order of the sums and of the chances is nearly the same, so both tests agree
    # closely.
    simulated = pareto.compare_mix(first, second).p
    assert simulated == pytest.approx(pareto.fisher_exact([[4, 0, 1], [1, 3, 2]]), abs=0.05)
    assert simulated == pareto.compare_mix(first, second).p


@given(st.integers(0, 200), st.integers(0, 200))
def test_ranking_equals_the_two_sided_binomial_test_of_scipy(a: int, b: int) -> None:
    chance = stats.binomtest(a, a + b, 0.5).pvalue if a + b else 1.0
    assert pareto.too_few_to_rank(a, b) == (chance > 0.05)


def test_the_score_of_two_shares_is_the_root_of_the_chi_square() -> None:
    found = pareto.compare_share(12, 300, 30, 320)
    wanted = stats.chi2_contingency([[12, 288], [30, 290]], correction=False).statistic
    assert found.z == pytest.approx(-np.sqrt(wanted), rel=1e-9)


def test_the_score_of_two_shares_equals_that_of_a_second_library() -> None:
    wanted = proportion.proportions_ztest([12, 30], [300, 320])[0]
    assert pareto.compare_share(12, 300, 30, 320).z == pytest.approx(wanted, rel=1e-12)
