# SPDX-License-Identifier: Apache-2.0
"""What happened to one batch along its route: each operation as it was counted, and what can have made its pieces.

static/src/folds/route.ts is the same function; tests/vectors/route holds both to the same answers.
Every term but the differences was counted by somebody who is proven. Nothing is cut at zero, and nothing is netted:
pieces short in one stint of an operation and over in another are two lines, and so are foreign pieces beside them.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

import msgspec
from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from tallywright.folds.gathered import Gathered, author_of, found_at, order_of
from tallywright.folds.ledger import acceptances
from tallywright.folds.look import Point
from tallywright.folds.requests import Request
from tallywright.records.asked import RequestSecondedV1
from tallywright.records.compose import canonical
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.route import (
    ComponentsCountedV1,
    LoadFilledV1,
    LotReturnedV1,
    LotSentV1,
    OperationFinishedV1,
    OperationRecountedV1,
    OperationStartedV1,
    SampleTakenV1,
    ScrapDestroyedV1,
)

_OfCount = TypeVar("_OfCount", bound=Body)


class OperationCount(msgspec.Struct, frozen=True, gc=False, kw_only=True):
    """One operation in numbers of pieces, all its stints together.

    look     the look whose queries and rework these pieces are; '' on the route itself
    inside   pieces that were seen in the machine still
    short    pieces that went in and are nowhere, as a negative number; over: pieces that came from nowhere
    is_back  counted back from outside: what went in is what was sent
    """

    operation: int
    look: str
    pieces_in: int = msgspec.field(name="in")
    pieces_out: int = msgspec.field(name="out")
    scrap: int
    set_up: int
    samples: int
    inside: int
    short: int
    over: int
    is_back: bool


class RouteDifference(msgspec.Struct, frozen=True, gc=False):
    """A named difference at an operation; `accepted_by` as in the ledger of the bench."""

    operation: int
    kind: str
    subject: str
    amount: int
    accepted_by: str


class Made(msgspec.Struct, frozen=True, gc=False):
    """One of what can have made the batch's pieces at an operation, and from when to when it can.

    what        stint, machine, tool, cast, person, load or lot
    value       a name; the id of a stint, a person, a load or a lot
    started_at  server time                                                      [ms]
    ended_at    0 while nobody has said that it ended                            [ms]
    """

    operation: int
    what: str
    value: str
    started_at: int
    ended_at: int


class Route(msgspec.Struct, frozen=True):
    """The operations by number, what does not agree, what is open, and what can have made the pieces."""

    operations: tuple[OperationCount, ...]
    differences: tuple[RouteDifference, ...]
    points: tuple[Point, ...]
    made: tuple[Made, ...]


def fold_route(gathered: Gathered, requests: Iterable[Request]) -> Route:
    """Fold all records of one batch."""
    accepted = acceptances(gathered.known, requests)
    page = _Counted(gathered)
    operations = page.operations()
    page.beside(operations)
    lines = sorted(page.lines, key=lambda line: (line[0], line[1], line[2]))
    return Route(
        operations=operations,
        differences=tuple(
            RouteDifference(operation, kind, subject, amount, accepted.get(("", kind, subject, amount), ""))
            for operation, kind, subject, amount in lines
        ),
        points=tuple(sorted(page.points, key=lambda point: (point.kind, point.subject))),
        made=_made(gathered),
    )


Line = tuple[int, str, str, int]  # operation, kind, subject, amount


class _Stint:
    """One stint of an operation: what began it, where that is known, and every count of its end."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.began: Record | None = None
        self.start: OperationStartedV1 | None = None
        self.finishes: list[tuple[Record, OperationFinishedV1]] = []

    @property
    def operation(self) -> int:
        return self.start.operation if self.start is not None else self.finishes[0][1].operation

    @property
    def look(self) -> str:
        look = self.start.look if self.start is not None else self.finishes[0][1].look
        return "" if look is UNSET else look


