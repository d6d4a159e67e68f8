# SPDX-License-Identifier: Apache-2.0
"""Fold a subject again from all its records and replace its rows. Never "one more": there is one way to a row."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Mapping

from msgspec import UNSET
from sqlalchemy import Connection, delete, insert, select

from tallywright.db import insert_rows
from tallywright.definitions.published import parts
from tallywright.folds.holds import Holds, fold_holds
from tallywright.folds.requests import Request, fold_requests
from tallywright.folds.tally import Mark, Tally, fold_tally, found_at, withdrawn
from tallywright.log.read import WORKS_WIDE, of_subject
from tallywright.projections.tables import (
    admissions,
    authors,
    batches,
    devices,
    finds,
    holds,
    requests,
    sign_ons,
    stale,
)
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.compose import canonical
from tallywright.records.decode import Record, read, sha256
from tallywright.records.definition import PartDefinition
from tallywright.records.kinds import DeviceEnrolledV1, DeviceRevokedV1, SetAsideAdmittedV1
from tallywright.records.people import SignedOnV1, SignOnJudgedV1

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
    for subject in sorted(set(subjects), key=_before_what_reads_it):
        connection.execute(delete(stale).where(stale.c.subject == subject))
        try:
            with connection.begin_nested():
                if subject == WORKS_WIDE:
                    _works(connection)
                elif subject.startswith("@"):
                    _chain(connection, subject[1:])
                else:
                    _batch(connection, subject, fresh)
        except Exception as problem:  # the one broad catch of the server; see the docstring
            _log.exception("fold of %s failed", subject)
            connection.execute(insert(stale).values(subject=subject, why=repr(problem)[:500]))
            failed.append(subject)
    return failed


def _before_what_reads_it(subject: str) -> tuple[bool, bool, str]:
    """Sort key: the chains with their sign-ons, then the works, then the batches that are judged by both."""
    return not subject.startswith("@"), subject != WORKS_WIDE, subject


def _chain(connection: Connection, chain: str) -> None:
    connection.execute(delete(sign_ons).where(sign_ons.c.chain == chain))
    records = of_subject(connection, f"@{chain}")
    _admission_rows(connection, f"@{chain}", records)
    # Proven once is proven.
    judgements = [r.body for r in records if isinstance(r.body, SignOnJudgedV1)]
    judged = {judgement.sign_on for judgement in judgements}
    proven = {judgement.sign_on for judgement in judgements if judgement.proven}
    rows = [
        (record.id, chain, record.body.person, record.id in judged, record.id in proven)
        for record in records
        if isinstance(record.body, SignedOnV1)
    ]
    insert_rows(connection, sign_ons, rows)


def _admission_rows(connection: Connection, subject: str, records: list[Record]) -> None:
    """Replace the rows that say which lines set aside were admitted, so that none is admitted twice."""
    rows = []
    for record in records:
        if record.id != record.envelope.id:
            said = read(record.line).body
            assert isinstance(said, SetAsideAdmittedV1)  # noqa: S101 - nothing else bears another id than its own
            rows.append((record.id, subject, sha256(said.line.encode())))
    connection.execute(delete(admissions).where(admissions.c.subject == subject))
    insert_rows(connection, admissions, rows)


def _works(connection: Connection) -> None:
    records = of_subject(connection, WORKS_WIDE)
    revoked = {record.body.device for record in records if isinstance(record.body, DeviceRevokedV1)}
    rows = [
        (record.id, record.body.name, record.body.letters, record.body.public_key, record.id in revoked)
        for record in records
        if isinstance(record.body, DeviceEnrolledV1)
    ]
    connection.execute(delete(devices))
    insert_rows(connection, devices, rows)
    known = {record.id: record for record in records}
    signed = {str(record.envelope.sign_on) for record in records if record.envelope.sign_on is not UNSET}
    _request_rows(connection, "", known, fold_requests(known, _proven(connection, signed)))


def _batch(connection: Connection, batch: str, fresh: Mapping[bytes, Record] | None) -> None:
    records = of_subject(connection, batch, fresh)
    _admission_rows(connection, batch, records)
    named = {str(record.envelope.definition) for record in records if record.envelope.definition is not UNSET}
    definitions = parts(connection, named)
    used = {(r.look, r.envelope.sign_on) for r in records if r.envelope.sign_on is not UNSET}
    proven = _proven(connection, {str(sign_on) for _, sign_on in used})
    tally = fold_tally(records, definitions, proven)
    connection.execute(delete(authors).where(authors.c.batch == batch))
    insert_rows(connection, authors, [(batch, look, sign_on) for look, sign_on in sorted(used)])
    connection.execute(delete(finds).where(finds.c.batch == batch))
    insert_rows(connection, finds, [_find_row(batch, mark) for mark in tally.counted()])
    _hold_rows(connection, batch, records, fold_holds(records, definitions, proven))
    _batch_line(connection, batch, records, definitions, proven, tally)


def _hold_rows(connection: Connection, batch: str, records: list[Record], found: Holds) -> None:
    connection.execute(delete(holds).where(holds.c.batch == batch))
    rows = [(h.id, batch, h.cause, h.piece, h.look, h.lifted_by, h.cause_withdrawn) for h in found.holds]
    insert_rows(connection, holds, rows)
    _request_rows(connection, batch, {record.id: record for record in records}, found.requests)


def _request_rows(
    connection: Connection, batch: str, known: Mapping[str, Record], found: Iterable[Request]
) -> None:
    """Replace the rows of the requests about a batch, or about the works where `batch` is ''."""
    connection.execute(delete(requests).where(requests.c.batch == batch))
    asked = []
    for one in found:
        sign_on, when = known[one.id].envelope.sign_on, found_at(known[one.id])[0]
        texts = (canonical(one.reasons).decode(), canonical(one.seconded_by).decode())
        asked.append((one.id, batch, one.kind, one.state, str(sign_on), *texts, when))
    insert_rows(connection, requests, asked)


def _proven(connection: Connection, names: set[str]) -> dict[str, str]:
    those = sign_ons.c.sign_on.in_(sorted(names)) & sign_ons.c.proven
    rows = connection.execute(select(sign_ons.c.sign_on, sign_ons.c.person).where(those))
    return {row.sign_on: row.person for row in rows}


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
        mark.author,
        mark.found_at,
        mark.time_doubtful,
    )


def _batch_line(
    connection: Connection,
    batch: str,
    records: list[Record],
    definitions: dict[str, PartDefinition],
    proven: dict[str, str],
    tally: Tally,
) -> None:
    connection.execute(delete(batches).where(batches.c.batch == batch))
    known = {record.id: record for record in records}
    opened = known.get(batch)
    if opened is None or not isinstance(opened.body, BatchOpenedV1) or batch in withdrawn(known, proven)[0]:
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
