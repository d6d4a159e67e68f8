# SPDX-License-Identifier: Apache-2.0
"""Differences of the route: accepted like those of a look, and in the way of a release while they are not."""

from __future__ import annotations

import json

import pytest

from tallywright.records.decode import Record
from tallywright.records.route import LotOpenedV1, LotSentV1, OperationFinishedV1, OperationStartedV1
from tests.actors import Works
from tests.server.looking import Floor, make_floor

SHORT = ("", "pieces_short", "60", -1)


@pytest.fixture
def floor(works: Works) -> Floor:
    """Twelve pieces were opened, one got lost in the bowl, and twelve are counted in before the first look."""
    return make_floor(works)


def tumble(floor: Floor, pieces_in: int, pieces_out: int) -> Record:
    tablet = floor.counter
    started = tablet.at_bench(OperationStartedV1(operation=60, machine="bowl 2"))
    finished = tablet.at_bench(
        OperationFinishedV1(
            started=started.id,
            operation=60,
            pieces_in=pieces_in,
            pieces_out=pieces_out,
            scrap=0,
            set_up=0,
            samples=0,
        )
    )
    tablet.push()
    return finished


def lines(floor: Floor) -> dict[tuple[int, str, int], str]:
    [row] = floor.rows("ledgers")
    found = json.loads(row["page"])["lines"]
    return {(line["operation"], line["kind"], line["amount"]): line["accepted_by"] for line in found}


def test_a_piece_that_got_lost_in_an_operation_is_accepted_with_two_names(floor: Floor) -> None:
    tumble(floor, 12, 11)
    request = floor.ask_acceptance(SHORT)
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])
    assert lines(floor) == {(60, "pieces_short", -1): request.id}
    assert [(row["closes"], row["open"]) for row in floor.rows("ledgers")] == [(True, 0)]


def test_another_amount_is_declined_and_a_new_count_opens_the_line_again(floor: Floor) -> None:
    tumble(floor, 12, 11)
    wrong = floor.ask_acceptance(("", "pieces_short", "60", -2))
    floor.second_and_push(wrong)
    assert floor.answer(wrong) == ("declined", ["no_such_difference"])
    right = floor.ask_acceptance(SHORT)
    floor.second_and_push(right)
    tumble(floor, 1, 0)
    assert lines(floor) == {(60, "pieces_short", -2): "", (60, "start_differs", 1): ""}
    assert [(row["closes"], row["open"]) for row in floor.rows("ledgers")] == [(False, 2)]


def test_two_complete_looks_are_not_released_while_an_operation_is_open(floor: Floor) -> None:
    tumble(floor, 12, 11)
    floor.complete()
    request = floor.release()
    assert floor.answer(request) == ("declined", ["not_complete"])


def test_what_more_came_to_a_look_than_left_the_operation_before_is_a_line(floor: Floor) -> None:
    tumble(floor, 12, 11)
    floor.complete()
    # Nobody said behind which operation the looks stand: it is the last one that was begun before.
    assert set(lines(floor)) == {(60, "pieces_short", -1), (60, "between_over", 1)}


def test_a_batch_of_which_a_lot_is_away_is_not_released(floor: Floor) -> None:
    tumble(floor, 12, 12)
    floor.complete()
    tablet = floor.counter
    lot = tablet.add(LotOpenedV1(operation=100, number="A-31"), sign_on=tablet.sign_on)
    tablet.at_bench(LotSentV1(lot=lot.id, operation=100, pieces=3))
    tablet.push()
    assert floor.answer(floor.release()) == ("declined", ["not_complete"])
