# SPDX-License-Identifier: Apache-2.0
"""The tally of a batch: held to the vectors both languages read, and to the rules one by one."""

from __future__ import annotations

import itertools
import json
import random
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.gathered import Gathered
from tallywright.folds.tally import Tally, class_in, fold_tally
from tallywright.records.bench import DefectTalliedV1, RecordWithdrawnV1, TrayClosedV1, TrayOpenedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record, decode
from tallywright.records.definition import DefectClass, DefectWord, PartDefinition, ZoneClass
from tests.actors import ANYBODY, NOON

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "tally").glob("*.json"))


def test_there_are_vectors() -> None:
    assert len(VECTORS) >= 8


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    definitions = {name: msgspec.convert(content, PartDefinition) for name, content in case["definitions"].items()}
    orders = itertools.permutations(records) if len(records) < 6 else [records, records[::-1], shuffled(records)]
    for order in orders:
        found = fold_tally(Gathered(order, case["proven"]), definitions)
        assert json.loads(msgspec.json.encode(found)) == case["expect"]


def shuffled(records: list[Record]) -> list[Record]:
    mixed = list(records)
    random.Random(3).shuffle(mixed)
    return mixed


WORD = DefectWord(
    defect="dent",
    key={"en": "Dent"},
    words={"en": "A dent."},
    defect_class="minor",
    by_zone=[ZoneClass(zone="bow", defect_class="critical"), ZoneClass(zone="flank", defect_class="minor")],
)
PLAIN = DefectWord(defect="stain", key={"en": "Stain"}, words={"en": "A stain."}, defect_class="minor")
UNSET_CLASS = DefectWord(defect="odd", key={"en": "Odd"}, words={"en": "Odd."})
PART = PartDefinition(
    part="P", revision="A", name={"en": "P"}, tray_places=60, looks=["first"], defects=[WORD, PLAIN, UNSET_CLASS]
)


@pytest.mark.parametrize(
    ("word", "zone", "expected"),
    [
        (WORD, "flank", "minor"),
        (WORD, "bow", "critical"),
        (WORD, "", "critical"),
        (WORD, "a zone the list does not name", "critical"),
        (PLAIN, "", "minor"),
        (PLAIN, "bow", "minor"),
        (UNSET_CLASS, "", "critical"),
        (None, "flank", "critical"),
    ],
)
def test_a_word_has_the_class_of_its_zone_and_the_worst_where_none_is_given(
    word: DefectWord | None, zone: str, expected: DefectClass
) -> None:
    assert class_in(word, zone) == expected


class Bench:
    """A chain at the bench: what it writes is about one batch."""

    def __init__(self, letter: str = "b") -> None:
        self.writer = ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY)
        self.sign_on = f"{letter * 26}:2"
        self.records: list[Record] = []

    def write(self, body: Any, **members: Any) -> Record:
        envelope: dict[str, Any] = {
            "sign_on": self.sign_on,
            "batch": ANYBODY,
            "definition": ANYBODY,
            "skew_ms": 0,
        } | members
        record = self.writer.add(body, NOON + self.writer.n, **envelope)
        self.records.append(record)
        return record

    def find(self, defect: str = "stain", **members: Any) -> Record:
        return self.write(DefectTalliedV1(look="first", tray=ANYBODY, defect=defect, **members))

    def take_back(self, record: Record, **members: Any) -> Record:
        return self.write(RecordWithdrawnV1(record=record.id), **members)


def tally(*benches: Bench, proven: dict[str, str] | None = None) -> Tally:
    records = [record for bench in benches for record in bench.records]
    return fold_tally(Gathered(records, proven or {}), {ANYBODY: PART})


def test_a_mark_without_a_piece_opens_one_and_a_further_mark_joins_it() -> None:
    bench = Bench()
    first = bench.find()
    bench.find("dent", piece=first.id)
    assert {mark.piece for mark in tally(bench).marks} == {first.id}


def test_a_withdrawal_of_another_author_takes_nothing_back() -> None:
    mine, theirs = Bench("b"), Bench("c")
    find = mine.find()
    attempt = theirs.take_back(find)
    found = tally(mine, theirs)
    assert ([mark.id for mark in found.marks], found.useless_withdrawals) == ([find.id], (attempt.id,))


def test_the_same_person_under_another_sign_on_is_the_same_author_once_both_are_proven() -> None:
    bench = Bench()
    find = bench.find()
    later = f"{'b' * 26}:3"
    bench.take_back(find, sign_on=later)
    person, other = f"{'p' * 26}:1", f"{'p' * 26}:2"
    for proven in ({}, {bench.sign_on: person}, {later: person}, {bench.sign_on: person, later: other}):
        assert [mark.id for mark in tally(bench, proven=proven).marks] == [find.id]
    assert tally(bench, proven={bench.sign_on: person, later: person}).marks == ()


def test_a_closing_that_was_taken_back_leaves_the_tray_open() -> None:
    bench = Bench()
    tray = bench.write(TrayOpenedV1(look="first", number=1, places=60))
    closed = bench.write(
        TrayClosedV1(
            look="first", tray=tray.id, places=60, empty_counted=0, accepted=60, rejected=0, rework=0, query=0,
            all_looked_at=True,
        )
    )  # fmt: skip
    bench.take_back(closed)
    assert tally(bench).trays[0].closings == ()


def test_a_quick_repeat_stands_but_is_not_counted() -> None:
    bench = Bench()
    bench.find()
    bench.find(quick_repeat=True)
    found = tally(bench)
    assert (len(found.marks), len(found.counted())) == (2, 1)


@given(st.data())
def test_a_tally_is_a_function_of_the_set_of_records(data: st.DataObject) -> None:
    benches = [Bench("b"), Bench("c")]
    for _ in range(data.draw(st.integers(1, 25))):
        bench = data.draw(st.sampled_from(benches))
        everything = [record for each in benches for record in each.records]
        take_back: bool = data.draw(st.booleans())
        if everything and take_back:
            bench.take_back(data.draw(st.sampled_from(everything)))
        else:
            bench.find(data.draw(st.sampled_from(["stain", "dent", "not_sure", "unknown_word"])))
    records = [record for bench in benches for record in bench.records]
    expected = fold_tally(Gathered(records, {}), {ANYBODY: PART})
    mixed = data.draw(st.permutations(records))
    assert fold_tally(Gathered(mixed, {}), {ANYBODY: PART}) == expected
    assert fold_tally(Gathered([*mixed, *records], {}), {ANYBODY: PART}) == expected
    # Undo never removes history: every record is a mark, a withdrawal, or named by one that took it back.
    taken_back = {r.body.record for r in records if isinstance(r.body, RecordWithdrawnV1)}
    standing = {mark.id for mark in expected.marks}
    finds = {r.id for r in records if isinstance(r.body, DefectTalliedV1)}
    assert finds - standing <= taken_back
