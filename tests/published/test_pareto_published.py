# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.pareto."""

from __future__ import annotations

import pytest

from tallywright.computation import pareto

# Source: an example of 300 ordering errors in five categories; cumulative percentages confirmed by a
# statistics reference library and by hand (94 / 300 = 31.3333 %).
ORDER_ERRORS = {
    "price code": 80,
    "schedule date": 27,
    "supplier code": 66,
    "contact num.": 94,
    "part num.": 33,
}
ORDER_ERRORS_SORTED = [
    ("contact num.", 94, 31.3333, 31.3333),
    ("price code", 80, 26.6667, 58.0),
    ("supplier code", 66, 22.0, 80.0),
    ("part num.", 33, 11.0, 91.0),
    ("schedule date", 27, 9.0, 100.0),
]


def test_pareto_of_order_errors_has_the_printed_shares() -> None:
    bars = pareto.pareto(ORDER_ERRORS)
    found = [(bar.name, bar.count, 100 * bar.share, 100 * bar.cumulative) for bar in bars]
    for row, wanted in zip(found, ORDER_ERRORS_SORTED, strict=True):
        assert row[:2] == wanted[:2]
        assert row[2:] == pytest.approx(wanted[2:], abs=1e-4)


def test_the_chi_square_of_two_periods_equals_that_of_two_libraries() -> None:
    # Source: constructed data, 120 defects each; scipy 1.17.1 equals R 4.2.2.
    first = {"cat1": 52, "cat2": 31, "cat3": 22, "cat4": 9, "cat5": 6}
    second = {"cat1": 38, "cat2": 47, "cat3": 15, "cat4": 12, "cat5": 8}
    found = pareto.compare_mix(first, second)
    assert found.df == 4
    assert (found.chi2, found.p) == pytest.approx((7.498439098, 0.1117781417), rel=1e-8)


def test_the_lady_tasting_tea_has_the_printed_chance() -> None:
    # Source: Fisher, The Design of Experiments (1935); one-sided .2429 in print, two-sided by scipy and R.
    assert pareto.fisher_exact([[3, 1], [1, 3]]) == pytest.approx(0.4857142857, rel=1e-6)


def test_a_two_by_two_table_with_small_cells_has_the_printed_chance() -> None:
    # Source: encyclopedia example of the exact test (two-sided p 0.002759, print from memory), recomputed;
    # the
    # chi-square without correction is 10.97142857 and the square of the normal score.
    assert pareto.fisher_exact([[1, 11], [9, 3]]) == pytest.approx(0.002759456185, rel=1e-6)
    found = pareto.compare_share(1, 12, 9, 12)
    assert found.z**2 == pytest.approx(10.97142857, rel=1e-8)
    assert found.fisher_p == pytest.approx(0.002759456185, rel=1e-6)


def test_the_tallest_of_three_equal_bars_is_as_tall_as_by_hand() -> None:
    # Source: by hand: of the 81 equally likely lists of 4 marks over 3 kinds, 54 have a tallest bar of 2,
    # 24 of 3
    # and 3 of 4: mean 192 / 81, and 78 / 81 = 96 % stay within 3.
    band = pareto.noise_band(4, 3)
    assert band.expected == pytest.approx(192 / 81, abs=0.02)
    assert band.upper == 3


def test_six_to_none_is_the_first_ranking_that_is_more_than_luck() -> None:
    # Source: by hand: 5 to 0 has the chance 2 / 32 = 6.25 %, 6 to 0 has 2 / 64 = 3.1 %.
    assert pareto.too_few_to_rank(5, 0)
    assert not pareto.too_few_to_rank(6, 0)


def test_a_single_kind_against_the_rest_is_bounded_by_its_binomial() -> None:
    # Source: by hand: 10 marks, usual shares 0.5 and 0.5: 9 or more of one of the two kinds has the chance
    # 22 / 1024 = 2.1 %, 8 or more 112 / 1024 = 10.9 %, so at 95 % the bars may reach 8.
    bars = pareto.against_usual({"burr": 9, "crack": 1}, {"burr": 0.5, "crack": 0.5})
    assert [(bar.name, bar.expected, bar.upper, bar.above) for bar in bars] == [
        ("burr", 5.0, 8.0, True),
        ("crack", 5.0, 8.0, False),
    ]
