# SPDX-License-Identifier: Apache-2.0
"""Requests: answered once, on what was seen, for who really asked; alone they change nothing."""

from __future__ import annotations

import threading
from contextlib import AbstractContextManager
from typing import Any

import pytest
from sqlalchemy import Connection, Engine

from tallywright.db import writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.asked import DispositionRequestedV1, RequestDeclinedV1, RequestGrantedV1
from tallywright.records.bench import AuthorshipConfirmedV1, HoldPlacedV1, SeenChain, TrayClosedV1
from tallywright.records.checks import (
    CheckMissedV1,
    CheckTakenV1,
    OperationChangedV1,
    PiecesMadeV1,
    ReactionTakenV1,
)
from tallywright.records.envelope import Body
from tallywright.records.kinds import KINDS, Sort
from tallywright.sync.judge_requests import judge_requests
from tallywright.sync.weigh_batch import SAY_NOTHING_OF_A_PIECE
from tests.actors import ANYBODY, Works
from tests.server.sync.asking import (
    CHANGED,
    INSPECTOR,
    LEAD,
    LIFTED,
    SIGN_ON,
    Bench,
    another_lead,
    answers,
    ask,
    make_bench,
    second,
    seen_now,
    signed_on,
)


@pytest.fixture
def bench(works: Works) -> Bench:
    return make_bench(works)


def test_a_lift_of_a_critical_hold_waits_for_a_second_name_and_is_granted_with_it(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    lead.push()
    assert (bench.state(request), bench.holds[bench.mark.id]["lifted_by"]) == (("open", []), "")
    second(bench.first, request)
    bench.first.push()
    assert (bench.state(request), bench.holds[bench.mark.id]["lifted_by"]) == (("granted", []), request.id)


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


@pytest.mark.parametrize("kind", sorted({kind for (kind, _), of in KINDS.items() if of.sort is Sort.OBSERVATION}))
def test_every_kind_of_observation_is_known_to_change_what_is_judged_or_not(kind: str) -> None:
    # A chain's opening and a sign-on belong to their chain; a load, a lot, a receipt and a gauge are subjects of
    # their own: they are never among a batch's records.
    elsewhere = {
        "bar_ends_collected",
        "cast_mark_read",
        "certificate_attached",
        "certificate_judged",
        "chain_opened",
        "components_received",
        "gauge_checked",
        "load_opened",
        "lot_opened",
        "material_received",
        "signed_on",
    }
    changes = {
        "bars_issued",
        "batch_split",
        "check_taken",
        "defect_tallied",
        "foreign_piece_found",
        "hold_placed",
        "piece_found",
        "piece_judged",
        "reaction_taken",
        "record_withdrawn",
        "rework_returned",
        "rework_sent",
    }
    assert [kind in changes, kind in SAY_NOTHING_OF_A_PIECE, kind in elsewhere].count(True) == 1


def test_trays_begun_closed_and_confirmed_meanwhile_decline_nothing(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    first_tray, over = bench.first.tray, bench.first.sign_on
    bench.first.at_bench(
        TrayClosedV1(
            look="first",
            tray=first_tray,
            places=60,
            empty_counted=0,
            accepted=59,
            rejected=1,
            rework=0,
            query=0,
            all_looked_at=True,
        )
    )
    bench.first.at_bench(AuthorshipConfirmedV1(look="first", tray=first_tray, of_sign_on=over))
    bench.first.open_tray(2)
    bench.first.push()
    lead.push()
    assert bench.state(request) == ("granted", [])


# The forged thickness of the demo, 12.90 to 13.60 mm by plan R1, and a characteristic that its plan does not have.
THICKNESS, NOT_IN_THE_PLAN = (40, 4), (40, 99)


def checked(at: tuple[int, int], value: str, **members: Any) -> CheckTakenV1:
    return CheckTakenV1(operation=at[0], characteristic=at[1], role="in_process", value=value, **members)


def test_a_machine_that_runs_on_with_good_checks_declines_no_lift(bench: Bench) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.at_bench(PiecesMadeV1(operation=40, pieces=25, counted="key"))
    bench.first.at_bench(checked(THICKNESS, "13.60", made=25))
    bench.first.at_bench(CheckMissedV1(operation=40, characteristic=5, role="in_process", why="no_gauge"))
    bench.first.at_bench(OperationChangedV1(operation=40, what="bar"))
    bench.first.push()
    lead.push()
    assert bench.state(request) == ("granted", [])


@pytest.mark.parametrize(
    "body",
    [
        pytest.param(checked(THICKNESS, "13.61"), id="out of its limits"),
        pytest.param(checked(THICKNESS, "13.20", repeats=ANYBODY), id="beside an earlier one"),
        pytest.param(checked(NOT_IN_THE_PLAN, "13.20"), id="nobody can judge it"),
        pytest.param(
            ReactionTakenV1(operation=40, check=ANYBODY, done="sorted", pieces_back=3), id="what was done about one"
        ),
    ],
)
def test_a_check_that_is_not_plainly_good_declines_a_lift(bench: Bench, body: Body) -> None:
    lead = bench.lead()
    request = ask(lead, bench.mark.id)
    second(bench.first, request)
    bench.first.at_bench(body)
    bench.first.push()
    lead.push()
    assert bench.state(request) == ("declined", [CHANGED])


@pytest.mark.parametrize("act", ["a mark is taken back", "a hold is placed"])
def test_what_changes_a_piece_meanwhile_declines(bench: Bench, act: str) -> None:
    lead, query = bench.lead(), bench.first.find("not_sure")
    bench.first.push()
    request = ask(lead, bench.mark.id)
    if act == "a mark is taken back":
        bench.first.withdraw(query.id)
    else:
        bench.first.at_bench(HoldPlacedV1(why="smells burnt"))
    bench.first.push()
    lead.push()
    assert bench.state(request) == ("declined", [CHANGED])


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


def test_a_grant_decides_the_request_that_waited_in_front_of_it_in_the_same_push(bench: Bench) -> None:
    lead, other = bench.lead(), bench.works.tablet("lead 2")
    other.push(enclosures=[other.sign_on_as(another_lead(bench.works), LEAD[1])])
    waiting, seconded = ask(lead, bench.mark.id), ask(other, bench.mark.id)
    lead.push()
    other.push()
    assert (bench.state(waiting)[0], bench.state(seconded)[0]) == ("open", "open")
    second(bench.first, seconded)
    bench.first.push()
    assert bench.state(seconded) == ("granted", [])
    assert bench.state(waiting) == ("declined", [LIFTED])


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
