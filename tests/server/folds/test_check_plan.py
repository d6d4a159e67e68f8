# SPDX-License-Identifier: Apache-2.0
"""Every rule of a whole plan, read from the team's own file, comes due by what it waits for."""

from __future__ import annotations

from collections import Counter

import msgspec
import pytest
from msgspec import UNSET

from tallywright.config import packed_folder
from tallywright.definitions.imported import read_definitions
from tallywright.folds.check_due import Due, is_due
from tallywright.folds.checks import fold_checks
from tallywright.folds.gathered import Gathered
from tallywright.records.definition import Characteristic, PartDefinition
from tests.actors import ANYBODY, NOON
from tests.server.folds.checking import FORGE, Cell

MINUTE = 60_000


def read_plan() -> PartDefinition:
    [found], report = read_definitions(packed_folder("demo_seed") / "definitions", "SK-70", None, live=False)
    assert report.findings == []
    return found


PLAN = read_plan()
CHARACTERISTICS = [] if PLAN.characteristics is UNSET else PLAN.characteristics


def test_the_file_of_163_checks_has_so_many_rules_of_each_kind() -> None:
    counted = {
        role: Counter(rule.at for one in CHARACTERISTICS if (rule := getattr(one, role)) is not UNSET)
        for role in ("first_off", "in_process", "last_off")
    }
    assert len(CHARACTERISTICS) == 163
    assert counted["first_off"] == {"events": 131, "each_piece": 24}
    assert counted["in_process"] == {"pieces": 44, "each_piece": 16, "events": 10, "logger": 2, "minutes": 1}
    assert counted["last_off"] == {"events": 57, "each_piece": 21}


def in_between(at: str) -> list[Characteristic]:
    """Those checked in between by a rule of one kind, moved to the operation that the cell runs."""
    return [
        msgspec.structs.replace(one, operation=FORGE, first_off=UNSET, last_off=UNSET)
        for one in CHARACTERISTICS
        if one.in_process is not UNSET and one.in_process.at == at
    ]


def due(cell: Cell, one: Characteristic) -> list[Due]:
    part = msgspec.structs.replace(PLAN, characteristics=[one])
    return list(fold_checks(Gathered(cell.records, cell.proven), {ANYBODY: part}).due)


def begun() -> Cell:
    cell = Cell()
    cell.start()
    return cell


def named(one: Characteristic) -> str:
    rule = one.in_process
    return f"{one.words['en'][:30]}: {'-' if rule is UNSET else rule.cell}"


@pytest.mark.parametrize("one", in_between("pieces"), ids=named)
def test_what_is_checked_by_pieces_is_due_at_so_many_made_and_again_so_many_later(one: Characteristic) -> None:
    cell, rule = begun(), one.in_process
    assert rule is not UNSET
    assert rule.every is not UNSET
    every, pieces = rule.every, 1 if rule.pieces is UNSET else rule.pieces
    [first] = due(cell, one)
    assert (first.left, is_due(first, every - 1, NOON), is_due(first, every, NOON)) == (pieces, False, True)
    cell.make(every)
    cell.take(one.characteristic, "yes", every, pieces=pieces)
    [second] = due(cell, one)
    assert (is_due(second, 2 * every - 1, NOON), is_due(second, 2 * every, NOON)) == (False, True)


@pytest.mark.parametrize("one", in_between("minutes"), ids=named)
def test_what_is_checked_by_the_clock_is_due_by_the_clock_alone(one: Characteristic) -> None:
    cell, rule = begun(), one.in_process
    assert rule is not UNSET
    assert rule.every is not UNSET
    began = NOON + cell.minute * MINUTE
    [first] = due(cell, one)
    assert not is_due(first, 9_999, began + rule.every * MINUTE - 1)
    assert is_due(first, "unknown", began + rule.every * MINUTE)
    cell.take(one.characteristic, "4.0", 10)
    checked = NOON + cell.minute * MINUTE
    [second] = due(cell, one)
    assert not is_due(second, 10, checked + rule.every * MINUTE - 1)
    assert is_due(second, 10, checked + rule.every * MINUTE)


@pytest.mark.parametrize("one", in_between("events"), ids=named)
def test_what_is_checked_by_an_event_is_due_at_each_of_its_events_and_at_no_other(one: Characteristic) -> None:
    rule = one.in_process
    assert rule is not UNSET
    assert rule.events is not UNSET
    for event in rule.events:
        cell = begun()
        cell.make(500)
        cell.change("stop" if event != "stop" else "break")
        assert due(cell, one) == []
        cell.change(event)
        [found] = due(cell, one)
        assert is_due(found, "unknown", 0)


@pytest.mark.parametrize("one", [*in_between("each_piece"), *in_between("logger")], ids=named)
def test_what_is_seen_on_every_piece_or_taken_by_a_logger_asks_nobody_in_between(one: Characteristic) -> None:
    cell = begun()
    cell.make(500)
    assert due(cell, one) == []


def test_what_is_seen_on_every_piece_is_asked_for_at_the_start_or_at_the_end() -> None:
    numbers = {(one.characteristic, named(one)) for one in in_between("each_piece")}
    whole = [one for one in CHARACTERISTICS if (one.characteristic, named(one)) in numbers]
    assert len(whole) >= len(numbers) > 10
    assert [named(one) for one in whole if one.first_off is UNSET and one.last_off is UNSET] == []
