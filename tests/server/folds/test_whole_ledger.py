# SPDX-License-Identifier: Apache-2.0
"""The whole ledger: whatever was recorded, its sum is one of the set of records, and nothing is lost in it."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.bench import fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.folds.route import fold_route
from tallywright.folds.whole_ledger import WholeLedger, fold_whole_ledger
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.route import LotReturnedV1, LotSentV1, OperationFinishedV1, OperationStartedV1
from tests.actors import ANYBODY
from tests.server.folds.random_batches import PARTS, Batch
from tests.server.folds.routing import LOT


class RoutedBatch(Batch):
    """A random batch at the bench with operations before, between and behind its looks."""

    def __init__(self, seed: int) -> None:
        super().__init__(seed)
        self.chance = random.Random(seed + 1)
        for operation in self.chance.sample([20, 40, 60, 124, 140], self.chance.randint(0, 4)):
            self._stint(operation)
        if self.chance.random() < 0.5:
            self._put(LotSentV1(lot=LOT, operation=100, pieces=self.chance.randint(10, 20)))
            self._put(LotReturnedV1(lot=LOT, operation=110, counted=self.chance.randint(10, 20), foreign=1))

    def _stint(self, operation: int) -> None:
        chance = self.chance
        aside: dict[str, Any] = {"look": "first"} if operation == 124 else {}
        started = self._put(OperationStartedV1(operation=operation, **aside)).id
        self._put(
            OperationFinishedV1(
                started=started,
                operation=operation,
                pieces_in=chance.randint(10, 20),
                pieces_out=chance.randint(8, 20),
                scrap=chance.randint(0, 2),
                set_up=chance.randint(0, 1),
                samples=0,
                **aside,
            )
        )

    def _put(self, body: Body) -> Record:
        return self._add(self.chance.choice("bcd"), body)


def fold(batch: Batch, records: list[Record]) -> WholeLedger:
    gathered = Gathered(records, batch.proven)
    state = fold_bench(gathered, PARTS)
    return fold_whole_ledger(gathered, state, fold_route(gathered, state.holds.requests))


@pytest.mark.parametrize("seed", range(120))
def test_what_went_in_is_accounted_for_to_the_piece(seed: int) -> None:
    batch = RoutedBatch(seed)
    ledger = fold(batch, batch.records)
    used = ledger.scrap + ledger.samples_and_set_up + ledger.missing + ledger.taken
    assert ledger.pieces_in == ledger.good + used
    for step in ledger.steps:
        out = step.pieces_out + step.scrap + step.set_up + step.samples
        assert step.pieces_in == out + step.missing


@given(st.integers(0, 100_000), st.randoms(use_true_random=False))
def test_the_ledger_is_a_function_of_the_set_of_records(seed: int, chance: Any) -> None:
    batch = RoutedBatch(seed)
    mixed = [*batch.records, *batch.records[: seed % 7]]
    chance.shuffle(mixed)
    assert fold(batch, mixed) == fold(batch, batch.records)


@pytest.mark.parametrize("seed", range(120))
def test_what_is_missing_is_named_by_lines_as_soon_as_operations_were_counted(seed: int) -> None:
    batch = RoutedBatch(seed)
    ledger = fold(batch, batch.records)
    is_counted = any(not step.is_look and not step.look for step in ledger.steps)
    if is_counted and ledger.closes:
        named = {line.kind for line in ledger.lines if line.accepted_by}
        assert ledger.missing == 0 or named
    if not ledger.lines:
        assert ledger.closes == (ledger.missing == 0)


def test_nobody_knows_anything_of_a_batch_without_records() -> None:
    ledger = fold(Batch(0), [])
    assert (ledger.pieces_in, ledger.good, ledger.steps, ledger.lines) == (0, 0, (), ())
    assert ANYBODY in PARTS
