# SPDX-License-Identifier: Apache-2.0
"""Answer requests: granted, declined with the reasons, or not yet.

An answer is a record in the server's chain, under the request's batch: a rebuild judges nothing anew. It is given
under the writing lock, on the rows as they are then, so that two workers never grant what excludes each other.
Rights come from the sign-on in the request's own chain, never from who carries the push.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import Connection, Engine, and_, not_, or_, select

from tallywright.db import reading, writing
from tallywright.definitions.people import roles_of
from tallywright.log.chains import read_heads
from tallywright.log.own_chain import OwnChain
from tallywright.log.read import by_id
from tallywright.log.tables import records
from tallywright.projections.refold import refold
from tallywright.projections.tables import finds, holds, requests, sign_ons, stale
from tallywright.records.decode import Record, read
from tallywright.records.kinds import (
    KINDS,
    DispositionRequestedV1,
    HoldLiftRequestedV1,
    Reason,
    RequestDeclinedV1,
    RequestGrantedV1,
    RequestSecondedV1,
    SignedOnV1,
    Sort,
    number_of,
)

Asked = HoldLiftRequestedV1 | DispositionRequestedV1
Answer = RequestGrantedV1 | RequestDeclinedV1
ASKS, SECONDS = frozenset({"lead"}), frozenset({"lead", "inspector"})


@dataclass
class _Weighed:
    """What speaks against a request, and whether something it needs is still on its way."""

    against: list[Reason] = field(default_factory=list)
    waits: bool = False


def judge_requests(engine: Engine, own: OwnChain) -> int:
    """Answer every request that can be answered; returns how many were."""
    with reading(engine) as connection:
        if all(_answer(connection, request) is None for request in _open(connection)):
            return 0
    answered = 0
    with writing(engine) as connection:
        for request in _open(connection):
            answer = _answer(connection, request)
            if answer is not None:
                own.write(connection, [answer], batch=request.subject)
                answered += 1
                if refold(connection, {request.subject}):
                    break  # the rows do not show this answer: nothing more is weighed on them
    return answered


def _open(connection: Connection) -> list[Record]:
    """The requests without an answer, in the order they came, of batches whose rows can be relied on."""
    unsure = select(stale.c.subject)
    waiting = select(requests.c.request).where(requests.c.state == "open", requests.c.batch.not_in(unsure))
    found = [record for name in connection.scalars(waiting).all() if (record := by_id(connection, name))]
    return sorted(found, key=lambda record: _place(connection, record))


def _place(connection: Connection, record: Record) -> int:
    here = and_(records.c.chain == record.envelope.chain, records.c.n == record.envelope.n)
    return connection.scalar(select(records.c.number).where(here)) or 0


def _answer(connection: Connection, request: Record) -> Answer | None:
    """Weigh one request on the rows as they are; None where something it needs has not come yet."""
    body = request.body
    if not isinstance(body, Asked) or not _is_whole(connection, request, body):
        return None
    weighed = _Weighed()
    asker = _proven_person(connection, request, weighed)
    if weighed.waits:
        return None
    if asker is not None and not ASKS & roles_of(connection, asker):
        weighed.against.append("role")
    if _changed_since(connection, request, body):
        weighed.against.append("changed")
    second_is_due = False
    if isinstance(body, HoldLiftRequestedV1):
        second_is_due = _weigh_lift(connection, request, body, asker, weighed)
    else:
        _weigh_disposition(connection, request, body, weighed)
    if weighed.against:
        return RequestDeclinedV1(request=request.id, reasons=weighed.against)
    return None if second_is_due else RequestGrantedV1(request=request.id)


def _seen(body: Asked) -> dict[str, int]:
    """How far each chain was seen; where a chain is named twice, the less counts."""
    seen: dict[str, int] = {}
    for one in body.seen:
        seen[one.chain] = min(one.n, seen.get(one.chain, one.n))
    return seen


def _is_whole(connection: Connection, request: Record, body: Asked) -> bool:
    """True when all that the asker saw is here without a gap, and its own chain up to the request."""
    needed = _seen(body)
    chain, n = request.envelope.chain, request.envelope.n
    needed[chain] = max(n, needed.get(chain, n))
    heads = read_heads(connection, needed)
    return all(name in heads and heads[name].mark_n >= n for name, n in needed.items())


def _proven_person(connection: Connection, record: Record, weighed: _Weighed) -> str | None:
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


def _changed_since(connection: Connection, request: Record, body: Asked) -> bool:
    """True when the batch holds an observation the asker had not seen, or another verdict was granted meanwhile."""
    seen = [and_(records.c.chain == chain, records.c.n <= n) for chain, n in _seen(body).items()]
    unseen = select(records.c.line).where(records.c.subject == request.subject, not_(or_(False, *seen)))
    return any(_counts(connection, read(line), body) for line in connection.scalars(unseen))


def _counts(connection: Connection, record: Record, asked: Asked) -> bool:
    if isinstance(record.body, RequestGrantedV1):
        other = by_id(connection, record.body.request)
        return (
            isinstance(asked, DispositionRequestedV1)
            and other is not None
            and isinstance(other.body, DispositionRequestedV1)
            and (other.body.piece, other.body.look) == (asked.piece, asked.look)
        )
    # A kind that is not understood may be an observation: it counts.
    kind = KINDS.get((record.envelope.kind, record.envelope.v))
    return kind is None or kind.sort is Sort.OBSERVATION


def _weigh_lift(
    connection: Connection, request: Record, body: HoldLiftRequestedV1, asker: str | None, weighed: _Weighed
) -> bool:
    """Say what speaks against a lift; returns whether a second name is due that has not come."""
    of_batch = select(holds).where(holds.c.batch == request.subject)
    known = {row.hold: row for row in connection.execute(of_batch)}
    named = [known.get(name) for name in dict.fromkeys(body.holds)]
    if None in named:
        weighed.against.append("no_such_hold")
    if any(row is not None and row.lifted_by for row in named):
        weighed.against.append("lifted_already")
    two_names = any(row is not None and row.cause == "critical" for row in named)
    return two_names and not _is_seconded(connection, request, asker)


def _is_seconded(connection: Connection, request: Record, asker: str | None) -> bool:
    """True when another proven person who may has put a name to the request."""
    of_batch = select(records.c.line).where(records.c.subject == request.subject, records.c.look == "")
    for record in map(read, connection.scalars(of_batch)):
        if not isinstance(record.body, RequestSecondedV1) or record.body.request != request.id:
            continue
        chain, n = record.envelope.chain, record.envelope.n
        person = _proven_person(connection, record, _Weighed())
        whole = read_heads(connection, [chain])[chain].mark_n >= n
        if whole and person not in (None, asker) and SECONDS & roles_of(connection, str(person)):
            return True
    return False


def _weigh_disposition(
    connection: Connection, request: Record, body: DispositionRequestedV1, weighed: _Weighed
) -> None:
    marked = select(finds.c.id).where(
        finds.c.batch == request.subject, finds.c.piece == body.piece, finds.c.look == body.look
    )
    if connection.execute(marked).first() is None:
        weighed.against.append("no_such_mark")
    locked = select(holds.c.hold).where(
        holds.c.batch == request.subject, holds.c.piece == body.piece, holds.c.lifted_by == ""
    )
    if body.verdict != "reject" and connection.execute(locked).first() is not None:
        weighed.against.append("on_hold")
