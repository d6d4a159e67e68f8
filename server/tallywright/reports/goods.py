# SPDX-License-Identifier: Apache-2.0
"""What came in, as a lead sees it: counted and stated, certificate and cast mark, by whom, and where it went."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import msgspec
from sqlalchemy import Connection, func, select

from tallywright.folds.gathered import found_at
from tallywright.log.read import by_id
from tallywright.log.tables import files
from tallywright.projections.goods_rows import receipt_page
from tallywright.projections.tables import attachments, bar_ends, batches, issues, receipts
from tallywright.records.decode import Record
from tallywright.reports.called import Called

MOST_RECEIPTS = 200


@dataclass(frozen=True, slots=True)
class Goods:
    """The newest receipts, and the bar ends of each alloy by container."""

    receipts: list[dict[str, Any]]
    bar_ends: list[dict[str, Any]]


def goods(connection: Connection) -> Goods:
    """Return the newest receipts with the batches made of each, and all bar ends that were collected."""
    called = Called(connection)
    newest = select(receipts).order_by(receipts.c.received_at.desc(), receipts.c.receipt).limit(MOST_RECEIPTS)
    rows = connection.execute(newest).all()
    names = [row.receipt for row in rows]
    made, attached = _made_of(connection, names), _files(connection, names)
    found = []
    for row in rows:
        page = receipt_page(row.page) if row.page else None
        found.append(
            {
                "receipt": row.receipt,
                "what": row.what,
                "name": row.name,
                "cast": row.cast_name,
                "counted": row.counted,
                "difference": row.difference,
                "state": row.state,
                "received_at": row.received_at,
                "by": _by(called, by_id(connection, row.receipt)),
                "certificates": [_said(connection, called, one) for one in page.certificates] if page else [],
                "marks": [_said(connection, called, one) for one in page.marks] if page else [],
                "files": attached.get(row.receipt, []),
                "batches": made.get(row.receipt, []),
            }
        )
    return Goods(found, _bar_ends(connection))


def casts_of(connection: Connection, batch: str) -> list[dict[str, Any]]:
    """Return the receipts a batch is made of, with the state of each; one that is not here has no cast."""
    bars = func.sum(issues.c.bars).label("bars")
    of_batch = (
        select(issues.c.receipt, receipts.c.cast_name, receipts.c.name, receipts.c.state, bars)
        .outerjoin(receipts, receipts.c.receipt == issues.c.receipt)
        .where(issues.c.batch == batch, issues.c.withdrawn.is_(False))
        .group_by(issues.c.receipt, receipts.c.cast_name, receipts.c.name, receipts.c.state)
        .order_by(issues.c.receipt)
    )
    return [
        {
            "receipt": row.receipt,
            "cast": row.cast_name or "",
            "name": row.name or "",
            "state": row.state or "waits",
            "bars": int(row.bars),
        }
        for row in connection.execute(of_batch)
    ]


def _said(connection: Connection, called: Called, one: msgspec.Struct) -> dict[str, Any]:
    """What somebody said of a receipt, and who and when."""
    content = msgspec.structs.asdict(one)
    record = by_id(connection, content["id"])
    at = 0 if record is None else found_at(record)[0]
    return content | {"by": _by(called, record), "at": at}


def _by(called: Called, record: Record | None) -> str:
    return "" if record is None else called.person(called.author(record))


def _made_of(connection: Connection, names: Iterable[str]) -> dict[str, list[dict[str, Any]]]:
    """The batches bars of these receipts went to: certain, because it was written down there."""
    rows = connection.execute(
        select(issues.c.receipt, issues.c.batch, batches.c.number, func.sum(issues.c.bars).label("bars"))
        .outerjoin(batches, batches.c.batch == issues.c.batch)
        .where(issues.c.receipt.in_(names), issues.c.withdrawn.is_(False))
        .group_by(issues.c.receipt, issues.c.batch, batches.c.number)
        .order_by(batches.c.number, issues.c.batch)
    )
    found: dict[str, list[dict[str, Any]]] = {}
    for row in rows:
        one = {"batch": row.batch, "number": row.number or "", "bars": int(row.bars)}
        found.setdefault(row.receipt, []).append(one)
    return found


def _files(connection: Connection, names: Iterable[str]) -> dict[str, list[dict[str, Any]]]:
    rows = connection.execute(
        select(attachments.c.batch, attachments.c.file, files.c.hash)
        .join(files, files.c.hash == attachments.c.file, isouter=True)
        .where(attachments.c.batch.in_(names), attachments.c.withdrawn.is_(False))
        .order_by(attachments.c.added_at, attachments.c.record)
    )
    found: dict[str, list[dict[str, Any]]] = {}
    for receipt, file, here in rows:
        found.setdefault(receipt, []).append({"file": file, "here": here is not None})
    return found


def _bar_ends(connection: Connection) -> list[dict[str, Any]]:
    sums = (func.sum(bar_ends.c.pieces).label("pieces"), func.sum(bar_ends.c.mass_g).label("mass_g"))
    by_container = select(bar_ends.c.alloy, bar_ends.c.container, *sums)
    rows = connection.execute(
        by_container.group_by(bar_ends.c.alloy, bar_ends.c.container).order_by(
            bar_ends.c.alloy, bar_ends.c.container
        )
    )
    return [
        {"alloy": row.alloy, "container": row.container, "pieces": int(row.pieces), "mass_g": int(row.mass_g)}
        for row in rows
    ]
