# SPDX-License-Identifier: Apache-2.0
"""The folds of the bench: held to the vectors, to each other's language, and to what may never happen."""

from __future__ import annotations

import itertools
import json
import random
from collections import Counter
from pathlib import Path
from typing import Any

import msgspec
import pytest

from tallywright.folds.bench import BenchState, fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.folds.seen import counts
from tallywright.folds.verdicts import MILD_FIRST
from tallywright.records.asked import ReleaseRequestedV1, RequestGrantedV1
from tallywright.records.bench import RecordWithdrawnV1
from tallywright.records.decode import Record, decode
from tallywright.records.definition import PartDefinition
from tallywright.records.kinds import chain_of, number_of
from tests import node
from tests.server.folds.random_batches import PARTS, Batch

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "bench").glob("*.json"))
FOLD_BATCHES = "tests/static/folds/fold_batches.mjs"
SEEDS = range(2_000)


def plain(state: BenchState) -> Any:
    """The state as the tablet has it."""
    return json.loads(msgspec.json.encode(state))


def fold(batch: Batch, records: list[Record] | None = None) -> BenchState:
    return fold_bench(Gathered(batch.records if records is None else records, batch.proven), PARTS)


def agrees(expected: Any, found: Any) -> bool:
    """True when all that is expected is found: lists whole, of an object the members that are named."""
    if isinstance(expected, dict):
        return all(name in found and agrees(value, found[name]) for name, value in expected.items())
    if isinstance(expected, list):
        return len(expected) == len(found) and all(map(agrees, expected, found))
    return bool(expected == found)


def orders_of(records: list[Record]) -> list[list[Record]]:
    """Every order of a few records; of many, some."""
    if len(records) < 6:
        return [list(order) for order in itertools.permutations(records)]
    chance = random.Random(3)
    return [records[::-1], *(chance.sample(records, len(records)) for _ in range(5))]


def test_there_are_vectors() -> None:
    assert len(VECTORS) > 50


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    definitions = {name: msgspec.convert(content, PartDefinition) for name, content in case["definitions"].items()}
    state = fold_bench(Gathered(records, case["proven"]), definitions)
    assert agrees(case["expect"], plain(state)), plain(state)
    for order in orders_of(records):
        assert fold_bench(Gathered([*order, *order[:2]], case["proven"]), definitions) == state


def test_what_is_expected_and_not_found_is_noticed() -> None:
    found = {"points": [{"kind": "hold", "amount": 0}], "looked": 6}
    assert agrees({"points": [{"kind": "hold"}]}, found)
    others: list[Any] = [
        {"points": []},
        {"points": [{"kind": "query"}]},
        {"points": [{}, {}]},
        {"looked": 5},
        {"due": 6},
    ]
    for wrong in others:
        assert not agrees(wrong, found)


@pytest.mark.parametrize("seed", range(60))
def test_the_state_is_a_function_of_the_set_of_records(seed: int) -> None:
    batch = Batch(seed)
    state = fold(batch)
    for order in orders_of(batch.records):
        assert fold(batch, [*order, *order[: seed % 7]]) == state


@pytest.mark.parametrize("seed", range(60))
def test_a_withdrawal_that_came_before_its_mark_leaves_the_same_state(seed: int) -> None:
    batch = Batch(seed)
    back = [record for record in batch.records if isinstance(record.body, RecordWithdrawnV1)]
    others = [record for record in batch.records if record not in back]
    assert fold(batch, [*back, *others]) == fold(batch, [*others, *back])


@pytest.mark.parametrize("seed", range(300))
def test_nothing_another_adds_without_a_grant_makes_a_reject_or_a_lock_milder(seed: int) -> None:
    batch = Batch(seed)
    records = [record for record in batch.records if not isinstance(record.body, RequestGrantedV1)]
    mine = [record for record in records if record.envelope.chain[0] in "bs"]
    persons = {batch.proven.get(str(record.envelope.sign_on), "") for record in mine} - {""}
    theirs = [
        record
        for record in records
        if record.envelope.chain[0] in "cd" and batch.proven.get(str(record.envelope.sign_on)) not in persons
    ]
    after = {(one.look, one.piece): one for one in fold(batch, [*mine, *theirs]).verdicts}
    for before in fold(batch, mine).verdicts:
        later = after[before.look, before.piece]
        # Behind a rework a piece is looked at as new.
        if before.verdict in ("reject", "locked") and later.round == before.round:
            assert MILD_FIRST.index(later.verdict) >= MILD_FIRST.index(before.verdict)


@pytest.mark.parametrize("seed", range(200))
def test_a_release_covers_a_record_that_counts_or_names_it_as_late_and_never_both(seed: int) -> None:
    batch = Batch(seed)
    came = {record.id for record in batch.records if counts(record)}
    bodies = {record.id: record.body for record in batch.records}
    for release in fold(batch).releases:
        body = bodies[release.request]
        assert isinstance(body, ReleaseRequestedV1)
        ends = {one.chain: one.n for one in body.seen}
        covered = {name for name in came if number_of(name) <= ends.get(chain_of(name), 0)}
        assert covered | set(release.late) == came
        assert not covered & set(release.late)


POINTS = """
    not_understood not_counted count_not_proven counted_by_looker counts_differ cards_do_not_add_up split_too_much
    tray_not_opened tray_not_closed closing_not_proven closings_differ closing_does_not_add_up tray_twice
    tray_not_due tray_short tray_over foreign_pieces pieces_found return_without_sending rework_away rework_over
    rework_not_sent rework_not_judged query_open rework_open hold not_signed signature_not_proven
    signed_before_this_came same_eyes
"""
STATES = ("uncounted", "within", "watch", "broken", "over", "met")
RESULTS = ("complete True", "accepted True", "late True", "late False")


def test_the_random_batches_reach_every_point_verdict_and_state() -> None:
    """The comparison of both languages is worth as much as what it compares."""
    reached: Counter[str] = Counter()
    for seed in SEEDS:
        state = fold(Batch(seed))
        reached.update(point.kind for look in state.looks for point in look.points)
        reached.update(f"complete {not look.points}" for look in state.looks)
        reached.update(verdict.verdict for verdict in state.verdicts)
        reached.update(line.state for line in state.limits)
        reached.update(f"accepted {bool(line.accepted_by)}" for line in state.ledger.differences)
        reached.update(f"late {bool(release.late)}" for release in state.releases)
    assert {name for name in (*POINTS.split(), *MILD_FIRST, *STATES, *RESULTS) if reached[name] < 5} == set()


@pytest.mark.node
def test_the_tablet_folds_two_thousand_random_batches_to_the_same_states() -> None:
    node.install()
    batches = [Batch(seed) for seed in SEEDS]
    cases = [
        {"records": [record.line.decode() for record in batch.records], "proven": batch.proven} for batch in batches
    ]
    lines = [msgspec.json.encode(PARTS), *(json.dumps(case).encode() for case in cases)]
    answer = node.run([FOLD_BATCHES], b"\n".join(lines)).decode().splitlines()
    assert len(answer) == len(batches)
    for seed, batch, theirs in zip(SEEDS, batches, answer, strict=True):
        assert json.loads(theirs) == plain(fold(batch)), f"seed {seed}"
