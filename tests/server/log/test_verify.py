# SPDX-License-Identifier: Apache-2.0
"""Four tamperings with the log, four findings that name the row; and the rows it folds to can be made again."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from sqlalchemy import ColumnElement, Connection, delete, select, update

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.log.tables import chains, records
from tallywright.log.verify import verify
from tallywright.projections.rebuild import ensure, rebuild, rows
from tallywright.projections.tables import finds, folded_by
from tests.actors import Tablet, Works


@pytest.fixture
def tablet(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.open_tray()
    for word in ("lap", "burn", "staining", "lap"):
        tablet.find(word)
    tablet.push()
    return tablet


def findings(works: Works) -> list[str]:
    with reading(works.engine) as connection:
        return [finding.record for finding in verify(connection, every_public_key(connection))]


def row_of(tablet: Tablet, n: int) -> ColumnElement[bool]:
    return (records.c.chain == tablet.writer.chain) & (records.c.n == n)


@pytest.mark.usefixtures("tablet")
def test_a_whole_log_has_no_findings(works: Works) -> None:
    assert findings(works) == []


def test_a_log_with_a_record_set_aside_at_its_place_is_whole(works: Works, tablet: Tablet) -> None:
    from tallywright.records.decode import sha256

    poisoned = tablet.find()
    line = poisoned.line.replace(b'":', b'": ', 1)
    tablet.writer.head = sha256(line)
    behind = tablet.find()
    tablet.push_lines([line, behind.line], poisoned.envelope.n)
    assert findings(works) == []


def edit(connection: Connection, tablet: Tablet) -> None:
    line = connection.scalar(select(records.c.line).where(row_of(tablet, 5)))
    connection.execute(update(records).where(row_of(tablet, 5)).values(line=line.replace(b'"burn"', b'"bern"')))


def drop(connection: Connection, tablet: Tablet) -> None:
    connection.execute(delete(records).where(row_of(tablet, 5)))


def swap(connection: Connection, tablet: Tablet) -> None:
    lines = [connection.scalar(select(records.c.line).where(row_of(tablet, n))) for n in (5, 6)]
    for n, line in zip((6, 5), lines, strict=True):
        connection.execute(update(records).where(row_of(tablet, n)).values(line=line))


def forge_author(connection: Connection, tablet: Tablet) -> None:
    line = connection.scalar(select(records.c.line).where(row_of(tablet, 7)))
    forged = line.replace(tablet.sign_on.encode(), f"{'e' * 26}:2".encode())
    connection.execute(update(records).where(row_of(tablet, 7)).values(line=forged))


@pytest.mark.parametrize("tamper", [edit, drop, swap, forge_author])
def test_a_log_somebody_tampered_with_has_findings_at_the_row(
    works: Works, tablet: Tablet, tamper: Callable[[Connection, Tablet], None]
) -> None:
    with writing(works.engine) as connection:
        tamper(connection, tablet)
    found = findings(works)
    assert found
    assert any(name.startswith(tablet.writer.chain) for name in found)


def test_the_first_broken_row_is_named(works: Works, tablet: Tablet) -> None:
    with writing(works.engine) as connection:
        edit(connection, tablet)
    # The row that follows names the bytes as they were.
    assert findings(works)[0] == f"{tablet.writer.chain}:6"


def test_a_head_that_was_moved_is_found(works: Works, tablet: Tablet) -> None:
    with writing(works.engine) as connection:
        connection.execute(
            update(chains).where(chains.c.chain == tablet.writer.chain).values(mark_n=2, mark_hash="0" * 64)
        )
    assert f"{tablet.writer.chain}:2" in findings(works)


@pytest.mark.usefixtures("tablet")
def test_a_rebuild_gives_the_rows_that_pushes_gave(works: Works) -> None:
    with writing(works.engine) as connection:
        before = rows(connection)
        assert before["finds"]
        rebuild(connection)
        assert rows(connection) == before


@pytest.mark.usefixtures("tablet")
def test_rows_of_another_version_of_the_folds_are_made_again_at_the_start(works: Works) -> None:
    with writing(works.engine) as connection:
        before = rows(connection)
        connection.execute(delete(finds))
        connection.execute(update(folded_by).values(version="older"))
        assert ensure(connection)
        assert rows(connection) == before
        assert not ensure(connection)
