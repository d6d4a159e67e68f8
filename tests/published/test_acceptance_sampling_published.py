# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.acceptance_sampling. The tables are those of MIL-STD-105E."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy import optimize

from tallywright.computation import acceptance_sampling, sampling_tables
from tallywright.computation.acceptance_sampling import Plan, SwitchingState

Table = Callable[[str], list[dict[str, str]]]


def test_every_code_letter_is_the_printed_one(table: Table) -> None:
    for row in table("code_letters.csv"):
        ends = [int(row["lot_min"])] + ([int(row["lot_max"])] if row["lot_max"] else [10**7])
        for level in ("S-1", "S-2", "S-3", "S-4", "I", "II", "III"):
            for lot in ends:
                assert acceptance_sampling.code_letter(lot, level) == row[level], (row, level)


@pytest.mark.parametrize(("severity", "cells"), [("normal", 416), ("tightened", 442), ("reduced", 416)])
def test_every_cell_of_the_plans_is_the_printed_one(
    table: Table, severity: sampling_tables.Severity, cells: int
) -> None:
    rows = table(f"plans_{severity}.csv")
    assert len(rows) == cells
    for row in rows:
        cell = sampling_tables.cell_of(
            severity,
            sampling_tables.LETTERS.index(row["letter"]),
            sampling_tables.QUALITY_LEVELS.index(row["aql"]),
        )
        assert (cell if isinstance(cell, str) else f"{cell[0]}/{cell[1]}") == row["cell"], row
        plan = acceptance_sampling.single_plan(row["letter"], row["aql"], severity)
        wanted = tuple(int(row[name]) for name in ("use_n", "use_accept", "use_reject"))
        assert (plan.n, plan.accept, plan.reject) == wanted, row
        if not isinstance(cell, str):
            assert plan.letter == row["letter"]


# Source: MIL-STD-105E, tables II-A, II-B, II-C (seen in public copies, except II-C). Columns: severity,
# letter, level,
# n, accept, reject; the arrows lead in both directions.
EXAMPLES: list[tuple[sampling_tables.Severity, str, float, int, int, int]] = [
    ("normal", "H", 1.0, 50, 1, 2),
    ("normal", "J", 0.65, 80, 1, 2),
    ("normal", "G", 1.0, 50, 1, 2),
    ("normal", "F", 1.0, 13, 0, 1),
    ("normal", "K", 2.5, 125, 7, 8),
    ("normal", "R", 0.015, 800, 0, 1),
    ("tightened", "J", 1.0, 80, 1, 2),
    ("tightened", "K", 1.0, 125, 2, 3),
    ("tightened", "H", 1.0, 80, 1, 2),
    ("tightened", "G", 1.0, 80, 1, 2),
    ("tightened", "F", 1.0, 20, 0, 1),
    ("tightened", "A", 10, 8, 1, 2),
    ("reduced", "J", 1.0, 32, 1, 3),
    ("reduced", "K", 1.0, 50, 1, 4),
    ("reduced", "L", 2.5, 80, 5, 8),
    ("reduced", "H", 1.0, 20, 0, 2),
    ("reduced", "F", 10, 8, 2, 5),
]


@pytest.mark.parametrize("example", EXAMPLES)
def test_plans_named_in_the_text_are_found(
    example: tuple[sampling_tables.Severity, str, float, int, int, int],
) -> None:
    severity, letter, aql, n, accept, reject = example
    plan = acceptance_sampling.single_plan(letter, aql, severity)
    assert (plan.n, plan.accept, plan.reject) == (n, accept, reject)


def test_the_thirteen_arrows_below_acceptance_on_none_point_down_in_tightened_inspection(table: Table) -> None:
    # A statistics reference library resolves them upwards; two public copies of the table point down.
    rows = [row for row in table("plans_tightened.csv") if row["cell"] == "down"]
    places = {
        (sampling_tables.LETTERS.index(row["letter"]), sampling_tables.QUALITY_LEVELS.index(row["aql"]))
        for row in rows
    }
    assert len([place for place in places if sum(place) == 16]) == 15
    for letter, level in places:
        plan = acceptance_sampling.single_plan(
            sampling_tables.LETTERS[letter], sampling_tables.QUALITY_LEVELS[level], "tightened"
        )
        assert plan.n > sampling_tables.SIZES["tightened"][letter]


def test_qualities_on_the_curve_of_every_normal_plan_equal_the_table(table: Table) -> None:
    for row in table("oc_points.csv"):
        n, accept = int(row["n"]), int(row["accept"])

        def chance(percent: float, n: int = n, accept: int = accept, model: str = row["model"]) -> float:
            kind = "binomial" if model == "binom" else "poisson"
            return acceptance_sampling.acceptance_probability(n, accept, percent / 100, kind)  # type: ignore[arg-type]  # a text that is one of the literals

        for level in ("99", "95", "90", "75", "50", "25", "10", "05", "01"):
            top = 100.0 if row["model"] == "binom" else 1e5
            quality = optimize.brentq(lambda q, level=level: chance(q) - int(level) / 100, 0.0, top, rtol=1e-9)
            assert quality == pytest.approx(float(row["p" + level]), rel=6e-4), (row, level)
        assert chance(float(row["aql"])) == pytest.approx(float(row["at_aql"]), rel=2e-3), row


# Source: MIL-STD-105E, tables X-F and X-J at AQL 0.65 (print from memory, three figures). In J two last
# digits
# differ: .188 printed, .187 computed; 5.80 printed, 5.79 computed.
PRINTED_CURVES = [
    (20, 0, [0.0502, 0.256, 0.525, 1.43, 3.41, 6.70, 10.9, 13.9, 20.6]),
    (80, 1, [0.188, 0.446, 0.667, 1.20, 2.09, 3.33, 4.78, 5.80, 8.01]),
]


