# SPDX-License-Identifier: Apache-2.0
"""What a lead decides about a batch when its last look is done: differences, holds, the release."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tallywright.demo.shop import Make
from tallywright.demo.telling import Known
from tallywright.demo.working_time import MINUTE_MS
from tallywright.records.asked import (
    DifferenceAcceptanceRequestedV1,
    HoldLiftRequestedV1,
    ReleaseRequestedV1,
    RequestSecondedV1,
)
from tallywright.records.bench import PieceFoundV1

if TYPE_CHECKING:
    from tallywright.demo.batch_way import BatchWay

OFFICE, SECONDS = "office", "final bench"
SEARCHED = "searched station, bins and boxes, counted again by two"


class Decisions:
    """Each request is the lead's, in his hour, with a second name from the final bench."""

    def __init__(self, way: BatchWay) -> None:
        self._way = way
        self._shop = way.shop

    def tell(self) -> None:
        """Accept what was searched for in one hour, release in the next."""
        way = self._way
        hour = self._shop.working.leads_hour(way.at)
        if way.accepting or way.lifting:
            self._accept(hour)
            hour = self._shop.working.leads_hour(way.after_the_leads_hour(hour))
        way.at = way.after_the_leads_hour(hour)
        if way.batch.is_released and not way.batch.held_for:
            self._ask(hour + 5 * MINUTE_MS, "release", self._release, is_fresh=True)
            if way.batch.found_after_release:
                at = self._shop.working.working(way.at + 2 * 60 * MINUTE_MS)
                found = PieceFoundV1(where=way.batch.found_after_release, pieces=1)
                self._shop.say(at, "goods-in", found, batch=way.key)

    def _accept(self, hour: int) -> None:
        at = hour
        for line in self._way.accepting:
            self._ask(at, f"accept {line}", self._acceptance(line))
            at += MINUTE_MS
        for key in self._way.lifting:
            self._ask(at, f"lift {key}", self._lift(key), is_fresh=True)
            at += MINUTE_MS

    def _acceptance(self, line: tuple[str, str, str, int]) -> Make:
        difference, subject, of, amount = line
        return lambda known: DifferenceAcceptanceRequestedV1(
            subject=known.id(of) if of else subject,
            difference=difference,
            amount=amount,
            seen=known.seen(self._way.key),
            why=SEARCHED,
        )

    def _lift(self, hold: str) -> Make:
        return lambda known: HoldLiftRequestedV1(
            holds=[known.id(hold)], seen=known.seen(self._way.key), why="kept apart, scrapped with two names"
        )

    def _release(self, known: Known) -> ReleaseRequestedV1:
        return ReleaseRequestedV1(seen=known.seen(self._way.key))

    def _ask(self, at: int, key: str, make: Make, is_fresh: bool = False) -> None:
        """A request, and half a minute later the second name under it."""
        key = f"{self._way.key} {key}"
        batch = self._way.key
        self._shop.say(at, OFFICE, make, key=key, batch=batch, is_fresh=is_fresh)
        self._shop.say(
            at + MINUTE_MS // 2,
            SECONDS,
            lambda known: RequestSecondedV1(request=known.id(key)),
            batch=batch,
            is_fresh=is_fresh,
        )
