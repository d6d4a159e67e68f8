# SPDX-License-Identifier: Apache-2.0
"""Requests: answered once, on what was seen, for who really asked; alone they change nothing."""

from __future__ import annotations

import json
import threading
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Any

import pytest
from sqlalchemy import Connection, Engine

from tallywright.access.pins import set_pin
from tallywright.db import reading, writing
from tallywright.log.read import of_subject
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.decode import Record
from tallywright.records.kinds import (
    DispositionRequestedV1,
    HoldLiftRequestedV1,
    HoldPlacedV1,
    PersonChangedV1,
    RequestDeclinedV1,
    RequestGrantedV1,
    RequestSecondedV1,
    SeenChain,
    StandIn,
)
from tallywright.sync.judge_requests import judge_requests
from tests.actors import Tablet, Works

INSPECTOR, LEAD = ("Ines Brandt", "4071"), ("Jonas Falk", "harbour-71")
CHANGED = "changed"
LIFTED = "lifted_already"
SIGN_ON = "sign_on_not_in_force"


@dataclass
class Bench:
    """An inspector's tablet with one critical mark in the batch, and the lead's."""

    works: Works
    first: Tablet
    mark: Record

    def lead(self, name: str = "lead") -> Tablet:
        """A tablet with the lead signed on and proven."""
        return signed_on(self.works, name, LEAD)

    @property
    def holds(self) -> dict[str, dict[str, Any]]:
        return {row["hold"]: row for row in self.works.rows("holds")}

    def state(self, request: Record) -> tuple[str, list[str]]:
        row = next(row for row in self.works.rows("requests") if row["request"] == request.id)
        return row["state"], json.loads(row["reasons"])


@pytest.fixture
def bench(works: Works) -> Bench:
    first = signed_on(works, "bench 1", INSPECTOR)
    first.open_tray()
    mark = first.find("a_word_nobody_gave_a_class")
    first.push()
    return Bench(works, first, mark)


def signed_on(works: Works, name: str, who: tuple[str, str]) -> Tablet:
    tablet = works.tablet(name)
    tablet.push(enclosures=[tablet.sign_on_as(works.person(who[0]), who[1])])
    return tablet


def another_lead(works: Works, name: str = "Second Lead") -> str:
    """A second lead, who signs on with the first one's PIN as far as the tests care."""
    from tallywright.projections.refold import refold

    with writing(works.engine) as connection:
        (record,) = works.own.write(connection, [PersonChangedV1(name=name, roles=["lead"])])
        set_pin(connection, works.clock.now, record.id, ["lead"], LEAD[1])
        refold(connection, {record.subject})
    return record.id


def change_person(works: Works, body: PersonChangedV1) -> None:
    from tallywright.projections.refold import refold

    with writing(works.engine) as connection:
        (record,) = works.own.write(connection, [body])
        refold(connection, {record.subject})


def seen_now(works: Works, batch: str) -> list[SeenChain]:
    """What somebody sees who has all of the batch."""
    newest: dict[str, int] = {}
    with reading(works.engine) as connection:
        for record in of_subject(connection, batch):
            newest[record.envelope.chain] = max(record.envelope.n, newest.get(record.envelope.chain, 0))
    return [SeenChain(chain=chain, n=n) for chain, n in sorted(newest.items())]


def ask(tablet: Tablet, *holds: str, seen: list[SeenChain] | None = None, **members: Any) -> Record:
    """Ask for a lift, with a PIN given for it alone unless a sign-on is named."""
    if "sign_on" not in members:
        tablet.give_pin_again()
    seen = seen_now(tablet.works, tablet.batch["batch"]) if seen is None else seen
    body = HoldLiftRequestedV1(holds=list(holds), seen=seen, why="looked at together")
    members = {"sign_on": tablet.sign_on, "batch": tablet.batch["batch"], **members}
    return tablet.add(body, **members)


def second(tablet: Tablet, request: Record, **members: Any) -> Record:
    """Put a name under a request, with a PIN given for it alone unless a sign-on is named."""
    if "sign_on" not in members:
        tablet.give_pin_again()
    members = {"sign_on": tablet.sign_on, "batch": tablet.batch["batch"], **members}
    return tablet.add(RequestSecondedV1(request=request.id), **members)


def answers(works: Works) -> list[RequestGrantedV1 | RequestDeclinedV1]:
    with reading(works.engine) as connection:
        found = of_subject(connection, works.batch()["batch"])
    return [r.body for r in found if isinstance(r.body, RequestGrantedV1 | RequestDeclinedV1)]


