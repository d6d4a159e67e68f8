# SPDX-License-Identifier: Apache-2.0
"""Replace the row of a load or a lot: what it is called, and what for it was opened."""

from __future__ import annotations

from sqlalchemy import Connection

from tallywright.db import replace_rows
from tallywright.folds.gathered import Gathered, found_at
from tallywright.projections.asked import admission_rows
from tallywright.projections.tables import loads
from tallywright.records.decode import Record
from tallywright.records.route import LoadOpenedV1, LotOpenedV1


def is_load(records: list[Record]) -> bool:
    """True for the records of a load or a lot."""
    return any(isinstance(record.body, LoadOpenedV1 | LotOpenedV1) for record in records)


def load_rows(connection: Connection, load: str, records: list[Record]) -> None:
    """Replace the row of a load or a lot by the fold of all its records."""
    admission_rows(connection, load, records)
    gathered = Gathered(records, {})
    opened = [("load", record, body.operation, body.number) for record, body in gathered.of(LoadOpenedV1)]
    opened += [("lot", record, body.operation, body.number) for record, body in gathered.of(LotOpenedV1)]
    rows = [(record.id, what, *names, found_at(record)[0]) for what, record, *names in opened]
    replace_rows(connection, loads.c.load, load, rows)
