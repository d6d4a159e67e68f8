# SPDX-License-Identifier: Apache-2.0
"""The rows of a batch: folded once, and the same from a rebuild, whatever was done with it."""

from __future__ import annotations

import pytest

from tallywright.db import writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import BatchSplitV1, ForeignPieceFoundV1, PieceFoundV1, ReworkSentV1
from tests.actors import Works
from tests.server.looking import Floor, close, make_floor

NEW_TABLES = ("batch_pages", "looks", "limit_lines", "queries")


@pytest.fixture
def floor(works: Works) -> Floor:
    return make_floor(works)


def everything(floor: Floor) -> None:
    """Finds of every class, a query, rework, a split, pieces found, a release and what came after it."""
    floor.complete()
    floor.release()
    for defect in ("stain", "bend", "lap", "not_sure"):
        floor.first.open_tray(3)
        floor.first.find(defect)
        close(floor.first, "first", rejected=1)
    floor.first.at_bench(ReworkSentV1(look="first", pieces=1))
    floor.first.at_bench(BatchSplitV1(number="K7-2", pieces=2))
    floor.first.at_bench(PieceFoundV1(where="under the bench", pieces=1))
    floor.first.at_bench(ForeignPieceFoundV1(look="first", pieces=1, tray=floor.first.tray))
    floor.first.push()


def test_a_rebuild_gives_the_same_rows_of_a_batch_with_everything_in_it(floor: Floor) -> None:
    everything(floor)
    with writing(floor.works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        after = rows(connection)
    for table in NEW_TABLES:
        assert before[table], table
    assert after == before


def test_the_looks_of_the_route_have_a_row_each_before_anything_was_done(floor: Floor) -> None:
    assert [(row["look"], row["place"], row["due"], row["looked"]) for row in floor.rows("looks")] == [
        ("first", 0, 0, 0),
        ("second", 1, 0, 0),
    ]


def test_a_look_in_numbers_counts_closed_trays_and_what_was_found_in_them(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(1)
    for defect in ("bend", "lap", "not_sure"):
        floor.first.find(defect)
    close(floor.first, "first", rejected=2)
    floor.first.open_tray(2)
    floor.first.find("bend")
    floor.first.push()
    row = next(row for row in floor.rows("looks") if row["look"] == "first")
    counts = [row[name] for name in ("due", "looked", "accepted", "rejected", "rework", "query")]
    assert counts == [12, 6, 3, 2, 0, 1]
    assert row["points"] == len(floor.points()["first"]) > 0


def test_a_query_has_a_row_until_it_is_settled(floor: Floor) -> None:
    from tallywright.records.bench import PieceJudgedV1

    floor.first.open_tray(1)
    mark = floor.first.find("not_sure")
    floor.first.push()
    assert [(row["piece"], row["asked_by"]) for row in floor.rows("queries")] == [(mark.id, mark.id)]
    floor.second.at_bench(PieceJudgedV1(look="first", piece=mark.id, verdict="reject", settles=[mark.id]))
    floor.second.push()
    assert floor.rows("queries") == []


def test_the_release_that_had_seen_the_most_is_in_force(floor: Floor) -> None:
    floor.complete()
    first = floor.release()
    floor.count_in("second")
    floor.sign(floor.second, "second")
    again = floor.release()
    assert first.id < again.id
    assert [(row["released_by"], row["late"]) for row in floor.rows("batch_pages")] == [(again.id, 0)]