def test_a_lift_of_a_critical_hold_waits_for_a_second_name_and_is_granted_with_it(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    assert (bench.state(request), bench.holds[bench.mark.id]["lifted_by"]) == (("open", []), "")
    second(bench.first, request)
    bench.first.push()
    assert (bench.state(request), bench.holds[bench.mark.id]["lifted_by"]) == (("granted", []), request.id)


def test_a_second_name_needs_a_pin_given_for_it_alone(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    second(bench.first, request, sign_on=bench.first.sign_on)
    bench.first.push()
    assert bench.state(request) == ("open", [])


def test_the_asker_is_no_second_name(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(lead, request)
    lead.push()
    again = bench.lead("bench 3")
    second(again, request)
    again.push()
    assert bench.state(request) == ("open", [])


def test_a_second_name_needs_a_proven_sign_on_and_a_role(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    operator = signed_on(bench.works, "bench 3", ("Piotr Zielny", "5823"))
    with writing(bench.works.engine) as connection:
        person = bench.works.person("Piotr Zielny")
        bench.works.own.write(connection, [PersonChangedV1(person=person, name="Piotr Zielny", roles=["operator"])])
    second(operator, request)
    operator.push()
    wrong = signed_on(bench.works, "bench 4", (INSPECTOR[0], "9182"))
    second(wrong, request)
    wrong.push()
    assert bench.state(request) == ("open", [])


def test_a_hold_that_was_placed_needs_one_lead(bench: Bench) -> None:
    placed = bench.first.add(
        HoldPlacedV1(why="smells burnt"), sign_on=bench.first.sign_on, batch=bench.first.batch["batch"]
    )
    bench.first.push()
    lead = bench.lead()
    request = ask(lead, placed.id)
    lead.push()
    assert bench.state(request) == ("granted", [])
    assert {name: row["lifted_by"] for name, row in bench.holds.items()} == {
        placed.id: request.id,
        bench.mark.id: "",
    }


def test_an_inspector_may_not_ask(bench: Bench) -> None:
    request = ask(bench.first, bench.mark.id)
    bench.first.push()
    assert bench.state(request) == ("declined", ["role"])


def test_a_lift_needs_a_pin_given_for_it_alone(bench: Bench) -> None:
    lead = bench.lead()
    lead.add(HoldPlacedV1(why="elsewhere"), sign_on=lead.sign_on, batch=f"{'z' * 26}:1")
    request = ask(lead, bench.mark.id, sign_on=lead.sign_on)
    second(bench.first, request)
    bench.first.push()
    lead.push()
    assert bench.state(request) == ("declined", ["pin_not_fresh"])


@pytest.mark.parametrize(
    ("first_day", "last_day", "expected"),
    [
        ("2026-11-25", "2026-11-25", ("granted", [])),
        ("2026-11-26", "2026-12-31", ("declined", ["role"])),
        ("2026-11-01", "2026-11-24", ("declined", ["role"])),
    ],
)
def test_a_deputy_stands_in_for_the_lead_on_the_days_named(
    bench: Bench, first_day: str, last_day: str, expected: tuple[str, list[str]]
) -> None:
    person = bench.works.person(INSPECTOR[0])
    deputy = StandIn(first_day=first_day, last_day=last_day)
    change_person(bench.works, PersonChangedV1(person=person, name="x", roles=["inspector"], deputy=deputy))
    with writing(bench.works.engine) as connection:
        set_pin(connection, bench.works.clock.now, person, ["lead"], LEAD[1])
    bench.first.who = person, LEAD[1]  # who decides on some day needs a long one
    placed = bench.first.add(
        HoldPlacedV1(why="smells burnt"), sign_on=bench.first.sign_on, batch=bench.first.batch["batch"]
    )
    bench.first.push()
    request = ask(bench.first, placed.id)
    bench.first.push()
    assert bench.state(request) == expected


def test_nobody_has_a_right_behind_the_last_day(bench: Bench) -> None:
    person = bench.works.person(LEAD[0])
    change_person(bench.works, PersonChangedV1(person=person, name="x", roles=["lead"], last_day="2026-11-24"))
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    assert bench.state(request) == ("declined", ["role"])


def test_the_day_is_that_of_the_site_and_not_of_greenwich(bench: Bench) -> None:
    person = bench.works.person(LEAD[0])
    change_person(bench.works, PersonChangedV1(person=person, name="x", roles=["lead"], last_day="2026-11-25"))
    bench.works.clock.now += 11 * 3_600_000 + 30 * 60_000  # past midnight here, not in Greenwich
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    assert bench.state(request) == ("declined", ["role"])


def test_a_mark_that_arrived_meanwhile_declines_a_request_that_comes_eight_hours_later(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.find("lap", zone="body")
    bench.first.push()
    bench.works.clock.now += 8 * 3_600_000
    lead.push()
    assert bench.state(request) == ("declined", [CHANGED])
    assert bench.holds[bench.mark.id]["lifted_by"] == ""


def test_a_request_whose_reply_was_lost_is_granted_once_when_nothing_changed(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.push()
    outbox = list(lead.outbox)
    bench.works.clock.now += 8 * 3_600_000
    lead.push(outbox)
    lead.push(outbox)
    assert answers(bench.works) == [RequestGrantedV1(request=request.id)]


def test_what_was_seen_behind_a_gap_is_waited_for(bench: Bench) -> None:
    late = bench.first.find("lap", zone="body")
    lead = bench.lead()
    seen = [one for one in seen_now(bench.works, lead.batch["batch"]) if one.chain != late.envelope.chain]
    request = ask(lead, bench.mark.id, seen=[*seen, SeenChain(chain=late.envelope.chain, n=late.envelope.n)])
    lead.push()
    helper = signed_on(bench.works, "bench 3", INSPECTOR)
    second(helper, request)
    helper.push()
    assert bench.state(request) == ("open", [])
    bench.first.push()
    assert bench.state(request) == ("granted", [])


def test_an_unproven_sign_on_is_waited_for_and_a_wrong_pin_declines(bench: Bench) -> None:
    for pin, expected in ((LEAD[1], "granted"), ("harbour-72", "declined")):
        placed = bench.first.add(
            HoldPlacedV1(why="smells burnt"), sign_on=bench.first.sign_on, batch=bench.first.batch["batch"]
        )
        bench.first.push()
        lead = bench.works.tablet("lead")
        enclosure = lead.sign_on_as(bench.works.person(LEAD[0]), pin)
        request = ask(lead, placed.id, sign_on=lead.sign_on)
        lead.push()
        assert bench.state(request) == ("open", [])
        assert bench.holds[placed.id]["lifted_by"] == ""
        lead.add(HoldPlacedV1(why="elsewhere"), sign_on=lead.sign_on, batch=f"{'z' * 26}:1")
        lead.push(enclosures=[enclosure])
        assert bench.state(request)[0] == expected


def test_two_leads_at_once_are_two_requests_one_grant_and_one_reason(bench: Bench) -> None:
    one, other = bench.lead(), bench.works.tablet("other lead")
    other.push(enclosures=[other.sign_on_as(another_lead(bench.works), LEAD[1])])
    requests = [ask(one, bench.mark.id), ask(other, bench.mark.id)]
    for request in requests:
        second(bench.first, request)
    bench.first.push()
    one.push()
    other.push()
    assert [bench.state(request) for request in requests] == [("granted", []), ("declined", [LIFTED])]
    assert bench.holds[bench.mark.id]["lifted_by"] == requests[0].id


def test_two_workers_never_grant_both(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = bench.lead(), bench.works.tablet("other lead")
    other.push(enclosures=[other.sign_on_as(another_lead(bench.works), LEAD[1])])
    requests = [ask(one, bench.mark.id), ask(other, bench.mark.id)]
    for request in requests:
        second(bench.first, request)
    bench.first.push()
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.sync.push.judge_requests", lambda *_: 0)
        one.push()
        other.push()
    assert {bench.state(request)[0] for request in requests} == {"open"}
    # Each worker has read that there is something to answer before either may write.
    both_have_read = threading.Barrier(2, timeout=30)

    def write_together(engine: Engine) -> AbstractContextManager[Connection]:
        both_have_read.wait()
        return writing(engine)

    monkeypatch.setattr("tallywright.sync.judge_requests.writing", write_together)
    counts: list[int] = []

    def work() -> None:
        counts.append(judge_requests(bench.works.engine, bench.works.own))

    workers = [threading.Thread(target=work) for _ in range(2)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert sum(counts) == 2
    assert sorted(bench.state(request)[0] for request in requests) == ["declined", "granted"]


def test_a_rebuild_judges_nothing_anew_and_gives_the_same_rows(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.push()
    lead.push()
    ask(lead, f"{'z' * 26}:1")
    lead.push()
    bench.first.withdraw(bench.mark.id)
    bench.first.push()
    before_answers = answers(bench.works)
    with writing(bench.works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before
    assert answers(bench.works) == before_answers
    assert [type(answer) for answer in before_answers] == [RequestGrantedV1, RequestDeclinedV1]


def test_a_mark_taken_back_leaves_the_tally_and_the_hold_stays(bench: Bench) -> None:
    bench.first.withdraw(bench.mark.id)
    bench.first.push()
    assert bench.works.rows("finds") == []
    hold = bench.holds[bench.mark.id]
    assert (hold["lifted_by"], hold["cause_withdrawn"]) == ("", True)


def test_evidence_after_a_lift_is_a_new_hold(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.push()
    lead.push()
    again = bench.first.find("another_word_without_class", piece=bench.mark.id)
    bench.first.push()
    assert {name: row["lifted_by"] for name, row in bench.holds.items()} == {
        bench.mark.id: request.id,
        again.id: "",
    }


def test_threat_9_a_crafted_push_of_an_operator_lifts_no_hold(bench: Bench) -> None:
    lead = bench.lead()
    lead.push([lead.add(HoldPlacedV1(why="x"), sign_on=lead.sign_on, batch=f"{'z' * 26}:1")])
    lead.outbox.clear()
    thief = signed_on(bench.works, "bench 3", ("Piotr Zielny", "5823"))
    # The lead's sign-on of another tablet, the server's own kind, and a grant of a request of one's own.
    borrowed = ask(thief, bench.mark.id, sign_on=lead.sign_on)
    second(thief, borrowed, sign_on=bench.first.sign_on)
    own = ask(thief, bench.mark.id)
    thief.add(RequestGrantedV1(request=own.id), batch=thief.batch["batch"])
    answer = thief.push()
    assert [one["code"] for one in answer["exceptions"]] == ["not-yours"]
    assert bench.state(borrowed) == ("declined", [SIGN_ON])
    assert bench.state(own) == ("declined", ["role"])
    assert bench.holds[bench.mark.id]["lifted_by"] == ""


def test_a_lead_who_was_followed_by_another_person_asks_nothing_any_more(bench: Bench) -> None:
    tablet = bench.lead()
    over = tablet.sign_on
    tablet.push(enclosures=[tablet.sign_on_as(bench.works.person(INSPECTOR[0]), INSPECTOR[1])])
    request = ask(tablet, bench.mark.id, sign_on=over)
    tablet.push()
    assert bench.state(request) == ("declined", [SIGN_ON])


def test_a_disposition_of_a_query_is_granted_to_a_lead_and_one_of_a_piece_on_hold_is_not(bench: Bench) -> None:
    query = bench.first.find("not_sure")
    bench.first.push()
    lead = bench.lead()
    seen = seen_now(bench.works, lead.batch["batch"])
    cases = [
        (query.id, "accept"),
        (bench.mark.id, "accept"),
        (bench.mark.id, "reject"),
        (f"{'z' * 26}:1", "accept"),
    ]
    requests = [
        lead.add(
            DispositionRequestedV1(piece=piece, look="first", verdict=verdict, seen=seen),  # type: ignore[arg-type]  # a text that is one of the literals
            sign_on=lead.sign_on,
            batch=lead.batch["batch"],
        )
        for piece, verdict in cases
    ]
    lead.push()
    assert [bench.state(request) for request in requests] == [
        ("granted", []),
        ("declined", ["on_hold"]),
        ("granted", []),
        ("declined", ["no_such_mark"]),
    ]


def test_two_verdicts_on_one_piece_at_once_are_one_grant(bench: Bench) -> None:
    query = bench.first.find("not_sure")
    bench.first.push()
    lead = bench.lead()
    seen = seen_now(bench.works, lead.batch["batch"])
    requests = [
        lead.add(
            DispositionRequestedV1(piece=query.id, look="first", verdict=verdict, seen=seen),
            sign_on=lead.sign_on,
            batch=lead.batch["batch"],
        )
        for verdict in ("accept", "reject")
    ]
    lead.push()
    assert [bench.state(request)[0] for request in requests] == ["granted", "declined"]


def test_an_empty_push_finishes_what_a_worker_left(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    request = ask(bench.first, bench.mark.id)
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.sync.push.judge_requests", lambda *_: 0)
        bench.first.push()
    assert bench.state(request) == ("open", [])
    bench.first.push_lines([], 1)
    assert bench.state(request)[0] == "declined"
