# SPDX-License-Identifier: Apache-2.0
"""What can have made a find: one thing where exactly one was at work, several else, and never a guess."""

from __future__ import annotations

from typing import Any

from msgspec import UNSET

from tallywright.folds.gathered import Gathered
from tallywright.folds.origins import Origin, fold_origins
from tallywright.folds.route import fold_route
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record
from tallywright.records.envelope import LARGEST_INTEGER, Body
from tallywright.records.people import SignedOnV1
from tallywright.records.route import (
    LoadFilledV1,
    LotReturnedV1,
    LotSentV1,
    OperationFinishedV1,
    OperationStartedV1,
)

NOON = 1_795_608_000_000
HOUR = 3_600_000
BATCH, DEFINITION, LOAD, OTHER_LOAD, LOT = (f"{'b' * 26}:{n}" for n in range(1, 6))


class Batch:
    """A batch on its way: the records of one tablet, whose author is proven."""

    def __init__(self) -> None:
        self._writer = ChainWriter("a" * 26, f"{'d' * 26}:1", "Europe/Berlin", site=f"{'d' * 26}:1")
        self.records: list[Record] = []
        self._signed = self.say(SignedOnV1(person=f"{'p' * 26}:1"), 0).id

    def say(self, body: Body, hours: float) -> Record:
        about: dict[str, Any] = {} if isinstance(body, SignedOnV1) else {"batch": BATCH, "sign_on": self._signed}
        record = self._writer.add(body, NOON + int(hours * HOUR), offset_min=60, skew_ms=0, **about)
        self.records.append(record)
        return record

    def stint(self, operation: int, start: float, end: float | None, pieces: int = 100, **with_what: Any) -> None:
        began = self.say(OperationStartedV1(operation=operation, **with_what), start)
        if end is not None:
            counted = OperationFinishedV1(
                started=began.id,
                operation=operation,
                pieces_in=pieces,
                pieces_out=pieces,
                scrap=0,
                set_up=0,
                samples=0,
            )
            self.say(counted, end)

    def of(self, born_at: str, cavity: str = "") -> dict[str, Origin]:
        gathered = Gathered(self.records, {self._signed: f"{'p' * 26}:1"})
        return {one.what: one for one in fold_origins(gathered, fold_route(gathered, ()), [(born_at, cavity)])}

    def values(self, born_at: str, cavity: str = "") -> dict[str, str]:
        found = self.of(born_at, cavity)
        return {what: "either" if one.several else one.value for what, one in found.items() if what != "span"}


def test_one_machine_and_one_tool_at_the_operation_are_named() -> None:
    batch = Batch()
    batch.stint(40, 0, 2, machine="P1", tool="die 1")
    batch.stint(50, 3, 4, machine="P2")
    assert batch.values("40") == {"machine": "P1", "tool": "die 1"}
    assert batch.values("50") == {"machine": "P2"}


def test_two_machines_are_either_and_an_operation_without_records_says_nothing() -> None:
    batch = Batch()
    batch.stint(40, 0, 1, machine="P1", tool="die 1")
    batch.stint(40, 1, 2, machine="P2", tool="die 1")
    assert batch.values("40") == {"machine": "either", "tool": "die 1"}
    assert batch.values("50") == {}
    assert batch.values("") == {}


def test_a_stint_whose_machine_nobody_wrote_down_makes_the_other_one_a_guess() -> None:
    batch = Batch()
    batch.stint(40, 0, 1, machine="P1")
    batch.stint(40, 1, 2)
    assert batch.values("40") == {"machine": "either"}


def test_of_two_possible_operations_both_have_to_agree() -> None:
    batch = Batch()
    batch.stint(40, 0, 1, machine="P1")
    batch.stint(50, 1, 2, machine="P1")
    batch.stint(60, 2, 3, machine="P3")
    assert batch.values("40,50") == {"machine": "P1"}
    assert batch.values("40,60") == {"machine": "either"}
    assert batch.values("40,70") == {"machine": "either"}


def test_a_cavity_tells_the_tool_that_has_it_from_the_one_that_has_not() -> None:
    batch = Batch()
    batch.stint(40, 0, 1, machine="P1", tool="die 1", cavities=["A", "B"])
    batch.stint(40, 1, 2, machine="P2", tool="die 2", cavities=["C"])
    assert batch.values("40") == {"machine": "either", "tool": "either"}
    assert batch.values("40", "C") == {"machine": "P2", "tool": "die 2"}
    assert (batch.of("40", "C")["span"].started_at, batch.of("40")["span"].started_at) == (NOON + HOUR, NOON)


def test_the_cast_goes_with_the_piece_wherever_a_find_is_born() -> None:
    batch = Batch()
    batch.stint(20, 0, 1, cast="H-1")
    batch.stint(100, 5, 6)
    assert batch.values("100") == batch.values("") == batch.values("10") == {"cast": "H-1"}
    batch.stint(20, 1, 2, cast="H-2")
    assert batch.values("100") == {"cast": "either"}


def test_loads_and_lots_are_those_of_the_operation() -> None:
    batch = Batch()
    batch.say(LoadFilledV1(load=LOAD, operation=80, pieces=100), 1)
    batch.say(LotSentV1(lot=LOT, operation=100, pieces=100), 2)
    batch.say(LotReturnedV1(lot=LOT, operation=110, counted=100, foreign=0), 30)
    assert batch.values("80") == {"load": LOAD}
    assert batch.values("100") == {"lot": LOT}
    span = batch.of("100")["span"]
    assert (span.started_at, span.ended_at) == (NOON + 2 * HOUR, NOON + 30 * HOUR)
    batch.say(LoadFilledV1(load=OTHER_LOAD, operation=80, pieces=100), 2)
    assert batch.values("80") == {"load": "either"}


def test_a_load_that_holds_fewer_than_went_in_may_not_be_the_one() -> None:
    batch = Batch()
    batch.stint(80, 0, 3, pieces=100)
    batch.say(LoadFilledV1(load=LOAD, operation=80, pieces=60), 1)
    assert batch.values("80") == {"load": "either"}


def test_a_span_goes_from_the_first_stint_to_the_last_and_has_no_end_while_one_goes_on() -> None:
    batch = Batch()
    batch.stint(40, 0, 1)
    batch.stint(40, 5, 6)
    span = batch.of("40")["span"]
    assert (span.started_at, span.ended_at) == (NOON, NOON + 6 * HOUR)
    batch.stint(40, 8, None)
    assert batch.of("40")["span"].ended_at == LARGEST_INTEGER
    assert "span" not in batch.of("40,50")
    assert "span" not in batch.of("")


def test_an_operation_taken_back_made_nothing() -> None:
    from tallywright.records.bench import RecordWithdrawnV1

    batch = Batch()
    batch.stint(40, 0, 1, machine="P1")
    began = batch.say(OperationStartedV1(operation=40, machine="P2", tool=UNSET), 2)
    assert batch.values("40") == {"machine": "either"}
    batch.say(RecordWithdrawnV1(record=began.id), 2)
    assert batch.values("40") == {"machine": "P1"}
