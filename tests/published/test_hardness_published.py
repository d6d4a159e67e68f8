# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.hardness."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tallywright.computation import hardness
from tallywright.computation.errors import OutOfRange

Table = Callable[[str], list[dict[str, str]]]


def test_hardness_equals_the_printed_table_to_its_last_figure(table: Table) -> None:
    for row in table("brinell.csv"):
        found = hardness.brinell_kgf(float(row["force_kgf"]), float(row["ball_mm"]), float(row["diameter_mm"]))
        assert found == pytest.approx(float(row["hbw"]), abs=6e-5), row
        assert float(f"{found:.3g}") == float(row["printed"]), row


# Source: ISO 6506-1, table 2 (forces seen): 29420, 4903, 2452, 612.9 N; values recomputed with the printed
# 0.102.
NEWTONS = [
    (29420, 10, 4.00, 228.8311982),
    (4903, 10, 3.00, 69.12111333),
    (2452, 5, 1.40, 159.2211515),
    (612.9, 2.5, 0.70, 159.1951775),
]


@pytest.mark.parametrize(("force", "ball", "diameter", "hbw"), NEWTONS)
def test_hardness_from_newtons_takes_the_printed_factor(
    force: float, ball: float, diameter: float, hbw: float
) -> None:
    assert hardness.brinell(force, ball, diameter) == pytest.approx(hbw, rel=1e-8)


def test_the_same_load_for_the_area_of_the_ball_gives_the_same_hardness() -> None:
    # Source: follows from the formula: F / D^2 = 10 and d / D = 0.28 in all three.
    found = [hardness.brinell_kgf(*case) for case in ((250, 5, 1.4), (62.5, 2.5, 0.7), (1000, 10, 2.8))]
    assert found == pytest.approx([159.1549431] * 3, rel=1e-9)


@pytest.mark.parametrize("diameter", [2.39, 6.01])
def test_an_indentation_too_small_or_too_large_is_refused(diameter: float) -> None:
    # Source: ISO 6506-1, clause 7 (0.24 to 0.60 of the ball, seen); both ends themselves are inside.
    hardness.brinell_kgf(500, 10, 2.4)
    hardness.brinell_kgf(500, 10, 6.0)
    with pytest.raises(OutOfRange, match="diameter_mm"):
        hardness.brinell_kgf(500, 10, diameter)
