# SPDX-License-Identifier: Apache-2.0
"""The verdict on each piece that somebody marked or judged: the worst of what weighs, look by look.

static/src/folds/verdicts.ts is the same function; tests/vectors/bench holds both to the same answers. Nothing
that is recorded makes a verdict milder than reject but the finder's own act and a granted disposition. A piece that
nobody marked is not named here: its tray carries it.
"""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec import UNSET

from tallywright.folds.gathered import Gathered, author_of, is_same_author, order_of
from tallywright.folds.holds import Holds
from tallywright.folds.seen import Seen
from tallywright.folds.tally import Mark, Tally
from tallywright.records.asked import DispositionRequestedV1, RequestGrantedV1
from tallywright.records.bench import DefectTalliedV1, PieceJudgedV1, RecordWithdrawnV1, TrayClosedV1
from tallywright.records.decode import Record

Verdict = Literal["accept", "rework", "query", "reject", "locked"]
MILD_FIRST: tuple[Verdict, ...] = ("accept", "rework", "query", "reject", "locked")
WORST_MARK_FIRST = ("critical", "major", "minor", "query")
_RANKS = {verdict: rank for rank, verdict in enumerate(MILD_FIRST)}
_MARK_RANKS = {weight: rank for rank, weight in enumerate(WORST_MARK_FIRST)}


class PieceVerdict(msgspec.Struct, frozen=True, gc=False):
    """One piece at one look, as its newest round leaves it.

    tray          where it was marked first; '' for a piece that was only judged
    round         1, and one more for each time it was looked at behind a rework
    main_defect   the defect word of its worst mark, of these the first; '' without a mark
    worst         the worst class of its marks in any round, not-sure ones left out; '' without one
    open_queries  what waits to be settled
    differ        judgements of this round by people who do not agree; the worst of them counts
    locked_by     holds that stand
    """

    look: str
    piece: str
    tray: str
    round: int
    verdict: Verdict
    main_defect: str
    worst: str
    open_queries: tuple[str, ...]
    differ: tuple[str, ...]
    locked_by: tuple[str, ...]


class Weight(msgspec.Struct, frozen=True, gc=False):
    """What one record weighs in one round of a piece. `judged_by` is '' for a mark."""

    id: str
    verdict: Verdict
    judged_by: str


class Disposition(msgspec.Struct, frozen=True):
    """A granted verdict: it stands in the place of what its asker had seen."""

    id: str
    grant: str
    verdict: Verdict
    seen: Seen


Place = tuple[str, str]  # look and piece


def fold_verdicts(gathered: Gathered, tally: Tally, holds: Holds) -> tuple[PieceVerdict, ...]:
    """Fold all records of one batch; by look and piece."""
    scales = _Scales(gathered, tally)
    locks: dict[Place, list[str]] = {}
    for hold in holds.holds:
        if hold.piece and not hold.lifted_by:
            looks = [hold.look] if hold.look else [look for look, piece in scales.weights if piece == hold.piece]
            for look in looks:
                locks.setdefault((look, hold.piece), []).append(hold.id)
    marks: dict[Place, list[Mark]] = {}
    for mark in tally.counted():
        marks.setdefault((mark.look, mark.piece), []).append(mark)
    dispositions = _dispositions(gathered)
    places = sorted(scales.weights.keys() | locks.keys(), key=lambda place: (place[0], gathered.order_of(place[1])))
    return tuple(
        _verdict(
            place,
            scales,
            marks.get(place, []),
            dispositions.get(place, []),
            # Holds come in the order of ids.
            tuple(locks.get(place, ())),
        )
        for place in places
    )


