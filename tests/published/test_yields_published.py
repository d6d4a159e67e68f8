# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.yields."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tallywright.computation import yields
from tallywright.computation.errors import OutOfRange

Table = Callable[[str], list[dict[str, str]]]


def test_four_steps_have_the_printed_first_pass_and_rolled_yields(table: Table) -> None:
    # Printed .8500, .8889, .8125, .8267 and .5075 (seen).
    steps = table("four_steps.csv")
    passes = [
        yields.first_pass_yield(int(step["entered"]), int(step["good_out"]) - int(step["reworked"]))
        for step in steps
    ]
    assert passes == pytest.approx([0.85, 0.8888888889, 0.8125, 0.8266666667], rel=1e-9)
    assert yields.rolled_yield(passes) == pytest.approx(0.5074814815, rel=1e-9)


def test_four_steps_have_the_printed_yield_when_rework_counts_as_good(table: Table) -> None:
    # Printed .9000, .8889, .9375, .9333 and .7000 (seen).
    steps = table("four_steps.csv")
    each = [yields.first_pass_yield(int(step["entered"]), int(step["good_out"])) for step in steps]
    assert each == pytest.approx([0.9, 0.8888888889, 0.9375, 0.9333333333], rel=1e-9)
    assert yields.rolled_yield(each) == pytest.approx(0.7, rel=1e-9)


def test_nine_defects_in_150_units_of_eight_opportunities_are_7500_per_million() -> None:
    # Source: a public teaching page prints .06, .0075 and 7500.
    assert yields.defects_per_million(9, 150, 8) == pytest.approx(7500, rel=1e-12)
    assert yields.defects_per_million(9, 150, 1) / 1e6 == pytest.approx(0.06, rel=1e-12)


def test_no_units_have_no_yield() -> None:
    # Source: definition: the quotient does not exist, and neither 0 nor 100 % is shown for it.
    with pytest.raises(OutOfRange, match="entered"):
        yields.first_pass_yield(0, 0)
