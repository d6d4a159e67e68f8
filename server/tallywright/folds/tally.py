# SPDX-License-Identifier: Apache-2.0
"""The defect tally of one batch: which marks stand, of which class, in which tray.

static/src/folds/tally.ts is the same function; tests/vectors holds both to the same answers. The two books
are kept apart: marks count defects, pieces count pieces, and neither is made to agree with the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec
from msgspec import UNSET

from tallywright.folds.gathered import Authors, Gathered, found_at, order_of
from tallywright.records.bench import DefectTalliedV1, TrayClosedV1, TrayOpenedV1
from tallywright.records.decode import Record
from tallywright.records.definition import NOT_SURE, DefectClass, DefectWord, PartDefinition

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


def fold_tally(gathered: Gathered, definitions: Mapping[str, PartDefinition]) -> Tally:
    """Fold all records of one batch.

    definitions  part definitions by the id of their publication; a mark is judged by the one it names
    """
    classes = Classes(definitions)
    marks: list[Mark] = []
    not_understood = [record.id for record in gathered.not_known]
    for record, body in gathered.of(DefectTalliedV1):
        definition = str(record.envelope.definition)
        if definition in definitions:
            marks.append(_mark(record, body, classes.of(definition, body), gathered.authors))
        else:
            not_understood.append(record.id)
    # Marks come in the order of ids, and the sort keeps that of equal times.
    return Tally(
        marks=tuple(sorted(marks, key=lambda mark: mark.found_at)),
        trays=_trays(gathered),
        useless_withdrawals=tuple(sorted(gathered.useless, key=order_of)),
        not_understood=tuple(sorted(not_understood, key=order_of)),
    )


class Classes:
    """The class of each find by the definition it names; each word is worked out once in each zone."""

    def __init__(self, definitions: Mapping[str, PartDefinition]) -> None:
        # Where a list names a word twice the later line holds.
        self._words = {name: {word.defect: word for word in part.defects} for name, part in definitions.items()}
        self._known: dict[tuple[str, str, str], DefectClass] = {}

    def of(self, definition: str, find: DefectTalliedV1) -> DefectClass:
        """Return the class of a find; the definition has to be one of those given."""
        zone = "" if find.zone is UNSET else find.zone
        key = definition, find.defect, zone
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = class_in(self._words[definition].get(find.defect), zone)
        return found


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


def _mark(record: Record, body: DefectTalliedV1, defect_class: DefectClass, authors: Authors) -> Mark:
    when, doubtful = found_at(record)
    return Mark(
        id=record.id,
        look=body.look,
        tray=body.tray,
        piece=record.id if body.piece is UNSET else body.piece,
        defect=body.defect,
        weight="query" if body.defect == NOT_SURE else defect_class,
        zone="" if body.zone is UNSET else body.zone,
        cavity="" if body.cavity is UNSET else body.cavity,
        sign_on="" if record.envelope.sign_on is UNSET else record.envelope.sign_on,
        author=authors.of(record, body.tray),
        found_at=when,
        time_doubtful=doubtful,
        quick_repeat=body.quick_repeat is True,
    )


def _trays(gathered: Gathered) -> tuple[Tray, ...]:
    closings: dict[str, list[tuple[str, TrayClosedV1]]] = {}
    unproven: dict[str, list[str]] = {}
    for record, body in gathered.of(TrayClosedV1):
        closings.setdefault(body.tray, []).append((record.id, body))
        if not gathered.authors.of(record, body.tray):
            unproven.setdefault(body.tray, []).append(record.id)
    trays = [
        Tray(
            id=record.id,
            look=body.look,
            number=body.number,
            places=body.places,
            closings=tuple(id_ for id_, _ in closings.get(record.id, ())),
            closings_differ=any(other != closings[record.id][0][1] for _, other in closings.get(record.id, ())),
            unproven=tuple(unproven.get(record.id, ())),
        )
        for record, body in gathered.of(TrayOpenedV1)
    ]
    return tuple(sorted(trays, key=lambda tray: (tray.look, tray.number)))