def _stints(gathered: Gathered) -> list[_Stint]:
    """Every stint, by id; one whose beginning has not come yet is known by its end."""
    stints: dict[str, _Stint] = {}
    for record, start in gathered.of(OperationStartedV1):
        stint = stints[record.id] = _Stint(record.id)
        stint.began, stint.start = record, start
    for record, finish in gathered.of(OperationFinishedV1):
        stints.setdefault(finish.started, _Stint(finish.started)).finishes.append((record, finish))
    return [stints[name] for name in sorted(stints, key=order_of)]


class _Counted:
    """The counts of the operations, and the lines and points that come of them."""

    def __init__(self, gathered: Gathered) -> None:
        self.lines: list[Line] = []
        self.points: list[Point] = []
        self._gathered = gathered
        self._recounts: dict[str, list[tuple[Record, OperationRecountedV1]]] = {}
        for record, body in self._proven(OperationRecountedV1):
            self._recounts.setdefault(body.started, []).append((record, body))
        for record, scrap in self._proven(ScrapDestroyedV1):
            self._scrap(record, scrap)

    def operations(self) -> tuple[OperationCount, ...]:
        """Count each operation, its stints together, then what is back from outside."""
        counted: dict[tuple[int, str], list[OperationFinishedV1]] = {}
        for stint in _stints(self._gathered):
            finish = self._finish(stint)
            if finish is not None:
                counted.setdefault((stint.operation, stint.look), []).append(finish)
        found = [self._operation(place, counted[place]) for place in sorted(counted)]
        found += self._back()
        return tuple(sorted(found, key=lambda one: (one.operation, one.look, one.is_back)))

    def beside(self, operations: Iterable[OperationCount]) -> None:
        """Hold the counts of loads, samples and components to those of the operation they belong to."""
        pieces_in: dict[int, int] = {}
        pieces_out: dict[int, int] = {}
        samples: dict[int, int] = {}
        for one in operations:
            pieces_in[one.operation] = pieces_in.get(one.operation, 0) + one.pieces_in
            pieces_out[one.operation] = pieces_out.get(one.operation, 0) + one.pieces_out
            samples[one.operation] = samples.get(one.operation, 0) + one.samples
        filled: dict[int, int] = {}
        for _, load in self._proven(LoadFilledV1):
            filled[load.operation] = filled.get(load.operation, 0) + load.pieces
        taken: dict[int, int] = {}
        for _, sample in self._proven(SampleTakenV1):
            if sample.fate != "given_back":
                taken[sample.operation] = taken.get(sample.operation, 0) + sample.pieces
        for kind, beside, counted in (("loads_differ", filled, pieces_in), ("samples_differ", taken, samples)):
            for operation, pieces in beside.items():
                if operation in counted and pieces != counted[operation]:
                    self.lines.append((operation, kind, str(operation), pieces - counted[operation]))
        self._components(pieces_out)

    def _components(self, pieces_out: dict[int, int]) -> None:
        """A component is due once in each piece that leaves the first operation that counts it, in none later."""
        used: dict[str, dict[int, int]] = {}
        for _, body in self._proven(ComponentsCountedV1):
            of = used.setdefault(body.component, {})
            of[body.operation] = of.get(body.operation, 0) + body.issued - body.left - body.scrapped
        for component, by_operation in used.items():
            first = min(by_operation)
            for operation, pieces in by_operation.items():
                if operation == first and operation not in pieces_out:
                    continue
                amount = pieces - (pieces_out[operation] if operation == first else 0)
                if amount:
                    kind = "components_short" if amount < 0 else "components_over"
                    self.lines.append((operation, kind, f"{operation} {component}", amount))

    def _finish(self, stint: _Stint) -> OperationFinishedV1 | None:
        """The count a stint ended with: the first of the proven ones, as far as no other settles a number of it."""
        proven = [(record, body) for record, body in stint.finishes if self._is_proven(record)]
        if not stint.finishes:
            self.points.append(Point("stint_not_finished", stint.name, 0))
        if not proven:
            return None
        finish = proven[0][1]
        if len({canonical(body) for _, body in proven}) > 1:
            outs = [body.pieces_out for _, body in proven]
            self.lines.append((stint.operation, "finishes_differ", stint.name, max(outs) - min(outs)))
        numbers = {of: self._number(stint, of, proven[0][0], counted) for of, counted in _terms(finish).items()}
        return replace(finish, pieces_in=numbers["in"], pieces_out=numbers["out"], scrap=numbers["scrap"])

    def _number(self, stint: _Stint, of: str, finished: Record, counted: int) -> int:
        """One number of a stint by all who counted it: what still weighs, and a line for each way that differs.

        A count gives way to a recount by another person that names it; where none would be left, all of them stand.
        """
        recounts = [(record, body) for record, body in self._recounts.get(stint.name, []) if body.of == of]
        said = [(finished, "hand", counted), *((record, body.how, body.pieces) for record, body in recounts)]
        person = {record.id: self._gathered.proven[author_of(record) or ""] for record, _, _ in said}
        settled = {
            name
            for record, body in recounts
            for name in (() if body.settles is UNSET else body.settles)
            if name in person and person[name] != person[record.id]
        }
        hands = [pieces for record, how, pieces in said if how == "hand" and record.id not in settled]
        hands = hands or [pieces for _, how, pieces in said if how == "hand"]
        subject = f"{stint.operation} {of} {stint.name}"
        if len(set(hands)) > 1:
            self.lines.append((stint.operation, "recounts_differ", subject, max(hands) - min(hands)))
        for how in ("counter", "weighed"):
            found = [pieces - hands[0] for record, by, pieces in said if by == how and record.id not in settled]
            amount = max(found, key=lambda one: (abs(one), one), default=0)
            if amount:
                self.lines.append((stint.operation, f"{how}_differs", subject, amount))
        return hands[0]

    def _scrap(self, record: Record, scrap: ScrapDestroyedV1) -> None:
        """What was handed in was destroyed or kept, and two people say so."""
        amount = scrap.destroyed + scrap.kept - scrap.handed_in
        if amount:
            self.lines.append((scrap.operation, "scrap_differs", record.id, amount))
        proven = self._gathered.proven
        seconds = [one for one, body in self._gathered.of(RequestSecondedV1) if body.request == record.id]
        names = {proven.get(author_of(one) or "") for one in seconds} - {None, proven[author_of(record) or ""]}
        if not names:
            self.points.append(Point("destruction_not_seconded", record.id, scrap.handed_in))

    def _operation(self, place: tuple[int, str], finishes: list[OperationFinishedV1]) -> OperationCount:
        found = [f.pieces_out + f.scrap + f.set_up + f.samples + _inside(f) - f.pieces_in for f in finishes]
        operation, look = place
        return self._count(
            OperationCount(
                operation=operation,
                look=look,
                pieces_in=sum(one.pieces_in for one in finishes),
                pieces_out=sum(one.pieces_out for one in finishes),
                scrap=sum(one.scrap for one in finishes),
                set_up=sum(one.set_up for one in finishes),
                samples=sum(one.samples for one in finishes),
                inside=sum(_inside(one) for one in finishes),
                short=sum(amount for amount in found if amount < 0),
                over=sum(amount for amount in found if amount > 0),
                is_back=False,
            )
        )

    def _back(self) -> list[OperationCount]:
        """The operations at which lots were counted back; foreign pieces are a line, a lot that is away is open."""
        sent: dict[str, int] = {}
        for _, gone in self._proven(LotSentV1):
            sent[gone.lot] = sent.get(gone.lot, 0) + gone.pieces
        own: dict[str, int] = {}
        back_at: dict[str, int] = {}
        for record, back in self._proven(LotReturnedV1):
            own[back.lot] = own.get(back.lot, 0) + back.counted - back.foreign
            back_at[back.lot] = max(back.operation, back_at.get(back.lot, 0))
            if back.foreign:
                self.lines.append((back.operation, "foreign_pieces", record.id, back.foreign))
        for lot in sorted(sent.keys() - own.keys()):
            self.points.append(Point("lot_away", lot, sent[lot]))
        counts = []
        for operation in sorted(set(back_at.values())):
            lots = [lot for lot in own if back_at[lot] == operation]
            found = [own[lot] - sent.get(lot, 0) for lot in lots]
            counts.append(
                self._count(
                    OperationCount(
                        operation=operation,
                        look="",
                        pieces_in=sum(sent.get(lot, 0) for lot in lots),
                        pieces_out=sum(own[lot] for lot in lots),
                        scrap=0,
                        set_up=0,
                        samples=0,
                        inside=0,
                        short=sum(amount for amount in found if amount < 0),
                        over=sum(amount for amount in found if amount > 0),
                        is_back=True,
                    )
                )
            )
        return counts

    def _count(self, count: OperationCount) -> OperationCount:
        amounts = {"pieces_short": count.short, "pieces_over": count.over, "still_inside": -count.inside}
        for kind, amount in amounts.items():
            if amount:
                self.lines.append((count.operation, kind, str(count.operation), amount))
        return count

    def _proven(self, body: type[_OfCount]) -> list[tuple[Record, _OfCount]]:
        return [(record, one) for record, one in self._gathered.of(body) if self._is_proven(record)]

    def _is_proven(self, record: Record) -> bool:
        """A count by nobody who is proven does not count, and is named."""
        if (author_of(record) or "") in self._gathered.proven:
            return True
        self.points.append(Point("count_not_proven", record.id, 0))
        return False


