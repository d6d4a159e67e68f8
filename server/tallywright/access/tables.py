# SPDX-License-Identifier: Apache-2.0
"""The changeable tables of access. Codes, challenges and sessions are kept as hashes only."""

from __future__ import annotations

from sqlalchemy import Boolean, Column, LargeBinary, String, Table, Text

from tallywright.db import metadata
from tallywright.log.tables import Big

one_time_codes = Table(
    "one_time_codes",
    metadata,
    Column("code_hash", String(64), primary_key=True),
    Column("purpose", String(64), nullable=False),
    Column("ends_at", Big, nullable=False),
)

waiting_devices = Table(
    "waiting_devices",
    metadata,
    Column("key_hash", String(64), primary_key=True),
    Column("public_key", Text, nullable=False),
    Column("name", String(200), nullable=False),
    Column("asked_at", Big, nullable=False),
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

pin_verifiers = Table(
    "pin_verifiers",
    metadata,
    Column("person", String(43), primary_key=True),
    Column("verifier", String(200), nullable=False),
    Column("set_at", Big, nullable=False),
    Column("is_long", Boolean, nullable=False),
)

wrong_pins = Table(
    "wrong_pins",
    metadata,
    Column("person", String(43), primary_key=True),
    Column("device", String(43), primary_key=True),
    Column("tries", Big, nullable=False),
)

sealed_pins = Table(
    "sealed_pins",
    metadata,
    Column("sign_on", String(43), primary_key=True),
    Column("person", String(43), nullable=False),
    Column("device", String(43), nullable=False),
    Column("sealing_key", String(16), nullable=False),
    Column("sealed", LargeBinary, nullable=False),
    Column("received_at", Big, nullable=False),
)
