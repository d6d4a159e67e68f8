# SPDX-License-Identifier: Apache-2.0
"""Rows of what came in at the gate, of the bars that went to a batch, and of bar ends for recycling."""

from __future__ import annotations

import msgspec
from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.db import replace_rows
from tallywright.definitions.published import materials
from tallywright.folds.gathered import Gathered, found_at
from tallywright.folds.receipts import NO_RECEIPTS, Receipt, Receipts, fold_receipt
from tallywright.log.read import of_subject
from tallywright.projections.asked import admission_rows, proven_among
from tallywright.projections.tables import attachments, bar_ends, receipts
from tallywright.records.compose import canonical
from tallywright.records.decode import GOODS, Record
from tallywright.records.goods import (
    BarEndsCollectedV1,
    BarsIssuedV1,
    CertificateAttachedV1,
    ComponentsReceivedV1,
    MaterialReceivedV1,
)

_read_page = msgspec.json.Decoder(Receipt).decode


def is_receipt(records: list[Record]) -> bool:
    """True for the records of a receipt, though the receipt itself may come later."""
    return all(record.look == GOODS for record in records)


def is_bar_ends(records: list[Record]) -> bool:
    """True for the records of bar ends in their container."""
    return any(isinstance(record.body, BarEndsCollectedV1) for record in records)


def receipt_rows(connection: Connection, receipt: str, records: list[Record]) -> None:
    """Replace the rows of a receipt by the fold of all its records."""
    admission_rows(connection, receipt, records)
    gathered = Gathered(records, _proven(connection, records))
    files = [
        (record.id, receipt, "", "", "", body.file, body.size, found_at(record)[0], record.id in gathered.dead)
        for record in gathered.known.values()
        if isinstance(body := record.body, CertificateAttachedV1)
    ]
    replace_rows(connection, attachments.c.batch, receipt, files)
    rows: list[tuple[object, ...]] = []
    for record, body in gathered.of(MaterialReceivedV1):
        state = fold_receipt(gathered, materials(connection, _definitions(records)))
        bars = ("bars", f"{body.alloy} {body.temper}", body.cast, body.bars, state.difference, state.state)
        rows.append((record.id, *bars, found_at(record)[0], canonical(state).decode()))
    for record, lot in gathered.of(ComponentsReceivedV1):
        difference = 0 if lot.stated is UNSET else lot.counted - lot.stated
        lots = ("components", lot.component, lot.lot, lot.counted, difference, "")
        rows.append((record.id, *lots, found_at(record)[0], ""))
    replace_rows(connection, receipts.c.receipt, receipt, rows)


def receipt_page(text: str) -> Receipt:
    """Return what was written of a receipt of bars beside the columns of its row."""
    return _read_page(text)


def receipts_of(connection: Connection, batch: Gathered) -> Receipts:
    """Return the receipts a batch is made of, with all records of each: read from the log, so in any order."""
    named = {body.receipt for record in batch.known.values() if isinstance(body := record.body, BarsIssuedV1)}
    if not named:
        return NO_RECEIPTS
    found = {name: of_subject(connection, name) for name in sorted(named)}
    every = [record for records in found.values() for record in records]
    return Receipts(found, materials(connection, _definitions(every)), _proven(connection, every))


def issue_rows(batch: str, gathered: Gathered) -> list[tuple[object, ...]]:
    """Return the rows of the bars that went to a batch, in the order of the table's columns."""
    rows: list[tuple[object, ...]] = []
    for record in gathered.known.values():
        body = record.body
        if isinstance(body, BarsIssuedV1):
            rows.append((record.id, batch, body.receipt, body.bars, record.id in gathered.dead))
    return rows


def bar_end_rows(connection: Connection, subject: str, records: list[Record]) -> None:
    """Replace the row of bar ends in their container."""
    admission_rows(connection, subject, records)
    rows = [
        (
            record.id,
            body.alloy,
            body.container,
            0 if body.pieces is UNSET else body.pieces,
            0 if body.mass_g is UNSET else body.mass_g,
        )
        for record, body in Gathered(records, _proven(connection, records)).of(BarEndsCollectedV1)
    ]
    replace_rows(connection, bar_ends.c.record, subject, rows)


def _proven(connection: Connection, records: list[Record]) -> dict[str, str]:
    return proven_among(
        connection, {str(one.envelope.sign_on) for one in records if one.envelope.sign_on is not UNSET}
    )


def _definitions(records: list[Record]) -> set[str]:
    return {str(record.envelope.definition) for record in records if record.envelope.definition is not UNSET}
