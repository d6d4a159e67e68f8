# SPDX-License-Identifier: Apache-2.0
"""One batch on its way: what everybody does with it, from the bar to the release."""

from __future__ import annotations

from msgspec import UNSET

from tallywright.demo.decisions import Decisions
from tallywright.demo.look_way import LookWay
from tallywright.demo.plans import Batch, Losses, Product, Step
from tallywright.demo.shop import Shop
from tallywright.demo.working_time import LEADS_HOUR_ENDS, MINUTE_MS
from tallywright.records.bench import BatchOpenedV1, HoldPlacedV1, PieceFoundV1
from tallywright.records.route import (
    ComponentsCountedV1,
    LoadFilledV1,
    LotReturnedV1,
    LotSentV1,
    OperationFinishedV1,
    OperationStartedV1,
    SampleTakenV1,
)

OUTSIDE = 100  # the operation that the firm outside does
DAYS_OUTSIDE = 5
CAST_IS_KNOWN_TO = 40  # behind the forge it is known by the batch alone
BETWEEN = 45 * MINUTE_MS
NOTHING = Losses()


class BatchWay:
    """Tells one batch step by step; `pieces` are those that are left, `at` is how late it is."""

    def __init__(self, shop: Shop, product: Product, batch: Batch, start: int) -> None:
        self.shop = shop
        self.product = product
        self.batch = batch
        self.key = f"batch {batch.number}"
        self.at = start
        self.pieces = batch.pieces
        self.accepting: list[tuple[str, str, str, int]] = []  # kind, subject, key of the subject, amount
        self.lifting: list[str] = []
        self._is_open = False
        self._began = start

    def tell(self) -> None:
        """The whole way, or as much of it as the batch gets."""
        for step in self.product.route:
            if self.batch.stops_before and step.operation >= self.batch.stops_before:
                break
            if step.does == "look":
                LookWay(self, step).tell()
            elif step.does == "back":
                self._back(step)
            else:
                self._work(step)
            if step.operation in self.batch.found:
                self._found_late(step)
        else:
            Decisions(self).tell()
        if self.batch.held_for:
            self.shop.say(self.at, "office", HoldPlacedV1(why=self.batch.held_for), batch=self.key)

    def lost_at(self, operation: int) -> Losses:
        return self.batch.losses.get(operation, NOTHING)

    def _work(self, step: Step) -> None:
        """The stints of an operation, and what stands beside its counts."""
        lost = self.lost_at(step.operation)
        machines = self.batch.machines.get(step.operation) or step.machines[:1] or [""]
        tools = self.batch.tools.get(step.operation) or step.tools[:1] or [""]
        stints = max(len(machines), len(tools))
        came = self.pieces
        for place in range(stints):
            # The last stint has what is left; what is lost is lost in it.
            here = came // stints if place < stints - 1 else came - came // stints * (stints - 1)
            names = machines[place % len(machines)], tools[place % len(tools)]
            self._stint(step, names, here, lost if place == stints - 1 else NOTHING)
        for load in self.batch.loads.get(step.operation, []) if step.does == "load" else []:
            share = self._share(came, self.batch.loads[step.operation].index(load), step)
            key = self.shop.load(load, step.operation, self._began, step.place)
            self._say_load(step, key, share)
        if step.does == "assemble":
            self._components(step)
        if lost.short:
            self.accepting.append(("pieces_short", str(step.operation), "", -lost.short))
        if step.does == "send":
            self._send(step)

    def _stint(self, step: Step, names: tuple[str, str], pieces_in: int, lost: Losses) -> None:
        start = self.shop.take(step.place, self.at, step.minutes)
        end = start + step.minutes * MINUTE_MS
        self._began = start
        machine, tool = names
        key = f"{self.key} stint {step.operation} {start}"
        if not self._is_open:
            self._open(step, start)
        started = OperationStartedV1(
            operation=step.operation,
            machine=machine or UNSET,
            tool=tool or UNSET,
            cast=self.batch.cast if step.operation <= CAST_IS_KNOWN_TO else UNSET,
        )
        self.shop.say(start, step.place, started, key=key, batch=self.key)
        left = pieces_in - lost.scrap - lost.set_up - lost.samples - lost.short
        self.finish(step.place, end, step.operation, key, (pieces_in, left, lost))
        self.pieces += left - pieces_in
        if lost.samples:
            sample = SampleTakenV1(
                operation=step.operation, pieces=lost.samples, test=step.test or "etched section", fate="destroyed"
            )
            self.shop.say(end - MINUTE_MS, step.place, sample, batch=self.key)
        self.at = end + BETWEEN

    def finish(
        self, place: str, at: int, operation: int, key: str, counts: tuple[int, int, Losses], look: str = ""
    ) -> None:
        """The count at the end of a stint."""
        pieces_in, pieces_out, lost = counts
        self.shop.say(
            at,
            place,
            lambda known: OperationFinishedV1(
                started=known.id(key),
                operation=operation,
                pieces_in=pieces_in,
                pieces_out=pieces_out,
                scrap=lost.scrap,
                set_up=lost.set_up,
                samples=lost.samples,
                look=look or UNSET,
            ),
            batch=self.key,
        )

    def _open(self, step: Step, start: int) -> None:
        self._is_open = True
        opened = BatchOpenedV1(number=self.batch.number, pieces=self.batch.pieces)
        self.shop.say(start - MINUTE_MS, step.place, opened, key=self.key, definition=self.product.part)

    def _share(self, pieces: int, place: int, step: Step) -> int:
        loads = len(self.batch.loads[step.operation])
        return pieces // loads if place else pieces - pieces // loads * (loads - 1)

    def _say_load(self, step: Step, load: str, pieces: int) -> None:
        self.shop.say(
            self._began + MINUTE_MS,
            step.place,
            lambda known: LoadFilledV1(load=known.id(load), operation=step.operation, pieces=pieces),
            batch=self.key,
        )

    def _components(self, step: Step) -> None:
        """Rivets are counted after assembly: left-over ones tell of assemblies without."""
        lost = self.lost_at(step.operation)
        issued = self.batch.rivets_issued or self.pieces + lost.scrap + 12
        left = issued - lost.scrap - self.pieces + self.batch.rivets_left_out
        counted = ComponentsCountedV1(
            operation=step.operation,
            component="rivet",
            lot=self.batch.rivet_lot,
            issued=issued,
            left=left,
            scrapped=lost.scrap,
        )
        self.shop.say(self.at - BETWEEN + 2 * MINUTE_MS, step.place, counted, batch=self.key)
        if self.batch.rivets_left_out:
            out = self.batch.rivets_left_out
            self.accepting.append(("components_short", f"{step.operation} rivet", "", -out))
            later = next(one.operation for one in self.product.route if one.operation > step.operation)
            rebuilt = ComponentsCountedV1(
                operation=later, component="rivet", lot=self.batch.rivet_lot, issued=out, left=0, scrapped=0
            )
            self.shop.say(self.at + BETWEEN, step.place, rebuilt, batch=self.key)
            self.accepting.append(("components_over", f"{later} rivet", "", out))

    def _send(self, step: Step) -> None:
        lot = self.shop.lot(self.batch.lot, OUTSIDE, self.at, step.place)
        pieces = self.pieces
        self.shop.say(
            self.at,
            step.place,
            lambda known: LotSentV1(lot=known.id(lot), operation=OUTSIDE, pieces=pieces),
            batch=self.key,
        )

    def _back(self, step: Step) -> None:
        """Counted by hand before the note is read; the note says what was sent."""
        start = self.shop.take(step.place, self.at + DAYS_OUTSIDE * 24 * 60 * MINUTE_MS, step.minutes)
        self.at = start + step.minutes * MINUTE_MS
        short, stated, lot = self.lost_at(step.operation).short, self.pieces, f"lot {self.batch.lot}"
        self.pieces -= short
        counted, foreign = self.pieces + self.batch.foreign, self.batch.foreign
        key = f"{self.key} back"
        self.shop.say(
            self.at,
            step.place,
            lambda known: LotReturnedV1(
                lot=known.id(lot), operation=step.operation, counted=counted, foreign=foreign, stated=stated
            ),
            key=key,
            batch=self.key,
        )
        if short:
            self.accepting.append(("pieces_short", str(step.operation), "", -short))
        if foreign:
            self.accepting.append(("foreign_pieces", "", key, foreign))
        self.at += BETWEEN

    def _found_late(self, step: Step) -> None:
        """What was missing turns up: it is kept apart, never added back, and held until a lead lifts it."""
        key = f"{self.key} found {step.operation}"
        at = self.shop.working.working(self.at + 5 * 60 * MINUTE_MS)
        found = PieceFoundV1(where=self.batch.found[step.operation], pieces=1)
        self.shop.say(at, step.place, found, key=key, batch=self.key)
        self.accepting.append(("pieces_found", "", key, 1))
        self.lifting.append(key)

    def after_the_leads_hour(self, hour: int) -> int:
        """When work goes on behind an hour in which the lead decided."""
        day = self.shop.working.local(hour).date()
        return self.shop.working.at(day, LEADS_HOUR_ENDS) + 15 * MINUTE_MS
