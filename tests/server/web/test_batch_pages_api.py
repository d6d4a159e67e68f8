# SPDX-License-Identifier: Apache-2.0
"""Batches over HTTP: enough for a lead to decide, and for the bench who looked before and nothing more."""

from __future__ import annotations

import json
from typing import Any

import pytest
from sqlalchemy import delete

from tallywright.db import writing
from tallywright.projections.tables import batch_pages
from tallywright.records.bench import BatchOpenedV1
from tests.actors import NOON, Tablet, Works
from tests.server.looking import PLACES, Floor, close, make_floor


@pytest.fixture
def floor(works: Works) -> Floor:
    return make_floor(works)


def read(tablet: Tablet, path: str, **query: Any) -> dict[str, Any]:
    answer = tablet.get(path, **query)
    assert answer.status_code == 200, answer.text
    return dict(answer.json or {})


def is_released(floor: Floor) -> bool:
    """What the list at the bench says."""
    [one] = [one for one in read(floor.first, "/api/v1/batches")["batches"] if one["batch"] == floor.batch]
    return bool(one["released"])


def page(floor: Floor) -> dict[str, Any]:
    return read(floor.lead, f"/api/v1/batch-pages/{floor.batch}")


def line(floor: Floor) -> dict[str, Any]:
    pages = read(floor.lead, "/api/v1/batch-pages")["pages"]
    return next(dict(one) for one in pages if one["batch"] == floor.batch)


def tag(floor: Floor, tablet: Tablet, n: int) -> str:
    devices = {row["device"]: row["letters"] for row in floor.works.rows("devices")}
    return f"{devices[tablet.writer.device]}{n}"


