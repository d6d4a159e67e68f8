# SPDX-License-Identifier: Apache-2.0
"""Drop every projected row and fold it again from the log; and check that this changes nothing."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, delete, insert, inspect, select

from tallywright.db import projected
from tallywright.log.read import subjects
from tallywright.projections.refold import refold
from tallywright.projections.tables import FOLDED_BY, folded_by


def rebuild(connection: Connection) -> list[str]:
    """Fold every subject anew; returns the stale ones."""
    for table in projected.sorted_tables:
        connection.execute(delete(table))
    connection.execute(insert(folded_by).values(version=FOLDED_BY))
    return refold(connection, subjects(connection))


def ensure(connection: Connection) -> bool:
    """Make the projected tables at the first start, and anew when the code that folds them has changed.

    returns  True if a rebuild was needed
    """
    if inspect(connection).has_table(folded_by.name):
        if connection.scalars(select(folded_by.c.version)).all() == [FOLDED_BY]:
            return False
        projected.drop_all(connection)
    projected.create_all(connection)
    rebuild(connection)
    return True


def rows(connection: Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Return every projected row in a fixed order, to compare two states."""
    return {
        table.name: sorted(tuple(row) for row in connection.execute(select(table)))
        for table in projected.sorted_tables
    }
