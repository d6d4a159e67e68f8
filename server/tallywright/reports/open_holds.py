# SPDX-License-Identifier: Apache-2.0
"""What holds batches up now, what was asked about it, and what somebody who reads this list has seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec
from sqlalchemy import Connection, func, select

from tallywright.folds.tally import found_at
from tallywright.log.read import by_id
from tallywright.log.tables import chains, records
from tallywright.projections.tables import batches, finds, holds, requests
from tallywright.records.asked import DispositionRequestedV1
from tallywright.records.bench import DefectTalliedV1, HoldPlacedV1

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
    """Holds that stand, the newest requests, pieces nobody has decided on, and the batches of all these."""

    holds: list[dict[str, Any]]
    requests: list[dict[str, Any]]
    queries: list[dict[str, Any]]
    batches: list[HeldBatch]


def open_holds(connection: Connection) -> OpenHolds:
    """Return every hold that stands, and the newest requests whatever became of them."""
    standing = select(holds).where(holds.c.lifted_by == "").order_by(holds.c.batch, holds.c.hold)
    held = [row._asdict() | _told(connection, row.hold) for row in connection.execute(standing)]
    newest = select(requests).order_by(requests.c.asked_at.desc(), requests.c.request).limit(MOST_REQUESTS)
    asked = [
        row._asdict()
        | {"reasons": msgspec.json.decode(row.reasons), "seconded_by": msgspec.json.decode(row.seconded_by)}
        for row in connection.execute(newest)
    ]
    queries = _queries(connection)
    named = sorted({row["batch"] for row in (*held, *asked, *queries)} - {""})
    numbers = {
        row.batch: row.number
        for row in connection.execute(select(batches.c.batch, batches.c.number).where(batches.c.batch.in_(named)))
    }
    of_batches = [HeldBatch(batch, numbers.get(batch, ""), _seen(connection, batch)) for batch in named]
    return OpenHolds(held, asked, queries, of_batches)


def _told(connection: Connection, hold: str) -> dict[str, Any]:
    """What caused a hold, in the finder's word or sentence, and when."""
    record = by_id(connection, hold)
    assert record is not None  # noqa: S101 - the hold is called by it
    body = record.body
    said = body.defect if isinstance(body, DefectTalliedV1) else body.why if isinstance(body, HoldPlacedV1) else ""
    return {"said": said, "at": found_at(record)[0]}


def _queries(connection: Connection) -> list[dict[str, Any]]:
    """Pieces marked as not sure for which no verdict was granted, by batch and time found."""
    granted = select(requests.c.request).where(
        requests.c.kind == "disposition_requested", requests.c.state == "granted"
    )
    decided = set()
    for name in connection.scalars(granted):
        record = by_id(connection, name)
        if record is not None and isinstance(record.body, DispositionRequestedV1):
            decided.add((record.subject, record.body.look, record.body.piece))
    rows = select(finds).where(finds.c.weight == "query").order_by(finds.c.batch, finds.c.found_at, finds.c.id)
    # One piece may carry several such marks, and is one question.
    queries: dict[tuple[str, str, str], int] = {}
    for row in connection.execute(rows):
        queries.setdefault((row.batch, row.look, row.piece), row.found_at)
    return [
        {"batch": batch, "look": look, "piece": piece, "at": at}
        for (batch, look, piece), at in queries.items()
        if (batch, look, piece) not in decided
    ]


def _seen(connection: Connection, batch: str) -> list[Seen]:
    """What lies behind a gap is in nobody's list: a request does not cover it."""
    of_batch = select(records.c.chain, func.max(records.c.n).label("n"))
    newest = of_batch.where(records.c.subject == batch).group_by(records.c.chain).subquery()
    marks = select(newest.c.chain, newest.c.n, chains.c.mark_n).join(chains, chains.c.chain == newest.c.chain)
    rows = connection.execute(marks.order_by(newest.c.chain))
    return [Seen(row.chain, min(row.n, row.mark_n)) for row in rows if row.mark_n > 0]
