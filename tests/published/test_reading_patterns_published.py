# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.reading_patterns."""

from __future__ import annotations

import random
from itertools import pairwise, product

import pytest

from tallywright.computation import reading_patterns
from tallywright.computation.errors import NotEstimable

# Frequencies of the digits 0 to 9 and the chi-square sum that is printed with them (all from memory; the sums
# follow from the frequencies, which add up).
PI_10_000 = (968, 1026, 1021, 974, 1012, 1046, 1021, 970, 948, 1014)  # Pathria, Math. Comp. 16 (1962) 188-197
RAND_BLOCK_1 = (4923, 5013, 4916, 4951, 5109, 4993, 5055, 5080, 4986, 4974)  # RAND, A Million Random Digits (1955)


def test_a_run_of_three_in_ten_throws_is_as_de_moivre_has_it() -> None:
    # The Doctrine of Chances, 2nd ed. (1738), problem 88: 65/128 (from memory).
    assert reading_patterns.run_chance(3, 10, 0.5) == 65 / 128


@pytest.mark.parametrize(("trials", "no_run"), [(2, 0.75), (3, 0.625), (4, 0.5), (5, 0.40625)])
def test_no_run_of_two_in_few_throws_is_as_feller_tabulates_it(trials: int, no_run: float) -> None:
    # Feller, An Introduction to Probability Theory and Its Applications I, 3rd ed. (1968), XIII.7, table 2, q_n.
    assert 1.0 - reading_patterns.run_chance(2, trials, 0.5) == no_run


@pytest.mark.parametrize(("throws", "sequences"), [(4, 15), (5, 29), (6, 56), (7, 108), (8, 208)])
def test_sequences_without_four_heads_in_a_row_are_as_many_as_schilling_counts(throws: int, sequences: int) -> None:
    # Schilling, "The Longest Run of Heads", College Mathematics Journal 21 (1990) 196-207: A_n(3) (from memory).
    assert (1.0 - reading_patterns.run_chance(4, throws, 0.5)) * 2**throws == sequences


def test_every_sequence_counted_out_gives_the_same_chance() -> None:
    share, trials, length = 0.3, 9, 3
    told = 0.0
    for throws in product((True, False), repeat=trials):
        if any(all(throws[start : start + length]) for start in range(trials - length + 1)):
            told += share ** sum(throws) * (1 - share) ** (trials - sum(throws))
    assert reading_patterns.run_chance(length, trials, share) == pytest.approx(told, rel=1e-12)


def test_two_who_come_within_five_minutes_of_one_hour_meet_as_mosteller_says() -> None:
    # Mosteller, Fifty Challenging Problems in Probability (1965), problem 26: 23/144.
    found = reading_patterns.crowd([10.0, 12.0], 5.0, 0.0, 60.0)
    assert found.count == 2
    assert found.chance == pytest.approx(23 / 144, rel=1e-12)


def test_the_bound_on_a_crowd_is_never_below_the_share_of_drawn_times() -> None:
    chance = random.Random(20260101)
    drawn, crowded = 4000, 0
    for _ in range(drawn):
        times = sorted(chance.random() for _ in range(8))
        crowded += any(times[place + 3] - times[place] <= 0.08 for place in range(5))
    # Four of eight within 0.08 of the span, somewhere.
    found = reading_patterns.crowd([0.1, 0.12, 0.14, 0.18, 0.3, 0.5, 0.7, 0.9], 0.08, 0.0, 1.0)
    assert found.count == 4
    assert crowded / drawn < found.chance < 3 * crowded / drawn


@pytest.mark.parametrize(("counts", "chi2"), [(PI_10_000, 9.318), (RAND_BLOCK_1, 7.556)])
def test_last_digits_of_random_digits_give_the_printed_sum(counts: tuple[int, ...], chi2: float) -> None:
    chance = random.Random(20260101)
    readings = [f"{chance.randrange(100)}.{digit}" for digit, count in enumerate(counts) for _ in range(count)]
    found = reading_patterns.end_digits(readings)
    assert found.counts == counts
    assert found.chi2 == pytest.approx(chi2, abs=5e-4)
    assert 0.1 < found.chance < 0.9


@pytest.mark.parametrize(
    ("counts", "chance"),
    [
        # NIST/SEMATECH e-Handbook 1.3.6.7.4, nine degrees of freedom: 16.919 at 0.05, 21.666 at 0.01, 27.877 at
        # 0.001. Sums just below and above, of 100 readings.
        ((16, 4, 12, 8, 10, 10, 10, 10, 13, 7), (0.25, 0.5)),
        ((19, 3, 15, 8, 10, 10, 10, 10, 8, 7), (0.01, 0.05)),
        ((20, 2, 16, 8, 10, 10, 10, 10, 10, 4), (0.001, 0.01)),
        ((24, 2, 16, 8, 10, 10, 10, 10, 6, 4), (0.0, 0.001)),
    ],
)
def test_a_sum_between_two_lines_of_the_table_has_a_chance_between_them(
    counts: tuple[int, ...], chance: tuple[float, float]
) -> None:
    readings = [f"{10 + number % 7}.{digit}" for digit, count in enumerate(counts) for number in range(count)]
    assert chance[0] < reading_patterns.end_digits(readings).chance < chance[1]


@pytest.mark.parametrize(("near", "chance"), [(0, 0.1216), (1, 0.3917), (2, 0.6769)])
def test_few_near_a_limit_have_the_chance_of_the_binomial_table(near: int, chance: float) -> None:
    # Cumulative binomial table, n = 20, p = 0.10. The middle of the usual share is 0.1 of very many.
    found = reading_patterns.few_near(near, 20, 10_000_000, 100_000_000, confidence=0.5)
    assert found.chance == pytest.approx(chance, abs=1e-4)


def test_a_run_is_told_by_its_first_reading_and_its_length() -> None:
    readings = ["13.20", "13.22", "13.22", "13.22", "13.21", "13.21"]
    is_same = [left == right for left, right in pairwise(readings)]
    found = reading_patterns.same_run(is_same, same_before=5, pairs_before=100)
    assert (found.first, found.length) == (2, 3)
    # exact_upper of 5 in 100: 0.1023 (Clopper-Pearson, one-sided 95 %).
    assert found.share == pytest.approx(0.1023, abs=5e-5)
    assert found.chance == pytest.approx(reading_patterns.run_chance(2, 5, found.share))


def test_no_run_at_all_is_certain() -> None:
    found = reading_patterns.same_run([False, False], same_before=5, pairs_before=100)
    assert (found.first, found.length, found.chance) == (1, 1, 1.0)


def test_a_reading_with_fewer_decimals_ends_with_nought() -> None:
    readings = [f"{10 + number % 9}.{number % 10}{number % 10}" for number in range(60)] + ["12.5", "13"]
    assert reading_patterns.end_digits(readings).counts[0] == 8


def test_too_few_and_too_narrow_readings_have_no_answer() -> None:
    with pytest.raises(NotEstimable, match="too few"):
        reading_patterns.end_digits(["13.21"] * 49)
    with pytest.raises(NotEstimable, match="too few steps"):
        reading_patterns.end_digits([f"13.2{number % 3}" for number in range(60)])
    with pytest.raises(NotEstimable, match="too few"):
        reading_patterns.same_run([True], same_before=1, pairs_before=29)
    with pytest.raises(NotEstimable, match="too few"):
        reading_patterns.few_near(0, 20, 3, 29)
