# SPDX-License-Identifier: Apache-2.0
"""Fold a subject again from all its records and replace its rows. Never "one more": there is one way to a row."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Mapping, Sequence

from msgspec import UNSET
from sqlalchemy import Connection, Table, bindparam, delete, insert, select

from tallywright.db import RowsOf, in_parts, insert_rows, replace_rows, why_not_now
from tallywright.folds.gathered import Gathered
from tallywright.folds.requests import fold_requests
from tallywright.log.read import WORKS_WIDE, by_ids, of_subject
from tallywright.projections.asked import admission_rows, proven_among, request_rows
from tallywright.projections.batch_rows import batch_rows
from tallywright.projections.gauge_rows import gauge_rows, is_gauge
from tallywright.projections.goods_rows import bar_end_rows, is_bar_ends, is_receipt, receipt_rows
from tallywright.projections.load_rows import is_load, load_rows
from tallywright.projections.tables import devices, gauge_values, issues, judgements, requests, sign_ons, stale
from tallywright.records.decode import GAUGES, Record
from tallywright.records.kinds import DeviceEnrolledV1, DeviceRevokedV1, SetAsideAdmittedV1
from tallywright.records.people import SignedOnV1, SignOnJudgedV1

_log = logging.getLogger(__name__)
# Asked at every push: built once.
_MADE_OF = select(issues.c.batch).where(issues.c.receipt.in_(bindparam("names", expanding=True)))
_STALE = select(stale.c.subject).where(stale.c.subject == bindparam("subject"))
_JUDGED = select(judgements.c.sign_on, judgements.c.proven).where(
    judgements.c.sign_on.in_(bindparam("names", expanding=True))
)
_MEASURED_WITH = (
    select(gauge_values.c.batch).distinct().where(gauge_values.c.gauge.in_(bindparam("names", expanding=True)))
)


def refold(
    connection: Connection, subjects: Iterable[str], fresh: Mapping[bytes, Record] | None = None
) -> list[str]:
    """Replace the rows of each subject by the fold of its records, and those of every batch made of one or measured
    with one.

    A fold that fails must not keep its records out of the log: the subject is marked stale, with the reason,
    and `verify` names it.

    fresh    by their bytes the records of these subjects that are new to the log, where the caller has all of them
    returns  the subjects that are stale now
    """
    failed = []
    touched = set(subjects)
    for subject in sorted(
        touched | _made_of(connection, touched) | _measured_with(connection, touched), key=_before_what_reads_it
    ):
        is_sound = connection.execute(_STALE, {"subject": subject}).first() is None
        if not is_sound:
            connection.execute(delete(stale).where(stale.c.subject == subject))
        try:
            with connection.begin_nested():
                if subject == WORKS_WIDE:
                    _works(connection)
                elif subject.startswith("@") and not subject.startswith(GAUGES):
                    _chain(connection, subject, fresh if is_sound else None)
                else:
                    records = of_subject(connection, subject, fresh)
                    _fold_of(records)(connection, subject, records)
        except Exception as problem:  # the one broad catch of the server; see the docstring
            if connection.invalidated or why_not_now(problem) is not None:
                raise  # no fold is to blame for a full disk or an ended connection, and nothing can be noted
            _log.exception("fold of %s failed", subject)
            connection.execute(insert(stale).values(subject=subject, why=repr(problem)[:500]))
            failed.append(subject)
    return failed


def _fold_of(records: list[Record]) -> Callable[[Connection, str, list[Record]], None]:
    if is_load(records):
        return load_rows
    if is_bar_ends(records):
        return bar_end_rows
    if is_gauge(records):
        return gauge_rows
    return receipt_rows if is_receipt(records) else batch_rows


def _made_of(connection: Connection, receipts: set[str]) -> set[str]:
    """Return the batches bars of these receipts went to: what is learnt of a cast is learnt of them."""
    return {batch for names in in_parts(receipts) for batch in connection.scalars(_MADE_OF, {"names": names})}


def _measured_with(connection: Connection, gauges: set[str]) -> set[str]:
    """Return the batches with values by these gauges: one that is found wrong holds them."""
    named = (name for name in gauges if name.startswith(GAUGES))
    return {batch for names in in_parts(named) for batch in connection.scalars(_MEASURED_WITH, {"names": names})}


def _before_what_reads_it(subject: str) -> tuple[bool, bool, str]:
    """Sort key: the chains with their sign-ons, then the works, then the batches that are judged by both."""
    return not subject.startswith("@"), subject != WORKS_WIDE, subject


def _chain(connection: Connection, subject: str, fresh: Mapping[bytes, Record] | None) -> None:
    """Fold those sign-ons of a chain that its new records are about: over years it has thousands of others."""
    chain = subject[1:]
    about = [record for record in (fresh or {}).values() if record.subject == subject]
    is_all = not about or any(isinstance(record.body, SetAsideAdmittedV1) for record in about)
    if is_all:
        about = of_subject(connection, subject)
        admission_rows(connection, subject, about)
    bodies = [(record.id, record.body) for record in about]
    told = [(name, chain, body.sign_on, body.proven) for name, body in bodies if isinstance(body, SignOnJudgedV1)]
    _replace(connection, judgements, chain if is_all else None, told)
    signed = {record.id: record for record in about if isinstance(record.body, SignedOnV1)}
    signed |= by_ids(connection, {row[2] for row in told}.difference(signed))
    said: dict[str, list[bool]] = {}
    for names in in_parts(signed):
        for sign_on, proven in connection.execute(_JUDGED, {"names": names}):
            said.setdefault(sign_on, []).append(proven)
    # Proven once is proven.
    rows = [
        (name, chain, record.body.person, name in said, any(said.get(name, ())))
        for name, record in signed.items()
        if isinstance(record.body, SignedOnV1)
    ]
    _replace(connection, sign_ons, chain if is_all else None, rows)


def _replace(connection: Connection, table: Table, chain: str | None, rows: Sequence[tuple[object, ...]]) -> None:
    """Let these be the rows of a chain, or, without one, each the row of its name."""
    if chain is not None:
        return replace_rows(connection, table.c.chain, chain, rows)
    [name] = table.primary_key
    for row in rows:
        replace_rows(connection, name, str(row[0]), [row])


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
    signed = {str(record.envelope.sign_on) for record in records if record.envelope.sign_on is not UNSET}
    gathered = Gathered(records, proven_among(connection, signed))
    request_rows(RowsOf(connection, "", [requests.c.batch]), "", gathered.known, fold_requests(gathered))
