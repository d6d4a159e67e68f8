# SPDX-License-Identifier: Apache-2.0
"""The whole piece ledger of one batch: from the first operation to the last, looks among them, step by step.

At each step in = out + scrap + set-up + samples + what is missing, and what went into a step is held to what left
the one before. Every difference is a line at the step where it shows, and a granted request accepts it.
"""

from __future__ import annotations

import msgspec
from msgspec import UNSET

from tallywright.folds.bench import BenchState
from tallywright.folds.gathered import Gathered, author_of, found_at
from tallywright.folds.ledger import LookCount, acceptances
from tallywright.folds.look import Point
from tallywright.folds.route import OperationCount, Route
from tallywright.folds.tally import Tally
from tallywright.records.bench import PieceFoundV1, TrayClosedV1
from tallywright.records.route import ScrapDestroyedV1


class Step(msgspec.Struct, frozen=True, gc=False, kw_only=True):
    """One step in numbers of pieces.

    look     the look that the step is, or whose queries and rework it is; '' for an operation on the route
    is_look  True for the look itself
    missing  computed: what went in and did not come out in any way, what is in the machine still among it; below
             zero, what came from nowhere
    """

    operation: int
    look: str
    is_look: bool
    pieces_in: int = msgspec.field(name="in")
    pieces_out: int = msgspec.field(name="out")
    scrap: int
    set_up: int
    samples: int
    missing: int


class LookLine(msgspec.Struct, frozen=True, gc=False):
    """A look as its trays were closed; what was decided afterwards stands in the steps behind it.

    waiting  due in trays that nobody has closed
    """

    look: str
    due: int
    looked: int
    accepted: int
    rework: int
    rejected: int
    query: int
    waiting: int


class Line(msgspec.Struct, frozen=True, gc=False):
    """A named difference, and the operation where it shows; 0 where it belongs to none."""

    operation: int
    look: str
    kind: str
    subject: str
    amount: int
    accepted_by: str


class WholeLedger(msgspec.Struct, frozen=True, kw_only=True):
    """in = good + scrap + samples_and_set_up + missing + taken, and whether every difference is accepted.

    Where nobody counted the operations between two looks, what they cost the batch is missing, and no line.

    good     pieces that are left behind the last step; while a batch is on its way, those that go on
    missing  all that is short less all that is over; the lines have both
    taken    split off
    lines    every difference, by operation; those of the looks are among them
    points   what else is open of the route
    """

    pieces_in: int = msgspec.field(name="in")
    good: int
    scrap: int
    samples_and_set_up: int
    missing: int
    taken: int
    closes: bool
    steps: tuple[Step, ...]
    looks: tuple[LookLine, ...]
    lines: tuple[Line, ...]
    points: tuple[Point, ...]


def fold_whole_ledger(gathered: Gathered, state: BenchState, route: Route) -> WholeLedger:
    """Join the bench's pages and the route's operations of one batch."""
    way = _Way(gathered, state, route)
    for step in way.main():
        way.take(step)
    way.hold_scrap(gathered)
    found_at_operation = {
        record.id: body.operation for record, body in gathered.of(PieceFoundV1) if body.operation is not UNSET
    }
    lines = [
        Line(
            found_at_operation.get(line.subject) or way.operations.get(line.look, 0),
            line.look,
            line.kind,
            line.subject,
            line.amount,
            line.accepted_by,
        )
        for line in state.ledger.differences
    ]
    lines += [
        Line(line.operation, "", line.kind, line.subject, line.amount, line.accepted_by)
        for line in route.differences
    ]
    lines = sorted((*lines, *way.lines), key=lambda one: (one.operation, one.look, one.kind, one.subject))
    steps = way.steps
    started = steps[0].pieces_in if steps else state.ledger.opened
    scrap = sum(step.scrap for step in steps)
    used = sum(step.set_up + step.samples for step in steps)
    good = state.ledger.left if way.expected is None else way.expected
    taken = way.taken if steps else state.ledger.taken
    missing = sum(step.missing for step in steps) - way.between
    return WholeLedger(
        pieces_in=started,
        good=good,
        scrap=scrap,
        samples_and_set_up=used,
        missing=missing,
        taken=taken,
        closes=all(line.accepted_by for line in lines) and (way.is_counted or not way.between),
        steps=tuple(steps),
        looks=tuple(way.pages[page.look] for page in state.ledger.looks),
        lines=tuple(lines),
        points=route.points,
    )