def test_the_list_has_each_batch_with_its_looks_in_the_order_of_the_route(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(1)
    floor.first.find("bend")
    close(floor.first, "first", rejected=1)
    floor.first.push()
    one = line(floor)
    assert {name: one[name] for name in ("number", "part", "pieces", "opened_at")} == {
        "number": "K7-1",
        "part": "K-7 B",
        "pieces": 12,
        "opened_at": NOON,
    }
    assert [look["look"] for look in one["looks"]] == ["first", "second"]
    first = one["looks"][0]
    assert [first[name] for name in ("due", "looked", "accepted", "rejected", "query")] == [12, 6, 5, 1, 0]
    assert (first["worst"], one["looks"][1]["worst"]) == ("within", "")
    assert (one["released_by"], one["late"], one["holds"], one["not_understood"]) == ("", 0, 0, 0)


def test_the_list_says_the_worst_state_of_a_look_and_counts_holds_that_stand(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(1)
    for defect in ("stain", "bend", "lap"):
        floor.first.find(defect)
    floor.first.push()
    one = line(floor)
    # Two holds: the lap's, and that of the limit of minor pieces.
    assert (one["looks"][0]["worst"], one["holds"]) == ("broken", 2)


def walk(floor: Floor) -> list[dict[str, Any]]:
    """Read the whole list, answer after answer; each brings two batches at most."""
    found: list[dict[str, Any]] = []
    after: dict[str, str] = {}
    more = True
    while more:
        answer = read(floor.lead, "/api/v1/batch-pages", **after)
        assert 0 < len(answer["pages"]) <= 2
        found += answer["pages"]
        after, more = {"after": found[-1]["batch"]}, answer["more"]
    return found


def test_the_list_is_newest_first_and_goes_on_behind_a_batch(floor: Floor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tallywright.reports.batch_pages.MOST_PAGES", 2)
    opened = []
    for number in range(4):
        floor.works.clock.now += 1000 * (number % 2)  # two of them at the same moment
        opened.append(
            floor.counter.add(
                BatchOpenedV1(number=f"X-{number}", pieces=1),
                sign_on=floor.counter.sign_on,
                definition=floor.counter.batch["definition"],
            )
        )
    floor.counter.push()
    found = walk(floor)
    names = [one["batch"] for one in found]
    assert len(names) == len(set(names)) == len(floor.works.rows("batches"))
    assert [one["opened_at"] for one in found] == sorted((one["opened_at"] for one in found), reverse=True)
    assert {record.id for record in opened} <= set(names)


def test_an_old_batch_that_is_not_released_stands_before_a_newer_one_that_is(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tallywright.reports.batch_pages.MOST_PAGES", 2)
    floor.complete()
    floor.release()
    floor.works.clock.now -= 86_400_000
    old = floor.counter.add(
        BatchOpenedV1(number="X-1", pieces=1),
        sign_on=floor.counter.sign_on,
        definition=floor.counter.batch["definition"],
    )
    floor.counter.push()
    names = [one["batch"] for one in walk(floor)]
    assert len(names) == len(floor.works.rows("batches"))
    assert names[-2:] == [old.id, floor.batch]


@pytest.mark.parametrize("name", [f"{'z' * 26}:9", "nothing", "a%00b"])
def test_a_batch_nobody_began_is_unknown(floor: Floor, name: str) -> None:
    answer = floor.lead.get(f"/api/v1/batch-pages/{name}")
    assert (answer.status_code, answer.json["code"]) == (404, "batch-unknown")


def test_a_page_has_ledger_points_and_the_names_of_all_that_it_mentions(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(1)
    query, critical = floor.first.find("not_sure"), floor.first.find("lap")
    close(floor.first, "first", empty=1, rejected=1)
    floor.first.push()
    found = page(floor)
    assert found["ledger"]["differences"] == [
        {"look": "first", "kind": "tray_short", "subject": "1", "amount": -1, "accepted_by": ""}
    ]
    [look] = found["ledger"]["looks"]
    assert [look[name] for name in ("counted", "looked", "accepted", "rejected", "query")] == [12, 5, 3, 1, 1]
    kinds = {point["kind"] for point in found["looks"][0]["points"]}
    assert kinds == {"tray_short", "hold", "query_open", "tray_not_opened", "not_signed"}
    verdicts = {one["piece"]: one["verdict"] for one in found["verdicts"]}
    assert verdicts == {query.id: "query", critical.id: "locked"}
    assert found["tags"] == {
        query.id: tag(floor, floor.first, query.envelope.n),
        critical.id: tag(floor, floor.first, critical.envelope.n),
    }
    assert found["trays"] == {floor.first.tray: {"number": 1, "tablet": "bench 1", "opened_at": NOON}}
    assert found["can_be_released"] is False


def test_a_request_that_rests_on_the_page_is_granted_and_the_page_shows_it(floor: Floor) -> None:
    floor.complete()
    before = page(floor)
    assert (before["can_be_released"], before["released_by"], before["requests"]) == (True, "", [])
    signatures = [look["signed_by"] for look in before["looks"]]
    assert [before["names"][name] for name in signatures] == ["Ines Brandt", "Piotr Zielny"]
    from tallywright.records.bench import SeenChain

    request = floor.ask_release([SeenChain(**one) for one in before["seen"]])
    floor.second_and_push(request)
    after = page(floor)
    assert (after["can_be_released"], after["released_by"], after["late"]) == (False, request.id, [])
    assert is_released(floor)
    [asked] = after["requests"]
    lead, second = floor.works.person("Jonas Falk"), floor.works.person("Piotr Zielny")
    assert asked == {
        "id": request.id,
        "kind": "release_requested",
        "state": "granted",
        "reasons": [],
        "seconded_by": [second],
        "asked_at": NOON,
        "person": lead,
    }
    assert {after["names"][lead], after["names"][second]} == {"Jonas Falk", "Piotr Zielny"}


def test_a_page_of_a_chain_with_a_gap_says_that_nothing_can_be_released(floor: Floor) -> None:
    floor.complete()
    missing = floor.first.open_tray(3)
    floor.first.push([floor.first.withdraw(missing.id)])
    assert page(floor)["can_be_released"] is False


def test_late_records_are_named(floor: Floor) -> None:
    floor.complete()
    floor.release()
    late = floor.count_in("second")
    found = page(floor)
    assert (found["late"], line(floor)["late"]) == ([late.id], 1)
    assert not is_released(floor)


def test_a_batch_without_a_page_is_on_the_list_and_not_released(floor: Floor) -> None:
    with writing(floor.works.engine) as connection:
        connection.execute(delete(batch_pages))
    assert not is_released(floor)


def test_limits_have_their_numbers_once_the_batch_is_counted_in(floor: Floor) -> None:
    floor.first.open_tray(1)
    floor.first.find("bend")
    close(floor.first, "first", rejected=1)
    floor.first.push()
    major = next(one for one in page(floor)["limits"] if (one["look"], one["class"]) == ("first", "major"))
    assert major["state"] == "uncounted"
    assert {"allowed", "chance_over", "rate", "lower", "upper"}.isdisjoint(major)
    floor.count_in("first")
    major = next(one for one in page(floor)["limits"] if (one["look"], one["class"]) == ("first", "major"))
    assert (major["state"], major["allowed"], major["defective"], major["due"]) == ("within", 1, 1, 12)
    assert major["rate"] == pytest.approx(1 / 6)
    assert 0 < major["chance_over"] < 1
    assert major["lower"] < major["rate"] < major["upper"]


def test_limits_stand_in_the_order_of_the_definition(floor: Floor) -> None:
    floor.count_in("first")
    floor.count_in("second")
    assert [(one["look"], one["class"], one["allowed_per_thousand"]) for one in page(floor)["limits"]] == [
        ("first", "major", 100),
        ("first", "minor", 0),
        ("second", "major", 500),
    ]


def eyes(tablet: Tablet, floor: Floor, look: str) -> dict[str, Any]:
    return read(tablet, "/api/v1/eyes", batch=floor.batch, look=look)


def test_the_second_look_is_told_who_looked_before_at_how_many(floor: Floor) -> None:
    floor.look_through(floor.first, "first")
    found = eyes(floor.second, floor, "second")
    person = floor.works.person("Ines Brandt")
    assert (found["looked"], found["eyes"]) == (
        12,
        [{"look": "first", "person": person, "name": "Ines Brandt", "pieces": 12}],
    )


def test_nothing_that_was_found_before_is_told_to_the_second_look(floor: Floor) -> None:
    floor.count_in("first")
    floor.first.open_tray(1)
    marks = [floor.first.find("lap"), floor.first.find("not_sure")]
    close(floor.first, "first", rejected=1)
    floor.first.push()
    answer = floor.second.get("/api/v1/eyes", batch=floor.batch, look="second")
    assert json.loads(answer.text)["looked"] == PLACES
    for word in ("lap", "not_sure", "reject", floor.first.tray, *(mark.id for mark in marks)):
        assert word not in answer.text


def test_before_the_first_look_nobody_looked(floor: Floor) -> None:
    floor.complete()
    assert (eyes(floor.first, floor, "first")["eyes"], eyes(floor.first, floor, "first")["looked"]) == ([], 0)


def test_a_look_the_route_does_not_name_stands_behind_all(floor: Floor) -> None:
    floor.complete()
    assert [one["look"] for one in eyes(floor.first, floor, "third")["eyes"]] == ["first", "second"]


def test_eyes_of_a_batch_nobody_began_are_unknown(floor: Floor) -> None:
    answer = floor.first.get("/api/v1/eyes", batch=f"{'z' * 26}:9", look="second")
    assert (answer.status_code, answer.json["code"]) == (404, "batch-unknown")