@pytest.mark.parametrize(("n", "accept", "qualities"), PRINTED_CURVES)
def test_printed_curves_are_reproduced_to_their_last_figure(n: int, accept: int, qualities: list[float]) -> None:
    levels = [0.99, 0.95, 0.90, 0.75, 0.50, 0.25, 0.10, 0.05, 0.01]
    for level, quality in zip(levels, qualities, strict=True):
        # The chance is held one and a half units in the last printed place to either side.
        unit = 1.5 * 10 ** (math.floor(math.log10(quality)) - 2)
        low, high = (
            acceptance_sampling.acceptance_probability(n, accept, (quality + side * unit) / 100) for side in (1, -1)
        )
        assert low <= level <= high


# Source: a statistics reference library, double plan of two samples of 125, accept 1 then 4, reject 4 then 5.
DOUBLE_PLAN = [(0.005, 0.99080719), (0.01, 0.8999559811), (0.02, 0.485767999), (0.04, 0.05280192902)]


@pytest.mark.parametrize(("quality", "chance"), DOUBLE_PLAN)
def test_a_double_plan_put_together_from_single_ones_has_the_published_chance(
    quality: float, chance: float
) -> None:
    def at_most(count: int) -> float:
        return acceptance_sampling.acceptance_probability(125, count, quality)

    second = sum((at_most(x) - at_most(x - 1)) * at_most(4 - x) for x in (2, 3))
    assert at_most(1) + second == pytest.approx(chance, rel=1e-8)


def test_acceptance_on_zero_needs_the_sample_of_the_table(table: Table) -> None:
    for row in table("accept_on_zero.csv"):
        found = acceptance_sampling.zero_acceptance_size(int(row["lot"]), int(row["defectives"]), 0.10)
        assert found == int(row["n"]), row


# Source: a statistics reference library: lot of 100, sample of 20, accept none.
LOT_CHANCES = [(1, 0.8), (2, 0.638384), (5, 0.319309), (10, 0.0951163)]


@pytest.mark.parametrize(("defectives", "chance"), LOT_CHANCES)
def test_a_small_lot_is_accepted_as_often_as_published(defectives: int, chance: float) -> None:
    found = acceptance_sampling.acceptance_probability_lot(20, 0, defectives, 100)
    assert found == pytest.approx(chance, rel=2e-6)
    assert acceptance_sampling.acceptance_probability(20, 0, defectives / 100, lot=100) == found


def test_a_plan_made_to_order_is_next_to_that_of_the_textbook() -> None:
    # Source: Montgomery, chapter on lot-by-lot sampling, p1 .01, Pa .95, p2 .06, Pa .10: n 89, accept 2,
    # read off a
    # nomograph (print from memory). Exactly, 89 pieces accept good quality with .9397 and 88 keep Pa(p2) at
    # .0959, so
    # a promise of .95 needs one more allowed piece.
    assert acceptance_sampling.acceptance_probability(89, 2, 0.01) == pytest.approx(0.9396899183, rel=1e-9)
    assert acceptance_sampling.design_plan(0.01, 0.94, 0.06, 0.10) == Plan(None, 88, 2, 3)
    assert acceptance_sampling.design_plan(0.01, 0.95, 0.06, 0.10) == Plan(None, 110, 3, 4)


def _follow(severity: str, lots: str, reduced_allowed: bool = False) -> list[str]:
    state = SwitchingState(severity)  # type: ignore[arg-type]  # a text that is one of the literals
    states: list[str] = []
    for lot in lots.split():
        state = state.after(lot == "A", reduced_allowed)
        states.append(state.severity)
    return states


def test_two_of_four_lots_not_accepted_tighten() -> None:
    # Source: MIL-STD-105E, 4.7.1: lots 3 and 6 are two of the four consecutive lots 3 to 6.
    assert _follow("normal", "A A R A A R") == ["normal"] * 5 + ["tightened"]


def test_lots_six_apart_do_not_tighten() -> None:
    # Source: MIL-STD-105E, 4.7.1: no five consecutive lots hold both.
    assert set(_follow("normal", "R A A A A R")) == {"normal"}


def test_five_accepted_in_a_row_end_tightened_inspection() -> None:
    # Source: MIL-STD-105E, 4.7.2.
    assert _follow("tightened", "A A A A A") == ["tightened"] * 4 + ["normal"]


def test_five_lots_not_accepted_discontinue_and_not_ten() -> None:
    # Source: MIL-STD-105E, 4.8: cumulative five on tightened inspection; MIL-STD-105D had ten lots (from
    # memory).
    assert _follow("tightened", "A R A A R A R A R A R") == ["tightened"] * 10 + ["discontinued"]


def test_ten_accepted_lots_allow_reduced_inspection() -> None:
    # Source: MIL-STD-105E, 4.7.3; the limit number of table VIII is the caller's.
    assert _follow("normal", "A " * 10, reduced_allowed=True) == ["normal"] * 9 + ["reduced"]
    assert set(_follow("normal", "A " * 12)) == {"normal"}


def test_a_count_between_accept_and_reject_accepts_and_ends_reduced_inspection() -> None:
    # Source: MIL-STD-105E, 4.7.4: n 32, accept 1, reject 3, two defective pieces found.
    plan = acceptance_sampling.single_plan("J", 1.0, "reduced")
    assert plan == Plan("J", 32, 1, 3)
    assert _follow("reduced", "A", reduced_allowed=False) == ["normal"]
    assert _follow("reduced", "R", reduced_allowed=True) == ["normal"]
