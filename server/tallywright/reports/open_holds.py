# SPDX-License-Identifier: Apache-2.0
"""What holds batches up now, what was asked about it, and what somebody who reads this list has seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec
from sqlalchemy import Connection, func, select

from tallywright.log.tables import chains, records
from tallywright.projections.tables import batches, holds, requests

MOST_REQUESTS = 200


@dataclass(frozen=True, slots=True)
class Seen:
    """How far a chain that has records of a batch is held without a gap."""

    chain: str
    n: int


@dataclass(frozen=True, slots=True)
class HeldBatch:
    """A batch with a hold or a request, and what a request that rests on this list has to say it has seen."""

    batch: str
    number: str
    seen: list[Seen]


@dataclass(frozen=True, slots=True)
class OpenHolds:
    """Holds that stand, the newest requests, and their batches."""

    holds: list[dict[str, Any]]
    requests: list[dict[str, Any]]
    batches: list[HeldBatch]


def open_holds(connection: Connection) -> OpenHolds:
    """Return every hold that stands, and the newest requests whatever became of them."""
    standing = select(holds).where(holds.c.lifted_by == "").order_by(holds.c.batch, holds.c.hold)
    held = [row._asdict() for row in connection.execute(standing)]
    newest = select(requests).order_by(requests.c.asked_at.desc(), requests.c.request).limit(MOST_REQUESTS)
    asked = [
        row._asdict()
        | {"reasons": msgspec.json.decode(row.reasons), "seconded_by": msgspec.json.decode(row.seconded_by)}
        for row in connection.execute(newest)
    ]
    named = sorted({row["batch"] for row in (*held, *asked)})
    numbers = {
        row.batch: row.number
        for row in connection.execute(select(batches.c.batch, batches.c.number).where(batches.c.batch.in_(named)))
    }
    of_batches = [HeldBatch(batch, numbers.get(batch, ""), _seen(connection, batch)) for batch in named]
    return OpenHolds(held, asked, of_batches)


def _seen(connection: Connection, batch: str) -> list[Seen]:
    """What lies behind a gap is in nobody's list: a request does not cover it."""
    of_batch = select(records.c.chain, func.max(records.c.n).label("n"))
    newest = of_batch.where(records.c.subject == batch).group_by(records.c.chain).subquery()
    marks = select(newest.c.chain, newest.c.n, chains.c.mark_n).join(chains, chains.c.chain == newest.c.chain)
    rows = connection.execute(marks.order_by(newest.c.chain))
    return [Seen(row.chain, min(row.n, row.mark_n)) for row in rows if row.mark_n > 0]
