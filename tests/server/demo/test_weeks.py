# SPDX-License-Identifier: Apache-2.0
"""The six weeks of the demo: their counts close, the same day makes the same records, and causes hide in them."""

from __future__ import annotations

import json
from collections import Counter
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, Table, func, select

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.log.read import every_line
from tallywright.log.tables import set_aside
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.tables import (
    batch_pages,
    batches,
    finds,
    holds,
    ledgers,
    limit_lines,
    loads,
    looks,
    made,
    queries,
    requests,
    stale,
)
from tallywright.records.decode import Record, read
from tests.server.demo.conftest import UNTIL, make_weeks

SERVER_KINDS_WITH_KEYS = {"device_enrolled"}


def all_of(engine: Engine, table: Table) -> list[Any]:
    with reading(engine) as connection:
        return list(connection.execute(select(table)))


def lines(engine: Engine) -> list[Record]:
    with reading(engine) as connection:
        return [read(line) for _, line in every_line(connection)]


def last_day(engine: Engine) -> date:
    newest = max(record.envelope.made_at for record in lines(engine))
    return datetime.fromtimestamp(newest / 1000, UTC).date()


@pytest.fixture(scope="module")
def ledgers_by_number(told: Engine) -> dict[str, dict[str, Any]]:
    numbers = {row.batch: row.number for row in all_of(told, batches)}
    return {numbers[row.batch]: json.loads(row.page) for row in all_of(told, ledgers)}


def test_there_are_sixty_batches_of_three_products_and_the_one_that_waits(told: Engine) -> None:
    parts = Counter(row.part for row in all_of(told, batches))
    assert parts == {"SK-70 C": 37, "DE-12 A": 12, "CL-05 A": 12}


def test_nothing_was_set_aside_and_no_fold_failed(told: Engine) -> None:
    assert all_of(told, set_aside) == []
    assert all_of(told, stale) == []


def test_every_request_was_granted(told: Engine) -> None:
    assert {row.state for row in all_of(told, requests)} == {"granted"}
    kinds = {row.kind for row in all_of(told, requests)}
    assert kinds >= {"disposition_requested", "difference_acceptance_requested", "release_requested"}


def test_the_log_is_whole_and_its_rows_are_what_a_rebuild_makes(told: Engine) -> None:
    with writing(told) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before


def test_the_pieces_of_every_batch_add_up(ledgers_by_number: dict[str, dict[str, Any]]) -> None:
    for number, page in ledgers_by_number.items():
        used = page["scrap"] + page["samples_and_set_up"] + page["missing"] + page["taken"]
        assert page["in"] == page["good"] + used, number


def test_what_waits_to_be_looked_at_or_settled_is_not_missing(
    ledgers_by_number: dict[str, dict[str, Any]],
) -> None:
    waiting = {
        number for number, page in ledgers_by_number.items() if any(look["waiting"] for look in page["looks"])
    }
    assert waiting
    for number, page in ledgers_by_number.items():
        assert [step["missing"] for step in page["steps"] if step["is_look"] and step["missing"]] == [], number
        kinds = {line["kind"] for line in page["lines"] if not line["accepted_by"]}
        # A tray may have been closed a moment before the end, and its pieces for rework not have left.
        assert kinds <= {"pieces_short", "foreign_pieces", "pieces_found", "rework_not_sent", "rework_away"}, number


def test_what_was_released_closes_but_where_a_piece_turned_up_later(
    told: Engine, ledgers_by_number: dict[str, dict[str, Any]]
) -> None:
    numbers = {row.batch: row.number for row in all_of(told, batches)}
    released = {numbers[row.batch]: row.late for row in all_of(told, batch_pages) if row.released_by}
    assert len(released) > 25
    late = [number for number, count in released.items() if count]
    assert len(late) == 1
    for number in released:
        still_open = [line["kind"] for line in ledgers_by_number[number]["lines"] if not line["accepted_by"]]
        assert still_open == (["pieces_found"] if number in late else []), number


def test_something_waits_for_the_lead(told: Engine) -> None:
    assert {row.cause for row in all_of(told, holds) if not row.lifted_by} == {
        "critical", "found", "limit", "placed",
    }  # fmt: skip
    assert any(row.state == "over" and row.defect_class == "major" for row in all_of(told, limit_lines))
    assert len(all_of(told, queries)) >= 4
    assert any(row.points and row.looked for row in all_of(told, looks))


