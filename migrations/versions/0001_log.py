# SPDX-License-Identifier: Apache-2.0
"""The log, its chains, its set-aside store, its files and their parts; enrolment codes, challenges and sessions."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

BIG = sa.BigInteger().with_variant(sa.Integer, "sqlite")


def upgrade() -> None:
    """Make all tables."""
    op.create_table(
        "records",
        sa.Column("number", BIG, primary_key=True, autoincrement=False),
        sa.Column("chain", sa.String(26), nullable=False),
        sa.Column("n", BIG, nullable=False),
        sa.Column("subject", sa.String(64), nullable=False),
        sa.Column("look", sa.String(64), nullable=False),
        sa.Column("received_at", BIG, nullable=False),
        sa.Column("line", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("chain", "n", name="records_chain_n"),
    )
    op.create_index("records_subject", "records", ["subject", "look", "number"])
    goods = sa.text("look = '@goods'")
    op.create_index("records_goods", "records", ["number"], sqlite_where=goods, postgresql_where=goods)
    gauges = sa.text("look = '@gauges'")
    op.create_index("records_gauges", "records", ["number"], sqlite_where=gauges, postgresql_where=gauges)
    op.create_table(
        "chains",
        sa.Column("chain", sa.String(26), primary_key=True),
        sa.Column("device", sa.String(43), nullable=False),
        sa.Column("mark_n", BIG, nullable=False),
        sa.Column("mark_hash", sa.String(64), nullable=False),
        sa.Column("newest_n", BIG, nullable=False),
        sa.Column("signed_n", BIG, nullable=False),
        sa.Column("signature", sa.Text, nullable=False),
        sa.Column("safe_n", BIG, nullable=False),
    )
    op.create_index("chains_device", "chains", ["device"])
    op.create_table(
        "set_aside",
        sa.Column("entry", sa.Integer, primary_key=True),
        sa.Column("chain", sa.String(26), nullable=False),
        sa.Column("n", BIG, nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("code", sa.String(32), nullable=False),
        sa.Column("details", sa.Text, nullable=False),
        sa.Column("held", sa.Boolean, nullable=False),
        sa.Column("signed", sa.Boolean, nullable=False),
        sa.Column("received_at", BIG, nullable=False),
        sa.Column("line", sa.LargeBinary, nullable=False),
        sa.UniqueConstraint("chain", "n", "hash", name="set_aside_bytes"),
    )
    op.create_table(
        "files",
        sa.Column("hash", sa.String(64), primary_key=True),
        sa.Column("size", BIG, nullable=False),
        sa.Column("number", BIG, nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "file_parts",
        sa.Column("file", sa.String(64), primary_key=True),
        sa.Column("device", sa.String(43), primary_key=True),
        sa.Column("first", BIG, primary_key=True, autoincrement=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
        sa.Column("ends_at", BIG, nullable=False),
    )
    op.create_table(
        "one_time_codes",
        sa.Column("code_hash", sa.String(64), primary_key=True),
        sa.Column("purpose", sa.String(64), nullable=False),
        sa.Column("ends_at", BIG, nullable=False),
    )
    op.create_table(
        "waiting_devices",
        sa.Column("key_hash", sa.String(64), primary_key=True),
        sa.Column("public_key", sa.Text, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("asked_at", BIG, nullable=False),
        sa.Column("ends_at", BIG, nullable=False),
    )
    op.create_table(
        "challenges",
        sa.Column("challenge_hash", sa.String(64), primary_key=True),
        sa.Column("device", sa.String(43), nullable=False),
        sa.Column("ends_at", BIG, nullable=False),
    )
    op.create_table(
        "sessions",
        sa.Column("token_hash", sa.String(64), primary_key=True),
        sa.Column("device", sa.String(43), nullable=False),
        sa.Column("ends_at", BIG, nullable=False),
    )
    op.create_table(
        "wrong_codes",
        sa.Column("minute", BIG, primary_key=True, autoincrement=False),
        sa.Column("tries", BIG, nullable=False),
    )
    op.create_table(
        "pin_verifiers",
        sa.Column("person", sa.String(43), primary_key=True),
        sa.Column("verifier", sa.String(200), nullable=False),
        sa.Column("set_at", BIG, nullable=False),
        sa.Column("is_long", sa.Boolean, nullable=False),
    )
    op.create_table(
        "wrong_pins",
        sa.Column("person", sa.String(43), primary_key=True),
        sa.Column("device", sa.String(43), primary_key=True),
        sa.Column("tries", BIG, nullable=False),
    )
    op.create_table(
        "sealed_pins",
        sa.Column("sign_on", sa.String(43), primary_key=True),
        sa.Column("person", sa.String(43), nullable=False),
        sa.Column("device", sa.String(43), nullable=False),
        sa.Column("sealing_key", sa.String(16), nullable=False),
        sa.Column("sealed", sa.LargeBinary, nullable=False),
        sa.Column("received_at", BIG, nullable=False),
    )


def downgrade() -> None:
    """The first version has nothing before it; a log is never taken away by a tool."""
    raise NotImplementedError("There is no version before the first.")
