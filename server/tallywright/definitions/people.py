# SPDX-License-Identifier: Apache-2.0
"""People as they were written down last."""

from __future__ import annotations

from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.log.read import WORKS_WIDE, of_subject
from tallywright.records.kinds import PersonChangedV1


def roles_of(connection: Connection, person: str) -> frozenset[str]:
    """Return the roles a person has now; none for one nobody knows."""
    newest: tuple[int, frozenset[str]] = (0, frozenset())
    for record in of_subject(connection, WORKS_WIDE):
        if not isinstance(record.body, PersonChangedV1):
            continue
        named = record.id if record.body.person is UNSET else record.body.person
        if named == person and record.envelope.n > newest[0]:
            newest = record.envelope.n, frozenset(record.body.roles)
    return newest[1]
