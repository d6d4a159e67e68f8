# SPDX-License-Identifier: Apache-2.0
"""Alembic's entry: migrates the log and the few changeable tables, on the connection that was handed in."""

from __future__ import annotations

from alembic import context

import tallywright.access.tables
import tallywright.log.tables  # noqa: F401 - importing the rooms' tables fills the metadata
from tallywright.db import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
