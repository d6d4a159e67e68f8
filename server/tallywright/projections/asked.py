# SPDX-License-Identifier: Apache-2.0
"""Rows of what was asked and admitted about a subject, and who of those who signed on there is proven."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sqlalchemy import Connection, bindparam, select

from tallywright.db import RowsOf, replace_rows
from tallywright.folds.gathered import found_at
from tallywright.folds.requests import Request
from tallywright.log.read import subjects_behind
from tallywright.projections.tables import admissions, authors, requests, sign_ons
from tallywright.records.compose import canonical
from tallywright.records.decode import Record, read, sha256
from tallywright.records.kinds import SetAsideAdmittedV1

# Asked at every fold: built once.
_PROVEN = select(sign_ons.c.sign_on, sign_ons.c.person).where(
    sign_ons.c.sign_on.in_(bindparam("names", expanding=True)) & sign_ons.c.proven
)


def admission_rows(connection: Connection, subject: str, records: list[Record]) -> None:
    """Replace the rows that say which lines set aside were admitted, so that none is admitted twice."""
    rows = []
    for record in records:
        if record.id != record.envelope.id:
            said = read(record.line).body
            assert isinstance(said, SetAsideAdmittedV1)  # noqa: S101 - nothing else bears another id than its own
            rows.append((record.id, subject, sha256(said.line.encode())))
    replace_rows(connection, admissions.c.subject, subject, rows)


def request_rows(rows_of: RowsOf, batch: str, known: Mapping[str, Record], found: Iterable[Request]) -> None:
    """Replace the rows of the requests about a batch, or about the works where `batch` is ''."""
    asked = []
    for one in found:
        sign_on, when = known[one.id].envelope.sign_on, found_at(known[one.id])[0]
        texts = (canonical(one.reasons).decode(), canonical(one.seconded_by).decode())
        asked.append((one.id, batch, one.kind, one.state, str(sign_on), *texts, when))
    rows_of.replace(requests.c.batch, asked)


def standing_on(connection: Connection, sign_on: str) -> set[str]:
    """Return the subjects that may read otherwise once a sign-on is judged.

    They are what its chain wrote behind it, and each batch with a record that names it: an admitted one stands in
    the server's chain.
    """
    named = connection.scalars(select(authors.c.batch).distinct().where(authors.c.sign_on == sign_on))
    return {*subjects_behind(connection, sign_on), *named}


def proven_among(connection: Connection, names: set[str]) -> dict[str, str]:
    """Return the persons of those of the named sign-ons that were proven to be theirs."""
    rows = connection.execute(_PROVEN, {"names": sorted(names)})
    return {row.sign_on: row.person for row in rows}