def test_nobody_is_in_both_looks_of_a_batch(told: Engine) -> None:
    for row in all_of(told, looks):
        kinds = {point["kind"] for point in json.loads(row.page)["look"]["points"]}
        assert not kinds & {"same_eyes", "counted_by_looker"}, row.batch


def test_the_same_day_makes_the_same_records_but_for_keys_and_signatures(told: Engine, tmp_path: Path) -> None:
    again = make_weeks(tmp_path)
    first, second = lines(told), lines(again)
    again.dispose()
    server = first[0].envelope.chain
    assert [record.id for record in first] == [record.id for record in second]
    for one, other in zip(first, second, strict=True):
        if one.envelope.chain != server:
            assert one.line == other.line
        elif one.envelope.kind not in SERVER_KINDS_WITH_KEYS:
            assert (one.body, one.envelope.made_at) == (other.body, other.envelope.made_at)


def test_the_weeks_end_on_the_day_that_is_asked_for(told: Engine, tmp_path: Path) -> None:
    earlier = make_weeks(tmp_path, date(2026, 3, 4))
    last_days = [last_day(engine) for engine in (earlier, told)]
    earlier.dispose()
    assert last_days == [date(2026, 3, 4), UNTIL]


class Causes:
    """Finds of the first look, each with what can have made its piece."""

    def __init__(self, engine: Engine) -> None:
        self.finds = [row for row in all_of(engine, finds) if row.look == "first"]
        self._made: dict[tuple[str, str], set[str]] = {}
        numbers = {row.load: row.number for row in all_of(engine, loads)}
        for row in all_of(engine, made):
            name = numbers.get(row.value, row.value)
            self._made.setdefault((row.batch, row.what), set()).add(name)
        with reading(engine) as connection:
            looked = select(looks.c.batch, func.sum(looks.c.looked)).where(looks.c.look == "first")
            self.looked = {name: int(count) for name, count in connection.execute(looked.group_by(looks.c.batch))}

    def made(self, batch: str, what: str) -> set[str]:
        return self._made.get((batch, what), set())

    def per_thousand(self, defect: str, batches: set[str]) -> float:
        count = len([find for find in self.finds if find.defect == defect and find.batch in batches])
        return 1000 * count / sum(self.looked[batch] for batch in batches)


@pytest.fixture(scope="module")
def causes(told: Engine) -> Causes:
    return Causes(told)


def test_a_cavity_of_one_die_is_worn(causes: Causes) -> None:
    by_die: dict[str, Counter[str]] = {"die D-11": Counter(), "die D-12": Counter()}
    for find in causes.finds:
        tools = causes.made(find.batch, "tool") & by_die.keys()
        if find.defect == "underfill" and len(tools) == 1:
            by_die[tools.pop()][find.cavity] += 1
    assert by_die["die D-11"]["B"] > 4 * by_die["die D-11"]["A"]
    assert by_die["die D-12"]["B"] < 3 * by_die["die D-12"]["A"] + 6


def test_one_lot_came_back_bad(causes: Causes) -> None:
    back = {batch for batch, looked in causes.looked.items() if looked}
    bad = {batch for batch in back if "A-38" in causes.made(batch, "lot")}
    assert len(bad) == 3
    for defect in ("pitting", "staining"):
        assert causes.per_thousand(defect, bad) > 3 * causes.per_thousand(defect, back - bad)


def test_the_last_tray_of_a_first_look_is_looked_at_with_tired_eyes(told: Engine, causes: Causes) -> None:
    last, others = [0, 0], [0, 0]
    pages = [json.loads(row.page)["count"] for row in all_of(told, looks) if row.look == "first" and row.looked]
    marked = Counter(find.tray for find in causes.finds)
    for page in pages:
        if page is None or any(not tray["openings"] for tray in page["trays"]):
            continue
        for tray in page["trays"]:
            of = last if tray is page["trays"][-1] else others
            of[0] += sum(marked[opening["tray"]] for opening in tray["openings"])
            of[1] += tray["looked"]
    assert last[0] / last[1] < 0.5 * others[0] / others[1]