class _Way:
    """The way of the pieces from step to step.

    is_counted  somebody counted the operations, not the looks alone
    expected    pieces that left the last step; None before the first
    between     pieces that came up, less those that were lost, between steps
    taken       split off at a look
    """

    def __init__(self, gathered: Gathered, state: BenchState, route: Route) -> None:
        self.steps: list[Step] = []
        self.lines: list[Line] = []
        self.expected: int | None = None
        self.between = 0
        self.taken = 0
        self._accepted = acceptances(gathered.known, state.holds.requests)
        self._opened = state.ledger.left
        self._operations = [one for one in route.operations if not one.look]
        self.is_counted = bool(self._operations)
        self._aside: dict[str, list[OperationCount]] = {}
        for one in route.operations:
            if one.look:
                self._aside.setdefault(one.look, []).append(one)
        self._counts = {page.look: page for page in state.ledger.looks}
        self.operations = {page.look: _stands_behind(page, gathered, route) for page in state.ledger.looks}
        self.pages = {page.look: _look_line(page, gathered, state.tally) for page in state.ledger.looks}

    def main(self) -> list[Step]:
        """The operations and looks of the route itself, in its order."""
        looks = [
            self._look_step(self.pages[count.look], count) for count in self._counts.values() if count.counted_by
        ]
        steps = [*(_operation_step(one) for one in self._operations), *looks]
        return sorted(steps, key=lambda step: (step.operation, step.is_look, step.look))

    def take(self, step: Step) -> None:
        """Go through one step: what came is held to what left the step before; what was put aside comes behind."""
        before = self._opened if self.expected is None else self.expected
        kind = "start_differs" if self.expected is None else "between"
        if self.is_counted:
            self._line(step.operation, kind, step.pieces_in - before)
        if self.expected is not None:
            self.between += step.pieces_in - before
        self.steps.append(step)
        self.expected = step.pieces_out
        if step.is_look:
            page, count = self.pages[step.look], self._counts[step.look]
            self.expected -= count.taken
            self.taken += count.taken
            aside = self._aside_steps(page, count, step.operation)
            # What was put aside left with the look's other pieces: what is lost of it is lost here.
            self.expected += sum(one.pieces_out - one.pieces_in for one in aside)
            self.steps += aside

    def hold_scrap(self, gathered: Gathered) -> None:
        """More scrap handed in than an operation counted is named; less is in its bin still."""
        handed_in: dict[int, int] = {}
        for record, body in gathered.of(ScrapDestroyedV1):
            if (author_of(record) or "") in gathered.proven:
                handed_in[body.operation] = handed_in.get(body.operation, 0) + body.handed_in
        for operation, pieces in handed_in.items():
            scrap = sum(step.scrap for step in self.steps if step.operation == operation)
            self._line(operation, "scrap_over", max(0, pieces - scrap))

    def _look_step(self, page: LookLine, count: LookCount) -> Step:
        return Step(
            operation=self.operations[count.look],
            look=count.look,
            is_look=True,
            pieces_in=count.counted,
            pieces_out=page.looked - page.rejected + page.waiting + count.taken,
            scrap=page.rejected,
            set_up=0,
            samples=0,
            missing=count.due - page.looked - page.waiting,
        )

    def _aside_steps(self, page: LookLine, count: LookCount, operation: int) -> list[Step]:
        """What became of the pieces in query and in rework: as somebody counted them, and as they were judged."""
        put_aside = page.rework + page.query
        judged = count.rejected - page.rejected
        counted = [_operation_step(one) for one in self._aside.get(page.look, [])]
        if not counted:
            step = _aside_step(page.look, operation, put_aside, judged)
            return [step] if put_aside or judged else []
        waits = count.rework + count.query
        came = sum(step.pieces_in for step in counted)
        # Those that wait still have not come there; of the others each has to.
        self._line(operation, "put_aside", came - put_aside + min(waits, max(0, put_aside - came)), page.look)
        scrapped = sum(step.scrap for step in counted)
        self._line(operation, "judged_otherwise", judged - scrapped, page.look)
        return counted

    def _line(self, operation: int, kind: str, amount: int, of: str = "") -> None:
        if not amount:
            return
        if kind in ("between", "put_aside"):
            kind += "_short" if amount < 0 else "_over"
        subject = f"{operation} {of}".strip()
        by = self._accepted.get(("", kind, subject, amount), "")
        self.lines.append(Line(operation, "", kind, subject, amount, by))


def _operation_step(one: OperationCount) -> Step:
    return Step(
        operation=one.operation,
        look=one.look,
        is_look=False,
        pieces_in=one.pieces_in,
        pieces_out=one.pieces_out,
        scrap=one.scrap,
        set_up=one.set_up,
        samples=one.samples,
        missing=one.inside - (one.short + one.over),
    )


def _aside_step(look: str, operation: int, put_aside: int, judged: int) -> Step:
    return Step(
        operation=operation,
        look=look,
        is_look=False,
        pieces_in=put_aside,
        pieces_out=put_aside - judged,
        scrap=judged,
        set_up=0,
        samples=0,
        missing=0,
    )


def _stands_behind(count: LookCount, gathered: Gathered, route: Route) -> int:
    """The operation behind which a look stands; where its count does not say it, the last that was begun before."""
    if count.operation or not count.counted_by:
        return count.operation
    counted_at = found_at(gathered.known[count.counted_by])[0]
    begun = (one.operation for one in route.made if one.what == "stint" and one.started_at <= counted_at)
    return max(begun, default=0)


def _look_line(count: LookCount, gathered: Gathered, tally: Tally) -> LookLine:
    """Add up what the closings of a look state: of each tray the first whose author is proven or confirmed."""
    stated = {"accepted": 0, "rework": 0, "rejected": 0, "query": 0}
    for tray in tally.trays:
        closings = [name for name in tray.closings if name not in tray.unproven]
        body = gathered.known[closings[0]].body if closings and tray.look == count.look else None
        if isinstance(body, TrayClosedV1):
            for name in stated:
                stated[name] += getattr(body, name)
    waiting = sum(tray.due for tray in count.trays if not any(one.is_closed for one in tray.openings))
    return LookLine(look=count.look, due=count.due, looked=count.looked, waiting=waiting, **stated)
