# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.rate_limit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from tallywright.computation import rate_limit

Table = Callable[[str], list[dict[str, str]]]


def test_exact_and_score_intervals_equal_the_table(table: Table) -> None:
    for row in table("binomial_intervals_95.csv"):
        x, n = int(row["x"]), int(row["n"])
        exact, score = rate_limit.exact_interval(x, n), rate_limit.wilson_interval(x, n)
        found = [exact.lower, exact.upper, score.lower, score.upper]
        found += [rate_limit.exact_upper(x, n), rate_limit.exact_upper(x, n, 0.99)]
        columns = ["exact_lower", "exact_upper", "wilson_lower", "wilson_upper", "upper_95", "upper_99"]
        assert found == pytest.approx([float(row[column]) for column in columns], abs=6e-9), row


def test_one_sided_limits_are_the_rates_at_which_the_tail_is_the_risk() -> None:
    # Source: the definition of an exact limit; 4 of 200, 95 %, checked with scipy.
    upper, lower = rate_limit.exact_upper(4, 200), rate_limit.exact_lower(4, 200)
    assert stats.binom.cdf(4, 200, upper) == pytest.approx(0.05, rel=1e-9)
    assert stats.binom.sf(3, 200, lower) == pytest.approx(0.05, rel=1e-9)


def test_poisson_limits_equal_the_table(table: Table) -> None:
    for row in table("poisson_garwood.csv"):
        for level in ("90", "95", "99"):
            found = rate_limit.poisson_interval(int(row["count"]), int(level) / 100)
            wanted = (float(row["lo" + level]), float(row["hi" + level]))
            assert (found.lower, found.upper) == pytest.approx(wanted, rel=1e-5, abs=6e-7), row


def test_no_defective_piece_gives_the_exact_limit_and_nearly_three_over_n(table: Table) -> None:
    for row in table("zero_defect_upper_bounds.csv"):
        for level in ("90", "95", "99"):
            found = rate_limit.exact_upper(0, int(row["n"]), int(level) / 100)
            assert found == pytest.approx(float(row["upper_" + level]), abs=6e-9), row
        assert rate_limit.exact_upper(0, int(row["n"])) < float(row["rule_of_three"])


# Source: success run theorem; 22, 29, 45, 59 and 299 are classic prints (from memory); all recomputed, the
# inequality held on both sides. Columns: limit, confidence, pieces.
SUCCESS_RUN = [
    (0.1, 0.9, 22), (0.1, 0.95, 29), (0.1, 0.99, 44), (0.05, 0.9, 45), (0.05, 0.95, 59), (0.05, 0.99, 90),
    (0.02, 0.9, 114), (0.02, 0.95, 149), (0.02, 0.99, 228), (0.01, 0.9, 230), (0.01, 0.95, 299),
    (0.01, 0.99, 459), (0.005, 0.9, 460), (0.005, 0.95, 598), (0.005, 0.99, 919), (0.001, 0.9, 2302),
    (0.001, 0.95, 2995), (0.001, 0.99, 4603),
]  # fmt: skip


@pytest.mark.parametrize(("limit", "confidence", "pieces"), SUCCESS_RUN)
def test_the_success_run_is_as_long_as_printed(limit: float, confidence: float, pieces: int) -> None:
    assert rate_limit.pieces_to_show(limit, confidence) == pieces


def test_the_exact_test_against_a_limit_equals_the_table(table: Table) -> None:
    for row in table("exact_test_above.csv"):
        found = rate_limit.p_value_above(int(row["x"]), int(row["n"]), float(row["limit"]))
        assert found == pytest.approx(float(row["p_value"]), rel=2e-9), row


# Source: Brown, Cai and DasGupta, Statistical Science 16 (2001) 101-133, coverage of the plain normal
# interval at
# rate 1/2 (.951 at n = 17, .919 at n = 40 in print, from memory); all four by enumeration.
PLAIN_COVERAGE = {17: 0.950958252, 40: 0.9193095322, 50: 0.9350913529, 100: 0.9431120664}


