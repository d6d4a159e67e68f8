# SPDX-License-Identifier: Apache-2.0
"""Gauges and the batches measured with them: what is learnt late reaches every batch, by a push or a rebuild."""

from __future__ import annotations

from typing import Any

import pytest

from tallywright.db import reading, writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import RecordWithdrawnV1
from tallywright.records.checks import CheckTakenV1, GaugeCheckedV1
from tallywright.records.decode import Record
from tallywright.records.people import PersonChangedV1
from tallywright.reports.gauges import gauges
from tallywright.reports.open_holds import open_holds
from tests.actors import Tablet, Works
from tests.server.sync.asking import ask, signed_on


@pytest.fixture
def forge(works: Works) -> Tablet:
    """An operator at the forge whose PIN was judged."""
    return signed_on(works, "forge", ("Maren Holt", "3960"))


@pytest.fixture
def office(works: Works) -> Tablet:
    """The lead."""
    return signed_on(works, "office", ("Jonas Falk", "harbour-71"))


def measure(tablet: Tablet, gauge: str = "M-014", **members: Any) -> Record:
    tablet.works.clock.now += 60_000
    said: dict[str, Any] = {"operation": 40, "characteristic": 4, "role": "in_process", "value": "13.20"}
    body = CheckTakenV1(gauge=gauge, **{**said, **members})
    batch = tablet.batch
    return tablet.add(body, sign_on=tablet.sign_on, batch=batch["batch"], definition=batch["definition"])


def say(tablet: Tablet, result: Any, gauge: str = "M-014", **members: Any) -> Record:
    tablet.works.clock.now += 60_000
    record = tablet.add(GaugeCheckedV1(gauge=gauge, result=result, **members), sign_on=tablet.sign_on)
    tablet.push()
    return record


def holds(works: Works) -> dict[str, str]:
    return {row["hold"]: row["cause"] for row in works.rows("holds")}


def listed(works: Works, number: str) -> dict[str, Any]:
    with reading(works.engine) as connection:
        [one] = [one for one in gauges(connection, works.clock.now_ms()) if one["number"] == number]
    return one


def test_a_gauge_that_is_found_wrong_holds_the_batches_it_measured_and_no_other(
    works: Works, forge: Tablet, office: Tablet
) -> None:
    measure(forge, "m 014")
    measure(forge, "M-015")
    forge.push()
    assert holds(works) == {}
    wrong = say(office, "wrong", against="gauge blocks", note="0.08 too small")
    assert holds(works) == {wrong.id: "gauge"}
    with reading(works.engine) as connection:
        [line] = open_holds(connection, works.clock.now).holds
    assert (line["said"], line["finder"], line["batch"]) == ("M-014", "Jonas Falk", forge.batch["batch"])
    with writing(works.engine) as connection:
        before = rows(connection)
        assert rebuild(connection) == []
        assert rows(connection) == before


def test_a_value_that_comes_after_the_finding_is_held_as_well(works: Works, forge: Tablet, office: Tablet) -> None:
    measure(forge)
    wrong = say(office, "wrong")
    assert holds(works) == {}
    forge.push()
    assert holds(works) == {wrong.id: "gauge"}


def test_the_last_good_check_of_a_lead_ends_how_far_a_finding_reaches(
    works: Works, forge: Tablet, office: Tablet
) -> None:
    measure(forge)
    forge.push()
    good = say(office, "fit", next_due="2031-01-31")
    wrong = say(office, "wrong")
    assert holds(works) == {}
    office.add(RecordWithdrawnV1(record=good.id, gauge="M-014"), sign_on=office.sign_on)
    office.push()
    assert holds(works) == {wrong.id: "gauge"}


def test_that_a_gauge_is_fit_counts_from_a_lead_and_a_doubt_from_anybody(
    works: Works, forge: Tablet, office: Tablet
) -> None:
    doubt = say(forge, "doubtful", note="dropped")
    claimed = say(forge, "fit")
    found = listed(works, "M-014")
    assert (found["standing"], found["stands_now"]) == ("doubtful", "doubtful")
    assert {one["id"]: (one["by"], one["counts"]) for one in found["said"]} == {
        doubt.id: ("Maren Holt", True),
        claimed.id: ("Maren Holt", False),
    }
    say(office, "fit", next_due="2031-01-31")
    found = listed(works, "M-014")
    assert (found["standing"], found["due"]) == ("in_order", "2031-01-31")


def test_what_a_lead_said_counts_when_the_role_is_gone_later(works: Works, office: Tablet) -> None:
    say(office, "fit", next_due="2031-01-31")
    works.clock.now += 60_000
    changed = PersonChangedV1(name="Jonas Falk", roles=["reader"], person=works.person("Jonas Falk"))
    with writing(works.engine) as connection:
        works.own.write(connection, [changed])
    assert listed(works, "M-014")["due"] == "2031-01-31"


def test_an_overdue_gauge_and_a_number_nobody_defined_stand_first_with_the_batches_they_measured(
    works: Works, forge: Tablet
) -> None:
    measure(forge, "M-016")
    measure(forge, "M-016")
    measure(forge, "m.016")
    measure(forge, "X-99")
    measure(forge, "M-061")
    measure(forge)
    forge.push()
    with reading(works.engine) as connection:
        found = gauges(connection, works.clock.now_ms())
    needing = [one for one in found if one["standing"] != "in_order"]
    assert needing == found[: len(needing)]
    assert [(one["number"], one["standing"], one["stands_now"]) for one in needing] == [
        ("X-99", "not_known", "not_known"),
        ("M-061", "wrong_kind", "in_order"),
        ("M-016", "overdue", "overdue"),
    ]
    batch = forge.batch["batch"]
    assert [(one["batch"], one["standing"], one["values"]) for one in needing[2]["batches"]] == [
        (batch, "overdue", 3)
    ]
    assert listed(works, "M-014")["batches"] == []


def test_a_value_that_was_taken_back_is_on_no_list(works: Works, forge: Tablet) -> None:
    taken = measure(forge, "X-99")
    forge.add(RecordWithdrawnV1(record=taken.id), sign_on=forge.sign_on, batch=forge.batch["batch"])
    forge.push()
    assert listed(works, "X-99")["batches"] == []


def test_every_tablet_gets_what_is_said_of_a_gauge(works: Works, forge: Tablet) -> None:
    said = say(forge, "doubtful")
    _, lines = works.tablet("the saw").pull()
    assert said.line in lines


def test_one_lead_lifts_the_hold_of_a_gauge_for_its_batch(works: Works, forge: Tablet, office: Tablet) -> None:
    measure(forge)
    forge.push()
    wrong = say(office, "wrong")
    request = ask(office, wrong.id)
    office.push()
    [asked] = [row for row in works.rows("requests") if row["request"] == request.id]
    assert asked["state"] == "granted"
    assert [row["lifted_by"] for row in works.rows("holds")] == [request.id]
