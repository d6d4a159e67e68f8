# SPDX-License-Identifier: Apache-2.0
"""The records of one batch as its folds read them: each once, by id, with what was taken back and whose they are.

Worked out once for all folds of a batch: every push folds its batches anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Any, TypeVar

from msgspec import UNSET

from tallywright.folds.seen import counts
from tallywright.records.bench import AuthorshipConfirmedV1, RecordWithdrawnV1
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.kinds import chain_of

LONGEST_SKEW_MS = 5 * 60 * 1000
OfBody = TypeVar("OfBody", bound=Body)


class Gathered:
    """All records of one batch.

    known     by id, in the order of ids
    proven    persons by the sign-ons that were proven to be theirs
    dead      ids of what was taken back for good
    useless   ids of withdrawals without effect
    standing  what was not taken back, in the order of ids
    authors   who stands behind what was done in a tray
    """

    def __init__(self, records: Iterable[Record], proven: Mapping[str, str]) -> None:
        by_id = {record.id: record for record in records}
        self._orders = {name: order_of(name) for name in by_id}
        self.known = {name: by_id[name] for name in sorted(by_id, key=self._orders.__getitem__)}
        self.proven = proven
        self.dead, self.useless = withdrawn(self.known, proven)
        self.standing = [record for record in self.known.values() if record.id not in self.dead]
        self._of_body: dict[type[Any], list[tuple[Record, Any]]] = {}
        for record in self.standing:
            self._of_body.setdefault(type(record.body), []).append((record, record.body))
        self.authors = Authors(self.of(AuthorshipConfirmedV1), proven)

    def order_of(self, name: str) -> tuple[str, int]:
        """Sort key of ids, worked out once for those of the records."""
        return self._orders.get(name) or order_of(name)

    def of(self, body: type[OfBody]) -> list[tuple[Record, OfBody]]:
        """Return the standing records with this body, each beside it, in the order of ids."""
        return self._of_body.get(body, [])

    @cached_property
    def not_known(self) -> list[Record]:
        """The standing records of a kind or version that is not known here."""
        return [record for record, _ in self._of_body.get(type(None), [])]

    @cached_property
    def counting(self) -> list[Record]:
        """What somebody saw or did to pieces, and what is not understood; what was taken back is among it."""
        return [record for record in self.known.values() if counts(record)]


def withdrawn(known: Mapping[str, Record], proven: Mapping[str, str]) -> tuple[set[str], set[str]]:
    """Return the ids that are dead for good, and the ids of withdrawals without effect.

    A withdrawal counts when it was made under the same sign-on as what it takes back, or when both sign-ons are
    proven to be the same person's. Withdrawing a withdrawal does nothing, and a request cannot be taken back.
    """
    dead, useless = set(), set()
    for record in known.values():
        if not isinstance(record.body, RecordWithdrawnV1):
            continue
        target = known.get(record.body.record)
        if target is not None and _can_be_taken_back(target) and is_same_author(target, record, proven):
            dead.add(target.id)
        else:
            useless.add(record.id)
    return dead, useless


def _can_be_taken_back(record: Record) -> bool:
    kind = record.envelope.kind
    return kind not in ("record_withdrawn", "request_seconded") and not kind.endswith("_requested")


def author_of(record: Record) -> str | None:
    """The sign-on a record was made under. One of another chain is nobody's here: any tablet could name it."""
    sign_on = record.envelope.sign_on
    return None if sign_on is UNSET or not is_own(record, sign_on) else sign_on


def is_own(record: Record, name: str) -> bool:
    """True for an id of the record's own chain, or of the chain its admission stands in.

    The server admits no line that names a sign-on of another chain; what stands in the server's chain is the same
    chain's, admitted before.
    """
    return chain_of(name) in (record.envelope.chain, chain_of(record.id))


class Authors:
    """Who stands behind what was done in a tray: proven by the PIN, or confirmed afterwards.

    A confirmation counts when its own author is proven, and when it was made on the tablet whose unproven sign-on
    it names: nobody takes another tablet's work upon himself. Where two confirm, the first by id holds.
    """

    def __init__(
        self, confirmations: Iterable[tuple[Record, AuthorshipConfirmedV1]], proven: Mapping[str, str]
    ) -> None:
        self._proven = proven
        self._confirmed: dict[tuple[str, str], str] = {}
        for record, body in confirmations:
            person = proven.get(author_of(record) or "")
            if person is not None and is_own(record, body.of_sign_on):
                self._confirmed.setdefault((body.of_sign_on, body.tray), person)

    def of(self, record: Record, tray: str) -> str:
        """Return the person who made a record in a tray; '' where nobody is proven."""
        sign_on = author_of(record) or ""
        return self._proven.get(sign_on) or self._confirmed.get((sign_on, tray), "")


def is_same_author(one: Record, other: Record, proven: Mapping[str, str]) -> bool:
    """True where both were made under one sign-on, or under two that are proven to be one person's."""
    first, second = author_of(one), author_of(other)
    if first is None or second is None:
        return False
    return first == second or (first in proven and proven[first] == proven.get(second))


def order_of(record_id: str) -> tuple[str, int]:
    """Sort key of ids: by chain, then by number as a number."""
    chain, n = record_id.split(":")
    return chain, int(n)


def found_at(record: Record) -> tuple[int, bool]:
    """When a record was made in server time, and whether that is doubtful: no skew known, or over five minutes."""
    skew = record.envelope.skew_ms
    if skew is UNSET:
        return record.envelope.made_at, True
    return record.envelope.made_at + skew, abs(skew) > LONGEST_SKEW_MS
