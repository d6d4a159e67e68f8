# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.escape."""

from __future__ import annotations

import pytest

from tallywright.computation import escape
from tallywright.computation.errors import NotEstimable
from tallywright.computation.rate_limit import Interval


@pytest.mark.parametrize(("power", "expected", "upper"), [(0.8, 1.0, 4), (0.5, 4.0, 11)])
def test_the_ledger_of_the_demo_works_closes_with_its_pieces_inside(
    power: float, expected: float, upper: int
) -> None:
    # Source: the demo works (invented): 47 found at the first look, 4 of the same kinds at the second; by
    # hand:
    # P(Bin(8, .8) <= 4) = .0563 and P(Bin(9, .8) <= 4) = .0196; P(Bin(15, .5) <= 4) = .0592, P(Bin(16, .5)
    # <= 4) = .0384.
    found = escape.remaining_after(4, power)
    assert found.expected == pytest.approx(expected)
    assert found.upper == upper


def test_the_removal_estimate_of_the_demo_works_is_a_mere_least() -> None:
    # Source: the same: 47 and 4 leave at least 47^2 / 43 - 51 = 0.37.
    assert escape.removal_two(47, 4).remaining == pytest.approx(47**2 / 43 - 51, rel=1e-12)


# Source: Seber (2002), example 7.4, p. 312 (printed N 122, SE 8.8, p .65) and a statistics reference
# library's
# documentation (77, 37). Columns: first, second, total, power, se, interval, remaining.
TWO_LOOKS = [
    (79, 28, 122.372549, 0.6455696203, 8.797041875, (105.1306638, 139.6144343), 15.37254902),
    (77, 37, 148.225, 0.5194805195, 19.01187246, (110.9624147, 185.4875853), 34.225),
    (40, 4, 44.44444444, 0.9, 0.8189197013, (42.83939132, 46.04949757), 0.4444444444),
    (5, 4, 25.0, 0.2, 60.0, (-92.59783907, 142.5978391), 16.0),
    (20, 3, 23.52941176, 0.85, 0.9956743647, (21.57792587, 25.48089766), 0.5294117647),
    (5, 0, 5.0, 1.0, 0.0, (5.0, 5.0), 0.0),
]


@pytest.mark.parametrize("row", TWO_LOOKS)
def test_two_looks_leave_the_published_number(
    row: tuple[int, int, float, float, float, tuple[float, float], float],
) -> None:
    first, second, total, power, se, ends, remaining = row
    found = escape.removal_two(first, second)
    assert (found.total, found.finding_power, found.se) == pytest.approx((total, power, se), rel=1e-8)
    assert found.remaining == pytest.approx(remaining, rel=1e-7, abs=1e-9)
    assert found.interval is not None
    assert (found.interval.lower, found.interval.upper) == pytest.approx(ends, rel=1e-8)


@pytest.mark.parametrize(("first", "second"), [(28, 79), (10, 10), (0, 0), (0, 3), (1, 1)])
def test_finds_that_do_not_fall_have_no_estimate(first: int, second: int) -> None:
    # Source: Seber and Le Cren (1967): the formula is negative or infinite there.
    with pytest.raises(NotEstimable, match="second"):
        escape.removal_two(first, second)


@pytest.mark.parametrize(
    ("first", "second", "usable"), [(40, 4, True), (20, 3, True), (19, 3, False), (40, 2, False), (40, 20, False)]
)
def test_small_numbers_are_marked_as_not_usable(first: int, second: int, usable: bool) -> None:
    # Source: the rule of this room: first look at least 20, second at least 3 and below half of the first.
    assert escape.removal_two(first, second).usable is usable


def test_a_weaker_second_look_makes_the_estimate_too_low() -> None:
    # Source: by hand: 100 pieces, powers .8 and .5: 80 and 10 found, 10 left, but the formula says 1.43.
    found = escape.removal_two(80, 10)
    assert (found.total, found.remaining, found.se) == pytest.approx(
        (91.42857143, 1.428571429, 1.548870691), rel=1e-9
    )


# Source: Carle and Strub, Biometrics 34 (1978) 621-630 (printed 91, .444, 9.7; 44, .174), Cowx (1983), p.
# 77 (printed
# 298, .250; its SE 23.62 is not reproduced), a statistics reference library (77, 50, 37 and the pairs).
WEIGHTED = [
    ([38, 26, 12], 91, 0.4444444444, 9.687041778),
    ([5, 7, 8], 44, 0.1739130435, 48.70402106),
    ([72, 56, 46, 30, 24], 298, 0.25, 24.85315464),
    ([77, 50, 37], 233, 0.3313131313, 31.35785038),
    ([28, 79], 1472, 0.03669410151, 7367.458924),
    ([10, 10], 33, 0.3571428571, 22.17728568),
    ([5, 4], 11, 0.5294117647, 4.913518208),
    ([0, 3], 4, 0.375, 6.938886665),
    ([1, 1], 2, 0.6666666667, 1.0),
    ([20, 3], 23, 0.8846153846, 0.7024128009),
]


