# SPDX-License-Identifier: Apache-2.0
"""Receipts and the holds they cause: held to vectors both languages read, in any order, and to what may not be."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.receipts import same_cast
from tallywright.records.decode import Record, decode
from tests.server.folds.gate import Gate, holds_of, random_gate, state_of
from tests.server.folds.test_bench import agrees, orders_of
from tests.server.folds.write_receipt_vectors import CASES

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "receipts").glob("*.json"))


def answer(records: list[Record], proven: dict[str, str], batch: str, receipts: list[str]) -> dict[str, Any]:
    states = {name: state_of(records, proven, name) for name in receipts}
    holds = holds_of(records, proven, batch).holds
    found = {"receipts": states, "holds": holds}
    return dict(json.loads(msgspec.json.encode(found)))


def test_there_is_a_vector_for_each_case() -> None:
    assert len(VECTORS) == len(CASES) > 10


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    asked = (case["proven"], case["batch"], list(case["expect"]["receipts"]))
    found = answer(records, *asked)
    assert agrees(case["expect"], found), found
    assert found["holds"] == case["expect"]["holds"]
    for order in orders_of(records):
        assert answer([*order, *order[:2]], *asked) == found


@given(st.integers(0, 100_000), st.randoms(use_true_random=False))
def test_a_state_is_a_function_of_the_set_of_records(seed: int, chance: Any) -> None:
    gate = random_gate(seed)
    mixed = [*gate.records, *gate.records[:3]]
    chance.shuffle(mixed)
    of = (gate.proven, gate.batch, gate.receipts())
    assert answer(mixed, *of) == answer(gate.records, *of)


@given(st.integers(0, 100_000))
def test_a_hold_of_the_metal_stands_whatever_comes_until_it_is_granted(seed: int) -> None:
    gate = random_gate(seed)
    before: set[str] = set()
    for upto in range(1, len(gate.records) + 1):
        holds = holds_of(gate.records[:upto], gate.proven, gate.batch).holds
        assert before <= {one.id for one in holds}
        before = {one.id for one in holds}


@given(st.integers(0, 100_000))
def test_what_was_cut_without_a_hold_was_cut_on_a_certificate_and_a_mark(seed: int) -> None:
    gate = random_gate(seed)
    held = {one.id for one in holds_of(gate.records, gate.proven, gate.batch).holds}
    for record in gate.records:
        if record.envelope.kind == "bars_issued" and record.id not in held:
            kinds = {one.envelope.kind for one in gate.of(json.loads(bytes(record.envelope.body))["receipt"])}
            assert {"certificate_judged", "cast_mark_read"} <= kinds


def test_a_cast_is_the_same_with_or_without_what_people_put_between() -> None:
    assert same_cast("C-4711", "c 4711")
    assert same_cast("a/1.2_3", "A123")
    assert not same_cast("C-4711", "C-4712")
    assert not same_cast("ß1", "SS1")


def test_a_batch_that_names_a_receipt_nobody_holds_is_on_hold() -> None:
    gate = Gate()
    receipt = gate.receive()
    issue = gate.issue(receipt)
    batch = [record for record in gate.records if record.subject == gate.batch]
    assert [one.id for one in holds_of(batch, gate.proven, gate.batch).holds] == [issue]
