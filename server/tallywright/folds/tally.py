# SPDX-License-Identifier: Apache-2.0
"""The defect tally of one batch: which marks stand, of which class, in which tray.

static/src/folds/tally.ts is the same function; tests/vectors holds both to the same answers. The two books
are kept apart: marks count defects, pieces count pieces, and neither is made to agree with the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

import msgspec
from msgspec import UNSET

from tallywright.records.bench import (
    AuthorshipConfirmedV1,
    DefectTalliedV1,
    RecordWithdrawnV1,
    TrayClosedV1,
    TrayOpenedV1,
)
from tallywright.records.decode import Record
from tallywright.records.definition import NOT_SURE, DefectClass, DefectWord, PartDefinition
from tallywright.records.kinds import chain_of

Weight = Literal["critical", "major", "minor", "query"]
WORST_FIRST: tuple[DefectClass, ...] = ("critical", "major", "minor")


class Mark(msgspec.Struct, frozen=True, gc=False):
    """One find that stands; what is left out is ''.

    author    the person, where that is proven or was confirmed
    found_at  the device's time put right by its skew [ms]
    """

    id: str
    look: str
    tray: str
    piece: str
    defect: str
    weight: Weight
    zone: str
    cavity: str
    sign_on: str
    author: str
    found_at: int
    time_doubtful: bool
    quick_repeat: bool


class Tray(msgspec.Struct, frozen=True, gc=False):
    """One tray of a look, with every closing that stands; more than one that differ is a named difference.

    unproven  those of the closings whose author is neither proven nor confirmed: the tray is not looked at by them
    """

    id: str
    look: str
    number: int
    places: int
    closings: tuple[str, ...]
    closings_differ: bool
    unproven: tuple[str, ...]


class Tally(msgspec.Struct, frozen=True):
    """What the records of a batch say about its finds.

    marks               those that stand, by time found, then id
    trays               those that stand, by look, number, id
    useless_withdrawals withdrawals that take nothing back: another author's, of a withdrawal, of nothing known
    not_understood      records this version cannot fold: unknown kind or version, or an unknown definition
    """

    marks: tuple[Mark, ...]
    trays: tuple[Tray, ...]
    useless_withdrawals: tuple[str, ...]
    not_understood: tuple[str, ...]

    def counted(self) -> tuple[Mark, ...]:
        """The marks that count: a quick repeat waits until somebody says it was two."""
        return tuple(mark for mark in self.marks if not mark.quick_repeat)


LONGEST_SKEW_MS = 5 * 60 * 1000


def fold_tally(
    records: Iterable[Record], definitions: Mapping[str, PartDefinition], proven: Mapping[str, str]
) -> Tally:
    """Fold all records of one batch.

    records      the batch's records, in any order, each once
    definitions  part definitions by the id of their publication; a mark is judged by the one it names
    proven       persons by the sign-ons that were proven to be theirs
    """
    known = {record.id: record for record in records}
    dead, useless = withdrawn(known, proven)
    standing = [record for record in known.values() if record.id not in dead]
    authors = Authors(standing, proven)
    by_word = {name: {word.defect: word for word in part.defects} for name, part in definitions.items()}
    marks: list[Mark] = []
    not_understood = []
    for record in standing:
        if record.body is None:
            not_understood.append(record.id)
        elif isinstance(record.body, DefectTalliedV1):
            words = by_word.get(str(record.envelope.definition))
            if words is None:
                not_understood.append(record.id)
            else:
                marks.append(_mark(record, record.body, words, authors))
    return Tally(
        marks=tuple(sorted(marks, key=lambda mark: (mark.found_at, order_of(mark.id)))),
        trays=_trays(standing, authors),
        useless_withdrawals=tuple(sorted(useless, key=order_of)),
        not_understood=tuple(sorted(not_understood, key=order_of)),
    )


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

    def __init__(self, standing: Iterable[Record], proven: Mapping[str, str]) -> None:
        self._proven = proven
        self._confirmed: dict[tuple[str, str], str] = {}
        confirmations = [(one, one.body) for one in standing if isinstance(one.body, AuthorshipConfirmedV1)]
        for record, body in sorted(confirmations, key=lambda one: order_of(one[0].id)):
            person = proven.get(author_of(record) or "")
            if person is not None and is_own(record, body.of_sign_on):
                self._confirmed.setdefault((body.of_sign_on, body.tray), person)

    def of(self, record: Record, tray: str) -> str:
        """Return the person who made a record in a tray; '' where nobody is proven."""
        sign_on = author_of(record) or ""
        return self._proven.get(sign_on) or self._confirmed.get((sign_on, tray), "")


def is_same_author(one: Record, other: Record, proven: Mapping[str, str]) -> bool:
    first, second = author_of(one), author_of(other)
    if first is None or second is None:
        return False
    return first == second or (first in proven and proven[first] == proven.get(second))


def class_in(word: DefectWord | None, zone: str) -> DefectClass:
    """The class a word has where it was found.

    No zone given, or one the list does not name: the worst class the word has in any zone. A word whose class
    nobody has set is critical.
    """
    if word is None:
        return "critical"
    by_zone = {} if word.by_zone is UNSET else {entry.zone: entry.defect_class for entry in word.by_zone}
    if zone in by_zone:
        return by_zone[zone]
    classes = set(by_zone.values())
    if word.defect_class is not UNSET:
        classes.add(word.defect_class)
    return next((name for name in WORST_FIRST if name in classes), "critical")


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


def _mark(record: Record, body: DefectTalliedV1, words: Mapping[str, DefectWord], authors: Authors) -> Mark:
    zone = "" if body.zone is UNSET else body.zone
    when, doubtful = found_at(record)
    return Mark(
        id=record.id,
        look=body.look,
        tray=body.tray,
        piece=record.id if body.piece is UNSET else body.piece,
        defect=body.defect,
        weight="query" if body.defect == NOT_SURE else class_in(words.get(body.defect), zone),
        zone=zone,
        cavity="" if body.cavity is UNSET else body.cavity,
        sign_on="" if record.envelope.sign_on is UNSET else record.envelope.sign_on,
        author=authors.of(record, body.tray),
        found_at=when,
        time_doubtful=doubtful,
        quick_repeat=body.quick_repeat is True,
    )


def _trays(standing: list[Record], authors: Authors) -> tuple[Tray, ...]:
    closings: dict[str, list[tuple[str, TrayClosedV1]]] = {}
    unproven: dict[str, list[str]] = {}
    for record in standing:
        if isinstance(record.body, TrayClosedV1):
            closings.setdefault(record.body.tray, []).append((record.id, record.body))
            if not authors.of(record, record.body.tray):
                unproven.setdefault(record.body.tray, []).append(record.id)
    trays = [
        Tray(
            id=record.id,
            look=record.body.look,
            number=record.body.number,
            places=record.body.places,
            closings=tuple(sorted((id_ for id_, _ in closings.get(record.id, ())), key=order_of)),
            closings_differ=any(body != closings[record.id][0][1] for _, body in closings.get(record.id, ())),
            unproven=tuple(sorted(unproven.get(record.id, ()), key=order_of)),
        )
        for record in standing
        if isinstance(record.body, TrayOpenedV1)
    ]
    return tuple(sorted(trays, key=lambda tray: (tray.look, tray.number, order_of(tray.id))))
