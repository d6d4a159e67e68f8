# SPDX-License-Identifier: Apache-2.0
"""Rows that go in as they are, a few or many: PostgreSQL takes many as one stream."""

from __future__ import annotations

import pytest
from sqlalchemy import select
from sqlalchemy.exc import DataError, IntegrityError

from tallywright.db import MANY_ROWS, insert_rows, reading, writing
from tallywright.log.tables import records
from tests.actors import Works

HOW_MANY = pytest.mark.parametrize("count", [1, MANY_ROWS - 1, MANY_ROWS, 3 * MANY_ROWS])

Row = tuple[object, ...]


def stored(works: Works) -> list[Row]:
    with reading(works.engine) as connection:
        return [tuple(row) for row in connection.execute(select(records).order_by(records.c.number))]


def new_rows(works: Works, count: int) -> list[Row]:
    last = len(stored(works))
    line = b'{"tab":"\\t","quote":"\\"","word":"Gr\xc3\xa4t"}\\.\n\t\\N'
    return [(last + n, "a chain", n, "a batch", "first \\N\t", 1, line) for n in range(1, count + 1)]


@HOW_MANY
def test_rows_are_read_as_they_were_given_however_many_come(works: Works, count: int) -> None:
    rows = new_rows(works, count)
    with writing(works.engine) as connection:
        insert_rows(connection, records, rows)
    assert stored(works)[-count:] == rows


@HOW_MANY
def test_one_row_that_stands_already_keeps_all_out_however_many_come(works: Works, count: int) -> None:
    before = stored(works)
    with pytest.raises(IntegrityError), writing(works.engine) as connection:
        insert_rows(connection, records, [*new_rows(works, count - 1), before[0]])
    assert stored(works) == before


@HOW_MANY
@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
def test_a_value_the_database_cannot_hold_is_named_the_same_however_many_come(works: Works, count: int) -> None:
    before = stored(works)
    *good, last = new_rows(works, count)
    with pytest.raises(DataError), writing(works.engine) as connection:
        insert_rows(connection, records, [*good, (*last[:3], "U+0000: \0", *last[4:])])
    assert stored(works) == before
