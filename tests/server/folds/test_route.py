# SPDX-License-Identifier: Apache-2.0
"""The route of a batch: held to its vectors, in any order, and never cut, netted or counted twice."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.gathered import Gathered
from tallywright.folds.requests import fold_requests
from tallywright.folds.route import Route, fold_route
from tallywright.records.bench import RecordWithdrawnV1
from tallywright.records.decode import Record, decode
from tests.server.folds.routing import LOAD, LOT, OTHER_LOAD, Floor
from tests.server.folds.test_bench import agrees, orders_of

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "route").glob("*.json"))


def fold(records: list[Record], proven: dict[str, str]) -> Route:
    gathered = Gathered(records, proven)
    return fold_route(gathered, fold_requests(gathered))


def random_floor(seed: int) -> Floor:
    """Runs, loads, lots and samples at random, some counted by nobody proven, some taken back."""
    chance: Any = random.Random(seed)
    floor = Floor()
    acts = [
        lambda: floor.stint(chance.choice([30, 40]), counts(chance), by=chance.choice("abc"), machine="press 1"),
        lambda: floor.start(40, by=chance.choice("ab"), tool=chance.choice(["D-1", "D-2"])),
        lambda: floor.finish(chance.choice(floor.records).id, 40, counts(chance), by=chance.choice("abc")),
        lambda: floor.finish(floor.start(60), 60, counts(chance), inside=chance.randint(0, 2)),
        lambda: floor.recount(
            chance.choice(floor.records).id,
            chance.choice(["in", "out", "scrap", "made"]),
            chance.randint(40, 60),
            chance.choice(["hand", "hand", "counter", "weighed"]),
            chance.choice("abc"),
            [chance.choice(floor.records).id for _ in range(chance.randint(0, 3))],
        ),
        lambda: floor.destroy(chance.choice([40, 60]), chance.randint(1, 5), chance.randint(0, 5)),
        lambda: floor.second(chance.choice(floor.records).id, chance.choice("abc")),
        lambda: floor.fill(chance.choice([LOAD, OTHER_LOAD]), 40, chance.randint(1, 50)),
        lambda: floor.send(chance.randint(1, 50), lot=chance.choice([LOT, OTHER_LOAD])),
        lambda: floor.take_back(chance.randint(0, 50), chance.randint(0, 2), 50),
        lambda: floor.sample(40, chance.randint(1, 4), chance.choice(["used_up", "given_back"])),
        lambda: floor.components(chance.choice([40, 50]), 50, chance.randint(0, 5), 1),
        lambda: floor.add(RecordWithdrawnV1(record=chance.choice(floor.records).id), chance.choice("ab")),
    ]
    for _ in range(chance.randint(0, 25)):
        chance.choice(acts)()
    return floor


def counts(chance: random.Random) -> tuple[int, int, int, int, int]:
    return chance.randint(40, 60), chance.randint(40, 60), chance.randint(0, 4), 0, chance.randint(0, 2)


def test_there_are_vectors() -> None:
    assert len(VECTORS) > 10


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    route = fold(records, case["proven"])
    found = json.loads(msgspec.json.encode(route))
    assert agrees(case["expect"], found), found
    for order in orders_of(records):
        assert fold([*order, *order[:2]], case["proven"]) == route


@given(st.integers(0, 100_000), st.randoms(use_true_random=False))
def test_a_route_is_a_function_of_the_set_of_records(seed: int, chance: Any) -> None:
    floor = random_floor(seed)
    mixed = [*floor.records, *floor.records[: seed % 7]]
    chance.shuffle(mixed)
    assert fold(mixed, floor.proven) == fold(floor.records, floor.proven)


@pytest.mark.parametrize("seed", range(60))
def test_what_was_taken_back_leaves_the_route_as_if_it_had_never_been(seed: int) -> None:
    floor = random_floor(seed)
    dead = Gathered(floor.records, floor.proven).dead
    never = [record for record in floor.records if record.id not in dead]
    assert fold(floor.records, floor.proven) == fold(never, floor.proven)


@pytest.mark.parametrize("seed", range(60))
def test_an_operation_always_adds_up_with_what_is_short_and_over(seed: int) -> None:
    floor = random_floor(seed)
    route = fold(floor.records, floor.proven)
    for one in route.operations:
        went = one.pieces_out + one.scrap + one.set_up + one.samples + one.inside
        assert one.pieces_in == went - one.short - one.over
        assert one.short <= 0 <= one.over
    lines = [(line.operation, line.kind, line.subject) for line in route.differences]
    assert len(lines) == len(set(lines))


def test_every_stint_load_and_lot_that_stands_is_named_as_what_can_have_made_a_piece() -> None:
    floor = Floor()
    stints = [floor.stint(40, (50, 50, 0, 0, 0)), floor.stint(40, (50, 50, 0, 0, 0), by="b")]
    floor.fill(LOAD, 80, 100)
    floor.send(100)
    made = fold(floor.records, floor.proven).made
    assert [one.value for one in made if one.what == "stint"] == sorted(stints)
    assert {(one.operation, one.what, one.value) for one in made} >= {(80, "load", LOAD), (100, "lot", LOT)}
