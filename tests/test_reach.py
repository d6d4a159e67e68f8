# SPDX-License-Identifier: Apache-2.0
"""The reach of a hand, against the movement times of the paper its throughput comes from."""

from __future__ import annotations

import pytest

from tests.reach import reach_seconds, way_seconds


def key(x: float, side: float) -> dict[str, float]:
    return {"left": x - side / 2, "right": x + side / 2, "top": -side / 2, "bottom": side / 2}


def test_a_reach_of_three_bits_takes_three_by_the_throughput() -> None:
    # D = 7 W: log2(8) = 3 bits; 3 / 5.53 = 0.5425 s, among the 403 to 1051 ms that the paper measured.
    assert reach_seconds(key(0, 10), key(700, 100)) == pytest.approx(0.54250, abs=1e-5)
    assert 0.403 < reach_seconds(key(0, 10), key(700, 100)) < 1.051


def test_a_way_is_the_sum_of_its_reaches() -> None:
    keys = [key(0, 100), key(700, 100), key(1400, 100)]
    assert way_seconds(keys) == pytest.approx(2 * 3 / 5.53)
