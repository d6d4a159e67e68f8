# SPDX-License-Identifier: Apache-2.0
"""Holds and requests: held to the vectors both languages read, and to the rule that only a grant lifts a hold."""

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
from tallywright.folds.holds import Holds, fold_holds
from tallywright.folds.tally import fold_tally
from tallywright.records.asked import (
    DispositionRequestedV1,
    HoldLiftRequestedV1,
    RequestDeclinedV1,
    RequestGrantedV1,
    RequestSecondedV1,
)
from tallywright.records.bench import HoldPlacedV1
from tallywright.records.decode import Record, decode
from tallywright.records.definition import PartDefinition
from tests.actors import ANYBODY
from tests.server.folds.test_tally import PART, Bench

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "holds").glob("*.json"))


def test_there_are_vectors() -> None:
    assert len(VECTORS) > 10


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    definitions = {name: msgspec.convert(content, PartDefinition) for name, content in case["definitions"].items()}
    orders = itertools.permutations(records) if len(records) < 6 else [records, records[::-1], shuffled(records)]
    for order in orders:
        found = fold_holds(Gathered([*order, *order[:2]], case["proven"]), definitions)
        assert json.loads(msgspec.json.encode(found)) == case["expect"]


def shuffled(records: list[Record]) -> list[Record]:
    mixed = list(records)
    random.Random(3).shuffle(mixed)
    return mixed


PERSONS = {f"{letter * 26}:2": f"{'p' * 26}:{n}" for n, letter in enumerate("bcd", start=1)}


def holds(records: list[Record]) -> Holds:
    return fold_holds(Gathered(records, PERSONS), {ANYBODY: PART})


def lifted(records: list[Record]) -> set[str]:
    return {hold.id for hold in holds(records).holds if hold.lifted_by}


def scribble(data: st.DataObject, benches: list[Bench], critical: str) -> None:
    """Let anybody but the first write a record that is no grant, about anything that is there."""
    bench = data.draw(st.sampled_from(benches[1:]))
    target = data.draw(st.sampled_from([r for each in benches for r in each.records]))
    bodies: dict[str, Any] = {
        "lift": HoldLiftRequestedV1(holds=[critical, target.id], seen=[], why="looked at"),
        "disposition": DispositionRequestedV1(piece=critical, look="first", verdict="accept", seen=[]),
        "second": RequestSecondedV1(request=target.id),
        "decline": RequestDeclinedV1(request=target.id, reasons=["role"]),
        "place": HoldPlacedV1(why="smells burnt"),
    }
    act = data.draw(st.sampled_from([*bodies, "take back", "find"]))
    if act == "take back":
        bench.take_back(target)
    elif act == "find":
        bench.find("odd", piece=critical)
    else:
        bench.write(bodies[act])


@given(st.data())
def test_no_observation_and_no_request_lifts_a_hold_or_takes_back_what_another_marked(data: st.DataObject) -> None:
    benches = [Bench("b"), Bench("c"), Bench("d")]
    critical = benches[0].find("odd")
    for _ in range(data.draw(st.integers(0, 15))):
        scribble(data, benches, critical.id)
    records = [record for bench in benches for record in bench.records]
    found = holds(records)
    assert critical.id in {hold.id for hold in found.holds}
    assert lifted(records) == set()
    assert critical.id in {mark.id for mark in fold_tally(Gathered(records, PERSONS), {ANYBODY: PART}).marks}
    assert holds(data.draw(st.permutations(records))) == found


@given(st.data())
def test_a_grant_lifts_what_its_request_names_and_nothing_else(data: st.DataObject) -> None:
    benches = [Bench("b"), Bench("c")]
    marks = [benches[0].find("odd").id for _ in range(4)]
    named = data.draw(st.lists(st.sampled_from(marks), min_size=1))
    asked = benches[1].write(HoldLiftRequestedV1(holds=named, seen=[], why="looked at"))
    server = Bench("s")
    server.write(RequestGrantedV1(request=asked.id))
    later = benches[0].find("odd", piece=marks[0])
    records = [record for bench in (*benches, server) for record in bench.records]
    assert lifted(data.draw(st.permutations(records))) == set(named)
    assert later.id in {hold.id for hold in holds(records).holds}


def test_a_refused_request_changes_nothing_but_the_list_of_requests() -> None:
    bench, server = Bench("b"), Bench("s")
    bench.find("odd")
    before, tally_before = holds(bench.records), fold_tally(Gathered(bench.records, PERSONS), {ANYBODY: PART})
    asked = bench.write(HoldLiftRequestedV1(holds=[bench.records[0].id], seen=[], why="looked at"))
    server.write(RequestDeclinedV1(request=asked.id, reasons=["role"]))
    after = [*bench.records, *server.records]
    assert holds(after).holds == before.holds
    assert fold_tally(Gathered(after, PERSONS), {ANYBODY: PART}) == tally_before
