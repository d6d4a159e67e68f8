# SPDX-License-Identifier: Apache-2.0
"""A limit that was seen crossed: the server says it once, and the hold stays whatever the line does later."""

from __future__ import annotations

import pytest

from tallywright.db import writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import PieceJudgedV1
from tests.actors import Works
from tests.server.looking import Floor, close, make_floor


@pytest.fixture
def floor(works: Works) -> Floor:
    floor = make_floor(works)
    floor.count_in("first")
    return floor


def states(floor: Floor) -> dict[tuple[str, str], str]:
    return {(row["look"], row["defect_class"]): row["state"] for row in floor.rows("limit_lines")}


def standing(floor: Floor) -> list[tuple[str, str]]:
    return [(row["cause"], row["look"]) for row in floor.rows("holds") if not row["lifted_by"]]


def test_a_look_above_its_limit_is_said_in_the_push_that_shows_it_and_is_a_hold(floor: Floor) -> None:
    floor.first.open_tray(1)
    floor.first.find("bend")
    floor.first.push()
    assert (floor.crossed(), standing(floor)) == ([], [])
    floor.first.find("bend")
    floor.first.push()
    assert states(floor)["first", "major"] == "broken"
    assert floor.crossed() == [("first", "major")]
    assert standing(floor) == [("limit", "first")]


def test_further_pushes_above_the_limit_say_nothing_again(floor: Floor) -> None:
    floor.first.open_tray(1)
    for _ in range(4):
        floor.first.find("bend")
        floor.first.push()
    assert floor.crossed() == [("first", "major")]


def test_each_class_is_said_by_itself(floor: Floor) -> None:
    floor.first.open_tray(1)
    for defect in ("bend", "bend", "stain"):
        floor.first.find(defect)
    floor.first.push()
    assert sorted(floor.crossed()) == [("first", "major"), ("first", "minor")]


def test_a_line_that_falls_back_to_met_leaves_the_hold(floor: Floor) -> None:
    floor.first.open_tray(1)
    marks = [floor.first.find("bend"), floor.first.find("bend")]
    floor.first.push()
    floor.first.withdraw(marks[0].id)
    close(floor.first, "first", rejected=1)
    floor.first.open_tray(2)
    close(floor.first, "first")
    floor.first.push()
    assert states(floor)["first", "major"] == "met"
    assert (floor.crossed(), standing(floor)) == ([("first", "major")], [("limit", "first")])


def test_over_at_the_end_of_a_look_is_said_and_queries_settled_later_leave_the_hold(floor: Floor) -> None:
    floor.first.open_tray(1)
    marks = [floor.first.find("stain"), floor.first.find("not_sure")]
    floor.first.push()
    assert floor.crossed() == [("first", "minor")]
    floor.second.at_bench(PieceJudgedV1(look="first", piece=marks[1].id, verdict="accept", settles=[marks[1].id]))
    floor.second.push()
    floor.first.withdraw(marks[0].id)
    close(floor.first, "first")
    floor.first.open_tray(2)
    close(floor.first, "first")
    floor.first.push()
    assert states(floor)["first", "minor"] == "met"
    assert standing(floor) == [("limit", "first")]


def test_open_queries_alone_cross_no_limit(floor: Floor) -> None:
    floor.first.open_tray(1)
    for _ in range(3):
        floor.first.find("not_sure")
    floor.first.push()
    line = next(row for row in floor.rows("limit_lines") if row["defect_class"] == "major")
    assert (line["state"], line["state_with_queries"]) == ("within", "broken")
    assert floor.crossed() == []


def test_a_batch_nobody_counted_in_crosses_nothing_until_it_is_counted(works: Works) -> None:
    floor = make_floor(works)
    floor.first.open_tray(1)
    floor.first.find("bend")
    floor.first.find("bend")
    floor.first.push()
    assert (states(floor)["first", "major"], floor.crossed()) == ("uncounted", [])
    floor.count_in("first")
    assert floor.crossed() == [("first", "major")]


def test_a_count_whose_author_is_proven_later_is_said_with_the_judgement(works: Works) -> None:
    floor = make_floor(works)
    floor.first.open_tray(1)
    floor.first.find("stain")
    floor.first.push()
    sealed = floor.counter.sign_on_as(floor.works.person("Maren Holt"), "3960")
    floor.count_in("first")
    assert floor.crossed() == []
    floor.counter.open_tray(9)
    floor.counter.push(enclosures=[sealed])
    assert floor.crossed() == [("first", "minor")]


def test_a_rebuild_writes_nothing_and_gives_the_same_rows(floor: Floor) -> None:
    floor.first.open_tray(1)
    floor.first.find("stain")
    floor.first.push()
    with writing(floor.works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before
    assert floor.crossed() == [("first", "minor")]


def test_rows_of_a_fold_that_failed_say_nothing(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    floor.first.open_tray(1)
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.sync.push.say_crossed", lambda *_: 0)
        floor.first.find("stain")
        floor.first.push()
    assert [row["is_unsaid"] for row in floor.rows("limit_lines") if row["defect_class"] == "minor"] == [True]
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.projections.batch_rows.fold_bench", None)
        floor.first.find("stain")
        floor.first.push()
        assert floor.crossed() == []
    floor.first.find("stain")
    floor.first.push()
    assert floor.crossed() == [("first", "minor")]
