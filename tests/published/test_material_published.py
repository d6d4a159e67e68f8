# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.material."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tallywright.computation import material

Table = Callable[[str], list[dict[str, str]]]


def _alloy(table: Table, alloy: str) -> dict[str, tuple[str | None, str | None]]:
    # The base metal is printed as "remainder" and is not judged.
    rows = [row for row in table("composition_limits.csv") if row["alloy"] == alloy and row["element"] != "Al"]
    return {row["element"]: (row["min_percent"] or None, row["max_percent"] or None) for row in rows}


def test_a_certificate_inside_the_limits_of_its_alloy_is_ok(table: Table) -> None:
    # Limits of EN 573-3 (seen); the certificate is invented and lies in the middle of each.
    limits = _alloy(table, "EN AW-6082")
    middle = {element: f"{(float(low or 0) + float(high or 0)) / 2:.3f}" for element, (low, high) in limits.items()}
    assert {finding.verdict for finding in material.judge_certificate(limits, middle)} == {"ok"}


def test_every_limit_of_every_alloy_can_be_judged_at_itself(table: Table) -> None:
    # Limits of EN 573-3 and ASTM B221M (seen): a value just at a limit is within it.
    for alloy in {row["alloy"] for row in table("composition_limits.csv")}:
        for element, (low, high) in _alloy(table, alloy).items():
            for end in (low, high):
                if end is not None:
                    (finding,) = material.judge_certificate({element: (low, high)}, {element: end})
                    assert finding.verdict == "ok", (alloy, element, end)


# Source: ISO 80000-1, annex B, and ASTM E29, rounding method (rules from memory), worked by hand. Columns:
# limits, value,
# verdict half to even, verdict half up.
ROUNDED = [
    ((None, "0.40"), "0.404", "ok", "ok"),
    ((None, "0.40"), "0.405", "ok", "above"),
    ((None, "0.40"), "0.406", "above", "above"),
    ((None, "0.7"), "0.75", "above", "above"),
    ((None, "0.70"), "0.704", "ok", "ok"),
    ((None, "0.7"), "0.704", "ok", "ok"),
    (("0.40", "1.0"), "0.395", "ok", "ok"),
    (("0.40", "1.0"), "0.394", "below", "below"),
    (("0.6", "1.2"), "1.25", "ok", "above"),
    ((None, "0.05"), "<0.01", "ok", "ok"),
    (("0.6", None), "<0.5", "below", "below"),
]


@pytest.mark.parametrize(("limits", "value", "even", "up"), ROUNDED)
def test_values_are_rounded_to_the_decimals_of_the_limit(
    limits: tuple[str | None, str | None], value: str, even: str, up: str
) -> None:
    (by_even,) = material.judge_certificate({"Mn": limits}, {"Mn": value})
    (by_up,) = material.judge_certificate({"Mn": limits}, {"Mn": value}, rounding="half_up")
    assert (by_even.verdict, by_up.verdict, by_even.value) == (even, up, value)


def test_an_element_that_the_certificate_leaves_out_is_missing() -> None:
    # Source: definition.
    (finding,) = material.judge_certificate({"Mg": ("0.6", "1.2")}, {"Si": "1.0"})
    assert (finding.verdict, finding.value, finding.limit) == ("missing", None, "0.6..1.2")


def test_round_bar_has_the_mass_of_the_table(table: Table) -> None:
    densities = {row["alloy"]: float(row["g_cm3"]) for row in table("densities.csv")}
    for row in table("round_bar.csv"):
        found = material.mass_per_metre("round", float(row["diameter_mm"]), densities[row["alloy"]])
        assert found == pytest.approx(float(row["kg_per_m"]), rel=1e-5, abs=6e-7), row


# Source: definition, own computation; densities of 7075 2.81 and of 6082 2.70 g/cm3 from public data sheets.
SECTIONS: list[tuple[str, float | tuple[float, float], float, float]] = [
    ("round", 20, 2.81, 0.8827875357),
    ("round", 20, 2.70, 0.8482300165),
    ("square", 20, 2.81, 1.124),
    ("hexagon", 19, 2.81, 0.8785048299),
    ("tube", (30, 3), 2.70, 0.6870663133),
    ("flat", (40, 10), 2.81, 1.124),
]


@pytest.mark.parametrize(("section", "sizes", "density", "mass"), SECTIONS)
def test_sections_have_the_mass_by_hand(
    section: str, sizes: float | tuple[float, float], density: float, mass: float
) -> None:
    assert material.mass_per_metre(section, sizes, density) == pytest.approx(mass, rel=1e-9)


# Source: definition, checked by stepping along the bar. Columns: bar, trim, remnant, piece, kerf, pieces,
# left.
BARS = [
    (3000, 0, 0, 148, 3, 19, 134),
    (3000, 10, 60, 148, 3, 19, 134),
    (3000, 10, 60, 146.5, 3, 19, 162.5),
    (4000, 5, 80, 120, 2.2, 32, 91.8),
    (3000, 0, 0, 3000, 3, 1, 0),
    (100, 0, 0, 148, 3, 0, 100),
    (3000, 0, 0, 147, 3, 20, 3),
]


@pytest.mark.parametrize("row", BARS)
def test_a_bar_gives_the_pieces_by_stepping(row: tuple[float, float, float, float, float, int, float]) -> None:
    bar, trim, remnant, piece, kerf, pieces, left = row
    assert material.pieces_per_bar(bar, piece, kerf, trim, remnant) == material.BarCut(pieces, left)


def test_the_demo_batch_has_its_recovery() -> None:
    # Source: the demo works (invented): 728 blanks of 80.3 g issued, 633 pieces of, say, 71 g released.
    assert material.recovery(633 * 71.0, 728 * 80.3) == pytest.approx(0.76880, abs=5e-5)


def test_pieces_by_mass_are_wrong_as_often_as_by_hand() -> None:
    # Source: by hand: 50 pieces weigh 3550 g, 14200 g are 200 pieces; with cv 0.4 % sd = 0.004 sqrt(200 +
    # 800) =
    # 0.1265, and 2 Phi(-0.5 / 0.1265) = 2 Phi(-3.953) = 7.7e-5.
    found = material.pieces_from_mass(14200, 3550, 50, 0.004)
    assert found.pieces == 200
    assert found.sd == pytest.approx(0.126491, rel=1e-5)
    assert found.chance_wrong == pytest.approx(7.7e-5, rel=0.01)