class _Scales:
    """What weighs, by place and round; and the tray of each piece."""

    def __init__(self, gathered: Gathered, tally: Tally) -> None:
        self.weights: dict[Place, dict[int, list[Weight]]] = {}
        self.trays: dict[Place, str] = {}
        self._proven = gathered.proven
        self._authors = gathered.authors
        self._closings: dict[str, list[Record]] = {}
        self._settles: dict[str, list[Record]] = {}
        for record, closed in gathered.of(TrayClosedV1):
            self._closings.setdefault(closed.tray, []).append(record)
        for record, judged in gathered.of(PieceJudgedV1):
            for name in () if judged.settles is UNSET else judged.settles:
                self._settles.setdefault(name, []).append(record)
        for mark in tally.counted():
            self._weigh_mark(gathered.known[mark.id], mark.weight)
        self._weigh_taken_back(gathered)
        for record, judged in gathered.of(PieceJudgedV1):
            place = judged.look, judged.piece
            author = self._authors.of(record, self.trays.get(place, "")) or author_of(record) or ""
            number = 1 if judged.round is UNSET else judged.round
            self._put(place, number, Weight(record.id, judged.verdict, author))

    def _weigh_mark(self, record: Record, weight: str) -> None:
        """A minor mark is a reject until its finder says otherwise; a not-sure one until somebody else does."""
        body = record.body
        assert isinstance(body, DefectTalliedV1)  # noqa: S101 - the tally made a mark of it
        verdict: Verdict = "reject"
        if weight == "query":
            verdict = self._open_or_settled(record, body)
        elif weight == "minor" and record.id in self._settles:
            own = [one for one in self._settling(record, body) if is_same_author(record, one, self._proven)]
            if any(self._is_in_time(body.tray, one) for one in own):
                verdict = "accept"
            elif own:
                verdict = self._open_or_settled(record, body)
        self._put_mark(record, body, verdict)

    def _weigh_taken_back(self, gathered: Gathered) -> None:
        """A mark taken back when its tray was closed already leaves its piece in query."""
        withdrawals: dict[str, list[Record]] = {}
        for record, back in gathered.of(RecordWithdrawnV1):
            if back.record in gathered.dead and is_same_author(gathered.known[back.record], record, self._proven):
                withdrawals.setdefault(back.record, []).append(record)
        for name in sorted(withdrawals, key=order_of):
            record = gathered.known[name]
            body = record.body
            if not isinstance(body, DefectTalliedV1) or body.quick_repeat is True:
                continue
            if not any(self._is_in_time(body.tray, one) for one in withdrawals[name]):
                self._put_mark(record, body, self._open_or_settled(record, body))

    def _settling(self, mark: Record, body: DefectTalliedV1) -> list[Record]:
        """The judgements of the mark's own piece and look that name it."""
        place = body.look, mark.id if body.piece is UNSET else body.piece
        return [
            one
            for one in self._settles.get(mark.id, ())
            if isinstance(one.body, PieceJudgedV1) and (one.body.look, one.body.piece) == place
        ]

    def _open_or_settled(self, mark: Record, body: DefectTalliedV1) -> Verdict:
        """Weighs no more once somebody else, proven or confirmed in the mark's tray, named the mark as settled."""
        for one in self._settling(mark, body):
            if self._authors.of(one, body.tray) and not is_same_author(mark, one, self._proven):
                return "accept"
        return "query"

    def _is_in_time(self, tray: str, record: Record) -> bool:
        """True when the tray stands open, or was closed by the same tablet behind the record: it had seen it."""
        closings = self._closings.get(tray, [])
        chain, n = record.envelope.chain, record.envelope.n
        return not closings or any(one.envelope.chain == chain and one.envelope.n > n for one in closings)

    def _put_mark(self, record: Record, body: DefectTalliedV1, verdict: Verdict) -> None:
        place = body.look, record.id if body.piece is UNSET else body.piece
        self.trays.setdefault(place, body.tray)
        self._put(place, 1 if body.round is UNSET else body.round, Weight(record.id, verdict, ""))

    def _put(self, place: Place, number: int, weight: Weight) -> None:
        self.weights.setdefault(place, {}).setdefault(number, []).append(weight)


def _dispositions(gathered: Gathered) -> dict[Place, list[Disposition]]:
    """The granted dispositions by place; one whose grant another had seen is superseded by it."""
    found: dict[Place, dict[str, Disposition]] = {}
    for record in gathered.known.values():
        if not isinstance(record.body, RequestGrantedV1) or record.body.request not in gathered.known:
            continue
        body = gathered.known[record.body.request].body
        if isinstance(body, DispositionRequestedV1):
            granted = Disposition(record.body.request, record.id, body.verdict, Seen(body.seen))
            found.setdefault((body.look, body.piece), {}).setdefault(granted.id, granted)
    return {place: _in_force(list(granted.values())) for place, granted in found.items()}


def _in_force(granted: list[Disposition]) -> list[Disposition]:
    return [
        one for one in granted if not any(other.seen.covers(one.grant) for other in granted if other is not one)
    ]


def _verdict(
    place: Place,
    scales: _Scales,
    marks: list[Mark],
    dispositions: list[Disposition],
    locked_by: tuple[str, ...],
) -> PieceVerdict:
    rounds = scales.weights.get(place) or {1: []}
    newest = max(rounds)
    left, weights = rounds[newest], []
    if dispositions:
        left = [one for one in rounds[newest] if not any(d.seen.covers(one.id) for d in dispositions)]
        # A disposition is about the rounds its asker had seen something of.
        weights = [d.verdict for d in dispositions if any(d.seen.covers(one.id) for one in rounds[newest])]
    weights += [one.verdict for one in left]
    if locked_by:
        weights.append("locked")
    judged = [one for one in left if one.judged_by]
    disagree = len(judged) > 1 and any(
        a.judged_by != b.judged_by and a.verdict != b.verdict for a in judged for b in judged
    )
    # The tally stands by time: min takes the first of the worst.
    main = min(marks, key=_rank_of_mark, default=None)
    queries = [one for one in left if one.verdict == "query"]
    return PieceVerdict(
        look=place[0],
        piece=place[1],
        tray=scales.trays.get(place, ""),
        round=newest,
        verdict=max(weights, key=_RANKS.__getitem__, default="accept"),
        main_defect="" if main is None else main.defect,
        worst="" if main is None or main.weight == "query" else main.weight,
        open_queries=_ids(queries),
        differ=_ids(judged) if disagree else (),
        locked_by=locked_by,
    )


def _rank_of_mark(mark: Mark) -> int:
    return _MARK_RANKS[mark.weight]


def _ids(weights: list[Weight]) -> tuple[str, ...]:
    return tuple(sorted((one.id for one in weights), key=order_of)) if weights else ()
