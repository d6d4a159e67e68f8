# SPDX-License-Identifier: Apache-2.0
"""Who may read what, and who may ask for what: every route, every request, everybody who could stand there."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from werkzeug.test import TestResponse

from tallywright.access.pins import set_pin
from tallywright.access.rules import REQUESTS, RULES, Rule
from tallywright.access.session import SIGN_ON_LIFE_MS
from tallywright.db import writing
from tallywright.projections.refold import refold
from tallywright.records.asked import (
    AdmissionRequestedV1,
    DispositionRequestedV1,
    EnrolmentRequestedV1,
    HoldLiftRequestedV1,
    RequestGrantedV1,
    RequestSecondedV1,
    RevocationRequestedV1,
)
from tallywright.records.definition import ShiftDefinition, ShiftStart
from tallywright.records.envelope import Body
from tallywright.records.kinds import (
    KINDS,
    BackupVerifiedV1,
    DefinitionPublishedV1,
    DeviceRevokedV1,
    RestoredV1,
    SetAsideAdmittedV1,
    Sort,
)
from tallywright.records.people import PersonChangedV1, PersonRequestedV1, SignOnJudgedV1, StandIn
from tests.actors import Tablet, Works

PIN = "quay-side-9"
TODAY, YESTERDAY = "2026-11-25", "2026-11-24"
ROLES = ("inspector", "operator", "lead", "administrator", "reader")


def person(works: Works, **members: Any) -> str:
    with writing(works.engine) as connection:
        [record] = works.own.write(connection, [PersonChangedV1(name="Somebody", **members)])
        set_pin(connection, works.clock.now, record.id, ["lead"], PIN)
        refold(connection, {record.subject})
    return record.id


def signed_on(works: Works, pin: str = PIN, **members: Any) -> Tablet:
    tablet = works.tablet()
    tablet.push(enclosures=[tablet.sign_on_as(person(works, **members), pin)])
    return tablet


def revoked(works: Works) -> Tablet:
    tablet = signed_on(works, roles=["administrator", "lead"])
    with writing(works.engine) as connection:
        device = tablet.writer.device
        [record] = works.own.write(connection, [DeviceRevokedV1(device=device, why="lost")])
        refold(connection, {record.subject})
    return tablet


def nobody_on(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.sign_on = ""
    return tablet


def named_another_tablets(works: Works) -> Tablet:
    tablet, lead = works.tablet(), signed_on(works, roles=["lead"])
    tablet.push()
    tablet.sign_on = lead.sign_on
    return tablet


def named_an_old_one(works: Works) -> Tablet:
    tablet = signed_on(works, roles=["lead"])
    old = tablet.sign_on
    tablet.push(enclosures=[tablet.sign_on_as(works.person("Maren Holt"), "3960")])
    tablet.sign_on = old
    return tablet


def left_since_yesterday(works: Works) -> Tablet:
    tablet = signed_on(works, roles=["lead"])
    works.clock.now += SIGN_ON_LIFE_MS + 1
    return tablet


PEOPLE: dict[str, Callable[[Works], Tablet]] = {
    "nobody signed on": nobody_on,
    "a wrong PIN": lambda works: signed_on(works, "quay-side-8", roles=["lead", "administrator"]),
    "a lead's sign-on of another tablet": named_another_tablets,
    "a lead's sign-on before an operator's": named_an_old_one,
    "a lead who signed on yesterday": left_since_yesterday,
    **{role: lambda works, role=role: signed_on(works, roles=[role]) for role in ROLES},  # type: ignore[misc]  # a default binds the role
    "deputy today": lambda works: signed_on(
        works, roles=["operator"], deputy=StandIn(first_day=TODAY, last_day=TODAY)
    ),
    "deputy until yesterday": lambda works: signed_on(
        works, roles=["operator"], deputy=StandIn(first_day="2026-11-01", last_day=YESTERDAY)
    ),
    "reader until today": lambda works: signed_on(works, roles=["reader"], last_day=TODAY),
    "reader until yesterday": lambda works: signed_on(works, roles=["reader"], last_day=YESTERDAY),
}
ENROLLED = frozenset(PEOPLE)
LEADING = {"lead", "deputy today"}
# What a session of an enrolled device opens, and for whom. A new route is written down here, or a test fails.
OPEN_TO: dict[str, frozenset[str]] = {
    "sync.Pull": ENROLLED,
    "works.Batches": ENROLLED,
    "files.Files": ENROLLED,
    "files.Copies": ENROLLED,
    "files.Parts": ENROLLED,
    "people.Pins": ENROLLED,
    "people.PinWords": frozenset({"administrator"}),
    "devices.Devices": frozenset({"administrator"}),
    "devices.EnrolmentCodes": frozenset({"administrator"}),
    "devices.TurnedAway": frozenset({"administrator"}),
    "holds.Holds": frozenset({"inspector", "administrator", "reader", "reader until today", *LEADING}),
    "goods.Receipts": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "gauges.Gauges": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "batch_pages.BatchPages": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "batch_pages.BatchPage": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "batch_pages.Eyes": frozenset({"inspector", "administrator", *LEADING}),
    "set_aside.SetAside": frozenset({"administrator", *LEADING}),
    "pareto.Pareto": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "shift.Shift": frozenset({"administrator", "reader", "reader until today", *LEADING}),
    "machine_checks.MachineChecks": frozenset({"administrator", "reader", "reader until today", *LEADING}),
}
ADDRESSES = {
    "files.Files": f"/api/v1/files/{'0' * 64}",
    "files.Copies": f"/api/v1/files/{'0' * 64}/copy",
    "batch_pages.BatchPage": f"/api/v1/batch-pages/{'z' * 26}:9",
}


def read(works: Works, tablet: Tablet, route: str) -> TestResponse:
    rule = next(rule for rule in works.app.url_map.iter_rules() if rule.endpoint == route)
    if "POST" in (rule.methods or ()):
        headers = {"Tallywright-Sign-On": tablet.sign_on}
        return tablet.client.post(rule.rule, json={}, headers=headers)
    return tablet.get(ADDRESSES.get(route, rule.rule))


def test_every_route_behind_a_session_is_in_the_table() -> None:
    assert {route for route, rule in RULES.items() if rule is Rule.ENROLLED} == set(OPEN_TO)


@pytest.mark.parametrize("who", PEOPLE)
def test_threat_9_a_route_opens_to_those_in_the_table_and_to_nobody_else(sqlite_works: Works, who: str) -> None:
    tablet = PEOPLE[who](sqlite_works)
    for route, open_to in OPEN_TO.items():
        answer = read(sqlite_works, tablet, route)
        if who in open_to:
            # Not found, or not understood, but let in.
            assert answer.status_code in (200, 201, 404, 400), (route, answer.text)
        else:
            assert (answer.status_code, answer.json["code"]) == (403, "role-needed"), route


def test_threat_2_a_revoked_tablet_reads_nothing_whoever_is_signed_on(works: Works) -> None:
    tablet = revoked(works)
    assert [read(works, tablet, route).status_code for route in OPEN_TO] == [401] * len(OPEN_TO)


ASKED_BY: dict[str, set[str]] = {
    "hold_lift_requested": {"lead"},
    "disposition_requested": {"lead"},
    "difference_acceptance_requested": {"lead"},
    "release_requested": {"lead"},
    "admission_requested": {"lead"},
    "person_requested": {"administrator"},
    "enrolment_requested": {"administrator"},
    "revocation_requested": {"administrator"},
}


def test_every_request_says_who_may_ask_for_it() -> None:
    kinds = {
        kind
        for (kind, _), meaning in KINDS.items()
        if meaning.sort is Sort.REQUEST and meaning.body is not RequestSecondedV1
    }
    assert kinds == set(REQUESTS) == set(ASKED_BY)
    assert {kind: set(asking.asks) for kind, asking in REQUESTS.items()} == ASKED_BY


def of_each_kind() -> dict[str, Body]:
    somebody, nothing = f"{'z' * 26}:9", "0" * 64
    return {
        "hold_lift_requested": HoldLiftRequestedV1(holds=[somebody], seen=[], why="x"),
        "disposition_requested": DispositionRequestedV1(piece=somebody, look="first", verdict="accept", seen=[]),
        "admission_requested": AdmissionRequestedV1(of_chain="z" * 26, lines=[nothing], why="x"),
        "person_requested": PersonRequestedV1(name="Somebody", roles=["administrator"]),
        "enrolment_requested": EnrolmentRequestedV1(name="x", key=nothing),
        "revocation_requested": RevocationRequestedV1(device=somebody, why="x"),
    }


@pytest.mark.parametrize("role", [*ROLES, "deputy today", "deputy until yesterday", "reader until yesterday"])
def test_threat_9_a_request_pushed_without_the_role_is_declined_for_it(sqlite_works: Works, role: str) -> None:
    tablet = PEOPLE[role](sqlite_works)
    asked = {}
    for kind, body in of_each_kind().items():
        of_batch = (
            {"batch": tablet.batch["batch"]} if kind in ("hold_lift_requested", "disposition_requested") else {}
        )
        asked[kind] = tablet.add(body, sign_on=tablet.sign_on, **of_batch).id
    tablet.push()
    rows = {row["request"]: row for row in sqlite_works.rows("requests")}
    for kind, request in asked.items():
        may = role in ASKED_BY[kind] or (role == "deputy today" and "lead" in ASKED_BY[kind])
        assert ("role" in json.loads(rows[request]["reasons"])) is not may, kind


def of_the_server() -> list[Body]:
    """One body of each kind that changes what people may do, judge by, or see."""
    somebody = f"{'z' * 26}:9"
    shifts = ShiftDefinition(time_zone="Europe/Berlin", shifts=[ShiftStart(shift="day", starts="06:00")])
    return [
        PersonChangedV1(name="Nobody", roles=["administrator"]),
        DefinitionPublishedV1(content=shifts),
        RequestGrantedV1(request=somebody),
        SignOnJudgedV1(sign_on=somebody, proven=True),
        DeviceRevokedV1(device=somebody),
        SetAsideAdmittedV1(line="{}", names=[]),
        BackupVerifiedV1(number=1),
        RestoredV1(noticed_by="head"),
    ]


@pytest.mark.parametrize("body", of_the_server(), ids=lambda body: type(body).__name__)
def test_threat_9_a_tablet_cannot_write_what_only_the_server_writes(works: Works, body: Body) -> None:
    tablet = works.tablet()
    forged = tablet.add(body)
    answer = tablet.push()
    assert [(one["n"], one["code"]) for one in answer["exceptions"]] == [(forged.envelope.n, "not-yours")]
