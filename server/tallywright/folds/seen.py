# SPDX-License-Identifier: Apache-2.0
"""What a signature or a request had seen, and what it had not. static/src/folds/seen.ts is the same."""

from __future__ import annotations

from collections.abc import Iterable

from tallywright.records.bench import (
    BreakTakenV1,
    HandoverGivenV1,
    HandoverTakenV1,
    LookSignedV1,
    PhotoAttachedV1,
    RecordWithdrawnV1,
    SeenChain,
)
from tallywright.records.decode import Record
from tallywright.records.kinds import KINDS, Sort, chain_of, number_of
from tallywright.records.route import ScrapDestroyedV1


class Seen:
    """How far each chain was seen; where one is named twice, the less counts."""

    def __init__(self, seen: Iterable[SeenChain]) -> None:
        self.upto: dict[str, int] = {}
        for one in seen:
            self.upto[one.chain] = min(one.n, self.upto.get(one.chain, one.n))

    def covers(self, record_id: str) -> bool:
        """True for a record that was seen. One that was admitted later is not: it bears the admission's id."""
        return number_of(record_id) <= self.upto.get(chain_of(record_id), 0)


# Observations that say nothing new of a piece: who has it in hand, who rests, a picture of what a mark says. What
# is found behind a hand-over or on a picture, and the tray's closing, are records of their own.
_SAYS_NOTHING_NEW = {
    LookSignedV1,
    HandoverGivenV1,
    HandoverTakenV1,
    BreakTakenV1,
    PhotoAttachedV1,
    ScrapDestroyedV1,
}
_COUNTS = {kind.body for kind in KINDS.values() if kind.sort is Sort.OBSERVATION} - _SAYS_NOTHING_NEW
SAY_NOTHING_NEW = frozenset(kind for (kind, _), of in KINDS.items() if of.body in _SAYS_NOTHING_NEW)


def counts(record: Record) -> bool:
    """True for what somebody saw or did to pieces, and for what is not understood."""
    return record.body is None or type(record.body) in _COUNTS


def is_of_look(record: Record, look: str) -> bool:
    """True for a record that may change a look: what names none, or is not understood, may change every one."""
    named = getattr(record.body, "look", None)
    if record.body is None or (isinstance(record.body, RecordWithdrawnV1) and not isinstance(named, str)):
        return True
    return named == look
