# SPDX-License-Identifier: Apache-2.0
"""Accepting a difference: one line, at just its amount, by a lead and a second name."""

from __future__ import annotations

import json

import pytest

from tallywright.records.checks import CheckTakenV1
from tests.actors import Works
from tests.server.looking import PLACES, Floor, close, make_floor
from tests.server.sync.asking import second

SHORT = ("first", "tray_short", "1", -1)


@pytest.fixture
def floor(works: Works) -> Floor:
    """A look with one piece less in tray 1 than its card says."""
    floor = make_floor(works)
    floor.count_in("first")
    for number, empty in ((1, 1), (2, 0)):
        floor.first.open_tray(number)
        close(floor.first, "first", empty=empty)
    floor.first.push()
    return floor


def open_kinds(floor: Floor, look: str = "first") -> set[str]:
    return {kind for kind, _, _ in floor.points()[look]}


def test_a_difference_waits_for_the_second_name_and_is_closed_with_it(floor: Floor) -> None:
    assert "tray_short" in open_kinds(floor)
    request = floor.ask_acceptance(SHORT)
    floor.lead.push()
    assert floor.answer(request) == ("open", [])
    second(floor.second, request)
    floor.second.push()
    assert floor.answer(request) == ("granted", [])
    assert open_kinds(floor) == {"not_signed"}


@pytest.mark.parametrize(
    "line", [("first", "tray_short", "1", -2), ("first", "tray_short", "2", -1), ("", "pieces_found", "x", 1)]
)
def test_a_difference_that_is_not_there_or_is_another_amount_is_declined(
    floor: Floor, line: tuple[str, str, str, int]
) -> None:
    request = floor.ask_acceptance(line)
    floor.second_and_push(request)
    assert floor.answer(request) == ("declined", ["no_such_difference"])


@pytest.mark.parametrize("value", ["13.20", "13.61"])
def test_a_check_at_a_machine_meanwhile_is_no_change_of_a_count(floor: Floor, value: str) -> None:
    request = floor.ask_acceptance(SHORT)
    floor.first.at_bench(CheckTakenV1(operation=40, characteristic=4, role="in_process", value=value))
    floor.first.push()
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])


def test_a_difference_is_accepted_once(floor: Floor) -> None:
    requests = [floor.ask_acceptance(SHORT), floor.ask_acceptance(SHORT)]
    for request in requests:
        second(floor.second, request)
    floor.second.push()
    floor.lead.push()
    assert [floor.answer(request) for request in requests] == [
        ("granted", []),
        ("declined", ["accepted_already"]),
    ]


def test_a_late_record_that_makes_it_another_amount_opens_it_again(floor: Floor) -> None:
    request = floor.ask_acceptance(SHORT)
    floor.second_and_push(request)
    assert "tray_short" not in open_kinds(floor)
    # The closing is taken back, and the tray closed with one piece less again.
    floor.first.tray = tray_of(floor, 1)
    chain, n = floor.first.tray.split(":")
    floor.first.withdraw(f"{chain}:{int(n) + 1}")  # its closing stands directly behind its opening
    close(floor.first, "first", empty=2)
    floor.first.push()
    assert ("tray_short", "1", -2) in floor.points()["first"]


def tray_of(floor: Floor, number: int) -> str:
    page = next(json.loads(row["page"]) for row in floor.rows("looks") if row["look"] == "first")
    tray = next(tray for tray in page["count"]["trays"] if tray["number"] == number)
    return str(tray["openings"][0]["tray"])


def test_what_came_since_in_the_look_declines_it_and_in_another_look_does_not(floor: Floor) -> None:
    seen = floor.seen()
    floor.second.open_tray(1, "second")
    floor.second.push()
    request = floor.ask_acceptance(SHORT, seen)
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])
    floor.first.open_tray(3)
    floor.first.push()
    late = floor.ask_acceptance(SHORT, seen)
    floor.second_and_push(late)
    assert "changed" in floor.answer(late)[1]


def test_the_same_eyes_in_both_looks_are_accepted_as_a_named_override(floor: Floor) -> None:
    floor.count_in("second")
    floor.first.open_tray(1, "second")
    close(floor.first, "second")
    floor.first.push()
    person = floor.works.person("Ines Brandt")
    line = ("second", "same_eyes", person, PLACES)
    assert line[1:] in floor.points()["second"]
    request = floor.ask_acceptance(line)
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])
    assert "same_eyes" not in open_kinds(floor, "second")
    again = floor.ask_acceptance(line)
    floor.second_and_push(again)
    assert floor.answer(again) == ("declined", ["accepted_already"])


def test_an_inspector_accepts_nothing(floor: Floor) -> None:
    floor.lead, floor.first = floor.first, floor.lead
    request = floor.ask_acceptance(SHORT)
    floor.second_and_push(request)
    assert floor.answer(request) == ("declined", ["role"])
