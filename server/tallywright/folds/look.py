# SPDX-License-Identifier: Apache-2.0
"""Whether a look is complete: every point that is still open, by name. Complete is where none is.

static/src/folds/look.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from tallywright.folds.gathered import Gathered, author_of, order_of
from tallywright.folds.holds import Holds
from tallywright.folds.ledger import Ledger, LookCount, acceptances
from tallywright.folds.seen import Seen, is_of_look
from tallywright.folds.tally import Tally
from tallywright.folds.verdicts import PieceVerdict
from tallywright.records.bench import HandoverGivenV1, HandoverTakenV1, LookSignedV1, PiecesCountedV1


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


class PersonsEyes(msgspec.Struct, frozen=True, gc=False):
    """How many of the pieces looked at a person may have had in hand."""

    person: str
    pieces: int


class Look(msgspec.Struct, frozen=True):
    """One look: open points by kind and subject, the signature that saw it all, whose eyes, and which were new."""

    look: str
    points: tuple[Point, ...]
    signed_by: str
    independence: tuple[Independence, ...]
    eyes: tuple[PersonsEyes, ...]


def fold_looks(
    gathered: Gathered,
    looks: Sequence[str],
    tally: Tally,
    holds: Holds,
    verdicts: Sequence[PieceVerdict],
    ledger: Ledger,
) -> tuple[Look, ...]:
    """Fold all records of one batch.

    looks    the route's looks, in their order
    """
    accepted = acceptances(gathered.known, holds.requests)
    pages = {page.look: page for page in ledger.looks}
    # A look that the route does not name was taken all the same: it stands behind those that it names.
    order = [*dict.fromkeys([*looks, *pages])]
    hands = _hands(gathered, tally)
    eyes = {look: _eyes(page, hands) for look, page in pages.items()}
    found = []
    for place, look in enumerate(order):
        page = pages.get(look)
        points = _points(look, page, tally, holds, verdicts, ledger)
        points += _counting(look, page, gathered, tally)
        signed_by, signing = _signing(look, gathered)
        points += signing
        before = [other for other in order[:place] if page is not None and eyes.get(other)]
        for person, amount in _same_eyes(look, before, eyes).items():
            if (look, "same_eyes", person, amount) not in accepted:
                points.append(Point("same_eyes", person, amount))
        here = eyes.get(look, {})
        found.append(
            Look(
                look=look,
                points=tuple(sorted(points, key=lambda point: (point.kind, point.subject, point.amount))),
                signed_by=signed_by,
                independence=()
                if page is None
                else tuple(_independence(page, pages[other], here, eyes[other]) for other in before),
                eyes=tuple(PersonsEyes(person, here[person]) for person in sorted(here)),
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


def _counting(look: str, page: LookCount | None, gathered: Gathered, tally: Tally) -> list[Point]:
    """Counts by nobody who is proven, and a due that comes from somebody who looks."""
    points: list[Point] = []
    counts = [(record.id, author_of(record)) for record, body in gathered.of(PiecesCountedV1) if body.look == look]
    if not counts:
        return points
    looking = {mark.author for mark in tally.marks if mark.look == look}
    for tray in tally.trays:
        if tray.look == look:
            looking |= {gathered.authors.of(gathered.known[name], tray.id) for name in tray.closings}
    for name, sign_on in counts:
        counter = gathered.proven.get(sign_on or "")
        if counter is None:
            points.append(Point("count_not_proven", name, 0))
        elif page is not None and name == page.counted_by and counter in looking:
            points.append(Point("counted_by_looker", counter, 0))
    return points


def _signing(look: str, gathered: Gathered) -> tuple[str, list[Point]]:
    """The first signature that has seen all that counts, or what the signatures lack."""
    points: list[Point] = []
    unseen: dict[str, int] = {}
    for record, body in gathered.of(LookSignedV1):
        if body.look == look:
            if (author_of(record) or "") not in gathered.proven:
                points.append(Point("signature_not_proven", record.id, 0))
                continue
            seen = Seen(body.seen)
            came = (one.id for one in gathered.counting if is_of_look(one, look))
            unseen[record.id] = sum(not seen.covers(name) for name in came)
    if not unseen:
        return "", [*points, Point("not_signed", "", 0)]
    best = min(unseen, key=lambda name: (unseen[name], order_of(name)))
    if unseen[best]:
        return "", [*points, Point("signed_before_this_came", best, unseen[best])]
    # Another's signature under a wrong PIN takes nothing from one that has seen it all.
    return best, []


def _hands(gathered: Gathered, tally: Tally) -> dict[str, set[str]]:
    """Whose hands each tray was in: all that marked in it, closed it, left it to somebody else or took it over."""
    persons: dict[str, set[str]] = {}
    for mark in tally.marks:
        persons.setdefault(mark.tray, set()).add(mark.author)
    held = [(tray.id, gathered.known[name]) for tray in tally.trays for name in tray.closings]
    held += [(body.tray, record) for record, body in gathered.of(HandoverGivenV1)]
    held += [(body.tray, record) for record, body in gathered.of(HandoverTakenV1)]
    for tray_id, record in held:
        persons.setdefault(tray_id, set()).add(gathered.authors.of(record, tray_id))
    return persons


def _eyes(page: LookCount, hands: Mapping[str, set[str]]) -> dict[str, int]:
    """How many of the pieces looked at each person may have had in hand."""
    seen: dict[str, int] = {}
    for tray_count in page.trays:
        for opening in tray_count.openings:
            for person in hands.get(opening.tray, set()) - {""}:
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
