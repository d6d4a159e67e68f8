# SPDX-License-Identifier: Apache-2.0
"""Release: asked by a lead with a second name, granted on a whole batch only, opened again by what comes late."""

from __future__ import annotations

import pytest

from tallywright.records.asked import ReleaseRequestedV1
from tallywright.records.bench import BreakTakenV1, HoldPlacedV1, SeenChain
from tests.actors import Works
from tests.server.looking import Floor, close, make_floor
from tests.server.sync.asking import second


@pytest.fixture
def floor(works: Works) -> Floor:
    floor = make_floor(works)
    floor.complete()
    return floor


def released(floor: Floor) -> tuple[str, int]:
    [row] = floor.rows("batch_pages")
    return row["released_by"], row["late"]


def test_a_complete_batch_waits_for_the_second_name_and_is_released_with_it(floor: Floor) -> None:
    assert floor.points() == {"first": [], "second": []}
    request = floor.ask_release()
    floor.lead.push()
    assert (floor.answer(request), released(floor)) == (("open", []), ("", 0))
    second(floor.second, request)
    floor.second.push()
    assert (floor.answer(request), released(floor)) == (("granted", []), (request.id, 0))


def test_a_release_needs_a_pin_given_for_it_alone(floor: Floor) -> None:
    floor.lead.give_pin_again()
    floor.lead.at_bench(BreakTakenV1(look="first"))
    request = floor.ask(ReleaseRequestedV1(seen=floor.seen()))
    floor.second_and_push(request)
    assert floor.answer(request) == ("declined", ["pin_not_fresh"])


def test_an_inspector_releases_nothing(floor: Floor) -> None:
    floor.lead, floor.first = floor.first, floor.lead
    request = floor.ask_release()
    floor.second_and_push(request)
    assert floor.answer(request) == ("declined", ["role"])


def test_a_look_with_an_open_point_keeps_the_batch(works: Works) -> None:
    floor = make_floor(works)
    floor.look_through(floor.first, "first")
    request = floor.release()
    assert floor.answer(request) == ("declined", ["not_complete"])


def test_a_hold_keeps_the_batch(floor: Floor) -> None:
    floor.first.add(HoldPlacedV1(why="smells burnt"), sign_on=floor.first.sign_on, batch=floor.batch)
    floor.first.push()
    for tablet, look in ((floor.first, "first"), (floor.second, "second")):
        floor.sign(tablet, look)
    assert [kind for points in floor.points().values() for kind, _, _ in points] == ["hold", "hold"]
    assert floor.answer(floor.release()) == ("declined", ["not_complete"])


def test_a_hold_in_a_look_that_the_route_does_not_name_keeps_the_batch(floor: Floor) -> None:
    floor.first.add(HoldPlacedV1(why="bent", look="packing"), sign_on=floor.first.sign_on, batch=floor.batch)
    floor.first.push()
    assert floor.points() == {"first": [], "second": []}
    assert floor.answer(floor.release()) == ("declined", ["not_complete"])


def test_a_mark_under_a_definition_the_server_lacks_keeps_the_batch(floor: Floor) -> None:
    floor.first.open_tray(3)
    known = floor.first.batch
    floor.first.batch = {**known, "definition": f"{'z' * 26}:9"}
    floor.first.find("bend")
    floor.first.batch = known
    floor.first.push()
    state, reasons = floor.answer(floor.release())
    assert (state, set(reasons)) == ("declined", {"not_understood", "not_complete"})


def test_what_came_since_the_request_was_made_declines_it(floor: Floor) -> None:
    seen = floor.seen()
    floor.first.open_tray(1)
    floor.first.push()
    request = floor.ask_release(seen)
    floor.second_and_push(request)
    state, reasons = floor.answer(request)
    assert (state, "changed" in reasons) == ("declined", True)


def test_a_break_and_the_second_name_came_since_and_decline_nothing(floor: Floor) -> None:
    request = floor.ask_release()
    floor.first.add(BreakTakenV1(look="first"), sign_on=floor.first.sign_on, batch=floor.batch)
    floor.first.push()
    floor.second_and_push(request)
    assert floor.answer(request) == ("granted", [])


def test_two_requests_at_once_are_one_release(floor: Floor) -> None:
    requests = [floor.ask_release(), floor.ask_release()]
    for request in requests:
        second(floor.second, request)
    floor.second.push()
    floor.lead.push()
    assert [floor.answer(request) for request in requests] == [
        ("granted", []),
        ("declined", ["released_already"]),
    ]


def test_a_critical_find_that_arrives_after_the_release_opens_the_batch_again_with_a_hold(works: Works) -> None:
    floor = make_floor(works)
    floor.first.open_tray(1)
    floor.first.push()
    # The find is made before the release, on a tablet that was away, and comes two days later.
    away = works.tablet("bench 3")
    away.push(enclosures=[away.sign_on_as(works.person("Ines Brandt"), "4071")])
    away.batch = floor.first.batch
    away.tray = floor.first.tray
    late = away.find("lap")
    close(floor.first, "first")
    floor.first.push()
    floor.count_in("first")
    floor.first.open_tray(2)
    close(floor.first, "first")
    floor.first.push()
    floor.sign(floor.first, "first")
    floor.look_through(floor.second, "second")
    request = floor.release()
    assert (floor.answer(request), released(floor)) == (("granted", []), (request.id, 0))
    works.clock.now += 2 * 24 * 3_600_000
    away.push()
    assert released(floor) == (request.id, 1)
    assert [(row["hold"], row["lifted_by"]) for row in floor.rows("holds")] == [(late.id, "")]
    assert ("signed_before_this_came", 1) in {(kind, amount) for kind, _, amount in floor.points()["first"]}


def test_a_released_batch_is_released_again_once_what_came_late_is_signed(floor: Floor) -> None:
    first = floor.release()
    floor.count_in("second")
    assert released(floor) == (first.id, 1)
    early = floor.release()
    assert floor.answer(early) == ("declined", ["not_complete"])
    floor.sign(floor.second, "second")
    again = floor.release()
    assert (floor.answer(again), released(floor)) == (("granted", []), (again.id, 0))


def test_a_chain_with_a_gap_keeps_the_batch_until_the_gap_is_filled(floor: Floor) -> None:
    missing = floor.first.add(BreakTakenV1(look="first"), sign_on=floor.first.sign_on, batch=floor.batch)
    behind = floor.first.add(BreakTakenV1(look="first"), sign_on=floor.first.sign_on, batch=floor.batch)
    floor.first.push([behind])
    seen = {one.chain: one.n for one in floor.seen()}
    upto = missing.envelope.n - 1
    request = floor.ask_release(
        [SeenChain(chain=c, n=upto if c == behind.envelope.chain else n) for c, n in seen.items()]
    )
    floor.second_and_push(request)
    assert floor.answer(request) == ("open", [])
    floor.first.push([missing])
    assert floor.answer(request) == ("granted", [])


def test_a_request_that_says_it_saw_what_is_missing_waits_for_it(floor: Floor) -> None:
    missing = floor.first.open_tray(1)
    behind = floor.first.withdraw(missing.id)
    floor.first.push([behind])
    request = floor.ask_release()
    assert max(one.n for one in floor.seen() if one.chain == behind.envelope.chain) == behind.envelope.n
    floor.second_and_push(request)
    assert floor.answer(request) == ("open", [])
    floor.first.push([missing])
    assert floor.answer(request)[0] == "declined"
