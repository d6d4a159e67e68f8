# SPDX-License-Identifier: Apache-2.0
"""Whose request it is: the sign-on in force, its PIN, the roles of the day, and the second name."""

from __future__ import annotations

import pytest

from tallywright.access.pins import set_pin
from tallywright.db import writing
from tallywright.records.bench import HoldPlacedV1
from tallywright.records.people import PersonChangedV1, StandIn
from tests.actors import Works
from tests.server.sync.asking import (
    INSPECTOR,
    LEAD,
    SIGN_ON,
    Bench,
    ask,
    change_person,
    make_bench,
    second,
    signed_on,
)


@pytest.fixture
def bench(works: Works) -> Bench:
    return make_bench(works)


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


def test_a_lead_who_was_followed_by_another_person_asks_nothing_any_more(bench: Bench) -> None:
    tablet = bench.lead()
    over = tablet.sign_on
    tablet.push(enclosures=[tablet.sign_on_as(bench.works.person(INSPECTOR[0]), INSPECTOR[1])])
    request = ask(tablet, bench.mark.id, sign_on=over)
    tablet.push()
    assert bench.state(request) == ("declined", [SIGN_ON])
