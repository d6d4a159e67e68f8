# SPDX-License-Identifier: Apache-2.0
"""Gauges, and the values and holds that hang on them: held to vectors both languages read, in any order."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.folds.gauges import day_of, names_kind
from tallywright.records.decode import Record, decode, gauge_subject
from tests.server.folds.gauging import gauges_in, holds_of, random_shop, standings
from tests.server.folds.test_bench import agrees, orders_of
from tests.server.folds.write_gauge_vectors import CASES

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "gauges").glob("*.json"))


def answer(
    records: list[Record], proven: dict[str, str], vouching: set[str], batch: str, names: list[str]
) -> dict[str, Any]:
    gauges = gauges_in(records, proven, vouching)
    found = {
        "gauges": {name: gauges.of(name) for name in names},
        "standings": standings(records, gauges),
        "holds": holds_of(records, proven, gauges, batch),
    }
    return dict(json.loads(msgspec.json.encode(found)))


def test_there_is_a_vector_for_each_case() -> None:
    assert len(VECTORS) == len(CASES) > 10


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_a_vector_has_its_answer_in_every_order(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    records = [decode(line.encode()) for line in case["records"]]
    asked = (case["proven"], set(case["vouching"]), case["batch"], list(case["expect"]["gauges"]))
    found = answer(records, *asked)
    assert agrees(case["expect"], found), found
    assert found["holds"] == case["expect"]["holds"]
    for order in orders_of(records):
        assert answer([*order, *order[:2]], *asked) == found


@given(st.integers(0, 100_000), st.randoms(use_true_random=False))
def test_what_a_value_is_worth_is_a_function_of_the_set_of_records(seed: int, chance: Any) -> None:
    shop = random_shop(seed)
    mixed = [*shop.records, *shop.records[:3]]
    chance.shuffle(mixed)
    of = (shop.proven, shop.vouching, shop.batch, ["M-014", "M-015", "X9"])
    assert answer(mixed, *of) == answer(shop.records, *of)


@given(st.integers(0, 100_000))
def test_no_record_that_is_made_later_ends_a_hold_but_a_grant(seed: int) -> None:
    shop = random_shop(seed)
    before: set[str] = set()
    for upto in range(1, len(shop.records) + 1):
        records = shop.records[:upto]
        gauges = gauges_in(records, shop.proven, shop.vouching)
        holds = {one.id for one in holds_of(records, shop.proven, gauges, shop.batch)}
        assert before <= holds
        before = holds


@given(st.integers(0, 100_000))
def test_a_value_by_a_gauge_that_was_found_wrong_stands_in_a_hold_of_its_batch(seed: int) -> None:
    shop = random_shop(seed)
    gauges = gauges_in(shop.records, shop.proven, shop.vouching)
    if "found_wrong" in standings(shop.records, gauges).values():
        assert holds_of(shop.records, shop.proven, gauges, shop.batch)


def test_a_gauge_is_one_subject_however_its_number_is_written() -> None:
    assert gauge_subject("M-014") == gauge_subject("m 014") != gauge_subject("M-015")
    assert len(gauge_subject("M" * 200)) <= 64


def test_a_plan_names_a_kind_by_its_whole_words() -> None:
    assert names_kind("calliper, cold piece", "Calliper")
    assert names_kind("surface plate + feeler 0.8", "feeler")
    assert names_kind("depth/edge gauge across parting line", "depth/edge gauge")
    assert not names_kind("depth/edge gauge across parting line", "depth gauge")
    assert not names_kind("micrometer 0-25", "meter")


def test_a_day_is_the_works_own_and_no_clock_breaks_it() -> None:
    assert day_of(1_789_423_200_000, "Europe/Berlin") == "2026-09-15"  # 22:00 UTC in summer is midnight there
    assert day_of(1_789_423_199_999, "Europe/Berlin") == "2026-09-14"
    assert day_of(2**53, "UTC") == "9999-12-31"
    assert day_of(-(2**53), "UTC") == "1970-01-01"
