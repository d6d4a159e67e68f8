# SPDX-License-Identifier: Apache-2.0
"""Add records to the log, numbered under the one lock, and set aside what cannot be added.

Both acts expect a transaction of db.writing(): its lock is held to the commit, so a number never becomes
visible after a larger one.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from sqlalchemy import Connection, and_, func, insert, select
from sqlalchemy.exc import DataError, IntegrityError

from tallywright.db import insert_rows
from tallywright.errors import NotStorable, RefusedRecord, StoreFull
from tallywright.log.tables import records, set_aside
from tallywright.records.decode import Record

_NEWEST = select(func.max(records.c.number))  # asked at every request: built once
SET_ASIDE_BOUND = 256 * 1024 * 1024  # bytes of lines nobody vouches for; more is not taken from strangers


def newest_number(connection: Connection) -> int:
    """Return the number of the newest record, 0 for an empty log."""
    return connection.scalar(_NEWEST) or 0


def append(connection: Connection, added: Sequence[Record], received_at: int) -> dict[str, NotStorable]:
    """Number and insert records.

    added        records that are in no way refused, each new to the log
    received_at  server time                                            [ms]
    returns      by id, the records the database itself refused; the others are in
    """
    number = newest_number(connection)
    try:
        with connection.begin_nested():
            rows = [_row(record, number + place, received_at) for place, record in enumerate(added, start=1)]
            insert_rows(connection, records, rows)
    except (DataError, IntegrityError):
        return _append_one_by_one(connection, added, received_at)
    return {}


def _append_one_by_one(connection: Connection, added: Sequence[Record], received_at: int) -> dict[str, NotStorable]:
    refused: dict[str, NotStorable] = {}
    for record in added:
        try:
            with connection.begin_nested():
                insert_rows(connection, records, [_row(record, newest_number(connection) + 1, received_at)])
        except (DataError, IntegrityError) as problem:
            refused[record.id] = NotStorable(f"The database refused the record: {problem.orig}")
    return refused


def _row(record: Record, number: int, received_at: int) -> tuple[object, ...]:
    envelope = record.envelope
    return (number, envelope.chain, envelope.n, record.subject, record.look, received_at, record.line)


def put_aside(
    connection: Connection,
    chain: str,
    n: int,
    line: bytes,
    line_hash: str,
    reason: RefusedRecord,
    held: bool,
    signed: bool,
    received_at: int,
) -> None:
    """Keep the bytes of a record that cannot be added, once, with the reason.

    held     True when the bytes are vouched for and stand at their place, so that the mark may pass them
    signed   True when a signature of the device that the record names leads to the bytes
    raises   StoreFull when too much that nobody vouches for is kept already
    """
    place = and_(set_aside.c.chain == chain, set_aside.c.n == n, set_aside.c.hash == line_hash)
    found = connection.execute(select(set_aside.c.entry, set_aside.c.held, set_aside.c.signed).where(place)).first()
    if found is not None:
        if signed and not found.signed:
            connection.execute(set_aside.update().where(place).values(signed=True, code=reason.code))
        if held and not found.held:
            connection.execute(set_aside.update().where(place).values(held=True, code=reason.code))
        return
    if not held:
        size = connection.scalar(select(func.sum(func.length(set_aside.c.line))).where(set_aside.c.held.is_(False)))
        if (size or 0) + len(line) > SET_ASIDE_BOUND:
            raise StoreFull("Too many records that nobody vouches for are waiting to be looked at.")
    connection.execute(
        insert(set_aside).values(
            chain=chain,
            n=n,
            hash=line_hash,
            code=reason.code,
            details=msgspec.json.encode(reason.details, order="sorted").decode(),
            held=held,
            signed=signed,
            received_at=received_at,
            line=line,
        )
    )
