# SPDX-License-Identifier: Apache-2.0
"""Projected rows are replaced as a set: what comes out is what was given, and what stood already is not written."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Connection, create_engine, event, select

from tallywright.db import RowsOf, replace_rows, writing
from tallywright.projections.tables import holds, issues, made
from tests.actors import Works

Row = tuple[str, str, str, int, bool]
ids = st.text(st.characters(codec="utf-8"), min_size=1, max_size=3)


def rows_of(batch: str) -> st.SearchStrategy[list[Row]]:
    row = st.tuples(ids, st.just(batch), st.just("receipt"), st.integers(0, 3), st.booleans())
    return st.lists(row, unique_by=lambda one: one[0], max_size=8)


def all_rows(connection: Connection) -> set[Row]:
    return {(row[0], row[1], row[2], row[3], row[4]) for row in connection.execute(select(issues))}


@given(before=rows_of("mine"), behind=rows_of("mine"))
def test_whatever_stood_the_rows_given_stand(before: list[Row], behind: list[Row]) -> None:
    engine = create_engine("sqlite://")
    with engine.connect() as connection:
        issues.create(connection)
        replace_rows(connection, issues.c.batch, "other", [("\x00other", "other", "receipt", 1, False)])
        replace_rows(connection, issues.c.batch, "mine", before)
        replace_rows(connection, issues.c.batch, "mine", behind)
        assert all_rows(connection) == {*behind, ("\x00other", "other", "receipt", 1, False)}


def test_what_stands_already_is_not_written_again(works: Works) -> None:
    first = [("a:1", "mine", "r:1", 1, False), ("a:2", "mine", "r:1", 2, False), ("a:3", "mine", "r:1", 3, True)]
    second = [first[0], ("a:2", "mine", "r:1", 5, False)]
    with writing(works.engine) as connection:
        replace_rows(connection, issues.c.batch, "mine", first)
        sent = []

        @event.listens_for(connection, "before_cursor_execute")
        def hear(_1: object, _2: object, statement: str, given: object, _3: object, _4: object) -> None:
            sent.append((statement.split()[0], given))

        replace_rows(connection, issues.c.batch, "mine", second)
        assert [word for word, _ in sent] == ["SELECT", "DELETE", "INSERT"]
        assert sorted(sent[1][1]) == [("a:2",), ("a:3",)]  # type: ignore[call-overload]
        assert sent[2][1] == second[1]  # one row goes as it is
        sent.clear()
        replace_rows(connection, issues.c.batch, "mine", second)
        assert [word for word, _ in sent] == ["SELECT"]


def test_of_tables_without_rows_one_question_is_asked(works: Works) -> None:
    stood, more = ("a:1", "mine", "r:1", 1, False), ("a:2", "mine", "r:1", 2, False)
    hold = ("a:3", "mine", "asked", "", "first", "", False)
    with writing(works.engine) as connection:
        replace_rows(connection, issues.c.batch, "mine", [stood])
        sent = []

        @event.listens_for(connection, "before_cursor_execute")
        def hear(_1: object, _2: object, statement: str, given: object, _3: object, _4: object) -> None:
            sent.append((statement.split()[0], given))

        rows = RowsOf(connection, "mine", [issues.c.batch, holds.c.batch, made.c.batch])
        rows.replace(made.c.batch, [])
        rows.replace(holds.c.batch, [hold])
        rows.replace(issues.c.batch, [stood, more])
        assert [word for word, _ in sent] == ["SELECT", "INSERT", "SELECT", "INSERT"]
        assert sent[1][1] == hold
        assert sent[3][1] == more
        assert all_rows(connection) == {stood, more}
