# SPDX-License-Identifier: Apache-2.0
"""What every request is weighed by: whose it is, what speaks against it, what a grant would bring about."""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import Connection, select

from tallywright.log.tables import records
from tallywright.projections.tables import sign_ons
from tallywright.records.asked import Reason
from tallywright.records.decode import Record, read
from tallywright.records.envelope import Body
from tallywright.records.kinds import number_of
from tallywright.records.people import SignedOnV1


@dataclass
class Weighed:
    """One request on the scales.

    now            the server's time [ms since 1970, UTC]
    day            the site's day, on which roles are looked at
    asker          the person who asks, where that is proven
    against        what speaks against it
    waits          something it needs is still on its way
    second_is_due  another name has to come before it can be granted
    brings         what the server writes behind the grant
    answers_in     the server's chain that the answer goes to
    """

    now: int
    day: str
    asker: str | None = None
    against: list[Reason] = field(default_factory=list)
    waits: bool = False
    second_is_due: bool = False
    brings: list[Body] = field(default_factory=list)
    answers_in: str = ""


def proven_person(connection: Connection, record: Record, weighed: Weighed) -> str | None:
    """Whose record it is, where that is proven; else why not, or that it is not judged yet."""
    sign_on = str(record.envelope.sign_on)
    row = connection.execute(select(sign_ons).where(sign_ons.c.sign_on == sign_on)).first()
    if row is None or row.chain != record.envelope.chain or not _is_in_force(connection, sign_on, record):
        weighed.against.append("sign_on_not_in_force")
    elif row.proven:
        person: str = row.person
        return person
    elif row.judged:
        weighed.against.append("pin_wrong")
    else:
        weighed.waits = True
    return None


def is_fresh(record: Record) -> bool:
    """True where the PIN was given for this record alone: nothing stands between its sign-on and it."""
    return number_of(str(record.envelope.sign_on)) == record.envelope.n - 1


def _is_in_force(connection: Connection, sign_on: str, record: Record) -> bool:
    """True when the sign-on stands before the record and nobody else signed on between the two."""
    between = select(records.c.line).where(
        records.c.subject == f"@{record.envelope.chain}",
        records.c.chain == record.envelope.chain,
        records.c.n > number_of(sign_on),
        records.c.n < record.envelope.n,
    )
    later = (read(line).body for line in connection.scalars(between))
    return number_of(sign_on) < record.envelope.n and not any(isinstance(body, SignedOnV1) for body in later)
