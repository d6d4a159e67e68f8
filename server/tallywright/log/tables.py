# SPDX-License-Identifier: Apache-2.0
"""The tables of the log. `records`, `set_aside` and `files` only ever grow; `chains` keeps each chain's head.

`file_parts` holds what has come of a file that is not whole yet.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Dialect,
    Index,
    Integer,
    LargeBinary,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
    text,
)

from tallywright.db import metadata

# SQLite keeps a row under its own number only where the type is written INTEGER.
Big = BigInteger().with_variant(Integer, "sqlite")


class Line(TypeDecorator[bytes]):
    """The bytes of a record. A row somebody wrote by hand may hold text in SQLite: it is read as its bytes."""

    impl = LargeBinary
    cache_ok = True

    def process_result_value(self, value: object, dialect: Dialect) -> bytes | None:  # noqa: ARG002
        """Return bytes, whatever the column holds."""
        if isinstance(value, str):
            return value.encode()
        if value is None or isinstance(value, bytes):
            return value
        assert isinstance(value, memoryview)  # noqa: S101 - what drivers give beside bytes and text
        return bytes(value)


records = Table(
    "records",
    metadata,
    Column("number", Big, primary_key=True, autoincrement=False),
    Column("chain", String(26), nullable=False),
    Column("n", Big, nullable=False),
    Column("subject", String(64), nullable=False),
    Column("look", String(64), nullable=False),
    Column("received_at", Big, nullable=False),
    Column("line", Line, nullable=False),
    UniqueConstraint("chain", "n", name="records_chain_n"),
    Index("records_subject", "subject", "look", "number"),
    # What of goods and of gauges goes to every tablet: few among many.
    Index(
        "records_goods", "number", sqlite_where=text("look = '@goods'"), postgresql_where=text("look = '@goods'")
    ),
    Index(
        "records_gauges",
        "number",
        sqlite_where=text("look = '@gauges'"),
        postgresql_where=text("look = '@gauges'"),
    ),
)

chains = Table(
    "chains",
    metadata,
    Column("chain", String(26), primary_key=True),
    Column("device", String(43), nullable=False),
    Column("mark_n", Big, nullable=False),
    Column("mark_hash", String(64), nullable=False),
    Column("newest_n", Big, nullable=False),
    Column("signed_n", Big, nullable=False),
    Column("signature", Text, nullable=False),
    Column("safe_n", Big, nullable=False),
    Index("chains_device", "device"),
)

set_aside = Table(
    "set_aside",
    metadata,
    Column("entry", Integer, primary_key=True),
    Column("chain", String(26), nullable=False),
    Column("n", Big, nullable=False),
    Column("hash", String(64), nullable=False),
    Column("code", String(32), nullable=False),
    Column("details", Text, nullable=False),
    Column("held", Boolean, nullable=False),
    Column("signed", Boolean, nullable=False),
    Column("received_at", Big, nullable=False),
    Column("line", Line, nullable=False),
    UniqueConstraint("chain", "n", "hash", name="set_aside_bytes"),
)

files = Table(
    "files",
    metadata,
    Column("hash", String(64), primary_key=True),
    Column("size", Big, nullable=False),
    Column("number", Big, nullable=False),  # the newest record when it came: a copy that has more, has it too
    Column("bytes", LargeBinary, nullable=False),
)

file_parts = Table(
    "file_parts",
    metadata,
    Column("file", String(64), primary_key=True),
    Column("device", String(43), primary_key=True),
    Column("first", Big, primary_key=True, autoincrement=False),
    Column("bytes", LargeBinary, nullable=False),
    Column("ends_at", Big, nullable=False),
)
