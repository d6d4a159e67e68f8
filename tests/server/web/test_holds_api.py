# SPDX-License-Identifier: Apache-2.0
"""The list of holds over HTTP: for enrolled devices, and enough to ask a request from."""

from __future__ import annotations

from typing import Any

import pytest
from sqlalchemy import event

from tallywright.db import reading
from tallywright.records.asked import DispositionRequestedV1, HoldLiftRequestedV1
from tallywright.records.bench import HoldPlacedV1, SeenChain
from tallywright.reports.open_holds import READ_FOR_MS, open_holds
from tests.actors import NOON, Tablet, Works

LEAD, PIN = "Jonas Falk", "harbour-71"


@pytest.fixture
def tablet(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.push(enclosures=[tablet.sign_on_as(works.person("Ines Brandt"), "4071")])
    return tablet


def listed(tablet: Tablet) -> dict[str, Any]:
    answer = tablet.get("/api/v1/holds")
    assert answer.status_code == 200, answer.text
    return dict(answer.json or {})


def letters(works: Works, tablet: Tablet) -> str:
    return next(str(row["letters"]) for row in works.rows("devices") if row["device"] == tablet.writer.device)


def place(tablet: Tablet) -> str:
    placed = tablet.add(
        HoldPlacedV1(why="smells burnt", look="first"), sign_on=tablet.sign_on, batch=tablet.batch["batch"]
    )
    return placed.id


def critical(tablet: Tablet) -> str:
    """A hold that is lifted under two names only."""
    tablet.open_tray()
    return tablet.find("lap").id


def ask(tablet: Tablet, hold: str, seen: list[dict[str, Any]]) -> str:
    body = HoldLiftRequestedV1(holds=[hold], seen=[SeenChain(**one) for one in seen], why="looked at")
    tablet.give_pin_again()
    return tablet.add(body, sign_on=tablet.sign_on, batch=tablet.batch["batch"]).id


def lead_asks(works: Works, tablet: Tablet, holds: list[str]) -> list[str]:
    """The holds arrive, and a lead who read the list asks for the lift of each; returns the requests."""
    tablet.push()
    lead = works.tablet("lead")
    lead.push(enclosures=[lead.sign_on_as(works.person(LEAD), PIN)])
    seen = listed(lead)["batches"][0]["seen"]
    asked = [ask(lead, hold, seen) for hold in holds]
    lead.push()
    return asked


def test_without_a_session_nobody_sees_a_hold(works: Works) -> None:
    assert works.client().get("/api/v1/holds").status_code == 401


def test_a_hold_that_stands_is_listed_with_its_batch(tablet: Tablet) -> None:
    hold = place(tablet)
    tablet.push()
    found = listed(tablet)
    batch = tablet.batch["batch"]
    assert found["holds"] == [
        {
            "hold": hold,
            "batch": batch,
            "cause": "placed",
            "piece": "",
            "look": "first",
            "cause_withdrawn": False,
            "said": "smells burnt",
            "at": NOON,
            "number": 0,
            "finder": "Ines Brandt",
            "tag": "",
            "pictures": [],
        }
    ]
    assert [(one["batch"], one["number"]) for one in found["batches"]] == [(batch, tablet.batch["number"])]


def test_a_long_list_asks_the_database_no_more_often_than_a_short_one(works: Works, tablet: Tablet) -> None:
    asked: list[str] = []
    with reading(works.engine) as connection:
        engine = connection.engine
    event.listen(engine, "before_cursor_execute", lambda *words: asked.append(words[2]))

    def questions(more: int) -> int:
        for _ in range(more):
            tablet.open_tray()
            tablet.find("burn")
            tablet.find("not_sure")
        tablet.push()
        asked.clear()
        with reading(works.engine) as connection:
            found = open_holds(connection, NOON)
        assert len(found.queries) >= more
        assert {one["number"] for one in (*found.holds, *found.queries)} == {1}
        assert {one["finder"] for one in (*found.holds, *found.queries)} == {"Ines Brandt"}
        return len(asked)

    assert questions(2) == questions(30)


def test_a_request_that_rests_on_the_list_is_granted_and_the_hold_leaves_it(works: Works, tablet: Tablet) -> None:
    (request,) = lead_asks(works, tablet, [place(tablet)])
    found = listed(tablet)
    assert found["holds"] == []
    assert [(one["request"], one["state"]) for one in found["requests"]] == [(request, "granted")]


def test_what_came_after_the_list_declines_the_request_and_the_reason_is_listed(
    works: Works, tablet: Tablet
) -> None:
    hold = place(tablet)
    tablet.push()
    lead = works.tablet("lead")
    lead.push(enclosures=[lead.sign_on_as(works.person(LEAD), PIN)])
    seen = listed(lead)["batches"][0]["seen"]
    place(tablet)
    tablet.push()
    ask(lead, hold, seen)
    lead.push()
    (request,) = listed(tablet)["requests"]
    assert (request["state"], len(request["reasons"])) == ("declined", 1)


def test_what_was_decided_leaves_the_list_in_seven_days_and_what_waits_does_not(
    works: Works, tablet: Tablet
) -> None:
    asked = lead_asks(works, tablet, [place(tablet), critical(tablet)])
    states = {one["request"]: one["state"] for one in listed(tablet)["requests"]}
    assert states == dict(zip(asked, ("granted", "open"), strict=True))
    with reading(works.engine) as connection:
        found = open_holds(connection, works.clock.now + READ_FOR_MS)
    assert [one["request"] for one in found.requests] == asked[1:]


def test_what_waits_is_listed_however_much_was_decided_since(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = lead_asks(works, tablet, [critical(tablet), place(tablet)])
    monkeypatch.setattr("tallywright.reports.open_holds.MOST_REQUESTS", 1)
    assert [one["request"] for one in listed(tablet)["requests"]] == asked[:1]


def test_what_lies_behind_a_gap_is_not_said_to_be_seen(tablet: Tablet) -> None:
    place(tablet)
    tablet.push()
    missing = tablet.writer.n
    place(tablet)
    place(tablet)
    tablet.push(tablet.outbox[1:])
    seen = {one["chain"]: one["n"] for one in listed(tablet)["batches"][0]["seen"]}
    assert seen[tablet.writer.chain] == missing


def test_a_piece_nobody_was_sure_of_is_listed_until_a_verdict_is_granted(works: Works, tablet: Tablet) -> None:
    tablet.open_tray()
    find = tablet.find("not_sure")
    tablet.push()
    batch = tablet.batch["batch"]
    listing = listed(tablet)
    assert listing["queries"] == [
        {
            "batch": batch,
            "look": "first",
            "piece": find.id,
            "at": NOON,
            "number": 1,
            "finder": "Ines Brandt",
            "tag": f"{letters(works, tablet)}{find.envelope.n}",
            "pictures": [],
        }
    ]
    lead = works.tablet("lead")
    lead.push(enclosures=[lead.sign_on_as(works.person(LEAD), PIN)])
    [one] = [held for held in listing["batches"] if held["batch"] == batch]
    body = DispositionRequestedV1(
        piece=find.id, look="first", verdict="reject", seen=[SeenChain(**seen) for seen in one["seen"]]
    )
    lead.add(body, sign_on=lead.sign_on, batch=batch)
    lead.push()
    assert listed(tablet)["queries"] == []
