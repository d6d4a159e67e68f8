# SPDX-License-Identifier: Apache-2.0
"""The checks at the machines as a lead reads them: missing, late, repeated, out, and what is worth a look."""

from __future__ import annotations

import random
from typing import Any

import pytest
from werkzeug.test import TestResponse

from tallywright.records.bench import BatchOpenedV1
from tallywright.records.checks import (
    CheckMissedV1,
    CheckTakenV1,
    OperationChangedV1,
    PiecesMadeV1,
    ReactionTakenV1,
)
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.route import OperationFinishedV1, OperationStartedV1
from tests.actors import NOON, Works
from tests.server.sync.asking import LEAD, signed_on

FORGE, THICKNESS, MISMATCH = 40, 4, 5  # of the demo's part: 12.90 to 13.60 mm, and at most 0.40 mm; both each 25
MINUTE, DAY = 60_000, 24 * 60 * 60_000
NAMES = ("Maren", "Holt", "Jonas", "Falk")


class Forge:
    """A forge with its tablet, and a lead who reads."""

    def __init__(self, works: Works) -> None:
        self.works = works
        self.tablet = works.tablet("forge")
        self.batch = self.stint = ""
        self.made = 0
        self.chance = random.Random(40)

    def add(self, body: Body, **more: Any) -> Record:
        named = {"batch": self.batch} if self.batch and not isinstance(body, BatchOpenedV1) else {}
        record = self.tablet.add(
            body, sign_on=self.tablet.sign_on, definition=self.tablet.batch["definition"], **named, **more
        )
        self.works.clock.now += MINUTE
        return record

    def begin(self, number: str) -> None:
        self.batch = self.add(BatchOpenedV1(number=number, pieces=700)).id
        self.stint = self.add(OperationStartedV1(operation=FORGE)).id
        self.made = 0

    def make(self, pieces: int) -> None:
        self.made += pieces
        self.add(PiecesMadeV1(operation=FORGE, pieces=pieces, counted="key"))

    def take(self, said: str, characteristic: int = THICKNESS, **members: Any) -> str:
        given = {"role": "in_process", "value": said, "made": self.made, **members}
        return self.add(CheckTakenV1(operation=FORGE, characteristic=characteristic, **given)).id

    def finish(self) -> None:
        counts: dict[str, Any] = {"pieces_out": self.made, "scrap": 0, "set_up": 0, "samples": 0}
        self.add(OperationFinishedV1(started=self.stint, operation=FORGE, pieces_in=self.made, **counts))

    def usual(self, number: str, readings: int = 40) -> None:
        """A batch as others are: readings at uneven times, spread over the tolerance, some near a limit."""
        self.begin(number)
        for _ in range(readings):
            self.works.clock.now += self.chance.randrange(8 * MINUTE, 16 * MINUTE)
            self.make(25)
            self.take(f"{self.chance.gauss(13.25, 0.12):.2f}")
        self.finish()

    def read(self, days: int = 7) -> dict[str, Any]:
        self.tablet.push()
        now = self.works.clock.now
        answer = self.ask(**{"from": now - days * DAY, "to": now + 1})
        assert answer.status_code == 200, answer.text
        assert not any(name in answer.text for name in NAMES)
        assert not any(word in answer.text for word in ("sign_on", "person", "author"))
        return dict(answer.json or {})

    def ask(self, **query: int) -> TestResponse:
        """Ask as a lead who has just signed on."""
        return signed_on(self.works, "office", LEAD).get("/api/v1/machine-checks", **query)

    def worth(self, kind: str) -> list[dict[str, Any]]:
        return [one for one in self.read()["worth_a_look"] if one["kind"] == kind]


@pytest.fixture
def forge(works: Works) -> Forge:
    return Forge(works)


def gaps(found: dict[str, Any]) -> list[tuple[int, str, str, int, int]]:
    return [
        (one["characteristic"], one["role"], one["kind"], one["checks"], one["pieces"])
        for one in found["gaps"]
        if one["characteristic"] in (0, THICKNESS)
    ]


