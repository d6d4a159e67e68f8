# SPDX-License-Identifier: Apache-2.0
"""What was asked about one subject, and what was answered.

static/src/folds/requests.ts is the same function; the vectors of tests/vectors/holds hold both to the same answers.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from tallywright.folds.tally import author_of, order_of
from tallywright.records.asked import RequestDeclinedV1, RequestGrantedV1, RequestSecondedV1
from tallywright.records.decode import Record
from tallywright.records.kinds import KINDS, Sort


class Request(msgspec.Struct, frozen=True, gc=False):
    """One request. `seconded_by`: proven persons, not the asker, who put their name to it."""

    id: str
    kind: str
    state: Literal["open", "granted", "declined"]
    reasons: tuple[str, ...]
    seconded_by: tuple[str, ...]


def fold_requests(known: Mapping[str, Record], proven: Mapping[str, str]) -> tuple[Request, ...]:
    """Fold the requests among all records of one subject, given by id; in the order of their ids.

    proven   persons by the sign-ons that were proven to be theirs
    """
    in_order = sorted(known.values(), key=lambda record: order_of(record.id))
    return tuple(_request(in_order, record, proven) for record in in_order if asks(record))


def asks(record: Record) -> bool:
    """True for a request; a second name under one is none of its own."""
    kind = KINDS.get((record.envelope.kind, record.envelope.v))
    return kind is not None and kind.sort is Sort.REQUEST and not isinstance(record.body, RequestSecondedV1)


def _request(in_order: list[Record], asked: Record, proven: Mapping[str, str]) -> Request:
    asker = proven.get(author_of(asked) or "")
    granted, reasons, seconded = False, [], set()
    for record in in_order:
        body = record.body
        if isinstance(body, RequestGrantedV1) and body.request == asked.id:
            granted = True
        elif isinstance(body, RequestDeclinedV1) and body.request == asked.id:
            reasons += body.reasons
        elif isinstance(body, RequestSecondedV1) and body.request == asked.id:
            seconded.add(proven.get(author_of(record) or "", ""))
    # Granted once is granted, whatever was said before or after a restore.
    return Request(
        id=asked.id,
        kind=asked.envelope.kind,
        state="granted" if granted else "declined" if reasons else "open",
        reasons=() if granted else tuple(dict.fromkeys(reasons)),
        seconded_by=tuple(sorted(seconded - {"", asker}, key=order_of)),
    )
