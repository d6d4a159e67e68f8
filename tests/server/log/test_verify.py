# SPDX-License-Identifier: Apache-2.0
"""Four tamperings with the log, four findings that name the row; and the rows it folds to can be made again."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from sqlalchemy import ColumnElement, Connection, Update, delete, select, update

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.log.tables import chains, records, set_aside
from tallywright.log.verify import verify
from tallywright.projections.rebuild import ensure, rebuild, rows
from tallywright.projections.tables import finds, folded_by
from tallywright.records.decode import read
from tests.actors import Tablet, Works
from tests.command import run


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


def relink(connection: Connection, tablet: Tablet) -> None:
    """Name other bytes before it, in a record that is a record all the same."""
    line = connection.scalar(select(records.c.line).where(row_of(tablet, 6)))
    assert line is not None
    previous = read(line).envelope.previous
    assert isinstance(previous, str)
    forged = line.replace(previous.encode(), b"0" * 64)
    connection.execute(update(records).where(row_of(tablet, 6)).values(line=forged))


def drop_the_last(connection: Connection, tablet: Tablet) -> None:
    connection.execute(delete(records).where(row_of(tablet, 7)))


def of_chain(tablet: Tablet) -> Update:
    return update(chains).where(chains.c.chain == tablet.writer.chain)


def forge_head_signature(connection: Connection, tablet: Tablet) -> None:
    connection.execute(of_chain(tablet).values(signature="A" * 96))


def count_more(connection: Connection, tablet: Tablet) -> None:
    connection.execute(of_chain(tablet).values(newest_n=9))


def count_fewer(connection: Connection, tablet: Tablet) -> None:
    connection.execute(of_chain(tablet).values(mark_n=6, newest_n=6))


def call_more_safe(connection: Connection, tablet: Tablet) -> None:
    connection.execute(of_chain(tablet).values(safe_n=8))


def move(connection: Connection, tablet: Tablet) -> None:
    connection.execute(update(records).where(row_of(tablet, 5)).values(subject="elsewhere"))


# What is done to the log, and the first row that is named: of a line the one behind it, which has its hash.
TAMPERINGS = [
    (edit, 6),
    (relink, 6),
    (swap, 5),
    (drop, 6),
    (drop_the_last, 7),
    (forge_head_signature, 7),
    (count_more, 9),
    (count_fewer, 6),
    (call_more_safe, 8),
    (move, 5),
]


@pytest.mark.parametrize(("tamper", "first"), TAMPERINGS)
def test_the_command_names_the_first_broken_row_and_ends_with_1(
    works: Works, tablet: Tablet, tamper: Callable[[Connection, Tablet], None], first: int
) -> None:
    with writing(works.engine) as connection:
        tamper(connection, tablet)
    there = {"TALLYWRIGHT_DATA": str(works.config.data), "TALLYWRIGHT_DATABASE_URL": works.config.database_url}
    done = run("verify", **there)
    assert done.returncode == 1
    named = [line for line in done.stdout.splitlines() if line.startswith(tablet.writer.chain)]
    assert named[0].startswith(f"{tablet.writer.chain}:{first}: "), done.stdout


def test_a_number_without_a_row_is_named(works: Works, tablet: Tablet) -> None:
    with writing(works.engine) as connection:
        number = connection.scalar(select(records.c.number).where(row_of(tablet, 5)))
        drop(connection, tablet)
    assert f"number {number}" in findings(works)


def test_bytes_that_were_set_aside_and_changed_are_named(works: Works, tablet: Tablet) -> None:
    odd = tablet.find()
    tablet.push_lines([odd.line.replace(b'":', b'": ', 1)], odd.envelope.n)
    assert findings(works) == []
    with writing(works.engine) as connection:
        connection.execute(update(set_aside).values(line=odd.line))
    assert f"{odd.id}" in findings(works)


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
