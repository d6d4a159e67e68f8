# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.quench_factor: they hold the arithmetic, not the metal."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from tallywright.computation.quench_factor import QuenchConstants, quench_factor

Table = Callable[[str], list[dict[str, str]]]

# Source: Evancho and Staley (1974), 7075-T6 (equation and constants from memory; no print was readable).
RECALLED = QuenchConstants(-0.00501, 4.1e-13, 1050, 780, 140000)


def _at_rate(rate: float, constants: QuenchConstants) -> tuple[float, float]:
    kelvin = np.linspace(470 + 273.15, 150 + 273.15, 20001)
    found = quench_factor((kelvin[0] - kelvin) / rate, kelvin, constants)
    return found.q, found.retained


# Source: own midpoint rule of 20 000 steps from 470 to 150 degC. Columns: K/s, q, share left.
RATES = [
    (5, 105.3722669, 0.5898334575),
    (10, 52.68613347, 0.7680061572),
    (20, 26.34306673, 0.876359605),
    (50, 10.53722669, 0.9485777649),
    (100, 5.268613347, 0.97394957),
    (200, 2.634306673, 0.9868888337),
    (450, 1.170802966, 0.9941514469),
]


@pytest.mark.parametrize(("rate", "q", "retained"), RATES)
def test_steady_cooling_has_the_computed_factor(rate: float, q: float, retained: float) -> None:
    assert _at_rate(rate, RECALLED) == pytest.approx((q, retained), rel=1e-6)


def test_nine_readings_take_the_middle_temperature_of_each_step(table: Table) -> None:
    # Own computation; taking the start or the end of each step gives 5.534 and 5.480, so the rule must be
    # fixed.
    rows = table("cooling_curve.csv")
    seconds = np.array([float(row["seconds"]) for row in rows])
    kelvin = np.array([float(row["celsius"]) + 273.15 for row in rows])
    found = quench_factor(seconds, kelvin, RECALLED)
    assert (found.q, found.retained) == pytest.approx((5.537736533, 0.9726372717), rel=1e-8)
    fine = np.interp(np.arange(801) / 800, np.arange(9) / 8, seconds)
    interpolated = quench_factor(fine, np.interp(fine, seconds, kelvin), RECALLED)
    assert interpolated.q == pytest.approx(5.531187852, rel=1e-4)
    assert interpolated.retained * 572 == pytest.approx(556.3667729, rel=1e-5)


# Source: definition: one unit costs half a percent, k1 = ln 0.995.
@pytest.mark.parametrize(
    ("q", "retained"), [(1, 0.9950025291), (10, 0.9511343063), (20, 0.9046564686), (32, 0.8518711466)]
)
def test_a_factor_of_one_costs_half_a_percent(q: float, retained: float) -> None:
    constants = QuenchConstants(-0.00501, 4.1e-13, 1050, 780, 140000)
    one_second = quench_factor([0, 1], [600, 600], constants).q
    found = quench_factor([0, q / one_second], [600, 600], constants)
    assert found.q == pytest.approx(q, rel=1e-12)
    assert found.retained == pytest.approx(math.exp(-0.00501 * q), rel=1e-12)
    assert found.retained == pytest.approx(retained, rel=1e-4)


def test_sets_of_constants_in_circulation_disagree(table: Table) -> None:
    # Which is why there are no defaults.
    shares = []
    for row in table("quench_constants.csv"):
        constants = QuenchConstants(*(float(row[name]) for name in ("k1", "k2", "k3", "k4", "k5")))
        q, retained = _at_rate(100, constants)
        assert q == pytest.approx(float(row["q"]), rel=2e-4), row
        assert retained == pytest.approx(float(row["retained"]), rel=2e-5), row
        shares.append(retained)
    assert max(shares) - min(shares) > 0.005


# Source: a worked table in a public repository (printed 98.4, 96.0, 92.1, 84.8, 78.1 % for sections of 10
# to 150 mm),
# time constant of the 10 mm row back-calculated. Columns: section in mm, q, share left, printed percent.
SECTIONS = [
    (10, 3.292751268, 0.9836386413, 98.4),
    (25, 8.231878171, 0.959597158, 96.0),
    (50, 16.46375634, 0.9208267057, 92.1),
    (100, 32.92751268, 0.8479218219, 84.8),
    (150, 49.39126902, 0.780789058, 78.1),
]


@pytest.mark.parametrize(("section", "q", "retained", "printed"), SECTIONS)
def test_exponential_cooling_of_thick_sections_keeps_the_printed_share(
    section: float, q: float, retained: float, printed: float
) -> None:
    constants = QuenchConstants(-0.00501, 4.1e-13, 1050, 750, 132400)
    kelvin = np.linspace(738.0, 313.15, 40001)
    seconds = -1.3556 * section / 10 * np.log((kelvin - 293.15) / 444.85)
    found = quench_factor(seconds - seconds[0], kelvin, constants)
    assert (found.q, found.retained) == pytest.approx((q, retained), rel=5e-4)
    assert round(100 * found.retained, 1) == printed
