# SPDX-License-Identifier: Apache-2.0
"""Fold a subject again from all its records and replace its rows. Never "one more": there is one way to a row."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Mapping

from msgspec import UNSET
from sqlalchemy import Connection, delete, insert

from tallywright.db import insert_rows
from tallywright.definitions.published import parts
from tallywright.folds.tally import Mark, Tally, fold_tally, found_at, withdrawn
from tallywright.log.read import WORKS_WIDE, of_subject
from tallywright.projections.tables import batches, devices, finds, stale
from tallywright.records.decode import Record
from tallywright.records.kinds import BatchOpenedV1, DeviceEnrolledV1, PartDefinition

_log = logging.getLogger(__name__)


def refold(
    connection: Connection, subjects: Iterable[str], fresh: Mapping[bytes, Record] | None = None
) -> list[str]:
    """Replace the rows of each subject by the fold of its records.

    A fold that fails must not keep its records out of the log: the subject is marked stale, with the reason,
    and `verify` names it.

    fresh    records by their bytes that the caller has just decoded
    returns  the subjects that are stale now
    """
    failed = []
    for subject in sorted(set(subjects)):
        connection.execute(delete(stale).where(stale.c.subject == subject))
        try:
            with connection.begin_nested():
                if subject == WORKS_WIDE:
                    _works(connection)
                elif not subject.startswith("@"):
                    _batch(connection, subject, fresh)
        except Exception as problem:  # the one broad catch of the server; see the docstring
            _log.exception("fold of %s failed", subject)
            connection.execute(insert(stale).values(subject=subject, why=repr(problem)[:500]))
            failed.append(subject)
    return failed


def _works(connection: Connection) -> None:
    connection.execute(delete(devices))
    rows = [
        {
            "device": record.id,
            "name": record.body.name,
            "letters": record.body.letters,
            "public_key": record.body.public_key,
        }
        for record in of_subject(connection, WORKS_WIDE)
        if isinstance(record.body, DeviceEnrolledV1)
    ]
    if rows:
        connection.execute(insert(devices), rows)


def _batch(connection: Connection, batch: str, fresh: Mapping[bytes, Record] | None) -> None:
    records = of_subject(connection, batch, fresh)
    named = {str(record.envelope.definition) for record in records if record.envelope.definition is not UNSET}
    definitions = parts(connection, named)
    tally = fold_tally(records, definitions)
    connection.execute(delete(finds).where(finds.c.batch == batch))
    insert_rows(connection, finds, [_find_row(batch, mark) for mark in tally.counted()])
    _batch_line(connection, batch, records, definitions, tally)


def _find_row(batch: str, mark: Mark) -> tuple[object, ...]:
    return (
        mark.id,
        batch,
        mark.look,
        mark.tray,
        mark.piece,
        mark.defect,
        mark.weight,
        mark.zone,
        mark.cavity,
        mark.sign_on,
        mark.found_at,
        mark.time_doubtful,
    )


def _batch_line(
    connection: Connection,
    batch: str,
    records: list[Record],
    definitions: dict[str, PartDefinition],
    tally: Tally,
) -> None:
    connection.execute(delete(batches).where(batches.c.batch == batch))
    known = {record.id: record for record in records}
    opened = known.get(batch)
    if opened is None or not isinstance(opened.body, BatchOpenedV1) or batch in withdrawn(known)[0]:
        return
    part = definitions.get(str(opened.envelope.definition))
    connection.execute(
        insert(batches).values(
            batch=batch,
            number=opened.body.number,
            part="" if part is None else f"{part.part} {part.revision}",
            definition=str(opened.envelope.definition),
            pieces=opened.body.pieces,
            opened_at=found_at(opened)[0],
            not_understood=len(tally.not_understood),
        )
    )
