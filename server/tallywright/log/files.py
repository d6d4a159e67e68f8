# SPDX-License-Identifier: Apache-2.0
"""Bytes that records name by their SHA-256 and that are too large for one: kept beside the log, never changed."""

from __future__ import annotations

from sqlalchemy import Connection, bindparam, delete, insert, select

from tallywright.log.append import newest_number
from tallywright.log.tables import chains, files, records
from tallywright.records.decode import sha256

_BYTES = select(files.c.bytes).where(files.c.hash == bindparam("name"))  # asked at every push: built once


def put_file(connection: Connection, content: bytes) -> str:
    """Keep a file, once, and return its name: the hash of its bytes. Expects a transaction of db.writing()."""
    name = sha256(content)
    if read_file(connection, name) is None:
        # A row of that name whose bytes were changed by somebody is no file: the right ones take its place.
        connection.execute(delete(files).where(files.c.hash == name))
        row = {"hash": name, "size": len(content), "number": newest_number(connection), "bytes": content}
        connection.execute(insert(files).values(row))
    return name


def read_file(connection: Connection, name: str) -> bytes | None:
    """Return the bytes of a file, or None where they are missing or are not the bytes of that name any more."""
    content: bytes | None = connection.scalar(_BYTES, {"name": name})
    # A record vouches for these bytes by their hash alone, so what was changed in the database is no file.
    return content if content is not None and sha256(content) == name else None


def is_safe(connection: Connection, name: str) -> bool:
    """True for a file that is in a copy of the log that was read back: the copy has a record that came after it."""
    after = select(chains.c.safe_n >= records.c.n).join(chains, chains.c.chain == records.c.chain)
    number = select(files.c.number + 1).where(files.c.hash == name).scalar_subquery()
    return bool(connection.scalar(after.where(records.c.number == number)))
