# SPDX-License-Identifier: Apache-2.0
"""What holds batches up now, what was asked about it, and what somebody who reads this list has seen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import msgspec
from sqlalchemy import Connection, select

from tallywright.db import in_parts
from tallywright.folds.gathered import found_at
from tallywright.log.read import by_ids, chains_of_subject
from tallywright.projections.tables import batches, holds, queries, receipts, requests
from tallywright.records.bench import DefectTalliedV1, HoldPlacedV1, LimitCrossedV1, PieceFoundV1
from tallywright.records.checks import CheckTakenV1, GaugeCheckedV1
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.reports.called import Called
from tallywright.reports.pictures import pictures

READ_FOR_MS = 7 * 86_400_000  # what was decided before that is read on the page of its batch
MOST_REQUESTS = 200
OF_METAL = ("early", "metal")  # causes that lie in a receipt


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
    """Holds that stand, requests, pieces nobody has decided on, and the batches of all these."""

    holds: list[dict[str, Any]]
    requests: list[dict[str, Any]]
    queries: list[dict[str, Any]]
    batches: list[HeldBatch]


def open_holds(connection: Connection, now: int) -> OpenHolds:
    """Return every hold that stands, every request that waits, and what became of those of the last days."""
    called = Called(connection)
    standing = select(holds).where(holds.c.lifted_by == "").order_by(holds.c.batch, holds.c.hold)
    held = [row._asdict() for row in connection.execute(standing)]
    asking = [row._asdict() for row in connection.execute(select(queries))]
    causes = by_ids(connection, {row["hold"] for row in held} | {row["asked_by"] for row in asking})
    found = _found(called, causes)
    tags = called.tags({row["piece"] for row in (*held, *asking)} - {""})
    for row in held:
        record = causes[row["hold"]]  # the hold is called by it
        row |= {
            "said": _cast(connection, record) if row["cause"] in OF_METAL else _said(record.body),
            "tag": tags.get(row["piece"], ""),
            **found[row["hold"]],
        }
    is_open = requests.c.state == "open"
    newest = (
        select(requests)
        .where(is_open | (requests.c.asked_at > now - READ_FOR_MS))
        .order_by(is_open.desc(), requests.c.asked_at.desc(), requests.c.request)
        .limit(MOST_REQUESTS)
    )
    asked = [
        row._asdict()
        | {"reasons": msgspec.json.decode(row.reasons), "seconded_by": msgspec.json.decode(row.seconded_by)}
        for row in connection.execute(newest)
    ]
    questions = _questions(asking, tags, found)
    shown = pictures(connection, {row["piece"] for row in (*held, *questions)} - {""})
    for row in (*held, *questions):
        row["pictures"] = shown.get(row["piece"], [])
    named = sorted({row["batch"] for row in (*held, *asked, *questions)} - {""})
    numbers = {
        row.batch: row.number
        for names in in_parts(named)
        for row in connection.execute(select(batches.c.batch, batches.c.number).where(batches.c.batch.in_(names)))
    }
    of_batches = [HeldBatch(batch, numbers.get(batch, ""), seen_of(connection, batch)) for batch in named]
    return OpenHolds(held, asked, questions, of_batches)


def _said(body: Body | None) -> str:
    """What caused a hold, in the finder's word or sentence; of a limit its class, of check or gauge the number."""
    if isinstance(body, DefectTalliedV1):
        return body.defect
    if isinstance(body, HoldPlacedV1):
        return body.why
    if isinstance(body, PieceFoundV1):
        return body.where
    if isinstance(body, CheckTakenV1):
        return f"{body.operation} {body.characteristic}"
    if isinstance(body, GaugeCheckedV1):
        return body.gauge
    return body.defect_class if isinstance(body, LimitCrossedV1) else ""


def _cast(connection: Connection, record: Record) -> str:
    """The cast that a hold of the metal is about; '' where its receipt is not here."""
    receipt = getattr(record.body, "receipt", "")
    return connection.scalar(select(receipts.c.cast_name).where(receipts.c.receipt == receipt)) or ""


def _found(called: Called, causes: Mapping[str, Record]) -> dict[str, dict[str, Any]]:
    """Who found each thing, when, and in the tray of which number; 0 where it is of no tray."""
    in_tray = {name: tray for name, one in causes.items() if isinstance(tray := getattr(one.body, "tray", ""), str)}
    trays, authors = called.trays(in_tray.values()), called.authors(causes.values())
    return {
        name: {
            "at": found_at(record)[0],
            "finder": called.person(authors[name]),
            "number": tray.number if (tray := trays.get(in_tray.get(name, ""))) else 0,
        }
        for name, record in causes.items()
    }


def _questions(
    asking: Iterable[dict[str, Any]], tags: Mapping[str, str], found: Mapping[str, dict[str, Any]]
) -> list[dict[str, Any]]:
    """Pieces that wait for somebody else's judgement, by batch and time; one piece is one question."""
    questions = [
        {"batch": row["batch"], "look": row["look"], "piece": row["piece"], "tag": tags.get(row["piece"], "")}
        | found[row["asked_by"]]
        for row in asking
    ]
    return sorted(questions, key=lambda one: (one["batch"], one["at"], one["piece"]))


def seen_of(connection: Connection, batch: str) -> list[Seen]:
    """Return what a request about a batch has seen: nothing behind a gap, which is in nobody's list either."""
    return [Seen(one.chain, one.seen) for one in chains_of_subject(connection, batch) if one.seen > 0]
