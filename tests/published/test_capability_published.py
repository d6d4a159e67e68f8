# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.capability."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from tallywright.computation import capability, chart_constants
from tallywright.computation.rate_limit import Interval

Table = Callable[[str], list[dict[str, str]]]


def _rings(table: Table) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    rows = [row for row in table("piston_rings.csv") if int(row["sample"]) <= 25]
    return np.array([float(row["diameter_mm"]) for row in rows])


def _ends(interval: Interval | None) -> tuple[float, float]:
    assert interval is not None
    return interval.lower, interval.upper


def test_piston_rings_have_the_indices_of_the_reference(table: Table) -> None:
    # Source: a statistics reference library; it takes d2 = 2.326, this room 2.325929, which is 3e-5 relative.
    rings = _rings(table)
    ranges = np.ptp(rings.reshape(25, 5), axis=1)
    sd = float(ranges.mean()) / chart_constants.shewhart_constants(5).d2
    found = capability.capability(float(rings.mean()), sd, 125, 73.95, 74.05)
    assert (found.cp, found.cpk_lower, found.cpk_upper, found.cpk, found.cpm) == pytest.approx(
        (1.703228579, 1.743288515, 1.663168643, 1.663168643, 1.69106021), rel=1e-6
    )
    assert _ends(found.cp_interval) == pytest.approx((1.491365332, 1.914767885), rel=1e-6)
    assert _ends(found.cpk_interval) == pytest.approx((1.44808424, 1.878253046), rel=1e-6)


def test_one_side_of_the_rings_at_97_5_percent_is_not_the_narrower_one_of_the_reference() -> None:
    # A statistics reference library prints z = 1.645 intervals of one side under 2.5 % and 97.5 %: they are
    # 90 %
    # intervals, and this room calls them so.
    assert _ends(capability.cpk_interval(1.743288515, 125, 0.90)) == pytest.approx(
        (1.554716665, 1.931860365), rel=1e-6
    )
    assert _ends(capability.cpk_interval(1.663168643, 125, 0.90)) == pytest.approx(
        (1.482664122, 1.843673164), rel=1e-6
    )
    assert capability.cpk_interval(1.663168643, 125).lower < 1.482664122


def test_piston_rings_off_their_target_have_the_interval_with_the_square(table: Table) -> None:
    # Source: Boyles (1991), formula from memory; own computation. A statistics reference library leaves out
    # the
    # square and prints 1.0764 to 1.4531, which covers 99.1 % instead of 95 %.
    rings = _rings(table)
    sd = float(np.ptp(rings.reshape(25, 5), axis=1).mean()) / chart_constants.shewhart_constants(5).d2
    found = capability.capability(float(rings.mean()), sd, 125, 73.95, 74.05, target=74.01)
    assert found.cpm == pytest.approx(1.264893954, rel=1e-6)
    assert _ends(found.cpm_interval) == pytest.approx((1.124799823, 1.404792657), rel=1e-6)


def test_piston_rings_by_their_overall_standard_deviation(table: Table) -> None:
    # Source: ISO 22514-2, common definition (overall s with n - 1); own computation.
    rings = _rings(table)
    mean, sd = float(rings.mean()), float(rings.std(ddof=1))
    found = capability.capability(mean, sd, 125, 73.95, 74.05)
    assert (mean, sd) == pytest.approx((74.001176, 0.01006996813), rel=1e-9)
    assert (found.cp, found.cpk) == pytest.approx((1.655086338, 1.616158707), rel=1e-8)


def test_intervals_equal_the_table(table: Table) -> None:
    for row in table("capability_intervals.csv"):
        n, index = int(row["n"]), float(row["index"])
        found = (*_ends(capability.cp_interval(index, n)), *_ends(capability.cpk_interval(index, n)))
        wanted = [float(row[name]) for name in ("cp_lower", "cp_upper", "cpk_lower", "cpk_upper")]
        assert found == pytest.approx(wanted, abs=6e-5), row
        one_sided = capability.cpk_interval(index, n, 0.90).lower
        assert one_sided == pytest.approx(float(row["cpk_one_sided"]), abs=6e-5), row


def test_the_textbook_interval_of_cp_is_the_printed_one() -> None:
    # Source: Montgomery, 6th ed., examples 8.4 and 8.5 (inputs and prints 2.29, 1.57, 3.01 from memory):
    # limits 38
    # and 62, s 1.75, n 20. The remembered print of the interval of cpk is not reproduced and not asserted.
    cp = (62 - 38) / (6 * 1.75)
    assert cp == pytest.approx(2.285714286, rel=1e-9)
    assert _ends(capability.cp_interval(cp, 20)) == pytest.approx((1.564945005, 3.00557943), rel=1e-8)
    assert _ends(capability.cpk_interval(1.33, 20)) == pytest.approx((0.8826060506, 1.777393949), rel=1e-8)


# Source: noncentral t, the mathematics of one-sided tolerance factors; own computation with the quantiles
# of scipy.
ONE_SIDED = [(10, 0.7773139245), (20, 0.9486845281), (30, 1.021557254), (50, 1.093070246)]


@pytest.mark.parametrize(("n", "lower"), ONE_SIDED)
def test_an_index_of_1_33_against_one_limit_has_its_exact_lower_end(n: int, lower: float) -> None:
    assert capability.one_sided_index_lower(1.33, n, 0.95) == pytest.approx(lower, rel=1e-7)


def test_percentiles_of_even_places_are_themselves() -> None:
    # Source: by hand: 1..999 at places p (n + 1): 1.35, 500 and 998.65; U = 1100, L = 0.
    found = capability.capability_by_percentiles(np.arange(1, 1000), 0.0, 1100.0)
    assert (found.low, found.median, found.high) == pytest.approx((1.35, 500.0, 998.65), rel=1e-12)
    assert found.cp == pytest.approx(1100 / 997.3, rel=1e-12)
    assert (found.cpk_lower, found.cpk_upper) == pytest.approx((500 / 498.65, 600 / 498.65), rel=1e-12)