@pytest.mark.parametrize(("finds", "total", "power", "se"), WEIGHTED)
def test_several_looks_have_the_published_weighted_estimate(
    finds: list[int], total: int, power: float, se: float
) -> None:
    found = escape.removal_many(finds, "weighted")
    assert (found.total, found.finding_power, found.se) == pytest.approx((total, power, se), rel=1e-8)


def test_a_second_look_without_finds_has_no_weighted_error() -> None:
    # Source: as above: 5, 0 gives 5 and no standard error.
    found = escape.removal_many([5, 0], "weighted")
    assert (found.total, found.finding_power, found.se, found.interval) == (5.0, 1.0, None, None)


def test_rising_finds_have_no_likelihood_estimate() -> None:
    # Source: Carle and Strub (1978), example 2: Zippin's method fails for 5, 7, 8.
    with pytest.raises(NotEstimable, match="finds"):
        escape.removal_many([5, 7, 8])


def test_the_likelihood_of_two_looks_is_the_formula_for_two() -> None:
    # Source: Seber (2002), example 7.4, as above; for two looks both methods are the same.
    many, two = escape.removal_many([79, 28]), escape.removal_two(79, 28)
    assert (many.total, many.se) == pytest.approx((two.total, two.se), rel=1e-7)


# Source: Seber (2002), tables 3.7 and 3.8 (printed N 9393, SE 3022; 11101, 2184), Ricker (1975) (337), and
# two
# constructed cases. Columns: marked, caught, recaught, total, se.
RECAPTURES = [
    (500, 149, 7, 9392.75, 3022.183865),
    (1000, 243, 21, 11101.0, 2183.701066),
    (109, 177, 57, 336.5862069, 24.81102116),
    (25, 20, 15, 33.125, 2.504591372),
    (10, 8, 0, 98.0, 62.92853089),
]


@pytest.mark.parametrize(("marked", "caught", "recaught", "total", "se"), RECAPTURES)
def test_two_people_find_the_published_number(
    marked: int, caught: int, recaught: int, total: float, se: float
) -> None:
    found = escape.chapman(marked, caught, recaught)
    assert (found.total, found.se) == pytest.approx((total, se), rel=1e-8)


def test_seventeen_of_twenty_seeds_give_the_exact_interval() -> None:
    # Source: Clopper-Pearson, checked with scipy.
    found = escape.finding_power(17, 20)
    assert (found.lower, found.upper) == pytest.approx((0.6210731735, 0.9679290628), rel=1e-8)


# Source: by hand, (1 - a)(1 - b) missed by both; a public forum thread shows 80 % twice = 96 %. Columns:
# powers,
# correlation of the misses, share found.
TOGETHER = [
    (0.8, 0.8, 0.0, 0.96),
    (0.77, 0.77, 0.0, 0.9471),
    (0.8, 0.5, 0.0, 0.9),
    (0.8, 0.8, 0.2, 0.928),
    (0.8, 0.8, 0.5, 0.88),
    (0.8, 0.8, 1.0, 0.8),
]


@pytest.mark.parametrize(("a", "b", "correlation", "share"), TOGETHER)
def test_two_looks_find_the_share_by_hand(a: float, b: float, correlation: float, share: float) -> None:
    assert escape.two_looks(a, b, correlation) == pytest.approx(share, rel=1e-12)


def test_three_looks_at_eighty_percent_find_992_of_1000() -> None:
    # Source: by hand: 1 - 0.2^3.
    assert escape.two_looks(escape.two_looks(0.8, 0.8), 0.8) == pytest.approx(0.992, rel=1e-12)


def test_a_relook_of_both_piles_weighs_each_by_its_size() -> None:
    # Source: by hand (figures of Schoonard, Gould and Miller (1973): 77 % of the bad and 2 % of the good
    # rejected, at 1 %
    # defective): of 100 000 pieces 2750 are rejected, 770 of them bad (72 % of the rejected pile is good),
    # and 230 bad
    # ones are accepted.
    found = escape.relook(97250, 97250, 230, 2750, 2750, 1980)
    assert (found.escapes, found.false_rejects, found.finding_power) == pytest.approx((230, 1980, 0.77), rel=1e-12)
    assert found.false_rejects / 2750 == pytest.approx(0.72, rel=1e-12)


def test_the_middle_of_an_uncertain_power_is_expected_and_its_lower_end_bounds() -> None:
    # Source: by hand: the middle 0.75 leaves 4 x 0.25 / 0.75, the lower end 0.5 gives the bound of 11 above.
    found = escape.remaining_after(4, Interval(0.5, 1.0))
    assert found.upper == 11
    assert found.expected == pytest.approx(4 * 0.25 / 0.75)
