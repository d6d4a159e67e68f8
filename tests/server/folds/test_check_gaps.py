# SPDX-License-Identifier: Apache-2.0
"""Checks that are missed, left out or delayed: by pieces made, by events, by the clock, in any order of arrival."""

from __future__ import annotations

import pytest

from tallywright.folds.check_gaps import CheckGap, fold_check_gaps
from tallywright.folds.gathered import Gathered
from tallywright.records.bench import PieceFoundV1, PiecesCountedV1, TrayCard
from tallywright.records.decode import Record
from tests.actors import ANYBODY
from tests.server.folds.checking import DIE_HEAT, HEIGHT, LAP, PART, Cell, random_cell
from tests.server.folds.test_bench import orders_of

Said = tuple[int, str, str, int, int]


def fold(records: list[Record], proven: dict[str, str]) -> tuple[CheckGap, ...]:
    return fold_check_gaps(Gathered(records, proven), {ANYBODY: PART})


def of(cell: Cell, characteristic: int = HEIGHT) -> list[Said]:
    return [
        (gap.characteristic, gap.role, gap.kind, gap.checks, gap.pieces)
        for gap in fold(cell.records, cell.proven)
        if gap.characteristic == characteristic
    ]


def running() -> Cell:
    cell = Cell()
    cell.start()
    cell.first_offs()
    return cell


def test_a_check_at_its_time_is_no_gap() -> None:
    cell = running()
    cell.make(25)
    cell.take(HEIGHT, "13.20", 25)
    assert of(cell) == []


def test_a_count_and_a_found_piece_that_name_no_operation_are_at_none() -> None:
    cell = running()
    cell.add(PiecesCountedV1(look="first", pieces=60, trays=[TrayCard(number=1, pieces=60)]))
    cell.add(PieceFoundV1(where="floor", pieces=1))
    cell.make(32)
    cell.take(HEIGHT, "13.20", 32)
    assert of(cell) == [(HEIGHT, "in_process", "delayed", 1, 7)]


def test_a_check_behind_its_time_says_by_how_many_pieces() -> None:
    cell = running()
    cell.make(32)
    late = cell.take(HEIGHT, "13.20", 32)
    assert of(cell) == [(HEIGHT, "in_process", "delayed", 1, 7)]
    assert fold(cell.records, cell.proven)[0].record == late


def test_a_check_that_another_one_followed_was_left_out() -> None:
    cell = running()
    cell.make(80)
    cell.take(HEIGHT, "13.20", 80)
    assert of(cell) == [(HEIGHT, "in_process", "left_out", 2, 0), (HEIGHT, "in_process", "delayed", 1, 5)]


def test_a_check_somebody_says_was_missed_is_not_left_out() -> None:
    cell = running()
    cell.make(25)
    cell.miss(HEIGHT, 25)
    cell.make(25)
    cell.take(HEIGHT, "13.20", 50)
    [gap] = [gap for gap in fold(cell.records, cell.proven) if gap.characteristic == HEIGHT]
    assert (gap.kind, gap.why, gap.checks) == ("missed", "no gauge", 1)


def test_what_was_due_before_the_end_was_left_out_and_the_very_last_piece_is_the_last_offs() -> None:
    for out, left_out in ((25, []), (26, [1]), (50, [1]), (51, [2])):
        cell = Cell()
        stint = cell.start()
        cell.first_offs()
        cell.finish(stint, out)
        cell.take(HEIGHT, "13.20", role="last_off")
        assert [checks for _, _, _, checks, _ in of(cell)] == left_out


def test_a_check_is_late_by_nothing_where_nobody_counted() -> None:
    cell = running()
    cell.take(HEIGHT, "13.20")
    assert of(cell) == []


def test_a_last_off_nobody_takes_was_left_out_once_the_operation_is_done_with() -> None:
    cell = Cell()
    stint = cell.start()
    cell.first_offs()
    cell.finish(stint, 20)
    assert of(cell) == [(HEIGHT, "last_off", "left_out", 1, 0)]
    cell.take(HEIGHT, "13.20", role="last_off")
    assert of(cell) == []


def test_a_first_off_that_another_die_overtook_was_left_out_if_pieces_were_made_meanwhile() -> None:
    cell = running()
    cell.change("die")
    cell.change("tool")
    assert [gap for gap in of(cell) if gap[1] == "first_off"] == []
    cell.make(10)
    cell.change("die")
    assert [gap for gap in of(cell) if gap[1] == "first_off"] == [(HEIGHT, "first_off", "left_out", 3, 0)]


def test_a_first_off_behind_more_pieces_than_it_asks_for_is_delayed() -> None:
    cell = Cell()
    cell.start()
    cell.make(12)
    for value in ("13.20", "13.21", "13.22"):
        cell.take(HEIGHT, value, 12, role="first_off")
    assert of(cell) == [(HEIGHT, "first_off", "delayed", 1, 9)]


def test_what_goes_by_the_clock_counts_from_when_the_operation_ran() -> None:
    cell = Cell()
    stint = cell.start()
    cell.first_offs()
    cell.minute += 130
    cell.take(DIE_HEAT, "240")
    cell.finish(stint, 20)
    cell.minute += 600  # nobody is there at night
    cell.start()
    cell.take(DIE_HEAT, "240")
    found = [(gap.kind, gap.checks, gap.ms) for gap in fold(cell.records, cell.proven) if gap.operation == 40]
    assert [one for one in found if one[0] in ("left_out", "delayed")][-2:] == [
        ("left_out", 1, 0),
        ("delayed", 1, (6 + 130 - 120) * 60_000),
    ]


def test_an_event_that_another_followed_had_its_check_left_out() -> None:
    cell = running()
    cell.change("tray")
    cell.change("tray")
    cell.take(5, "20")
    assert of(cell, 5) == [(5, "in_process", "left_out", 1, 0)]


def test_where_nobody_recorded_a_check_there_is_one_gap_and_no_list() -> None:
    cell = Cell()
    stint = cell.start()
    assert fold(cell.records, cell.proven) == ()
    finish = cell.finish(stint, 90)
    [gap] = fold(cell.records, cell.proven)
    assert (gap.kind, gap.characteristic, gap.record) == ("none", 0, finish.id)


def test_what_is_asked_of_a_plain_answer_is_asked_as_of_a_value() -> None:
    cell = running()
    cell.make(60)
    cell.take(LAP, "yes", 60)
    assert of(cell, LAP) == [(LAP, "in_process", "left_out", 1, 0), (LAP, "in_process", "delayed", 1, 10)]


@pytest.mark.parametrize("seed", range(40))
def test_the_gaps_are_a_function_of_the_set_of_records(seed: int) -> None:
    cell = random_cell(seed)
    gaps = fold(cell.records, cell.proven)
    for order in orders_of(cell.records):
        assert fold([*order, *order[: seed % 7]], cell.proven) == gaps
    dead = Gathered(cell.records, cell.proven).dead
    assert gaps == fold([record for record in cell.records if record.id not in dead], cell.proven)
    keys = [(gap.record, gap.operation, gap.characteristic, gap.role, gap.kind) for gap in gaps]
    assert len(set(keys)) == len(keys)
