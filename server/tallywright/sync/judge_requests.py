# SPDX-License-Identifier: Apache-2.0
"""Answer requests: granted, declined with the reasons, or not yet.

An answer is a record in the server's chain, beside the subject: a rebuild judges nothing anew. It is given
under the writing lock, on the rows as they are then, so that two workers never grant what excludes each other.
Rights come from the sign-on in the request's own chain, never from who carries the push. What is asked of one batch
is weighed in weigh_batch.py, what is asked of the works in weigh_works.py.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from sqlalchemy import Connection, Engine, and_, select

from tallywright.access.rules import REQUESTS
from tallywright.db import reading, writing
from tallywright.definitions.people import roles_of, site_day
from tallywright.log.chains import read_heads
from tallywright.log.own_chain import OwnChain
from tallywright.log.read import by_id
from tallywright.log.tables import records
from tallywright.projections.refold import refold
from tallywright.projections.tables import requests, stale
from tallywright.records.asked import RequestDeclinedV1, RequestGrantedV1
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.sync.crossing import say_crossed
from tallywright.sync.weigh import Weighed, is_fresh, proven_person
from tallywright.sync.weigh_admission import batch_of, weigh_admission
from tallywright.sync.weigh_batch import (
    seen_of,
    weigh_difference_acceptance,
    weigh_disposition,
    weigh_lift,
    weigh_release,
)
from tallywright.sync.weigh_works import weigh_enrolment, weigh_person, weigh_revocation

WEIGHS: dict[str, Callable[[Connection, Record, Weighed], None]] = {
    "hold_lift_requested": weigh_lift,
    "disposition_requested": weigh_disposition,
    "difference_acceptance_requested": weigh_difference_acceptance,
    "release_requested": weigh_release,
    "person_requested": weigh_person,
    "admission_requested": weigh_admission,
    "enrolment_requested": weigh_enrolment,
    "revocation_requested": weigh_revocation,
}

# Asked at every push: built once.
_WAITING = select(requests.c.request).where(
    requests.c.state == "open", requests.c.batch.not_in(select(stale.c.subject))
)


def judge_requests(engine: Engine, own: OwnChain) -> int:
    """Answer every request that can be answered; returns how many were."""
    with reading(engine) as connection:
        if all(_answer(connection, own, request) is None for request in _open(connection)):
            return 0
    answered = 0
    with writing(engine) as connection:
        while True:
            count, is_sure = _answer_each(connection, own)
            answered += count
            # An answer may decide another request, also one that waited in front of it.
            if count == 0 or not is_sure:
                return answered


def _answer_each(connection: Connection, own: OwnChain) -> tuple[int, bool]:
    """Answer what can be answered; returns how many were, and whether the rows show every answer."""
    answered = 0
    for request in _open(connection):
        answer = _answer(connection, own, request)
        if answer is not None:
            written = _write(connection, own, request, answer)
            answered += 1
            if refold(connection, {record.subject for record in written}):
                return answered, False  # nothing more is weighed on rows that do not show it
            say_crossed(connection, own)
    return answered, True


def _write(connection: Connection, own: OwnChain, request: Record, answer: list[Body]) -> list[Record]:
    """Write an answer and what it brings about: each under its own batch, in the order in which ids were given."""
    written: list[Record] = []
    for batch, bodies in groupby(answer, lambda body: batch_of(body, request)):
        written += own.write(connection, list(bodies), batch=batch)
    return written


def _open(connection: Connection) -> list[Record]:
    """The requests without an answer, in the order they came, of subjects whose rows can be relied on."""
    found = [record for name in connection.scalars(_WAITING).all() if (record := by_id(connection, name))]
    return sorted(found, key=lambda record: _place(connection, record))


def _place(connection: Connection, record: Record) -> int:
    here = and_(records.c.chain == record.envelope.chain, records.c.n == record.envelope.n)
    return connection.scalar(select(records.c.number).where(here)) or 0


def _answer(connection: Connection, own: OwnChain, request: Record) -> list[Body] | None:
    """Weigh one request on the rows as they are; None where something it needs has not come yet.

    returns  what the server writes: the answer, and behind a grant what it brings about
    """
    kind = request.envelope.kind
    if kind not in WEIGHS or not _is_whole(connection, request):
        return None
    now = own.clock.now_ms()
    weighed = Weighed(now, site_day(connection, now), answers_in=own.name(connection))
    weighed.asker = proven_person(connection, request, weighed)
    if weighed.waits:
        return None
    rule = REQUESTS[kind]
    if weighed.asker is not None and not rule.asks & roles_of(connection, weighed.asker, weighed.day):
        weighed.against.append("role")
    if weighed.asker is not None and rule.fresh_pin and not is_fresh(request):
        weighed.against.append("pin_not_fresh")
    WEIGHS[kind](connection, request, weighed)
    if weighed.against:
        return [RequestDeclinedV1(request=request.id, reasons=weighed.against)]
    waits = weighed.second_is_due or weighed.waits
    return None if waits else [RequestGrantedV1(request=request.id), *weighed.brings]


def _is_whole(connection: Connection, request: Record) -> bool:
    """True when all that the asker saw is here without a gap, and its own chain up to the request."""
    needed = seen_of(request)
    chain, n = request.envelope.chain, request.envelope.n
    needed[chain] = max(n, needed.get(chain, n))
    heads = read_heads(connection, needed)
    return all(name in heads and heads[name].mark_n >= n for name, n in needed.items())
