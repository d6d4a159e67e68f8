# SPDX-License-Identifier: Apache-2.0
"""The changeable tables of access. Codes, challenges and sessions are kept as hashes only."""

from __future__ import annotations

from sqlalchemy import Column, String, Table

from tallywright.db import metadata
from tallywright.log.tables import Big

enrolment_codes = Table(
    "enrolment_codes",
    metadata,
    Column("code_hash", String(64), primary_key=True),
    Column("ends_at", Big, nullable=False),
)

challenges = Table(
    "challenges",
    metadata,
    Column("challenge_hash", String(64), primary_key=True),
    Column("device", String(43), nullable=False),
    Column("ends_at", Big, nullable=False),
)

sessions = Table(
    "sessions",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("device", String(43), nullable=False),
    Column("ends_at", Big, nullable=False),
)

wrong_codes = Table(
    "wrong_codes",
    metadata,
    Column("minute", Big, primary_key=True, autoincrement=False),
    Column("tries", Big, nullable=False),
)
