# SPDX-License-Identifier: Apache-2.0
"""A batch on its route, told in one line an act: for the vectors of the route and for their random neighbours."""

from __future__ import annotations

from typing import Any

from msgspec import UNSET, UnsetType

from tallywright.records.asked import RequestSecondedV1
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.compose import ChainWriter
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
from tests.actors import ANYBODY, NOON

MAREN, PIOTR = f"{'p' * 26}:1", f"{'p' * 26}:2"
LOAD, OTHER_LOAD, LOT = f"{'f' * 26}:7", f"{'f' * 26}:8", f"{'f' * 26}:9"


class Floor:
    """Two tablets, a's in Maren's hands and b's in Piotr's, and a server s; a minute goes by with each record."""

    def __init__(self, pieces: int = 100) -> None:
        self.records: list[Record] = []
        self.proven = {f"{'a' * 26}:2": MAREN, f"{'b' * 26}:2": PIOTR}
        self._minute = 0
        self._writers = {
            letter: ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY) for letter in "abcs"
        }
        self.batch = ""
        self.batch = self.add(BatchOpenedV1(number="K7-1", pieces=pieces)).id

    def add(self, body: Body, by: str = "a") -> Record:
        """One record of the batch; c's author is proven by nobody."""
        self._minute += 1
        more: dict[str, Any] = {"batch": self.batch} if self.batch else {"definition": ANYBODY}
        record = self._writers[by].add(
            body, NOON + self._minute * 60_000, skew_ms=0, sign_on=f"{by * 26}:2", **more
        )
        self.records.append(record)
        return record

    def start(self, operation: int, by: str = "a", **members: Any) -> str:
        return self.add(OperationStartedV1(operation=operation, **members), by).id

    def finish(
        self,
        stint: str,
        operation: int,
        counts: tuple[int, int, int, int, int],
        by: str = "a",
        inside: int | UnsetType = UNSET,
    ) -> Record:
        """Counts: in, out, scrap, set-up, samples."""
        pieces_in, pieces_out, scrap, set_up, samples = counts
        return self.add(
            OperationFinishedV1(
                started=stint,
                operation=operation,
                pieces_in=pieces_in,
                pieces_out=pieces_out,
                scrap=scrap,
                set_up=set_up,
                samples=samples,
                inside=inside,
            ),
            by,
        )

    def stint(self, operation: int, counts: tuple[int, int, int, int, int], by: str = "a", **members: Any) -> str:
        stint = self.start(operation, by, **members)
        self.finish(stint, operation, counts, by)
        return stint

    def recount(
        self, stint: str, of: Any, pieces: int, how: Any = "hand", by: str = "b", settles: Any = UNSET
    ) -> Record:
        body = OperationRecountedV1(started=stint, operation=60, of=of, pieces=pieces, how=how, settles=settles)
        return self.add(body, by)

    def destroy(self, operation: int, handed_in: int, destroyed: int, kept: int = 0) -> Record:
        body = ScrapDestroyedV1(operation=operation, handed_in=handed_in, destroyed=destroyed, kept=kept)
        return self.add(body)

    def second(self, record: str, by: str = "b") -> Record:
        return self.add(RequestSecondedV1(request=record), by)

    def fill(self, load: str, operation: int, pieces: int) -> Record:
        return self.add(LoadFilledV1(load=load, operation=operation, pieces=pieces))

    def send(self, pieces: int, operation: int = 100, lot: str = LOT) -> Record:
        return self.add(LotSentV1(lot=lot, operation=operation, pieces=pieces))

    def take_back(self, counted: int, foreign: int, stated: int, lot: str = LOT) -> Record:
        return self.add(LotReturnedV1(lot=lot, operation=110, counted=counted, foreign=foreign, stated=stated))

    def sample(self, operation: int, pieces: int, fate: Any = "used_up") -> Record:
        return self.add(SampleTakenV1(operation=operation, pieces=pieces, test="hardness", fate=fate))

    def components(self, operation: int, issued: int, left: int, scrapped: int, lot: str = "R-12") -> Record:
        return self.add(
            ComponentsCountedV1(
                operation=operation, component="rivet", lot=lot, issued=issued, left=left, scrapped=scrapped
            )
        )
