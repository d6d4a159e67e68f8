# SPDX-License-Identifier: Apache-2.0
"""Checks at a machine, told in one line an act: for the vectors of the checks and for their random neighbours."""

from __future__ import annotations

import random
from typing import Any

from tallywright.records.bench import BatchOpenedV1, RecordWithdrawnV1
from tallywright.records.checks import (
    CheckMissedV1,
    CheckTakenV1,
    OperationChangedV1,
    PiecesMadeV1,
    ReactionTakenV1,
)
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record
from tallywright.records.definition import Characteristic, CheckRule, PartDefinition
from tallywright.records.envelope import Body
from tallywright.records.route import OperationFinishedV1, OperationStartedV1
from tests.actors import ANYBODY, NOON

FORGE = 40
HEIGHT, LAP, MISMATCH, DIE_HEAT, COUNT, GRAIN = 1, 2, 3, 4, 5, 6


def at_start(pieces: int) -> CheckRule:
    return CheckRule(at="events", cell=str(pieces), pieces=pieces)


def each(every: int) -> CheckRule:
    return CheckRule(at="pieces", cell=f"1 each {every}", every=every)


def check(number: int, kind: Any, **members: Any) -> Characteristic:
    return Characteristic(
        operation=FORGE,
        characteristic=number,
        words={"en": f"check {number}"},
        kind=kind,
        defect_class="major",
        **members,
    )


PART = PartDefinition(
    part="P",
    revision="A",
    name={"en": "P"},
    tray_places=6,
    looks=["first", "second"],
    defects=[],
    characteristics=[
        check(
            HEIGHT, "value", lower="12.90", upper="13.60", first_off=at_start(3), in_process=each(25),
            last_off=at_start(1), reaction="R1",
        ),
        check(LAP, "yes_no", first_off=at_start(6), in_process=each(25), reaction="R4"),
        check(MISMATCH, "value", upper="0.4", in_process=each(50), reaction="R2"),
        check(DIE_HEAT, "process", in_process=CheckRule(at="minutes", cell="each 60 min", every=60)),
        check(
            COUNT, "count", in_process=CheckRule(at="events", cell="tray", events=["tray"]),
            last_off=CheckRule(at="each_piece", cell="all"), reaction="R5",
        ),
        check(GRAIN, "yes_no", first_off=CheckRule(at="events", cell="1 per cast", events=["cast"])),
    ],
)  # fmt: skip


class Cell:
    """A forge with two tablets, a's and b's; a minute goes by with each record."""

    def __init__(self) -> None:
        self.records: list[Record] = []
        self.proven = {f"{'a' * 26}:2": f"{'p' * 26}:1", f"{'b' * 26}:2": f"{'p' * 26}:2"}
        self.minute = 0
        self._writers = {
            letter: ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY) for letter in "ab"
        }
        self.batch = ""
        self.batch = self.add(BatchOpenedV1(number="K7-1", pieces=100)).id

    def add(self, body: Body, by: str = "a") -> Record:
        self.minute += 1
        more: dict[str, Any] = {"batch": self.batch} if self.batch else {}
        record = self._writers[by].add(
            body, NOON + self.minute * 60_000, skew_ms=0, sign_on=f"{by * 26}:2", definition=ANYBODY, **more
        )
        self.records.append(record)
        return record

    def start(self, by: str = "a") -> str:
        return self.add(OperationStartedV1(operation=FORGE), by).id

    def finish(self, stint: str, out: int, by: str = "a") -> Record:
        counts: dict[str, Any] = {"pieces_in": out, "pieces_out": out, "scrap": 0, "set_up": 0, "samples": 0}
        return self.add(OperationFinishedV1(started=stint, operation=FORGE, **counts), by)

    def take(self, number: int, said: str, made: int | None = None, by: str = "a", **members: Any) -> str:
        said_as: dict[str, Any] = {"result": said} if said in ("go", "not_go", "yes", "no") else {"value": said}
        if made is not None:
            said_as["made"] = made
        members = {"role": "in_process", **said_as, **members}
        return self.add(CheckTakenV1(operation=FORGE, characteristic=number, **members), by).id

    def first_offs(self, by: str = "a") -> None:
        """All that is due at the start."""
        for value in ("13.20", "13.25", "13.15"):
            self.take(HEIGHT, value, 0, by, role="first_off", entered="typed")
        self.take(LAP, "yes", 0, by, role="first_off", pieces=6)
        self.take(GRAIN, "yes", 0, by, role="first_off")

    def make(self, pieces: int, by: str = "a") -> Record:
        return self.add(PiecesMadeV1(operation=FORGE, pieces=pieces, counted="key"), by)

    def change(self, what: Any, by: str = "a") -> Record:
        return self.add(OperationChangedV1(operation=FORGE, what=what), by)

    def miss(self, number: int, made: int, role: Any = "in_process", by: str = "a") -> Record:
        body = CheckMissedV1(operation=FORGE, characteristic=number, role=role, why="no gauge", made=made)
        return self.add(body, by)

    def react(self, check_id: str, back: int, by: str = "a") -> Record:
        return self.add(ReactionTakenV1(operation=FORGE, check=check_id, done="sorted", pieces_back=back), by)

    def take_back(self, record: str, by: str = "a") -> Record:
        return self.add(RecordWithdrawnV1(record=record), by)


def random_cell(seed: int) -> Cell:
    """Stints, checks, pieces and changes at random; some repeated, some mistyped, some taken back."""
    chance: Any = random.Random(seed)
    cell = Cell()
    numbers = [HEIGHT, LAP, MISMATCH, DIE_HEAT, COUNT, GRAIN, 9]
    values = ["13.20", "12.90", "12.89", "0.40", "0.41", "-1", "yes", "no", "go", "not_go"]
    roles = ["first_off", "in_process", "last_off"]

    def any_id() -> str:
        return str(chance.choice(cell.records).id)

    def take() -> None:
        more: dict[str, Any] = {"role": chance.choice(roles)}
        if chance.random() < 0.3:
            more["repeats"] = any_id()
            more |= {"typing_error": True} if chance.random() < 0.5 else {}
        if chance.random() < 0.3:
            more["pieces"] = chance.randint(1, 6)
        made = chance.choice([None, chance.randint(0, 120)])
        cell.take(chance.choice(numbers), chance.choice(values), made, chance.choice("ab"), **more)

    acts = [
        take,
        take,
        take,
        lambda: cell.start(chance.choice("ab")),
        lambda: cell.finish(any_id(), chance.randint(0, 120), chance.choice("ab")),
        lambda: cell.make(chance.randint(0, 40), chance.choice("ab")),
        lambda: cell.change(
            chance.choice(["die", "tool", "tray", "cast", "stop", "last_piece"]), chance.choice("ab")
        ),
        lambda: cell.miss(chance.choice(numbers), chance.randint(0, 120), chance.choice(roles)),
        lambda: cell.react(any_id(), chance.randint(0, 9), chance.choice("ab")),
        lambda: cell.take_back(any_id(), chance.choice("ab")),
    ]
    for _ in range(chance.randint(0, 40)):
        chance.choice(acts)()
    return cell
