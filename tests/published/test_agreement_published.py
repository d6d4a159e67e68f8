# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.agreement."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from tallywright.computation import agreement

Table = Callable[[str], list[dict[str, str]]]

# Source: Landis and Koch, Biometrics 33 (1977) 159-174: two neurologists, patients of Winnipeg, four
# diagnoses.
NEUROLOGISTS = [[38, 5, 0, 1], [33, 11, 3, 0], [10, 14, 5, 6], [3, 7, 3, 10]]


def _fleiss(table: Table) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.array([[float(cell) for cell in list(row.values())[1:]] for row in table("fleiss_1971.csv")])


def test_two_neurologists_agree_as_published() -> None:
    # A statistics reference library gives .2079 (standard error .0505), linear weights .3797 (.0517).
    plain, linear = agreement.cohen_kappa(NEUROLOGISTS), agreement.cohen_kappa(NEUROLOGISTS, "linear")
    assert (plain.value, plain.ase) == pytest.approx((0.207942464, 0.05045536524), rel=1e-8)
    assert (linear.value, linear.ase) == pytest.approx((0.379730548, 0.05166682622), rel=1e-8)


def test_six_psychiatrists_agree_as_published(table: Table) -> None:
    # Printed kappa .430 (Fleiss 1971); a statistics reference library gives the rest.
    found = agreement.fleiss_kappa(_fleiss(table))
    assert found.value == pytest.approx(0.4302445201, rel=1e-9)
    assert found.by_category == pytest.approx(
        (0.2447552448, 0.2447552448, 0.52, 0.4711272727, 0.5661178068), rel=1e-8
    )


def test_the_standard_error_is_that_of_1979_and_not_that_of_1971(table: Table) -> None:
    # Source: Fleiss, Nee and Landis (1979), z 17.65; the formula of 1971 gives 0.02750 and z 15.6.
    found = agreement.fleiss_kappa(_fleiss(table))
    assert found.ase == pytest.approx(0.0243739321, rel=1e-8)
    assert found.ase != pytest.approx(0.02750312025, rel=0.05)
    assert found.value / found.ase == pytest.approx(17.65183058, rel=1e-8)


# Source: a measurement systems analysis reference manual of the car industry, attribute chapter (counts and
# prints from
# memory: kappa .88 .92 .77, misses 6.3 6.3 12.5 %, false alarms 4.9 2.0 8.6 %; C is 9 / 102 = 8.8 %).
# Columns: person,
# bad called bad, good called bad, bad called good, good called good, kappa, miss rate, false alarm rate.
APPRAISERS = [
    ("A", 45, 5, 3, 97, 0.8787878788, 0.0625, 0.04901960784),
    ("B", 45, 2, 3, 100, 0.9229821319, 0.0625, 0.01960784314),
    ("C", 42, 9, 6, 93, 0.773960217, 0.125, 0.08823529412),
]


@pytest.mark.parametrize("row", APPRAISERS, ids=[row[0] for row in APPRAISERS])
def test_three_appraisers_have_the_published_rates(
    row: tuple[str, int, int, int, int, float, float, float],
) -> None:
    _, hit, alarm, miss, right, kappa, miss_rate, alarm_rate = row
    reference = [True] * (hit + miss) + [False] * (alarm + right)
    calls = [[True]] * hit + [[False]] * miss + [[True]] * alarm + [[False]] * right
    found = agreement.attribute_study(reference, calls)
    assert (found.kappa, found.miss_rate, found.false_alarm_rate) == pytest.approx(
        (kappa, miss_rate, alarm_rate), rel=1e-9
    )


# Source: the same manual (prints .86 .79 .78 from memory), recomputed.
PAIRS = [
    ([[44, 6], [3, 97]], 0.8629441624),
    ([[42, 5], [9, 94]], 0.7880072683),
    ([[43, 7], [8, 92]], 0.776119403),
]


@pytest.mark.parametrize(("cross", "kappa"), PAIRS)
def test_pairs_of_appraisers_agree_as_published(cross: list[list[int]], kappa: float) -> None:
    assert agreement.cohen_kappa(cross).value == pytest.approx(kappa, rel=1e-9)


def test_a_person_right_on_every_piece_in_every_trial_is_fully_effective() -> None:
    # Source: by hand: 10 pieces, all right: the exact lower end is 0.025 to the power 1 / 10.
    reference = [True] * 4 + [False] * 6
    found = agreement.attribute_study(reference, [[value] * 3 for value in reference])
    assert (found.effectiveness, found.kappa, found.miss_rate) == (1.0, 1.0, 0.0)
    assert found.effectiveness_interval.lower == pytest.approx(math.pow(0.025, 0.1), rel=1e-9)