@pytest.mark.parametrize(("n", "printed"), list(PLAIN_COVERAGE.items()))
def test_the_exact_interval_holds_its_level_where_the_plain_normal_one_does_not(n: int, printed: float) -> None:
    found = np.arange(n + 1)
    rate = found / n
    half = stats.norm.ppf(0.975) * np.sqrt(rate * (1 - rate) / n)
    chances = stats.binom.pmf(found, n, 0.5)
    assert chances[np.abs(rate - 0.5) <= half].sum() == pytest.approx(printed, rel=1e-6)
    exact = [rate_limit.exact_interval(int(x), n) for x in found]
    assert chances[[one.lower <= 0.5 <= one.upper for one in exact]].sum() >= 0.95


def test_z_is_the_distance_from_the_limit_in_standard_errors() -> None:
    # Source: hand computation: 16 of 400 against 0.02 is (0.04 - 0.02) / sqrt(0.02 x 0.98 / 400) = 20/7.
    assert rate_limit.z_above(16, 400, 0.02) == pytest.approx(20 / 7, rel=1e-12)


def test_a_known_reject_rate_gives_back_the_true_rate() -> None:
    # Source: Rogan and Gladen (1978), formula from memory; 1 % defective, 77 % of the bad and 2 % of the good
    # rejected (figures of Schoonard, Gould and Miller, Ergonomics 16 (1973) 365-379) give 2.75 % rejects by
    # hand.
    assert rate_limit.true_rate(0.01 * 0.77 + 0.99 * 0.02, 0.77, 0.98) == pytest.approx(0.01, rel=1e-9)


def test_fewer_rejects_than_false_ones_give_a_true_rate_of_zero() -> None:
    # Source: as above; the uncut formula gives -0.0067 for 1.5 % rejects, by hand.
    assert pytest.approx(-0.006666666667) == (0.015 - 0.02) / 0.75
    assert rate_limit.true_rate(0.015, 0.77, 0.98) == 0.0


def test_27_of_27_allowed_after_600_of_681_is_watched() -> None:
    # Source: the ledger of the demo works (invented): 681 due, 40 in 1000 allowed, floor(27.24) = 27.
    verdict = rate_limit.limit_verdict(27, 600, 681, 0.04)
    assert (verdict.state, verdict.allowed) == ("watch", 27)


def test_28_of_27_allowed_after_600_of_681_is_broken() -> None:
    # Source: as above; one more than allowed cannot come back whatever the last 81 pieces bring.
    assert rate_limit.limit_verdict(28, 600, 681, 0.04).state == "broken"


def test_the_last_piece_turns_the_verdict_into_a_plain_count() -> None:
    # Source: as above.
    assert rate_limit.limit_verdict(27, 681, 681, 0.04).state == "met"
    assert rate_limit.limit_verdict(28, 681, 681, 0.04).state == "over"


def test_the_allowed_count_is_taken_in_decimals() -> None:
    # Source: by hand: 0.29 x 100 = 29, which binary floats make 28.999999999999996.
    assert int(0.29 * 100) == 28
    assert rate_limit.limit_verdict(0, 10, 100, 0.29).allowed == 29


def test_chance_over_of_two_pieces_by_hand() -> None:
    # Source: by hand: 1 of 1 found, 1 more to come, none allowed beyond 1 of 2: the chance that the next is
    # defective under the Jeffreys prior is (1 + 1/2) / (1 + 1) = 3/4.
    assert rate_limit.chance_over(1, 1, 2, 0.5) == pytest.approx(0.75, rel=1e-12)


def test_sequential_verdict_falls_at_the_lines_of_the_handbook() -> None:
    # Source: Wald (1947), the lines x = -h1 + s n and x = h2 + s n with p1 0.01, p2 0.06, alpha 0.05, beta
    # 0.10:
    # h1 1.2216, h2 1.5684, s 0.02807 (a published teaching example, recomputed by hand; print from memory).
    def verdict(defective: int, inspected: int) -> str:
        return rate_limit.sequential_verdict(defective, inspected, 0.01, ratio=6.0)

    last_undecided = int(1.2216 / 0.02807)
    assert verdict(0, last_undecided) == "undecided"
    assert verdict(0, last_undecided + 1) == "below"
    assert verdict(2, 15) == "above"
    assert verdict(2, 16) == "undecided"
