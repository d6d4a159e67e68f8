# SPDX-License-Identifier: Apache-2.0
"""Write down, once, that a look was seen above the limit of a class: a hold that stays when the line falls back.

What a batch's rows say is gone with the next fold; that somebody saw the limit crossed must not be. So the server
says it in its own chain, in the transaction that saw it. docs/decisions/ says why.
"""

from __future__ import annotations

from sqlalchemy import Connection, select

from tallywright.log.own_chain import OwnChain
from tallywright.projections.refold import refold
from tallywright.projections.tables import limit_lines, stale
from tallywright.records.bench import LimitCrossedV1

# Asked at every push: built once.
_UNSAID = (
    select(limit_lines.c.batch, limit_lines.c.look, limit_lines.c.defect_class)
    .where(limit_lines.c.is_unsaid, limit_lines.c.batch.not_in(select(stale.c.subject)))
    .order_by(limit_lines.c.batch, limit_lines.c.place)
)


def say_crossed(connection: Connection, own: OwnChain) -> int:
    """Write one `limit_crossed` for each look and class that is above its limit and was not said to be.

    It asks for all batches, so that what a rebuild or a definition's file brought to light is said as well. Rows
    of a fold that failed say nothing. Expects a transaction of db.writing().

    returns  how many were written
    """
    by_batch: dict[str, list[LimitCrossedV1]] = {}
    for row in connection.execute(_UNSAID).all():
        by_batch.setdefault(row.batch, []).append(LimitCrossedV1(look=row.look, defect_class=row.defect_class))
    for batch, bodies in by_batch.items():
        own.write(connection, bodies, batch=batch)
    refold(connection, by_batch)
    return sum(map(len, by_batch.values()))
