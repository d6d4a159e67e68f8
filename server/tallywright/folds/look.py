# SPDX-License-Identifier: Apache-2.0
"""Whether a look is complete: every point that is still open, by name. Complete is where none is.

static/src/folds/look.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from tallywright.folds.holds import Holds
from tallywright.folds.ledger import Ledger, LookCount, acceptances
from tallywright.folds.seen import Seen, counts, is_of_look
from tallywright.folds.tally import Authors, Tally, author_of, order_of, withdrawn
from tallywright.folds.verdicts import PieceVerdict
from tallywright.records.bench import HandoverGivenV1, HandoverTakenV1, LookSignedV1, PiecesCountedV1
from tallywright.records.decode import Record


class Point(msgspec.Struct, frozen=True, gc=False):
    """One thing that keeps a look from being complete. `amount` is 0 where there is nothing to count."""

    kind: str
    subject: str
    amount: int


class Independence(msgspec.Struct, frozen=True, gc=False):
    """Of the pieces looked at, those that other eyes saw at an earlier look: surely, perhaps, surely not.

    Order is lost between two looks, so that persons and counts are all there is to go by.
    """

    other: str
    pieces: int
    certain: int
    possible: int
    never: int


class Look(msgspec.Struct, frozen=True):
    """One look: open points by kind and subject, the signature that has seen it all, and whose eyes were new."""

    look: str
    points: tuple[Point, ...]
    signed_by: str
    independence: tuple[Independence, ...]


def fold_looks(
    records: Iterable[Record],
    proven: Mapping[str, str],
    looks: Sequence[str],
    tally: Tally,
    holds: Holds,
    verdicts: Sequence[PieceVerdict],
    ledger: Ledger,
) -> tuple[Look, ...]:
    """Fold all records of one batch.

    proven   persons by the sign-ons that were proven to be theirs
    looks    the route's looks, in their order
    """
    known = {record.id: record for record in records}
    dead, _ = withdrawn(known, proven)
    standing = sorted((r for r in known.values() if r.id not in dead), key=lambda record: order_of(record.id))
    authors = Authors(standing, proven)
    accepted = acceptances(known, holds.requests)
    pages = {page.look: page for page in ledger.looks}
    # A look that the route does not name was taken all the same: it stands behind those that it names.
    order = [*dict.fromkeys([*looks, *pages])]
    eyes = {look: _eyes(page, standing, tally, authors) for look, page in pages.items()}
    found = []
    for place, look in enumerate(order):
        page = pages.get(look)
        points = _points(look, page, tally, holds, verdicts, ledger)
        points += _counting(look, page, standing, proven, tally, authors)
        signed_by, signing = _signing(look, known, standing, proven)
        points += signing
        before = [other for other in order[:place] if page is not None and eyes.get(other)]
        for person, amount in _same_eyes(look, before, eyes).items():
            if (look, "same_eyes", person, amount) not in accepted:
                points.append(Point("same_eyes", person, amount))
        found.append(
            Look(
                look=look,
                points=tuple(sorted(points, key=lambda point: (point.kind, point.subject, point.amount))),
                signed_by=signed_by,
                independence=()
                if page is None
                else tuple(_independence(page, pages[other], eyes[look], eyes[other]) for other in before),
            )
        )
    return tuple(found)


def _points(
    look: str,
    page: LookCount | None,
    tally: Tally,
    holds: Holds,
    verdicts: Sequence[PieceVerdict],
    ledger: Ledger,
) -> list[Point]:
    """What lower folds leave open for this look, or for the batch."""
    points = [Point("not_understood", name, 0) for name in tally.not_understood]
    points += [
        Point(line.kind, line.subject, line.amount)
        for line in ledger.differences
        if line.look in ("", look) and not line.accepted_by
    ]
    points += [Point("hold", h.id, 0) for h in holds.holds if h.look in ("", look) and not h.lifted_by]
    for verdict in verdicts:
        if verdict.look == look and verdict.verdict in ("query", "rework"):
            points.append(Point(f"{verdict.verdict}_open", verdict.piece, 0))
    if page is None or not page.counted_by:
        points.append(Point("not_counted", "", 0))
    for tray in () if page is None else page.trays:
        points += [Point("tray_not_opened", str(tray.number), 0)] if not tray.openings else []
        for opening in tray.openings:
            if not opening.is_closed:
                points.append(Point("tray_not_closed", opening.tray, 0))
    for one in tally.trays:
        points += [Point("closing_not_proven", name, 0) for name in one.unproven if one.look == look]
    return points


def _counting(
    look: str,
    page: LookCount | None,
    standing: list[Record],
    proven: Mapping[str, str],
    tally: Tally,
    authors: Authors,
) -> list[Point]:
    """Counts by nobody who is proven, and a due that comes from somebody who looks."""
    points: list[Point] = []
    looking = {mark.author for mark in tally.marks if mark.look == look}
    for tray in tally.trays:
        if tray.look == look:
            closings = [record for record in standing if record.id in tray.closings]
            looking |= {authors.of(record, tray.id) for record in closings}
    for record in standing:
        if isinstance(record.body, PiecesCountedV1) and record.body.look == look:
            counter = proven.get(author_of(record) or "")
            if counter is None:
                points.append(Point("count_not_proven", record.id, 0))
            elif page is not None and record.id == page.counted_by and counter in looking:
                points.append(Point("counted_by_looker", counter, 0))
    return points


def _signing(
    look: str, known: Mapping[str, Record], standing: list[Record], proven: Mapping[str, str]
) -> tuple[str, list[Point]]:
    """The first signature that has seen all that counts, or what the signatures lack."""
    came = [record.id for record in known.values() if counts(record) and is_of_look(record, look)]
    points: list[Point] = []
    unseen: dict[str, int] = {}
    for record in standing:
        if isinstance(record.body, LookSignedV1) and record.body.look == look:
            if (author_of(record) or "") not in proven:
                points.append(Point("signature_not_proven", record.id, 0))
                continue
            seen = Seen(record.body.seen)
            unseen[record.id] = sum(not seen.covers(name) for name in came)
    if not unseen:
        return "", [*points, Point("not_signed", "", 0)]
    best = min(unseen, key=lambda name: (unseen[name], order_of(name)))
    if unseen[best]:
        return "", [*points, Point("signed_before_this_came", best, unseen[best])]
    # Another's signature under a wrong PIN takes nothing from one that has seen it all.
    return best, []


def _eyes(page: LookCount, standing: list[Record], tally: Tally, authors: Authors) -> dict[str, int]:
    """How many of the pieces looked at each person may have had in hand.

    A tray was in the hands of all who marked in it, closed it, left it to somebody else or took it over.
    """
    persons: dict[str, set[str]] = {}
    for mark in tally.marks:
        persons.setdefault(mark.tray, set()).add(mark.author)
    closings = {name: tray.id for tray in tally.trays for name in tray.closings}
    for record in standing:
        handed = record.body.tray if isinstance(record.body, HandoverGivenV1 | HandoverTakenV1) else None
        tray = closings.get(record.id, handed)
        if tray is not None:
            persons.setdefault(tray, set()).add(authors.of(record, tray))
    seen: dict[str, int] = {}
    for tray_count in page.trays:
        for opening in tray_count.openings:
            for person in persons.get(opening.tray, set()) - {""}:
                if opening.looked > 0:
                    seen[person] = seen.get(person, 0) + opening.looked
    return seen


def _same_eyes(look: str, before: list[str], eyes: Mapping[str, Mapping[str, int]]) -> dict[str, int]:
    """Persons of this look who were in an earlier one, with the most pieces that may have met them twice."""
    return {
        person: max(min(pieces, eyes[other].get(person, 0)) for other in before)
        for person, pieces in eyes.get(look, {}).items()
        if any(person in eyes[other] for other in before)
    }


def _independence(
    page: LookCount, other: LookCount, here: Mapping[str, int], there: Mapping[str, int]
) -> Independence:
    # The pieces came out of all that there are, not out of those that were looked at up to now.
    of = max(page.due, page.looked, other.looked)
    both = here.keys() & there.keys()
    most = min(page.looked, sum(min(here[person], there[person]) for person in both))
    # So many at least came back to the same hands, however they were mixed.
    least = min(most, sum(max(0, here[person] + there[person] - of) for person in both))
    return Independence(other.look, page.looked, page.looked - most, most - least, least)
