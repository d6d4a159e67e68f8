# SPDX-License-Identifier: Apache-2.0
"""What was asked about one subject, and what was answered.

static/src/folds/requests.ts is the same function; the vectors of tests/vectors/holds hold both to the same answers.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from tallywright.folds.gathered import Gathered, author_of, order_of
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


_REQUESTS = {kind.body for kind in KINDS.values() if kind.sort is Sort.REQUEST} - {RequestSecondedV1}


def fold_requests(gathered: Gathered) -> tuple[Request, ...]:
    """Fold the requests among all records of one subject; in the order of their ids."""
    said: dict[str, list[Record]] = {}
    asked = []
    for record in gathered.known.values():
        if isinstance(record.body, RequestGrantedV1 | RequestDeclinedV1 | RequestSecondedV1):
            said.setdefault(record.body.request, []).append(record)
        elif asks(record):
            asked.append(record)
    return tuple(_request(record, said.get(record.id, []), gathered.proven) for record in asked)


def asks(record: Record) -> bool:
    """True for a request; a second name under one is none of its own."""
    return type(record.body) in _REQUESTS


def _request(asked: Record, said: list[Record], proven: Mapping[str, str]) -> Request:
    asker = proven.get(author_of(asked) or "")
    granted, reasons, seconded = False, [], set()
    for record in said:
        if isinstance(record.body, RequestGrantedV1):
            granted = True
        elif isinstance(record.body, RequestDeclinedV1):
            reasons += record.body.reasons
        else:
            seconded.add(proven.get(author_of(record) or "", ""))
    # Granted once is granted, whatever was said before or after a restore.
    return Request(
        id=asked.id,
        kind=asked.envelope.kind,
        state="granted" if granted else "declined" if reasons else "open",
        reasons=() if granted else tuple(dict.fromkeys(reasons)),
        seconded_by=tuple(sorted(seconded - {"", asker}, key=order_of)),
    )
