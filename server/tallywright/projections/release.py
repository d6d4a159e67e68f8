# SPDX-License-Identifier: Apache-2.0
"""What keeps a batch from being released, read from its rows: one answer for the page and for the request."""

from __future__ import annotations

from sqlalchemy import Connection, select

from tallywright.log.read import chains_of_subject
from tallywright.projections.tables import batch_pages, batches, holds, ledgers, looks, stale
from tallywright.records.asked import Reason


def against_release(connection: Connection, batch: str) -> list[Reason]:
    """Return what speaks against a release; what may still come is not among it."""
    known = select(batches.c.part, batches.c.not_understood, batch_pages.c.released_by, batch_pages.c.late)
    joined = known.join(batch_pages, batch_pages.c.batch == batches.c.batch)
    row = connection.execute(joined.where(batches.c.batch == batch)).first()
    against: list[Reason] = []
    if row is None or not row.part or row.not_understood:
        against.append("not_understood")
    if row is not None and row.released_by and not row.late:
        against.append("released_already")
    standing = select(holds.c.hold).where(holds.c.batch == batch, holds.c.lifted_by == "")
    points = connection.scalars(select(looks.c.points).where(looks.c.batch == batch)).all()
    left_open = connection.scalar(select(ledgers.c.open).where(ledgers.c.batch == batch))
    is_held = connection.execute(standing.limit(1)).first() is not None
    if not points or any(points) or left_open or is_held:
        against.append("not_complete")
    return against


def is_in_doubt(connection: Connection, batch: str) -> bool:
    """True while rows may say less than there is: the fold failed, or a chain of the batch has a gap."""
    failed = connection.execute(select(stale.c.subject).where(stale.c.subject == batch)).first() is not None
    return failed or not all(chain.is_whole for chain in chains_of_subject(connection, batch))
