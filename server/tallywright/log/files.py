# SPDX-License-Identifier: Apache-2.0
"""Bytes that records name by their SHA-256 and that are too large for one: kept beside the log, never changed."""

from __future__ import annotations

from sqlalchemy import Connection, delete, insert, select

from tallywright.log.tables import files
from tallywright.records.decode import sha256


def put_file(connection: Connection, content: bytes) -> str:
    """Keep a file, once, and return its name: the hash of its bytes. Expects a transaction of db.writing()."""
    name = sha256(content)
    if read_file(connection, name) is None:
        # A row of that name whose bytes were changed by somebody is no file: the right ones take its place.
        connection.execute(delete(files).where(files.c.hash == name))
        connection.execute(insert(files).values(hash=name, size=len(content), bytes=content))
    return name


def read_file(connection: Connection, name: str) -> bytes | None:
    """Return the bytes of a file, or None where they are missing or are not the bytes of that name any more."""
    content: bytes | None = connection.scalar(select(files.c.bytes).where(files.c.hash == name))
    # A record vouches for these bytes by their hash alone, so what was changed in the database is no file.
    return content if content is not None and sha256(content) == name else None
