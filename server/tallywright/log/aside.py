# SPDX-License-Identifier: Apache-2.0
"""Read what was set aside: by chain, with what each line says where it can be read."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from tallywright.errors import RefusedRecord
from tallywright.log.tables import set_aside
from tallywright.records.bench import AuthorshipConfirmedV1
from tallywright.records.decode import Record, decode
from tallywright.records.kinds import KINDS, Sort, chain_of


@dataclass(frozen=True, slots=True)
class SetAsideLine:
    """One line that was set aside; `record` is None where its bytes are none, or belong to another place."""

    chain: str
    n: int
    hash: str
    code: str
    signed: bool
    received_at: int
    record: Record | None

    @property
    def is_admissible(self) -> bool:
        """True for an observation that its own device signed, under a sign-on of its own chain.

        A request is asked anew: it rests on what was seen when it was asked, and its answer was never awaited. A
        kind that is not understood waits for the version that does.
        """
        record = self.record
        if record is None or not self.signed or record.body is None:
            return False
        named = [record.envelope.sign_on]
        if isinstance(record.body, AuthorshipConfirmedV1):
            named.append(record.body.of_sign_on)
        is_own = all(chain_of(name) == self.chain for name in named if isinstance(name, str))
        return is_own and KINDS[record.envelope.kind, record.envelope.v].sort is Sort.OBSERVATION


def lines_aside(connection: Connection, chain: str | None = None) -> list[SetAsideLine]:
    """Return what was set aside of one chain, or of all, by chain and number."""
    query = select(set_aside).order_by(set_aside.c.chain, set_aside.c.n, set_aside.c.entry)
    rows = connection.execute(query if chain is None else query.where(set_aside.c.chain == chain))
    return [
        SetAsideLine(
            row.chain, row.n, row.hash, row.code, row.signed, row.received_at, _record(row.chain, row.n, row.line)
        )
        for row in rows
    ]


def _record(chain: str, n: int, line: bytes) -> Record | None:
    try:
        record = decode(line)
    except RefusedRecord:
        return None
    return record if (record.envelope.chain, record.envelope.n) == (chain, n) else None
