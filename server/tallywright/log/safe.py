# SPDX-License-Identifier: Apache-2.0
"""What a verified copy of the log holds, told per chain: tablets may let go of that, and of nothing else."""

from __future__ import annotations

from sqlalchemy import Connection, func, select

from tallywright.log.append import newest_number
from tallywright.log.chains import all_heads
from tallywright.log.own_chain import OwnChain
from tallywright.log.read import id_at
from tallywright.log.tables import chains, files, records, set_aside
from tallywright.records.decode import Record
from tallywright.records.kinds import BackupVerifiedV1


def differences(copy: Connection, live: Connection) -> list[str]:
    """Return how a copy is not the beginning of the live log. Its bytes are for `verify` to check."""
    number = newest_number(copy)
    found = []
    if number == 0:
        found.append("the copy holds no record")
    if number and id_at(copy, number) != id_at(live, number):
        found.append(f"record {number} of the copy is another one than here")
    for table in (records, set_aside, files):
        rows = select(func.count()).select_from(table)
        there, here = copy.scalar(rows) or 0, live.scalar(rows) or 0
        if there > here or (table is records and there != number):
            found.append(f"the copy has {there} rows of {table.name} where {min(here, number)} were due")
    return found


def note_verified(connection: Connection, own: OwnChain, number: int) -> list[Record]:
    """Write that a verified copy holds all up to a number, and how far each chain is safe by it."""
    for head in all_heads(connection):
        behind = select(func.min(records.c.n)).where(records.c.chain == head.chain, records.c.number > number)
        # A line that was set aside has no number: nothing says that the copy holds it.
        aside = select(func.min(set_aside.c.n)).where(set_aside.c.chain == head.chain, set_aside.c.held)
        ends = [n - 1 for n in (connection.scalar(behind), connection.scalar(aside)) if n is not None]
        safe = max(head.safe_n, min([head.mark_n, *ends]))
        connection.execute(chains.update().where(chains.c.chain == head.chain).values(safe_n=safe))
    return own.write(connection, [BackupVerifiedV1(number=number)])
