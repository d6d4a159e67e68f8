# SPDX-License-Identifier: Apache-2.0
"""One look at a batch: counted in, tray by tray, the finds, rework and queries, the signature."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from msgspec import UNSET

from tallywright.demo.plans import Find, Losses, Step
from tallywright.demo.shop import Make
from tallywright.demo.telling import Known
from tallywright.demo.working_time import MINUTE_MS
from tallywright.records.asked import DispositionRequestedV1
from tallywright.records.bench import (
    DefectTalliedV1,
    LookSignedV1,
    PieceJudgedV1,
    PiecesCountedV1,
    ReworkReturnedV1,
    ReworkSentV1,
    TrayCard,
    TrayClosedV1,
    TrayOpenedV1,
)
from tallywright.records.definition import NOT_SURE
from tallywright.records.route import OperationStartedV1

if TYPE_CHECKING:
    from tallywright.demo.batch_way import BatchWay

TRAY_MINUTES, COUNT_MINUTES, REWORK_MINUTES = 25, 30, 120
QUERIES, REWORK = 122, 124  # the operations behind the first look
WHO_COUNTS, WHO_REWORKS, WHO_DECIDES = "goods-in", "finishing", "office"


class LookWay:
    """Tells one look of a batch. `marks` are the keys of the finds by their place in the plan."""

    def __init__(self, way: BatchWay, step: Step) -> None:
        self._way = way
        self._step = step
        self._shop = way.shop
        self._look = step.look
        self._finds = way.batch.finds.get(step.look, [])
        self._signer = ""

    def tell(self) -> None:
        """Count in, look, settle what was put aside, sign."""
        way, places = self._way, self._way.product.tray_places
        sizes = [min(places, way.pieces - first) for first in range(0, way.pieces, places)]
        self._count_in(sizes)
        for number, pieces in enumerate(sizes, start=1):
            self._tray(number, pieces)
        rejected = sum(find.fate == "reject" for find in self._finds)
        rework = [find for find in self._finds if find.fate == "rework"]
        queries = [find for find in self._finds if find.fate == "query"]
        way.pieces -= rejected
        if rework:
            self._rework(rework)
        if queries and way.batch.leaves_queries:
            return
        if queries:
            self._queries(queries)
        for find in (*rework, *queries):
            way.pieces -= not find.good
        signed_at = way.at
        look = self._look
        self._shop.say(
            signed_at,
            self._step.place,
            lambda known: LookSignedV1(look=look, seen=known.seen(way.key)),
            person=self._signer,
            batch=way.key,
        )
        way.at += 10 * MINUTE_MS

    def _key(self, find: Find) -> str:
        # Two pieces may be marked alike: each has its own place in the plan.
        place = next(place for place, one in enumerate(self._finds) if one is find)
        return f"{self._way.key} {self._look} find {place}"

    def _count_in(self, sizes: list[int]) -> None:
        way = self._way
        start = self._shop.take(WHO_COUNTS, way.at, COUNT_MINUTES)
        way.at = start + COUNT_MINUTES * MINUTE_MS
        cards = [TrayCard(number=number, pieces=pieces) for number, pieces in enumerate(sizes, start=1)]
        counted = PiecesCountedV1(look=self._look, pieces=way.pieces, trays=cards, operation=self._step.operation)
        self._say(way.at, WHO_COUNTS, counted)
        way.at += 20 * MINUTE_MS

    def _tray(self, number: int, pieces: int) -> None:
        """One tray: its finds one after the other, what is judged at once, and its closing."""
        way, place, look = self._way, self._step.place, self._look
        places = way.product.tray_places
        start = self._shop.take(place, way.at, TRAY_MINUTES)
        person = self._signer = self._shop.who(place, start)
        key = f"{way.key} {look} tray {number}"
        self._say(start, place, TrayOpenedV1(look=look, number=number, places=places), key=key, person=person)
        finds = [find for find in self._finds if find.tray == number]
        for nth, find in enumerate(finds, start=1):
            at = start + TRAY_MINUTES * MINUTE_MS * nth // (len(finds) + 2)
            self._find(at, key, find, person)
        fates = [find.fate for find in finds]
        end = way.at = start + TRAY_MINUTES * MINUTE_MS
        rejected, rework, query = fates.count("reject"), fates.count("rework"), fates.count("query")
        self._say(
            end,
            place,
            lambda known: TrayClosedV1(
                look=look,
                tray=known.id(key),
                places=places,
                empty_counted=places - pieces,
                accepted=pieces - len(fates),
                rejected=rejected,
                rework=rework,
                query=query,
                all_looked_at=True,
            ),
            person=person,
        )

    def _find(self, at: int, tray: str, find: Find, person: str) -> None:
        look, key = self._look, self._key(find)
        self._say(
            at,
            self._step.place,
            lambda known: DefectTalliedV1(
                look=look,
                tray=known.id(tray),
                defect=NOT_SURE if find.fate == "query" else find.defect,
                zone=find.zone or UNSET,
                cavity=find.cavity or UNSET,
            ),
            key=key,
            person=person,
        )
        if find.fate == "rework":
            self._say(
                at + MINUTE_MS // 2,
                self._step.place,
                lambda known: PieceJudgedV1(
                    look=look, piece=known.id(key), verdict="rework", settles=[known.id(key)]
                ),
                person=person,
            )

    def _rework(self, finds: list[Find]) -> None:
        """Out counted, back counted, and looked at as new."""
        way, look, shop = self._way, self._look, self._shop
        start = shop.take(WHO_REWORKS, way.at + 20 * MINUTE_MS, REWORK_MINUTES)
        back = start + REWORK_MINUTES * MINUTE_MS
        stint = f"{way.key} {look} rework"
        keys = [self._key(find) for find in finds]
        is_counted = look == "first"
        if is_counted:
            started = OperationStartedV1(operation=REWORK, look=look)
            self._say(start - MINUTE_MS, WHO_REWORKS, started, key=stint)
        self._say(
            start, WHO_REWORKS, lambda known: ReworkSentV1(look=look, pieces=len(keys), tags=_ids(known, keys))
        )
        self._say(
            back, WHO_REWORKS, lambda known: ReworkReturnedV1(look=look, pieces=len(keys), tags=_ids(known, keys))
        )
        at = shop.take(self._step.place, back + 10 * MINUTE_MS, TRAY_MINUTES)
        for nth, find in enumerate(finds):
            self._judge_again(at + nth * MINUTE_MS // 2, find)
        way.at = at + TRAY_MINUTES * MINUTE_MS
        bad = sum(not find.good for find in finds)
        if is_counted:
            counts = len(finds), len(finds) - bad, Losses(scrap=bad)
            way.finish(WHO_REWORKS, way.at, REWORK, stint, counts, look)

    def _judge_again(self, at: int, find: Find) -> None:
        look, key = self._look, self._key(find)
        verdict = _fate(find)
        self._say(
            at,
            self._step.place,
            lambda known: PieceJudgedV1(look=look, piece=known.id(key), verdict=verdict, round=2),
            person=self._signer,
        )

    def _queries(self, finds: list[Find]) -> None:
        """The lead decides piece by piece, in his hour; the answers come at its end."""
        way, look, shop = self._way, self._look, self._shop
        hour = shop.working.leads_hour(way.at)
        stint = f"{way.key} {look} queries"
        self._say(hour, WHO_DECIDES, OperationStartedV1(operation=QUERIES, look=look), key=stint)
        for nth, find in enumerate(finds, start=1):
            self._decide(hour + nth * MINUTE_MS, find)
        way.at = way.after_the_leads_hour(hour)
        bad = sum(not find.good for find in finds)
        way.finish(WHO_DECIDES, way.at, QUERIES, stint, (len(finds), len(finds) - bad, Losses(scrap=bad)), look)

    def _decide(self, at: int, find: Find) -> None:
        way, look, key = self._way, self._look, self._key(find)
        verdict = _fate(find)
        why = "limit sample 4, under the lamp" if find.good else "open edge under the loupe"
        self._say(
            at,
            WHO_DECIDES,
            lambda known: DispositionRequestedV1(
                piece=known.id(key), look=look, verdict=verdict, seen=known.seen(way.key), why=why
            ),
        )

    def _say(self, at: int, place: str, make: Make, *, key: str = "", person: str = "") -> None:
        self._shop.say(
            at,
            place,
            make,
            key=key,
            person=person,
            batch=self._way.key,
            definition=self._way.product.part,
        )


def _fate(find: Find) -> Literal["accept", "reject"]:
    return "accept" if find.good else "reject"


def _ids(known: Known, keys: list[str]) -> list[str]:
    return [known.id(key) for key in keys]