def test_what_is_missed_left_out_and_delayed_stands_by_operation_and_batch(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.make(25)
    forge.add(
        CheckMissedV1(operation=FORGE, characteristic=THICKNESS, role="in_process", why="no_gauge", made=forge.made)
    )
    forge.make(60)
    forge.take("13.20")
    found = forge.read()
    assert gaps(found) == [
        (THICKNESS, "in_process", "missed", 1, 0),
        (THICKNESS, "in_process", "delayed", 1, 10),
        (THICKNESS, "in_process", "left_out", 1, 0),
    ]
    [missed, delayed, _] = [one for one in found["gaps"] if one["characteristic"] == THICKNESS]
    assert (missed["why"], missed["number"], missed["operation"]) == ("no_gauge", "K7-1", FORGE)
    assert missed["operation_words"]["en"] == "Heat and hot forge"
    assert (delayed["said"], delayed["unit"], delayed["lower"], delayed["upper"]) == (
        "13.20",
        "mm",
        "12.90",
        "13.60",
    )


def test_a_first_value_and_its_repeat_stand_beside_each_other_with_what_was_done(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.make(25)
    first = forge.take("13.61")
    again = forge.take("13.58", repeats=first)
    forge.add(ReactionTakenV1(operation=FORGE, check=again, done="corrected", pieces_back=25))
    found = forge.read()
    [repeated], [out] = found["repeated"], found["out"]
    assert repeated == out
    assert (out["first"]["said"], out["first"]["outcome"]) == ("13.61", "out")
    assert [(one["said"], one["outcome"]) for one in out["beside"]] == [("13.58", "good")]
    assert [(one["done"], one["pieces_back"]) for one in out["done"]] == [("corrected", 25)]


def test_a_typing_error_is_a_repeat_and_not_out(forge: Forge) -> None:
    forge.begin("K7-1")
    first = forge.take("96.5")
    forge.take("13.20", repeats=first, typing_error=True)
    found = forge.read()
    assert [one["first"]["mistyped"] for one in found["repeated"]] == [True]
    assert found["out"] == []


def test_an_operation_without_any_check_is_told_only_where_checks_are_recorded(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.make(100)
    forge.finish()
    assert gaps(forge.read()) == []
    forge.begin("K7-2")
    forge.take("13.20")
    assert (0, "in_process", "none", 0, 0) in gaps(forge.read())


def test_the_shift_of_now_has_only_what_is_of_it(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.take("13.20")
    forge.works.clock.now += 2 * DAY
    forge.take("13.70")
    forge.tablet.push()
    content = forge.ask().json
    assert (content["taken"], content["day"]) == (1, "2026-11-27")
    assert [one["first"]["said"] for one in content["out"]] == ["13.70"]


def test_a_span_is_refused_in_words_where_it_is_too_long_or_has_one_end(forge: Forge) -> None:
    for query, word in (
        ({"from": 1}, "neither"),
        ({"from": 0, "to": 36 * DAY}, "35 days"),
        ({"from": 2, "to": 1}, "behind"),
    ):
        answer = forge.ask(**query)
        assert answer.status_code == 400
        assert word in answer.text


def test_a_run_of_one_value_is_worth_a_look_by_what_other_batches_repeat(forge: Forge) -> None:
    for number in ("K7-1", "K7-2"):
        forge.usual(number)
    assert forge.worth("same_value") == []
    forge.begin("K7-3")
    for _ in range(8):
        forge.works.clock.now += forge.chance.randrange(8 * MINUTE, 16 * MINUTE)
        forge.make(25)
        forge.take("13.24", gauge="CAL-07")
    [one] = forge.worth("same_value")
    assert (one["number"], one["value"], one["count"], one["of"], one["gauges"]) == (
        "K7-3",
        "13.24",
        8,
        8,
        ["CAL-07"],
    )
    assert 0 < one["chance"] < 0.001
    assert one["words"]["en"] == "Forged thickness at parting line"


def test_a_process_that_repeats_itself_everywhere_is_no_pattern(forge: Forge) -> None:
    for number in ("K7-1", "K7-2", "K7-3"):
        forge.begin(number)
        for place in range(30):
            forge.make(25)
            forge.take("13.24" if place % 10 else "13.25")
    assert forge.worth("same_value") == []


def test_without_other_batches_nothing_is_called_rare(forge: Forge) -> None:
    forge.begin("K7-1")
    for _ in range(12):
        forge.make(25)
        forge.take("13.24")
    found = forge.read()
    assert [one for one in found["worth_a_look"] if one["kind"] == "same_value"] == []
    assert found["too_few"] > 0


def test_checks_that_pieces_set_apart_and_a_minute_holds_are_worth_a_look(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.works.clock.now += 180 * MINUTE
    for value in ("13.21", "13.24", "13.19", "13.25"):
        forge.make(25)
        forge.works.clock.now -= MINUTE
        forge.take(value)
        forge.works.clock.now -= MINUTE - 5000
    [one] = forge.worth("close_together")
    assert (one["count"], one["of"]) == (4, 4)
    assert one["until"] - one["since"] <= MINUTE


def test_checks_as_long_apart_as_nobody_measures_are_worth_a_look(forge: Forge) -> None:
    for number in ("K7-1", "K7-2"):
        forge.usual(number)
    assert forge.worth("same_gap") == []
    forge.begin("K7-3")
    for _ in range(10):
        forge.works.clock.now += 13 * MINUTE
        forge.make(25)
        forge.take(f"{forge.chance.gauss(13.25, 0.12):.2f}")
    [one] = forge.worth("same_gap")
    assert (one["count"], one["of"], one["number"]) == (9, 9, "K7-3")


def test_readings_that_lean_on_one_digit_are_worth_a_look_of_all_batches_together(forge: Forge) -> None:
    forge.usual("K7-1", readings=60)
    assert forge.worth("end_digit") == []
    for number in ("K7-2", "K7-3"):
        forge.begin(number)
        for _ in range(40):
            forge.make(25)
            forge.take(f"{round(forge.chance.gauss(13.25, 0.12) * 20) / 20:.2f}", gauge="CAL-09")
    [one] = forge.worth("end_digit")
    assert (one["batch"], one["gauges"], one["of"]) == ("", ["CAL-09"], 80)
    assert one["value"] in ("0", "5")


def test_readings_that_never_come_near_a_limit_are_worth_a_look_where_others_do(forge: Forge) -> None:
    for number in ("K7-1", "K7-2"):
        forge.begin(number)
        for place in range(40):
            forge.make(25)
            forge.take(f"{13.58 if place % 4 == 0 else forge.chance.uniform(13.0, 13.5):.2f}")
    forge.begin("K7-3")
    for _ in range(60):
        forge.make(25)
        forge.take(f"{forge.chance.uniform(13.0, 13.5):.2f}")
    [one] = forge.worth("never_near")
    assert (one["number"], one["count"], one["of"]) == ("K7-3", 0, 60)


def test_what_was_taken_back_or_stands_beside_a_first_value_is_no_reading_of_a_pattern(forge: Forge) -> None:
    for number in ("K7-1", "K7-2"):
        forge.usual(number)
    forge.begin("K7-3")
    forge.make(25)
    first = forge.take("13.24")
    for _ in range(8):
        forge.take("13.24", repeats=first)
    found = forge.read()
    assert [one for one in found["worth_a_look"] if one["kind"] == "same_value"] == []
    [one] = found["repeated"]
    assert len(one["beside"]) == 8


def test_a_change_that_nobody_made_a_piece_behind_leaves_no_gap(forge: Forge) -> None:
    forge.begin("K7-1")
    forge.take("13.20", role="first_off")
    forge.add(OperationChangedV1(operation=FORGE, what="die"))
    assert [one for one in gaps(forge.read()) if one[1] == "first_off"] == []
    assert forge.works.clock.now > NOON
