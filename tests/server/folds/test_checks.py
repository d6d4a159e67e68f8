# SPDX-License-Identifier: Apache-2.0
"""The checks at a machine: held to their vectors in both languages, in any order, and to what may never happen."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.check_due import is_due
from tallywright.folds.checks import Checks, exposure_at, fold_checks
from tallywright.folds.gathered import Gathered
from tallywright.folds.holds import fold_holds
from tallywright.records.decimal import billionths
from tallywright.records.decode import Record, decode
from tallywright.records.definition import PartDefinition
from tests import node
from tests.actors import ANYBODY, NOON
from tests.server.folds.checking import DIE_HEAT, HEIGHT, LAP, PART, Cell, random_cell
from tests.server.folds.test_bench import FOLD_BATCHES, agrees, orders_of, plain
from tests.server.folds.write_check_vectors import CASES

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "checks").glob("*.json"))
MINUTE = 60_000


def fold(records: list[Record], proven: dict[str, str]) -> Checks:
    return fold_checks(Gathered(records, proven), {ANYBODY: PART})


def of(cell: Cell) -> Checks:
    return fold(cell.records, cell.proven)


def test_there_is_a_vector_for_each_case() -> None:
    assert len(VECTORS) == len(CASES) > 10


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    definitions = {name: msgspec.convert(content, PartDefinition) for name, content in case["definitions"].items()}
    state = fold_checks(Gathered(records, case["proven"]), definitions)
    found = json.loads(msgspec.json.encode(state))
    assert agrees(case["expect"], found), found
    for order in orders_of(records):
        assert fold_checks(Gathered([*order, *order[:2]], case["proven"]), definitions) == state


@pytest.mark.parametrize("seed", range(60))
def test_the_checks_are_a_function_of_the_set_of_records(seed: int) -> None:
    cell = random_cell(seed)
    state = of(cell)
    for order in orders_of(cell.records):
        assert fold([*order, *order[: seed % 7]], cell.proven) == state


@pytest.mark.parametrize("seed", range(60))
def test_what_was_taken_back_leaves_the_checks_as_if_it_had_never_been(seed: int) -> None:
    cell = random_cell(seed)
    dead = Gathered(cell.records, cell.proven).dead
    assert of(cell) == fold([record for record in cell.records if record.id not in dead], cell.proven)


def test_both_languages_fold_random_checks_to_the_same_state() -> None:
    cells = [random_cell(seed) for seed in range(300)]
    lines = [msgspec.json.encode({ANYBODY: PART})]
    for cell in cells:
        records = [record.line.decode() for record in cell.records]
        lines.append(json.dumps({"records": records, "proven": cell.proven}).encode())
    answer = node.run([FOLD_BATCHES, "checks"], b"\n".join(lines)).decode().splitlines()
    assert len(answer) == len(cells)
    for seed, (cell, theirs) in enumerate(zip(cells, answer, strict=True)):
        mine: Any = of(cell)
        assert json.loads(theirs) == plain(mine), f"seed {seed}"


@pytest.mark.parametrize("seed", range(60))
def test_no_check_leaves_the_list_because_another_was_made(seed: int) -> None:
    cell = random_cell(seed)
    gathered = Gathered(cell.records, cell.proven)
    taken = {record.id for record in gathered.standing if record.envelope.kind == "check_taken"}
    assert {one.id for one in of(cell).checks} == taken


@pytest.mark.parametrize("seed", range(60))
def test_pieces_since_the_last_good_check_are_never_fewer_than_none(seed: int) -> None:
    for one in of(random_cell(seed)).exposures:
        assert one.pieces == "unknown" or one.pieces >= 0


DECIMALS = st.from_regex(r"-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?", fullmatch=True)


@given(DECIMALS, DECIMALS)
def test_what_gauges_show_is_compared_as_numbers(one: str, other: str) -> None:
    assert (billionths(one) < billionths(other)) == (Decimal(one) < Decimal(other))
    assert (billionths(one) == billionths(other)) == (Decimal(one) == Decimal(other))


def test_a_check_out_of_its_limits_holds_the_batch_where_its_plan_says_so_and_for_good() -> None:
    cell = Cell()
    cell.start()
    bad = cell.take(LAP, "no", 0, role="first_off")
    cell.take(HEIGHT, "14.00", 0, role="first_off")  # plan R1: stop and correct, no hold
    cell.take(LAP, "yes", 0, role="first_off", repeats=bad, typing_error=True)
    held = fold_holds(Gathered(cell.records, cell.proven), {ANYBODY: PART}).holds
    assert [(hold.id, hold.cause, hold.lifted_by) for hold in held] == [(bad, "check", "")]


def test_a_check_taken_back_leaves_its_hold() -> None:
    cell = Cell()
    cell.start()
    bad = cell.take(LAP, "no", 0, role="first_off")
    cell.take_back(bad)
    [held] = fold_holds(Gathered(cell.records, cell.proven), {ANYBODY: PART}).holds
    assert (held.id, held.cause, held.cause_withdrawn) == (bad, "check", True)


def test_after_half_an_hour_without_a_number_nobody_knows_how_many_were_made() -> None:
    cell = Cell()
    cell.start()
    cell.first_offs()
    cell.make(20)
    told = NOON + cell.minute * MINUTE
    state = of(cell)
    [forge] = state.operations
    height = next(one for one in state.exposures if one.characteristic == HEIGHT)
    assert exposure_at(height, forge, told + 30 * MINUTE) == 20
    assert exposure_at(height, forge, told + 30 * MINUTE + 1) == "unknown"


def test_what_is_due_by_the_hour_is_due_by_the_moment_that_is_asked() -> None:
    cell = Cell()
    cell.start()
    began = NOON + cell.minute * MINUTE
    [heat] = [one for one in of(cell).due if one.characteristic == DIE_HEAT]
    assert not is_due(heat, "unknown", began + 60 * MINUTE - 1)
    assert is_due(heat, "unknown", began + 60 * MINUTE)
    cell.take(DIE_HEAT, "180", 0)
    [heat] = [one for one in of(cell).due if one.characteristic == DIE_HEAT]
    assert not is_due(heat, 0, began + 60 * MINUTE)
