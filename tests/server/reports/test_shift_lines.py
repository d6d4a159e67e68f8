# SPDX-License-Identifier: Apache-2.0
"""What waits at the end of a shift: counts that differ, until somebody accepted them; tablets that are silent."""

from __future__ import annotations

from typing import Any

import pytest

from tallywright.access.pins import WRONG_PINS, set_pin
from tallywright.db import writing
from tallywright.records.route import OperationFinishedV1, OperationStartedV1
from tests.actors import NOON, Works
from tests.server.looking import Floor, close, make_floor

MINUTE = 60_000


@pytest.fixture
def floor(works: Works) -> Floor:
    return make_floor(works)


def lines(floor: Floor) -> dict[str, Any]:
    answer = floor.lead.get("/api/v1/shift")
    assert answer.status_code == 200, answer.text
    return dict(answer.json or {})


def differences(floor: Floor) -> list[tuple[str, str, str, int]]:
    found = lines(floor)["differences"]
    return [(one["number"], one["look"], one["kind"], one["amount"]) for one in found]


def short_by_one(floor: Floor) -> None:
    """The first look is short of one piece in its second tray."""
    floor.count_in("first")
    floor.first.open_tray(1)
    close(floor.first, "first")
    floor.first.open_tray(2)
    close(floor.first, "first", empty=1)
    floor.first.push()


def test_the_shift_of_now_is_named_with_its_ends(floor: Floor) -> None:
    content = lines(floor)
    assert (content["shift"], content["day"], content["as_of"]) == ("early", "2026-11-25", NOON)
    assert content["from"] <= NOON < content["to"]


def test_a_short_tray_is_a_line_until_two_people_accepted_it(floor: Floor) -> None:
    assert differences(floor) == []
    short_by_one(floor)
    assert differences(floor) == [("K7-1", "first", "tray_short", -1)]
    request = floor.ask_acceptance(("first", "tray_short", "2", -1))
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])
    assert differences(floor) == []


def test_a_difference_that_names_a_tray_by_its_id_says_the_trays_number(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(2)
    close(floor.first, "first")
    close(floor.first, "first", empty=1)
    floor.first.push()
    [one] = [one for one in lines(floor)["differences"] if one["kind"] == "closings_differ"]
    assert (one["subject"], one["tray"]) == (floor.first.tray, 2)


def test_who_was_given_ten_wrong_pins_at_a_tablet_is_named_until_a_new_pin_is_set(floor: Floor) -> None:
    person = floor.works.person("Otto Reiher")
    for _ in range(WRONG_PINS):
        assert lines(floor)["wrong_pins"] == []
        floor.first.push(enclosures=[floor.first.sign_on_as(person, "9182")])
    [one] = lines(floor)["wrong_pins"]
    assert (one["person"], one["name"]) == ("Otto Reiher", "bench 1")
    with writing(floor.works.engine) as connection:
        set_pin(connection, floor.works.clock.now, person, ["reader"], "5190")
    assert lines(floor)["wrong_pins"] == []


def test_tablets_are_silent_after_half_an_hour_the_last_one_heard_first(floor: Floor) -> None:
    assert lines(floor)["not_heard"] == []
    floor.works.clock.now += 31 * MINUTE
    floor.first.open_tray(1)
    floor.first.push()
    floor.works.clock.now += 10 * MINUTE
    silent = [one["name"] for one in lines(floor)["not_heard"]]
    assert silent == ["goods-in", "scales", "bench 2"]  # the one that asks is in somebody's hands
    floor.works.clock.now += 25 * MINUTE
    assert next(one["name"] for one in lines(floor)["not_heard"]) == "bench 1"


def test_a_piece_short_at_an_operation_is_a_line_that_is_accepted_like_any_other(floor: Floor) -> None:
    about = {"sign_on": floor.counter.sign_on, "batch": floor.batch}
    began = floor.counter.add(OperationStartedV1(operation=40), **about)
    finish = OperationFinishedV1(
        started=began.id, operation=40, pieces_in=12, pieces_out=11, scrap=0, set_up=0, samples=0
    )
    floor.counter.add(finish, **about)
    floor.counter.push()
    assert differences(floor) == [("K7-1", "", "pieces_short", -1)]
    request = floor.ask_acceptance(("", "pieces_short", "40", -1))
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])
    assert differences(floor) == []
