# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.strength."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy import optimize

from tallywright.computation import strength

Table = Callable[[str], list[dict[str, str]]]


def test_tolerance_factors_equal_the_table(table: Table) -> None:
    # Printed, from memory: 2.911 (n 10, .95, .95), 4.203 (5), 3.981 (10, .99), 2.065 (50).
    for row in table("tolerance_factors.csv"):
        for proportion in ("0.9", "0.95", "0.99", "0.9987"):
            for confidence in ("0.9", "0.95", "0.99"):
                found = strength.tolerance_factor(int(row["n"]), float(proportion), float(confidence))
                wanted = float(row[f"p{proportion}_conf{confidence}"])
                assert found == pytest.approx(wanted, rel=2e-6, abs=6e-6), (row["n"], proportion, confidence)


# Source: MIL-HDBK-5J, 1.4.1.1 and table 9.10.1: A basis 99 %, B basis 90 %, both at 95 % confidence (n 10:
# 3.981 and
# 2.355 from memory); recomputed. Columns: n, A, B.
BASES = [
    (3, 10.55273012, 6.155281103),
    (5, 5.741084517, 3.406633263),
    (10, 3.981117845, 2.354640132),
    (15, 3.520126964, 2.068372099),
    (20, 3.295156936, 1.925990972),
    (30, 3.063901126, 1.777328798),
    (50, 2.862449264, 1.645564856),
    (100, 2.683957856, 1.526748748),
]


@pytest.mark.parametrize(("n", "a", "b"), BASES)
def test_factors_of_the_two_bases_are_the_published_ones(n: int, a: float, b: float) -> None:
    found = strength.tolerance_factor(n, 0.99, 0.95), strength.tolerance_factor(n, 0.90, 0.95)
    assert found == pytest.approx((a, b), rel=1e-8)


def test_the_exact_factor_is_taken_and_not_the_closed_form_of_natrella() -> None:
    # Source: NIST/SEMATECH e-Handbook 7.2.6.3, n 43, 90 %, 99 %: 1.8740 exact, 1.8752 by Natrella (both
    # seen).
    found = strength.tolerance_factor(43, 0.90, 0.99)
    assert found == pytest.approx(1.873953606, rel=1e-8)
    assert found < 1.8745 < 1.875189581


def test_mean_less_three_deviations_says_as_little_as_published(table: Table) -> None:
    for row in table("mean_minus_3s.csv"):
        n = int(row["n"])
        found = [strength.confidence_of_mean_minus(n, 3.0, share) for share in (0.95, 0.99, 0.99865)]
        wanted = [float(row[name]) for name in ("conf_95", "conf_99", "conf_99865")]
        assert found == pytest.approx(wanted, abs=2e-4), row
        shown = optimize.brentq(
            lambda share, n=n: strength.confidence_of_mean_minus(n, 3.0, share) - 0.95, 0.01, 0.99999
        )
        assert shown == pytest.approx(float(row["proportion_at_95"]), abs=6e-6), row


@pytest.mark.parametrize(("proportion", "pieces"), [(0.95, 59), (0.99, 299), (0.90, 29)])
def test_the_weakest_of_so_many_is_a_limit_without_a_shape(proportion: float, pieces: int) -> None:
    # Source: Wilks (1941); NIST/SEMATECH e-Handbook 7.2.6.4; MIL-HDBK-5J uses 299 and 29 (prints from
    # memory).
    assert strength.distribution_free_size(proportion, 0.95) == pieces


def test_a_minimum_is_the_mean_less_the_factor() -> None:
    # Source: by hand: 20, 22, 24, 26, 28 have mean 24 and s = sqrt 10; k (n 5, .95, .95) = 4.202680741.
    loads = [20.0, 22.0, 24.0, 26.0, 28.0]
    assert strength.minimum_by_factor(loads, 0.95, 0.95) == pytest.approx(24 - 4.202680741 * np.sqrt(10), rel=1e-8)
    assert strength.mean_minus_sd(loads) == pytest.approx(24 - 3 * np.sqrt(10), rel=1e-12)
