# SPDX-License-Identifier: Apache-2.0
"""What is asked about the works: people are added and changed on an administrator's request, not otherwise."""

from __future__ import annotations

import json
from typing import Any

import pytest
from msgspec import UNSET

from tallywright.access.pins import set_pin
from tallywright.db import reading, writing
from tallywright.definitions.people import Person, people, roles_of
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.refold import refold
from tallywright.records.decode import Record
from tallywright.records.people import PersonChangedV1, PersonRequestedV1, StandIn
from tests.actors import Tablet, Works

PIN = "quay-side-9"


def administrator(works: Works, name: str = "Some Administrator") -> Tablet:
    """A tablet with an administrator signed on and proven."""
    with writing(works.engine) as connection:
        [record] = works.own.write(connection, [PersonChangedV1(name=name, roles=["administrator"])])
        set_pin(connection, works.clock.now, record.id, ["administrator"], PIN)
        refold(connection, {record.subject})
    return signed_on(works, record.id, PIN)


def signed_on(works: Works, person: str, pin: str) -> Tablet:
    tablet = works.tablet()
    tablet.push(enclosures=[tablet.sign_on_as(person, pin)])
    return tablet


def ask(tablet: Tablet, **body: Any) -> Record:
    request = tablet.add(PersonRequestedV1(**body), sign_on=tablet.sign_on)
    tablet.push()
    return request


def state(works: Works, request: Record) -> tuple[str, list[str]]:
    row = next(row for row in works.rows("requests") if row["request"] == request.id)
    return row["state"], json.loads(row["reasons"])


def everybody(works: Works) -> dict[str, Person]:
    with reading(works.engine) as connection:
        return people(connection)


def named(works: Works, name: str) -> list[Person]:
    return [one for one in everybody(works).values() if one.said.name == name]


def test_an_administrator_adds_a_person_and_the_record_says_by_which_request(works: Works) -> None:
    office = administrator(works)
    request = ask(office, name="Ada Lind", roles=["inspector"])
    assert state(works, request) == ("granted", [])
    [added] = named(works, "Ada Lind")
    assert (added.said.request, added.said.roles) == (request.id, ["inspector"])


@pytest.mark.parametrize("person", ["Ines Brandt", "Maren Holt", "Jonas Falk"])
def test_threat_9_nobody_else_does(works: Works, person: str) -> None:
    pins = {"Ines Brandt": "4071", "Maren Holt": "3960", "Jonas Falk": "harbour-71"}
    bench = signed_on(works, works.person(person), pins[person])
    request = ask(bench, name="Ada Lind", roles=["administrator"])
    assert state(works, request) == ("declined", ["role"])
    assert named(works, "Ada Lind") == []


def test_a_person_is_changed_on_what_the_asker_had_seen(works: Works) -> None:
    office = administrator(works)
    ines = works.person("Ines Brandt")
    first = ask(office, name="Ines Brandt", roles=["inspector", "lead"], person=ines, newest=ines)
    late = ask(office, name="Ines Brandt", roles=["operator"], person=ines, newest=ines)
    assert [state(works, request) for request in (first, late)] == [("granted", []), ("declined", ["changed"])]
    again = ask(office, name="Ines Brandt", roles=["operator"], person=ines, newest=everybody(works)[ines].newest)
    assert state(works, again) == ("granted", [])
    with reading(works.engine) as connection:
        assert roles_of(connection, ines, "2026-11-25") == {"operator"}


def test_a_person_nobody_knows_is_not_changed(works: Works) -> None:
    request = ask(
        administrator(works), name="x", roles=["inspector"], person=f"{'z' * 26}:9", newest=f"{'z' * 26}:9"
    )
    assert state(works, request) == ("declined", ["no_such_person"])


@pytest.mark.parametrize(
    "members",
    [
        {"roles": ["reader"]},
        {"roles": ["inspector"], "deputy": StandIn(first_day="2026-12-02", last_day="2026-12-01")},
    ],
)
def test_a_reader_has_a_last_day_and_a_deputy_days_in_their_order(works: Works, members: dict[str, Any]) -> None:
    request = ask(administrator(works), name="Ada Lind", **members)
    assert state(works, request) == ("declined", ["no_last_day"])


@pytest.mark.parametrize("last_day", [UNSET, "2026-12-31"])
def test_the_last_administrator_stays_one(works: Works, last_day: Any) -> None:
    office = administrator(works)
    for one in everybody(works).values():
        if "administrator" in one.said.roles and one.id != office.who[0]:
            ask(office, name=one.said.name, roles=["inspector"], person=one.id, newest=one.newest)
    roles = ["lead"] if last_day is UNSET else ["administrator"]
    person = office.who[0]
    request = ask(office, name="x", roles=roles, person=person, newest=person, last_day=last_day)
    assert state(works, request) == ("declined", ["last_administrator"])


def test_a_rebuild_adds_nobody_twice_and_gives_the_same_rows(works: Works) -> None:
    ask(administrator(works), name="Ada Lind", roles=["inspector"])
    with writing(works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before
    assert len(named(works, "Ada Lind")) == 1
