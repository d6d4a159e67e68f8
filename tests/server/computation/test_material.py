# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.material and of yields."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.computation import material, yields
from tallywright.computation.errors import OutOfRange

TENTHS = st.integers(0, 60_000).map(lambda tenths: tenths / 10)
SHORT = st.integers(1, 5000).map(lambda tenths: tenths / 10)


def _step_along(bar: float, piece: float, kerf: float, trim: float, remnant: float) -> int:
    """Cut one piece after the other, as a saw does, until the next does not fit."""
    place, pieces = Fraction(str(trim)), 0
    end = Fraction(str(bar)) - Fraction(str(remnant))
    while place + Fraction(str(piece)) <= end:
        place += Fraction(str(piece)) + Fraction(str(kerf))
        pieces += 1
    return pieces


@given(TENTHS.filter(bool), SHORT.filter(lambda piece: piece > 20), SHORT, SHORT, SHORT)
def test_pieces_of_a_bar_equal_stepping_along_it(
    bar: float, piece: float, kerf: float, trim: float, remnant: float
) -> None:
    found = material.pieces_per_bar(bar, piece, kerf, trim, remnant)
    assert found.pieces == _step_along(bar, piece, kerf, trim, remnant)
    used = found.pieces * Decimal(str(piece)) + max(0, found.pieces - 1) * Decimal(str(kerf))
    assert found.left_mm == pytest.approx(float(Decimal(str(bar)) - used))
    assert found.pieces == 0 or found.left_mm >= trim + remnant - 1e-9


@given(st.integers(0, 500), st.integers(0, 500), st.integers(0, 3), st.integers(1, 3))
def test_a_value_within_its_limits_as_printed_is_never_refused(
    low: int, width: int, step: int, decimals: int
) -> None:
    ends = (f"{low / 10**decimals:.{decimals}f}", f"{(low + width) / 10**decimals:.{decimals}f}")
    inside = f"{(low + width * step / 3) / 10**decimals:.{decimals + 3}f}"
    (found,) = material.judge_certificate({"X": ends}, {"X": inside})
    assert found.verdict == "ok"


@given(st.integers(1, 999), st.integers(1, 3))
def test_a_value_one_unit_beyond_its_limit_is_never_passed(limit: int, decimals: int) -> None:
    printed = f"{limit / 10**decimals:.{decimals}f}"
    beyond = f"{(limit + 1) / 10**decimals:.{decimals}f}"
    (found,) = material.judge_certificate({"X": (None, printed)}, {"X": beyond})
    assert found.verdict == "above"
    (found,) = material.judge_certificate({"X": (beyond, None)}, {"X": printed})
    assert found.verdict == "below"


@pytest.mark.parametrize("printed", ["0,40", "about 0.4", "-0.1", "", "nan", "1e-3"])
def test_a_value_that_is_not_a_printed_decimal_is_refused(printed: str) -> None:
    with pytest.raises(OutOfRange, match="certificate"):
        material.judge_certificate({"Si": (None, "0.40")}, {"Si": printed})


def test_less_than_is_refused_where_it_does_not_decide() -> None:
    with pytest.raises(OutOfRange, match="certificate"):
        material.judge_certificate({"Si": ("0.20", None)}, {"Si": "<0.40"})
    with pytest.raises(OutOfRange, match="certificate"):
        material.judge_certificate({"Si": (None, "0.20")}, {"Si": "<0.40"})


@given(st.floats(1, 100), st.floats(0.1, 20))
def test_a_tube_is_a_round_bar_less_its_bore(outer: float, density: float) -> None:
    wall = outer / 5
    whole, bore = (material.mass_per_metre("round", d, density) for d in (outer, outer - 2 * wall))
    assert material.mass_per_metre("tube", (outer, wall), density) == pytest.approx(whole - bore)


def test_a_count_by_mass_is_wrong_about_as_often_as_it_says() -> None:
    random = np.random.default_rng(13)
    reference = random.normal(10.0, 0.15, size=(20_000, 40)).sum(axis=1)
    net = random.normal(10.0 * 150, 0.15 * np.sqrt(150), size=20_000)
    wrong = np.mean(
        [material.pieces_from_mass(n, r, 40, 0.015).pieces != 150 for n, r in zip(net, reference, strict=True)]
    )
    said = material.pieces_from_mass(1500.0, 400.0, 40, 0.015).chance_wrong
    assert wrong == pytest.approx(said, abs=0.015)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=10))
def test_the_whole_road_yields_no_more_than_its_worst_step(each: list[float]) -> None:
    assert yields.rolled_yield(each) <= min(each) + 1e-12


@given(st.integers(1, 1000), st.data())
def test_a_yield_is_a_share(entered: int, data: st.DataObject) -> None:
    good = data.draw(st.integers(0, entered))
    assert yields.first_pass_yield(entered, good) == good / entered
