# SPDX-License-Identifier: Apache-2.0
"""Batch SK70-0417 of the demo: a ledger known to the piece, folded from real records out of the real push."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from msgspec import UNSET
from msgspec.structs import replace
from sqlalchemy import Engine, select

from tallywright.db import reading
from tallywright.definitions.published import parts
from tallywright.folds.bench import fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.folds.route import fold_route
from tallywright.folds.whole_ledger import WholeLedger, fold_whole_ledger
from tallywright.log.read import of_subject
from tallywright.projections.asked import proven_among
from tallywright.projections.tables import batches, ledgers
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.route import ComponentsCountedV1, LotReturnedV1, OperationFinishedV1
from tallywright.reports.batch_ledger import batch_called, batch_ledger
from tests.command import run

NUMBER = "SK70-0417"
# operation: in, out, scrap, set-up, samples, missing
OPERATIONS = [
    (20, 728, 726, 2, 0, 0, 0),
    (30, 726, 724, 2, 0, 0, 0),
    (40, 724, 707, 9, 6, 2, 0),
    (50, 707, 704, 3, 0, 0, 0),
    (60, 704, 703, 0, 0, 0, 1),
    (70, 703, 699, 4, 0, 0, 0),
    (80, 699, 698, 1, 0, 0, 0),
    (84, 698, 698, 0, 0, 0, 0),
    (86, 698, 688, 0, 0, 10, 0),
    (88, 688, 684, 0, 0, 4, 0),
    (90, 684, 684, 0, 0, 0, 0),
    (110, 684, 681, 0, 0, 0, 3),
    (120, 681, 657, 24, 0, 0, 0),
    (122, 4, 3, 1, 0, 0, 0),
    (124, 22, 19, 3, 0, 0, 0),
    (126, 653, 652, 1, 0, 0, 0),
    (130, 652, 649, 3, 0, 0, 0),
    (140, 649, 648, 1, 0, 0, 0),
    (144, 648, 640, 0, 0, 8, 0),
    (150, 640, 634, 6, 0, 0, 0),
    (150, 3, 2, 1, 0, 0, 0),
]


@pytest.fixture(scope="module")
def ledger(told: Engine) -> dict[str, Any]:
    with reading(told) as connection:
        [batch] = batch_called(connection, NUMBER)
        return batch_ledger(connection, batch)


def test_728_in_are_633_good_61_scrap_30_samples_and_set_up_and_4_missing_or_late_found(
    ledger: dict[str, Any],
) -> None:
    sums = ("in", "good", "scrap", "samples_and_set_up", "missing_or_late_found", "closes")
    assert [ledger[name] for name in sums] == [728, 633, 61, 30, 4, True]
    assert (ledger["part"], ledger["holds"], ledger["open"]) == ("SK-70 C", [], [])


def test_each_of_its_operations_closes(ledger: dict[str, Any]) -> None:
    columns = ("operation", "in", "out", "scrap", "set_up", "samples", "missing")
    assert [tuple(row[name] for name in columns) for row in ledger["operations"]] == OPERATIONS
    assert all(row["name"] for row in ledger["operations"])


def test_the_looks_are_as_their_trays_were_closed_and_complete(ledger: dict[str, Any]) -> None:
    columns = ("look", "due", "looked_at", "accepted", "rework", "rejected", "query", "complete", "signed_by")
    assert [tuple(row[name] for name in columns) for row in ledger["looks"]] == [
        ("first", 681, 681, 631, 22, 24, 4, True, "Lea Sturm"),
        ("second", 640, 640, 631, 3, 6, 0, True, "Tomke Ahlers"),
    ]


def test_what_is_missing_foreign_or_without_a_rivet_is_named_where_it_shows(ledger: dict[str, Any]) -> None:
    assert [tuple(line.values()) for line in ledger["differences"]] == [
        (None, "found late: bowl 2, at the empty check before the next load", 1),
        (60, "pieces short", -1),
        (110, "foreign pieces", 1),
        (110, "pieces short", -3),
        (130, "assemblies without rivet", -1),
        (140, "rivet used without an assembly", 1),
    ]


def test_the_limits_say_27_and_6_majors(ledger: dict[str, Any]) -> None:
    majors = [row for row in ledger["limits"] if row["class"] == "major"]
    columns = ("look", "state", "defective", "looked", "due", "limit")
    assert [tuple(row[name] for name in columns) for row in majors] == [
        ("first", "met", 24, 681, 681, 27),
        ("second", "met", 6, 640, 640, 6),
    ]


def test_the_command_prints_it_for_a_program_and_for_people(told_folder: Path, ledger: dict[str, Any]) -> None:
    found = run("batch", NUMBER, "--json", "--data", str(told_folder))
    assert (found.returncode, found.stderr) == (0, "")
    assert json.loads(found.stdout) == ledger
    told = run("batch", NUMBER, "--data", str(told_folder))
    assert told.returncode == 0
    assert "728 in = 633 good + 61 scrap + 30 samples and set-up + 4 missing or late-found" in told.stdout
    assert "difference at 110: -3  pieces short" in told.stdout


def test_a_batch_nobody_knows_is_one_sentence_and_wrong_data(told_folder: Path) -> None:
    found = run("batch", "SK70-9999", "--data", str(told_folder))
    assert (found.returncode, found.stdout, found.stderr.count("\n")) == (1, "", 1)


def test_a_batch_with_a_difference_that_nobody_accepted_is_wrong_data(told: Engine, told_folder: Path) -> None:
    with reading(told) as connection:
        open_ones = select(batches.c.number).join(ledgers, ledgers.c.batch == batches.c.batch)
        number = connection.scalars(open_ones.where(~ledgers.c.closes).order_by(batches.c.number)).first()
    found = run("batch", str(number), "--json", "--data", str(told_folder))
    assert (found.returncode, found.stderr) == (1, f"The ledger of {number} does not close.\n")
    page = json.loads(found.stdout)
    assert not page["closes"]
    assert page["differences"]
    assert page["open"]


def test_a_batch_without_its_number_is_wrong_use(told_folder: Path) -> None:
    assert run("batch", "--data", str(told_folder)).returncode == 2


class Told:
    """The records of the batch out of the log, to be folded with one of them changed."""

    def __init__(self, engine: Engine) -> None:
        with reading(engine) as connection:
            batch = connection.scalars(select(batches.c.batch).where(batches.c.number == NUMBER)).one()
            self.records = of_subject(connection, batch)
            signed = {str(record.envelope.sign_on) for record in self.records}
            self.proven = proven_among(connection, signed)
            envelopes = [record.envelope for record in self.records]
            named = {str(one.definition) for one in envelopes if one.definition is not UNSET}
            self.definitions = parts(connection, named)

    def fold(self, records: list[Record]) -> WholeLedger:
        gathered = Gathered(records, self.proven)
        state = fold_bench(gathered, self.definitions)
        return fold_whole_ledger(gathered, state, fold_route(gathered, state.holds.requests))

    def with_one(self, kind: type[Body], operation: int, **members: int) -> WholeLedger:
        """Fold it with other numbers in one record."""
        changed = []
        for record in self.records:
            body: Any = record.body
            if isinstance(body, kind) and body.operation == operation:  # type: ignore[attr-defined]
                record = replace(record, body=msgspec.structs.replace(body, **members))
            changed.append(record)
        assert changed != self.records
        return self.fold(changed)


@pytest.fixture(scope="module")
def records(told: Engine) -> Told:
    return Told(told)


def unaccepted(ledger: WholeLedger) -> list[tuple[int, str, int]]:
    return [(line.operation, line.kind, line.amount) for line in ledger.lines if not line.accepted_by]


def test_its_records_fold_to_what_the_rows_say(records: Told, ledger: dict[str, Any]) -> None:
    found = records.fold(records.records)
    assert (found.good, found.closes) == (ledger["good"], True)
    assert unaccepted(found) == []


@pytest.mark.parametrize("operation", [20, 30, 50, 70, 84, 90, 140])
def test_one_piece_less_counted_out_shows_at_its_operation_and_at_the_next(records: Told, operation: int) -> None:
    out = next(row[2] for row in OPERATIONS if row[0] == operation)
    behind = [row[0] for row in OPERATIONS if row[0] > operation]
    found = records.with_one(OperationFinishedV1, operation, pieces_out=out - 1)
    assert unaccepted(found) == [(operation, "pieces_short", -1), (behind[0], "between_over", 1)]
    assert not found.closes


def test_one_scrap_that_nobody_counted_shows_at_its_operation_alone(records: Told) -> None:
    found = records.with_one(OperationFinishedV1, 40, scrap=8)
    assert unaccepted(found) == [(40, "pieces_short", -1)]
    assert (found.scrap, found.missing, found.good, found.closes) == (60, 5, 633, False)


def test_one_piece_more_from_outside_is_no_acceptance_of_three_missing(records: Told) -> None:
    found = records.with_one(LotReturnedV1, 110, counted=683)
    assert unaccepted(found) == [(110, "pieces_short", -2), (120, "between_short", -1)]


def test_a_rivet_less_left_over_is_an_assembly_more_with_one(records: Told) -> None:
    found = records.with_one(ComponentsCountedV1, 130, left=8)
    assert unaccepted(found) == []
    assert [line.kind for line in found.lines if line.operation == 130] == []
    assert unaccepted(records.with_one(ComponentsCountedV1, 130, left=10)) == [(130, "components_short", -2)]


def test_rework_that_lost_a_piece_shows_there(records: Told) -> None:
    found = records.with_one(OperationFinishedV1, 124, pieces_out=18)
    assert unaccepted(found) == [(124, "pieces_short", -1), (126, "between_over", 1)]


def test_a_query_that_never_came_to_the_lead_is_named(records: Told) -> None:
    found = records.with_one(OperationFinishedV1, 122, pieces_in=3, pieces_out=2)
    assert (120, "put_aside_short", -1) in unaccepted(found)


def test_a_reject_behind_rework_that_nobody_counted_as_scrap_is_named(records: Told) -> None:
    found = records.with_one(OperationFinishedV1, 124, pieces_out=20, scrap=2)
    assert unaccepted(found) == [(120, "judged_otherwise", 1), (126, "between_short", -1)]
