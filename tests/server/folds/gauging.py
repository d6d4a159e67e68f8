# SPDX-License-Identifier: Apache-2.0
"""Gauges and the values taken with them, told in one line an act: for the vectors and their random neighbours."""

from __future__ import annotations

import random
from typing import Any

from tallywright.folds.check_outcome import characteristics_of
from tallywright.folds.gathered import Gathered
from tallywright.folds.gauges import Gauges, Standing, day_of, moment_of
from tallywright.folds.holds import Hold, fold_holds
from tallywright.records.asked import HoldLiftRequestedV1, RequestGrantedV1
from tallywright.records.bench import BatchOpenedV1, RecordWithdrawnV1
from tallywright.records.checks import CheckTakenV1, GaugeCheckedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import GAUGES, Record
from tallywright.records.definition import Characteristic, GaugeDefinition, PartDefinition
from tallywright.records.envelope import Body
from tallywright.records.kinds import DefinitionPublishedV1
from tests.actors import ANYBODY, NOON

MAREN, JONAS = f"{'p' * 26}:1", f"{'p' * 26}:2"
ZONE = "Europe/Berlin"
DAY_MS = 86_400_000
THICKNESS, BORE, LOOSE = 1, 2, 3


def check(number: int, gauge: str) -> Characteristic:
    words = {"en": f"check {number}"}
    more: dict[str, Any] = {"gauge": gauge} if gauge else {}
    return Characteristic(
        operation=40, characteristic=number, words=words, kind="value", defect_class="major", **more
    )


PART = PartDefinition(
    part="P",
    revision="A",
    name={"en": "P"},
    tray_places=6,
    looks=["first", "second"],
    defects=[],
    characteristics=[
        check(THICKNESS, "calliper, cold piece"),
        check(BORE, "plug gauge GO/NOT-GO"),
        check(LOOSE, ""),
    ],
)


class Shop:
    """Tablets a (Maren, an operator), l (Jonas, who signed on as a lead) and c (proven by nobody); the server s.

    An hour goes by with each record; NOON is 12:00 UTC of day 0.
    """

    def __init__(self) -> None:
        self.records: list[Record] = []
        self.proven = {f"{'a' * 26}:2": MAREN, f"{'l' * 26}:2": JONAS}
        self.vouching = {f"{'l' * 26}:2"}
        self._writers = {
            letter: ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY) for letter in "alcs"
        }
        self.hour = 0
        self.batch = self._add(BatchOpenedV1(number="K7-1", pieces=100), "a", definition=ANYBODY).id

    def _add(self, body: Body, by: str, **members: Any) -> Record:
        self.hour += 1
        at = NOON + self.hour * 3_600_000
        record = self._writers[by].add(body, at, skew_ms=0, sign_on=f"{by * 26}:2", **members)
        self.records.append(record)
        return record

    def wait(self, days: int) -> None:
        self.hour += 24 * days

    def define(self, number: str = "M-014", kind: str = "calliper", **members: Any) -> str:
        content = GaugeDefinition(number=number, kinds=[kind], **members)
        return self._add(DefinitionPublishedV1(content=content), "s").id

    def take(self, gauge: str = "M-014", by: str = "a", number: int = THICKNESS) -> str:
        body = CheckTakenV1(operation=40, characteristic=number, role="in_process", value="13.20", gauge=gauge)
        return self._add(body, by, batch=self.batch, definition=ANYBODY).id

    def say(self, result: Any, gauge: str = "M-014", by: str = "l", **members: Any) -> str:
        return self._add(GaugeCheckedV1(gauge=gauge, result=result, **members), by).id

    def take_back(self, record: str, gauge: str = "M-014", by: str = "l") -> str:
        return self._add(RecordWithdrawnV1(record=record, gauge=gauge), by).id

    def take_value_back(self, record: str, by: str = "a") -> str:
        return self._add(RecordWithdrawnV1(record=record), by, batch=self.batch).id

    def lift(self, *holds: str) -> str:
        asked = self._add(
            HoldLiftRequestedV1(holds=list(holds), seen=[], why="measured again"), "l", batch=self.batch
        )
        self._add(RequestGrantedV1(request=asked.id), "s", batch=self.batch)
        return asked.id


def gauges_in(records: list[Record], proven: dict[str, str], vouching: set[str]) -> Gauges:
    """The gauges all these records speak of."""
    about = [
        one
        for one in records
        if one.look == GAUGES
        or (isinstance(one.body, DefinitionPublishedV1) and isinstance(one.body.content, GaugeDefinition))
    ]
    return Gauges(about, proven, vouching)


def standings(records: list[Record], gauges: Gauges) -> dict[str, Standing]:
    """What each value among these records is worth, by its id."""
    plan = characteristics_of(PART)
    found = {}
    for record in records:
        body = record.body
        if isinstance(body, CheckTakenV1) and isinstance(body.gauge, str):
            measured = plan[body.operation, body.characteristic].gauge
            day = day_of(moment_of(record)[0], ZONE)
            gauge = gauges.of(body.gauge)
            found[record.id] = gauge.standing_at(
                moment_of(record), day, measured if isinstance(measured, str) else ""
            )
    return found


def holds_of(records: list[Record], proven: dict[str, str], gauges: Gauges, batch: str) -> tuple[Hold, ...]:
    """The holds of the batch among all these records."""
    gathered = Gathered([one for one in records if one.subject == batch], proven)
    return fold_holds(gathered, {}, gauges=gauges).holds


def random_shop(seed: int) -> Shop:
    """Two gauges, one of them never defined, and what anybody may say of them and measure with them."""
    chance: Any = random.Random(seed)
    shop = Shop()
    names = ["M-014", "m 014", "M-015", "X9"]
    said: list[tuple[str, str]] = []
    values: list[str] = []
    for _ in range(chance.randint(2, 20)):
        gauge, by = chance.choice(names), chance.choice("alc")
        act = chance.choice(["define", "take", "take", "take", "say", "say", "back", "unvalue", "wait", "lift"])
        if act == "define":
            more = (
                {"due": chance.choice(["2026-11-20", "2026-12-01", "2027-03-01"])} if chance.random() < 0.7 else {}
            )
            shop.define(chance.choice(["M-014", "M-015"]), chance.choice(["calliper", "plug gauge"]), **more)
        elif act == "take":
            values.append(shop.take(gauge, by, chance.choice([THICKNESS, BORE, LOOSE])))
        elif act == "say":
            more = {"next_due": chance.choice(["2026-11-30", "2027-06-01"])} if chance.random() < 0.5 else {}
            said.append((shop.say(chance.choice(["fit", "fit", "wrong", "doubtful"]), gauge, by, **more), gauge))
        elif act == "back" and said:
            record, of = chance.choice(said)
            shop.take_back(record, of, by)
        elif act == "unvalue" and values:
            shop.take_value_back(chance.choice(values), by)
        elif act == "wait":
            shop.wait(chance.randint(1, 40))
        elif act == "lift":
            gauges = gauges_in(shop.records, shop.proven, shop.vouching)
            standing = [one.id for one in holds_of(shop.records, shop.proven, gauges, shop.batch)]
            if standing:
                shop.lift(chance.choice(standing))
    return shop
