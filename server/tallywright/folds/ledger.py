# SPDX-License-Identifier: Apache-2.0
"""The piece ledger of one batch, as far as the bench knows it: what was counted, every difference with its sign.

static/src/folds/ledger.ts is the same function; tests/vectors/bench holds both to the same answers. Every term
but the differences was counted by somebody. Nothing is cut at zero, and nothing is netted against anything else:
a piece short in one tray and one over in another are two lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec
from msgspec import UNSET

from tallywright.folds.gathered import Gathered, author_of, found_at, order_of
from tallywright.folds.requests import Request
from tallywright.folds.tally import Tally, Tray
from tallywright.folds.verdicts import PieceVerdict
from tallywright.records.asked import DifferenceAcceptanceRequestedV1
from tallywright.records.bench import (
    BatchOpenedV1,
    BatchSplitV1,
    ForeignPieceFoundV1,
    PieceFoundV1,
    PiecesCountedV1,
    ReworkReturnedV1,
    ReworkSentV1,
    TrayClosedV1,
)
from tallywright.records.compose import canonical
from tallywright.records.decode import Record


class Opening(msgspec.Struct, frozen=True, gc=False):
    """A tray as one tablet opened it. `looked` counts once it `is_closed` by somebody proven or confirmed."""

    tray: str
    chain: str
    opened_at: int
    is_closed: bool
    looked: int


class TrayCount(msgspec.Struct, frozen=True, gc=False):
    """All that was opened under one tray number, beside what its card says; `due` is 0 where no card names it."""

    number: int
    due: int
    looked: int
    openings: tuple[Opening, ...]


class LookCount(msgspec.Struct, frozen=True, gc=False):
    """One look in numbers of pieces; `looked` and the verdicts are those of closed trays.

    counted_by  the count that is due, by its id; '' while nobody proven counted the batch in
    operation   the operation behind which the look stands; 0 where the count does not say it
    taken       split off from what was counted
    """

    look: str
    counted_by: str
    operation: int
    counted: int
    taken: int
    due: int
    looked: int
    accepted: int
    rejected: int
    rework: int
    query: int
    sent: int
    returned: int
    trays: tuple[TrayCount, ...]


class Difference(msgspec.Struct, frozen=True, gc=False):
    """A named difference. `accepted_by`: the granted request that names it at just this amount; '' while open."""

    look: str
    kind: str
    subject: str
    amount: int
    accepted_by: str


class Ledger(msgspec.Struct, frozen=True):
    """What the batch was opened with, what was split off, its looks by name, and what does not agree."""

    opened: int
    taken: int
    left: int
    looks: tuple[LookCount, ...]
    differences: tuple[Difference, ...]


Key = tuple[str, str, str, int]


def fold_ledger(
    gathered: Gathered, tally: Tally, requests: Iterable[Request], verdicts: Iterable[PieceVerdict]
) -> Ledger:
    """Fold all records of one batch."""
    accepted = acceptances(gathered.known, requests)
    opened = sum(body.pieces for _, body in gathered.of(BatchOpenedV1))
    taken = sum(body.pieces for _, body in gathered.of(BatchSplitV1) if body.look is UNSET)
    lines: list[Key] = []
    if opened < taken:
        lines.append(("", "split_too_much", "", opened - taken))
    for record, found in gathered.of(PieceFoundV1):
        lines.append(("" if found.look is UNSET else found.look, "pieces_found", record.id, found.pieces))
    by_look: dict[str, list[PieceVerdict]] = {}
    for verdict in verdicts:
        by_look.setdefault(verdict.look, []).append(verdict)
    looks = []
    for look in _looks(gathered, tally, by_look):
        page = _Page(look, gathered, tally, by_look.get(look, []))
        looks.append(page.count())
        lines += [(look, *line) for line in page.lines]
    lines.sort(key=lambda line: (line[0], line[1], line[2]))
    return Ledger(
        opened=opened,
        taken=taken,
        left=opened - taken,
        looks=tuple(looks),
        differences=tuple(Difference(*line, accepted.get(line, "")) for line in lines),
    )


def acceptances(known: Mapping[str, Record], requests: Iterable[Request]) -> dict[Key, str]:
    """The granted acceptances by what they close: look, kind, subject and amount."""
    found: dict[Key, str] = {}
    for request in requests:
        body = known[request.id].body
        if request.state == "granted" and isinstance(body, DifferenceAcceptanceRequestedV1):
            look = "" if body.look is UNSET else body.look
            found.setdefault((look, body.difference, body.subject, body.amount), request.id)
    return found


def _looks(gathered: Gathered, tally: Tally, verdicts: Iterable[str]) -> list[str]:
    named = {body.look for _, body in gathered.of(PiecesCountedV1)}
    named |= {body.look for _, body in gathered.of(ReworkSentV1)}
    named |= {body.look for _, body in gathered.of(ReworkReturnedV1)}
    named |= {body.look for _, body in gathered.of(ForeignPieceFoundV1)}
    return sorted({*named, *(tray.look for tray in tally.trays), *verdicts})


class _Page:
    """The ledger's page of one look, and its lines: kind, subject, amount."""

    def __init__(self, look: str, gathered: Gathered, tally: Tally, verdicts: list[PieceVerdict]) -> None:
        self.look = look
        self.lines: list[tuple[str, str, int]] = []
        self._gathered = gathered
        self._trays = [tray for tray in tally.trays if tray.look == look]
        self._verdicts = verdicts
        self._counts = [
            (record, body)
            for record, body in gathered.of(PiecesCountedV1)
            if body.look == look and (author_of(record) or "") in gathered.proven
        ]
        self._foreign: dict[str, int] = {}

    def count(self) -> LookCount:
        """Work out the page; the lines are there afterwards."""
        counted_by, settled, cards, taken = self._counted_in()
        counted = settled.pieces if settled is not None else 0
        self._foreigners()
        trays = [self._tray(number, cards, settled is not None) for number in self._numbers(cards)]
        looked = sum(tray.looked for tray in trays)
        sent, returned = self._reworked()
        closed = {opening.tray for tray in trays for opening in tray.openings if opening.is_closed}
        of = {"reject": 0, "rework": 0, "query": 0, "accept": 0, "locked": 0}
        for verdict in self._verdicts:
            of[verdict.verdict] += verdict.tray in closed
        rejected = of["reject"] + of["locked"]
        accepted = looked - rejected - of["rework"] - of["query"]
        if accepted < 0:
            self.lines.append(("more_marked_than_looked_at", "", accepted))
        return LookCount(
            look=self.look,
            counted_by=counted_by,
            operation=0 if settled is None or settled.operation is UNSET else settled.operation,
            counted=counted,
            taken=taken,
            due=counted - taken,
            looked=looked,
            accepted=accepted,
            rejected=rejected,
            rework=of["rework"],
            query=of["query"],
            sent=sent,
            returned=returned,
            trays=tuple(trays),
        )

    def _counted_in(self) -> tuple[str, PiecesCountedV1 | None, dict[int, int], int]:
        """The newest count by its id, its cards without those split off, and the pieces split off."""
        splits = [body for _, body in self._gathered.of(BatchSplitV1) if body.look == self.look]
        taken = sum(split.pieces for split in splits)
        bodies = [body for _, body in self._counts]
        if not bodies:
            return "", None, {}, taken
        if len({canonical(body) for body in bodies}) > 1:
            pieces = [body.pieces for body in bodies]
            self.lines.append(("counts_differ", "", max(pieces) - min(pieces)))
        newest, settled = max(self._counts, key=lambda count: _newest(count[0]))
        gone = {number for split in splits if split.trays is not UNSET for number in split.trays}
        cards: dict[int, int] = {}
        for card in settled.trays:
            if card.number not in gone:
                cards[card.number] = cards.get(card.number, 0) + card.pieces
        due = settled.pieces - taken
        if due < 0:
            self.lines.append(("split_too_much", "", due))
        if sum(cards.values()) != due:
            self.lines.append(("cards_do_not_add_up", "", sum(cards.values()) - due))
        return newest.id, settled, cards, taken

    def _foreigners(self) -> None:
        """Pieces of another batch are a line of their own, and no pieces of the tray they lay in."""
        for record, body in self._gathered.of(ForeignPieceFoundV1):
            if body.look == self.look:
                self.lines.append(("foreign_pieces", record.id, body.pieces))
                if body.tray is not UNSET:
                    self._foreign[body.tray] = self._foreign.get(body.tray, 0) + body.pieces

    def _numbers(self, cards: Mapping[int, int]) -> list[int]:
        return sorted({*cards, *(tray.number for tray in self._trays)})

    def _tray(self, number: int, cards: Mapping[int, int], is_counted: bool) -> TrayCount:
        openings = [self._opening(tray) for tray in self._trays if tray.number == number]
        looked = sum(opening.looked for opening in openings)
        closed = sum(opening.is_closed for opening in openings)
        due = cards.get(number, 0)
        if is_counted and closed:
            if number not in cards:
                self.lines.append(("tray_not_due", str(number), looked))
            elif closed > 1:
                self.lines.append(("tray_twice", str(number), looked - due))
            elif looked != due:
                self.lines.append(("tray_short" if looked < due else "tray_over", str(number), looked - due))
        return TrayCount(number, due, looked, tuple(openings))

    def _opening(self, tray: Tray) -> Opening:
        opened = self._gathered.known[tray.id]
        closings = [self._gathered.known[name].body for name in tray.closings if name not in tray.unproven]
        looked = [body.places - body.empty_counted for body in closings if isinstance(body, TrayClosedV1)]
        for body in closings[:1]:
            if isinstance(body, TrayClosedV1):
                stated = body.accepted + body.rejected + body.rework + body.query
                if stated != looked[0]:
                    self.lines.append(("closing_does_not_add_up", tray.id, stated - looked[0]))
        if len({canonical(body) for body in closings if body is not None}) > 1:
            self.lines.append(("closings_differ", tray.id, max(looked) - min(looked)))
        return Opening(
            tray=tray.id,
            chain=opened.envelope.chain,
            opened_at=found_at(opened)[0],
            is_closed=bool(looked),
            looked=looked[0] - self._foreign.get(tray.id, 0) if looked else 0,
        )

    def _reworked(self) -> tuple[int, int]:
        """Pieces sent and back; more back than sent, or back without a sending, keep their sign."""
        sent = sum(body.pieces for _, body in self._gathered.of(ReworkSentV1) if body.look == self.look)
        returned = sum(body.pieces for _, body in self._gathered.of(ReworkReturnedV1) if body.look == self.look)
        judged = sum(one.round - 1 + (one.verdict == "rework") for one in self._verdicts)
        if returned and not sent:
            self.lines.append(("return_without_sending", "", -returned))
        elif sent != returned:
            self.lines.append(("rework_away" if sent > returned else "rework_over", "", sent - returned))
        if sent != judged:
            self.lines.append(("rework_not_sent" if judged > sent else "rework_not_judged", "", judged - sent))
        return sent, returned


def _newest(record: Record) -> tuple[int, tuple[str, int]]:
    return found_at(record)[0], order_of(record.id)
