# SPDX-License-Identifier: Apache-2.0
"""Properties of the computations for furnace, quench, hardness and strength."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from tallywright.computation import hardness, heat_treatment, strength
from tallywright.computation.quench_factor import QuenchConstants, quench_factor

CONSTANTS = QuenchConstants(-0.00501, 4.1e-13, 1050, 780, 140000)


@given(st.floats(0.25, 0.59), st.floats(1, 10), st.floats(1, 5000))
def test_a_smaller_indentation_is_harder(ratio: float, ball: float, force: float) -> None:
    assert hardness.brinell(force, ball, ratio * ball) > hardness.brinell(force, ball, (ratio + 0.01) * ball)


@given(st.floats(0.24, 0.6), st.floats(1, 10), st.floats(1, 5000))
def test_newtons_and_kilograms_force_agree(ratio: float, ball: float, force: float) -> None:
    kgf = hardness.brinell_kgf(force, ball, ratio * ball)
    assert hardness.brinell(force * 9.80665, ball, ratio * ball) == pytest.approx(kgf, rel=3e-4)


@given(st.lists(st.floats(500, 550), min_size=2, max_size=60))
def test_time_in_the_band_is_the_sum_of_its_steps(values: list[float]) -> None:
    seconds = np.arange(len(values)) * 30.0
    found = heat_treatment.soak((seconds, [[value] for value in values]), 520, 535)
    inside = [520 <= value <= 535 for value in values]
    assert found.seconds_in_band == 30.0 * sum(a and b for a, b in itertools.pairwise(inside))
    assert len(found.excursions) == sum(value > 535 for value in values)
    whole = any(inside) and all(inside[inside.index(True) : len(inside) - inside[::-1].index(True)])
    assert found.interrupted == (any(inside) and not whole)


@given(st.lists(st.floats(500, 550), min_size=3, max_size=30), st.permutations([0, 1, 2]))
def test_the_order_of_the_sensors_does_not_matter(values: list[float], order: list[int]) -> None:
    seconds = np.arange(len(values))
    sensors = np.array(values)[:, None] + np.array([0.0, 3.0, -2.0])
    straight = heat_treatment.soak((seconds, sensors), 510, 540)
    assert heat_treatment.soak((seconds, sensors[:, order]), 510, 540) == straight


@given(st.floats(1, 400), st.floats(1.05, 5))
def test_slower_cooling_keeps_less(rate: float, times: float) -> None:
    kelvin = np.linspace(740, 430, 200)
    fast = quench_factor((740 - kelvin) / rate, kelvin, CONSTANTS)
    slow = quench_factor((740 - kelvin) / rate * times, kelvin, CONSTANTS)
    assert slow.q == pytest.approx(fast.q * times, rel=1e-9)
    assert slow.retained < fast.retained


def test_finer_steps_come_to_the_integral_of_scipy() -> None:
    def per_second(t: float) -> float:
        k = CONSTANTS
        critical = -k.k1 * k.k2 * math.exp(k.k3 * k.k4**2 / (8.314462618 * t * (k.k4 - t) ** 2))
        return 1.0 / (critical * math.exp(k.k5 / (8.314462618 * t)))

    wanted = integrate.quad(per_second, 430, 740, limit=200)[0] / 50.0
    kelvin = np.linspace(740, 430, 4001)
    assert quench_factor((740 - kelvin) / 50.0, kelvin, CONSTANTS).q == pytest.approx(wanted, rel=1e-6)


def test_above_the_solvus_nothing_is_lost() -> None:
    assert quench_factor([0, 1000], [800, 790], CONSTANTS).q == 0.0


@given(st.integers(2, 200), st.floats(0.5, 0.999), st.floats(0.5, 0.99))
@settings(max_examples=60)
def test_the_factor_and_its_confidence_are_inverse(n: int, proportion: float, confidence: float) -> None:
    k = strength.tolerance_factor(n, proportion, confidence)
    if k >= 0.0:
        assert strength.confidence_of_mean_minus(n, k, proportion) == pytest.approx(confidence, abs=1e-7)


def test_the_factor_holds_as_often_as_it_says() -> None:
    sample = np.random.default_rng(7).normal(size=(20_000, 8))
    k = strength.tolerance_factor(8, 0.95, 0.90)
    minimum = sample.mean(axis=1) - k * sample.std(axis=1, ddof=1)
    held = (stats.norm.sf(minimum) >= 0.95).mean()
    assert held == pytest.approx(0.90, abs=3 * math.sqrt(0.9 * 0.1 / 20_000))


@given(st.floats(0.5, 0.999), st.floats(0.5, 0.999))
def test_one_piece_fewer_is_no_distribution_free_limit(proportion: float, confidence: float) -> None:
    n = strength.distribution_free_size(proportion, confidence)
    assert 1 - proportion**n >= confidence - 1e-9
    assert n == 1 or 1 - proportion ** (n - 1) < confidence + 1e-9


@given(st.lists(st.floats(1, 1000), min_size=2, max_size=30))
def test_the_order_of_the_loads_does_not_matter(loads: list[float]) -> None:
    straight = strength.minimum_by_factor(loads, 0.9, 0.95)
    assert strength.minimum_by_factor(loads[::-1], 0.9, 0.95) == pytest.approx(straight, rel=1e-9, abs=1e-9)