def _terms(finish: OperationFinishedV1) -> dict[str, int]:
    """The numbers of a count that can be counted in another way."""
    made = finish.pieces_out + finish.scrap + finish.set_up + finish.samples
    return {"in": finish.pieces_in, "out": finish.pieces_out, "scrap": finish.scrap, "made": made}


def _inside(finish: OperationFinishedV1) -> int:
    return 0 if finish.inside is UNSET else finish.inside


def _made(gathered: Gathered) -> tuple[Made, ...]:
    """What can have made the pieces at each operation, each with the span from its first stint to its last."""
    spans: dict[tuple[int, str, str], list[tuple[int, int]]] = {}
    for stint in _stints(gathered):
        ended = [found_at(record)[0] for record, _ in stint.finishes]
        began = ended[:1] if stint.began is None else [found_at(stint.began)[0]]
        span = min([*began, *ended]), max(ended, default=0)
        authors = [record for record, _ in stint.finishes] + ([] if stint.began is None else [stint.began])
        persons = {gathered.proven.get(author_of(record) or "", "") for record in authors}
        values: list[tuple[str, str | UnsetType]] = [("stint", stint.name), *(("person", one) for one in persons)]
        if stint.start is not None:
            values += [("machine", stint.start.machine), ("tool", stint.start.tool), ("cast", stint.start.cast)]
        for what, value in values:
            if value:
                spans.setdefault((stint.operation, what, value), []).append(span)
    for record, load in gathered.of(LoadFilledV1):
        at = found_at(record)[0]
        spans.setdefault((load.operation, "load", load.load), []).append((at, at))
    back: dict[str, int] = {}
    for record, returned in gathered.of(LotReturnedV1):
        back[returned.lot] = max(back.get(returned.lot, 0), found_at(record)[0])
    for record, gone in gathered.of(LotSentV1):
        at = found_at(record)[0]
        spans.setdefault((gone.operation, "lot", gone.lot), []).append((at, back.get(gone.lot, 0)))
    return tuple(_spanned(*key, spans[key]) for key in sorted(spans))


def _spanned(operation: int, what: str, value: str, spans: list[tuple[int, int]]) -> Made:
    is_open = any(not ended for _, ended in spans)
    last = 0 if is_open else max(ended for _, ended in spans)
    return Made(operation, what, value, min(began for began, _ in spans), last)
